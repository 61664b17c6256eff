//! Every branch can be taken by some call, and no question is put whose answer every call to it already knows.

use super::{at_line, at_step, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::paths::{Apart, Paths};
use crate::resolve::Resolved;
use crate::rulebook::{Line, Ways};

const MEND_BAND: &str = "put what it is for on a line that can be taken, or mend a step before";
const MEND_ANSWER: &str =
    "take it out, for a choice that the way excludes needs no line, or mend a step before";

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let Some(paths) = Paths::of(rules, graph, Apart::Plates) else { return };
    for id in steps(resolved).filter(|id| paths.comes_to(*id)) {
        let step = rules.step(id);
        let fact = &rules.fact(step.fact).id;
        // A measured fact may still be read once more.
        let measured = matches!(step.ways, Ways::Bands(_));
        if step.asks && !measured && paths.settled(id) {
            let title =
                format!("`{fact}` is known on every way to this step, so that it is never asked here");
            let draft = at_step(resolved, id, |at| at.key("ask").draft(Code::NeverAsked, title));
            findings.push(draft.help(format!("write `if known: {fact}`, or ask for something else")));
        }
        let may_be = paths.may_be(rules, step.fact, id).unwrap_or_default();
        for (line, _) in step.ways_out() {
            if !matches!(line, Line::Value(_)) || paths.takes(id, line) {
                continue;
            }
            let title = format!("no call can take this line: here `{fact}` is {may_be}");
            let draft = at_line(resolved, id, line, |at| at.draft_key(Code::DeadBranch, title));
            findings.push(draft.help(if measured { MEND_BAND } else { MEND_ANSWER }));
        }
    }
}
