//! What could not be read, or lies too close to an edge, never ends in replacing a part.

use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{EndingKind, Line, Way};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for id in steps(resolved) {
        let step = resolved.rules.step(id);
        let fact = resolved.rules.fact(step.fact);
        if fact.may_be_missing {
            continue;
        }
        for (line, way) in step.ways_out() {
            let unread = match line {
                Line::Otherwise => "was not read",
                Line::TooClose => "lies too close to tell",
                Line::Value(_) => continue,
            };
            let Way::End(ending) = way else { continue };
            let rule = &resolved.rules.endings[ending.index()];
            if rule.kind != EndingKind::Repair || rule.parts.is_empty() {
                continue;
            }
            let title = format!("`{}` replaces a part though `{}` {unread}", rule.id, fact.id);
            let draft =
                at_line(resolved, id, line, |at| at.key("end").draft(Code::CannotReplacesPart, title));
            findings.push(draft.help("send it on to the next fact that could tell, or to a hand-over"));
        }
    }
}
