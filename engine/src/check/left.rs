//! Work does not leave what led to it as it was found, where other work that it leads to is proved by its being
//! otherwise: the old sign would be believed after it.

use super::as_found::lines_in;
use super::at_line;
use super::repairs::{at_each_step, changed, leading, leading_to, repairs};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Condition, Edge, EndingId, FactId, Lasts, Line, Rules, Step, StepId, Upper, Ways};
use std::cell::LazyCell;
use std::collections::{BTreeMap, HashMap};

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for ((ending, fact), (id, line, other)) in left(resolved, graph) {
        let (name, other_id) = (&rules.fact(fact).id, &rules.endings[other.index()].id);
        let ending = &rules.endings[ending.index()];
        let title = format!(
            "`{}` leaves `{name}` as it led here, though `{other_id}` is proved by its being otherwise",
            ending.id
        );
        let proof = resolved.spots.endings[other.index()].place(&format!("proof/{name}"));
        let draft = at_line(resolved, id, line, |at| at.key("end").draft(Code::LeftAsFound, title));
        let draft = draft.also_at(proof, "here what is mended shows by it");
        let deeds: Vec<&str> =
            ending.deeds.iter().map(|deed| rules.deeds[deed.index()].id.as_str()).collect();
        findings.push(draft.help(format!(
            "add `{name}` under `makes stale` of {}: else a later pass goes by what was read before the work",
            crate::finding::listed(&deeds)
        )));
    }
}

/// Repairs and what they leave of that by which every call came to them, each with the first line that ends in it and
/// the repair that is proved by it.
fn left(resolved: &Resolved, graph: &StepGraph) -> BTreeMap<(EndingId, FactId), (StepId, Line, EndingId)> {
    let (rules, mut found) = (&resolved.rules, BTreeMap::new());
    let (proofs, lines_in) = (proved_by(rules), lines_in(resolved));
    // Many repairs lie behind the same lines of a step: each way from these to another is walked once.
    let mut walked: HashMap<(StepId, Vec<Line>, EndingId), bool> = HashMap::new();
    at_each_step(rules, graph, |id, decided| {
        let behind = LazyCell::new(|| graph.behind(id));
        for (line, ending) in repairs(rules, id) {
            let is_changed = |fact: FactId| {
                let parts = rules.made_of(fact);
                changed(rules, ending).any(|changed| parts.contains(&changed))
            };
            // What its own proof reads and it does not change is told of by another check.
            let is_own =
                |fact: FactId| rules.endings[ending.index()].proof.iter().any(|(proved, _)| *proved == fact);
            let is_left = |fact: FactId| !is_changed(fact) && !is_own(fact);
            for (fact, proofs) in proofs.iter().filter(|(fact, _)| is_left(**fact)) {
                let asked = |step: &&StepId| rules.step(**step).fact == *fact && rules.step(**step).asks;
                let Some(step) = decided[fact.index()].iter().rev().find(asked) else { continue };
                let lines = leading_to(rules, &behind, *step);
                let contradicts = |wanted: &Condition| contradicts(rules.step(*step), &lines, wanted);
                // What proves work that is come to otherwise may be no sign of what is wrong here.
                let mut comes_too = |other: EndingId| {
                    *walked.entry((*step, lines.clone(), other)).or_insert_with(|| {
                        let ends = &lines_in[other.index()];
                        let mut by = ends.iter().flat_map(|(end, _)| leading(rules, graph, *step, *end));
                        by.any(|line| line != Line::Otherwise && lines.contains(&line))
                    })
                };
                let proved = proofs.iter().find(|(other, wanted)| contradicts(wanted) && comes_too(*other));
                if let Some((other, _)) = proved {
                    found.entry((ending, *fact)).or_insert((id, line, *other));
                }
            }
        }
    });
    found
}

/// What repairs are proved by: each fact with them and what they expect of it.
fn proved_by(rules: &Rules) -> BTreeMap<FactId, Vec<(EndingId, Condition)>> {
    let mut found: BTreeMap<FactId, Vec<(EndingId, Condition)>> = BTreeMap::new();
    for (index, ending) in rules.endings.iter().enumerate().filter(|(_, ending)| ending.is_repair()) {
        for (fact, wanted) in &ending.proof {
            let rule = rules.fact(*fact);
            if rule.lasts != Lasts::Unit && !rule.allows_several() {
                found.entry(*fact).or_default().push((EndingId::at(index), *wanted));
            }
        }
    }
    found
}

/// Whether whoever left a step by one of these lines found otherwise than a proof expects; who could not tell, did not.
fn contradicts(step: &Step, lines: &[Line], wanted: &Condition) -> bool {
    let told: Vec<Line> = lines.iter().copied().filter(|line| *line != Line::Otherwise).collect();
    !told.is_empty() && told.iter().all(|line| is_apart(step, *line, wanted))
}

/// Whether nothing by which a line is taken meets a demand.
fn is_apart(step: &Step, line: Line, wanted: &Condition) -> bool {
    match (&step.ways, line, wanted) {
        (Ways::Answers(lines), Line::Value(at), Condition::Is(wanted)) => {
            lines.get(at).is_some_and(|line| !line.is.meets(*wanted))
        }
        (Ways::Bands(bands), Line::Value(at), Condition::Within { at_least, at_most, below }) => {
            let edge = |at: usize| match bands.get(at)?.upper {
                Upper::Below(Edge::Plain(edge)) | Upper::UpTo(Edge::Plain(edge)) => Some(edge.base()),
                Upper::Below(Edge::Share { .. }) | Upper::UpTo(Edge::Share { .. }) | Upper::Last => None,
            };
            let (low, high) = (at.checked_sub(1).and_then(edge), edge(at));
            let most = at_most.or(*below).map(crate::quantity::Quantity::base);
            low.zip(most).is_some_and(|(low, most)| low >= most)
                || high
                    .zip(at_least.map(crate::quantity::Quantity::base))
                    .is_some_and(|(high, least)| high <= least)
        }
        _ => false,
    }
}
