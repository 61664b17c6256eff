//! Danger is what a call asks of first, and whatever is not safe ends in getting people away from it.

use super::{at_line, at_step, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, EndingKind, Line, Rules, Step, StepId, Way, Ways};
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let start = rules.tree(rules.roles.start).start;
    let (danger, safe) = rules.roles.danger;
    let step = rules.step(start);
    if step.fact != danger || !step.asks {
        let draft = at_step(resolved, start, |at| {
            at.draft_key(
                Code::DangerNotFirst,
                format!("a call starts here, and does not ask of `{}`", rules.fact(danger).id),
            )
        });
        findings.push(draft.help("make the first step of the start tree ask for danger"));
    }
    for id in steps(resolved).filter(|id| rules.step(*id).fact == danger) {
        let step = rules.step(id);
        for (line, way) in step.ways_out() {
            if !may_be_danger(step, line, safe) || leads_away(rules, way) {
                continue;
            }
            let draft = at_line(resolved, id, line, |at| {
                at.draft_key(Code::DangerGoesOn, "danger, or nobody can tell, and this does not end the call")
            });
            findings.push(draft.help("end in a hand-over that gets people away from it"));
        }
    }
}

/// Whether a line is taken when there is danger, or when nobody can tell.
fn may_be_danger(step: &Step, line: Line, safe: ChoiceSet) -> bool {
    match (line, &step.ways) {
        (Line::Value(index), Ways::Answers(lines)) => {
            lines.get(index).is_some_and(|line| !line.is.within(safe))
        }
        // A step that only looks it up has been passed by `none`, or the call has ended.
        (Line::Otherwise, _) => step.asks,
        _ => true,
    }
}

/// Whether a way ends in a hand-over with nothing asked any more.
fn leads_away(rules: &Rules, way: Way) -> bool {
    let (mut open, mut seen): (Vec<Way>, BTreeSet<StepId>) = (vec![way], BTreeSet::new());
    while let Some(way) = open.pop() {
        let next = match way {
            Way::End(ending) if rules.endings[ending.index()].kind == EndingKind::HandOver => continue,
            Way::End(_) | Way::Visit { .. } => return false,
            Way::Go(step) => step,
            Way::ContinueIn(tree) => rules.tree(tree).start,
        };
        if rules.step(next).asks {
            return false;
        }
        if seen.insert(next) {
            open.extend(rules.step(next).ways_out().map(|(_, way)| way));
        }
    }
    true
}
