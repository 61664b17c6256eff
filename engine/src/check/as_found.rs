//! What proves a repair is not the very answer that led to it: a unit that is not mended gives that one too. Nor is it
//! what every answer bears out.

use super::bounds::{DEEPEST, bounds};
use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Condition, Ending, FactId, Line, Rules, StepId, Way};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let lines = lines_in(resolved);
    for (index, ending) in rules.endings.iter().enumerate().filter(|(_, ending)| ending.is_repair()) {
        for (fact, condition) in &ending.proof {
            let name = &rules.fact(*fact).id;
            let (spot, pointer) = (&resolved.spots.endings[index], format!("proof/{name}"));
            if is_met_by_all(rules, *fact, condition) {
                let title = format!("every answer of `{name}` bears `{}` out", ending.id);
                let draft = spot.draft(&pointer, Code::ProofAsFound, title);
                findings.push(draft.help("take out what is found where the work did not help"));
                continue;
            }
            let Condition::Is(wanted) = condition else { continue };
            for (step, line) in as_found(rules, index, *fact, *wanted, &lines) {
                let title = format!("the proof of `{}` expects what led here of `{name}`", ending.id);
                let draft =
                    at_line(resolved, step, line, |at| at.key("end").draft(Code::ProofAsFound, title));
                findings.push(
                    draft
                        .also_at(spot.place(&pointer), "this holds before the work as after it")
                        .help("prove it by what is otherwise once the work is done"),
                );
            }
        }
    }
}

/// Whether whatever a fact can be meets a demand.
fn is_met_by_all(rules: &Rules, fact: FactId, condition: &Condition) -> bool {
    match condition {
        Condition::Is(wanted) => rules.fact(fact).every_choice().within(*wanted),
        Condition::Within { at_least, at_most, below } => {
            let Some((low, high)) = bounds(rules, fact, DEEPEST) else { return false };
            at_least.is_none_or(|edge| edge.base() <= low)
                && at_most.is_none_or(|edge| edge.base() >= high)
                && below.is_none_or(|edge| edge.base() > high)
        }
    }
}

/// Of every ending, the lines that end in it.
pub(super) fn lines_in(resolved: &Resolved) -> Vec<Vec<(StepId, Line)>> {
    let mut lines = vec![Vec::new(); resolved.rules.endings.len()];
    for id in steps(resolved) {
        for (line, way) in resolved.rules.step(id).ways_out() {
            if let Way::End(ending) = way {
                lines[ending.index()].push((id, line));
            }
        }
    }
    lines
}

/// The lines that are taken by the very answers which are to prove the ending.
///
/// Beside other readings a proof may well say that something stayed as it was. So it is with what also proves work that
/// is come to otherwise: a mended unit gives that answer. What proves only the work that it leads to is the fault.
fn as_found(
    rules: &Rules,
    index: usize,
    fact: FactId,
    wanted: ChoiceSet,
    lines: &[Vec<(StepId, Line)>],
) -> Vec<(StepId, Line)> {
    let proves = |other: &Ending| other.is_repair() && other.proof.contains(&(fact, Condition::Is(wanted)));
    let leads = |lines: &[(StepId, Line)]| {
        let mut taken = lines.iter().map(|(step, line)| answers(rules, fact, *step, *line));
        taken.try_fold(ChoiceSet::default(), |all, is| Some(all.with(is?))) == Some(wanted)
    };
    let is_fault = || rules.endings.iter().zip(lines).all(|(other, lines)| !proves(other) || leads(lines));
    let alone = rules.endings[index].proof.len() == 1;
    let is_met = |is: ChoiceSet| is.within(wanted) && (alone || is_fault());
    lines[index]
        .iter()
        .filter(|(step, line)| answers(rules, fact, *step, *line).is_some_and(is_met))
        .copied()
        .collect()
}

/// The answers of a fact by which a line is taken; `None` for a line that is taken by anything else.
///
/// What is looked up may long have been told, and not be what is wrong.
fn answers(rules: &Rules, fact: FactId, step: StepId, line: Line) -> Option<ChoiceSet> {
    let step = rules.step(step);
    let tells = step.asks && step.fact == fact && !rules.fact(fact).allows_several();
    step.choices(line).filter(|_| tells)
}
