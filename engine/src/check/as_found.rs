//! What proves a repair is not the very answer that led to it: a unit that is not mended gives that one too.

use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Condition, Line, Way, Ways};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for id in steps(resolved) {
        let step = rules.step(id);
        let Ways::Answers(lines) = &step.ways else { continue };
        let fact = rules.fact(step.fact);
        // What is looked up may long have been told, and not be what is wrong.
        if !step.asks || fact.allows_several() {
            continue;
        }
        for (index, line) in lines.iter().enumerate() {
            let Way::End(ending) = line.way else { continue };
            let rule = &rules.endings[ending.index()];
            // Beside other readings it may well say that something stayed as it was.
            let [(proved, Condition::Is(wanted))] = rule.proof.as_slice() else { continue };
            if !rule.is_repair() || *proved != step.fact || !line.is.within(*wanted) {
                continue;
            }
            let proof = resolved.spots.endings[ending.index()].place(&format!("proof/{}", fact.id));
            let title = format!("the proof of `{}` expects what led here of `{}`", rule.id, fact.id);
            let draft = at_line(resolved, id, Line::Value(index), |at| {
                at.key("end").draft(Code::ProofAsFound, title)
            });
            findings.push(
                draft
                    .also_at(proof, "this holds before the work as after it")
                    .help("prove it by what is otherwise once the work is done"),
            );
        }
    }
}
