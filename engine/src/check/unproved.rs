//! A repair or a reset is proved by something that is read after it.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for (ending, spot) in resolved.rules.endings.iter().zip(&resolved.spots.endings) {
        if ending.is_repair() && ending.proof.is_empty() {
            let title = format!("nothing is read after `{}` that would prove it", ending.id);
            let draft = spot.named(Code::NoProof, title);
            findings.push(draft.help("add `proof:` with what must be found once the work is done"));
        }
    }
}
