//! What could not be read never ends in replacing a part.

use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{EndingKind, Line, Way};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for id in steps(resolved) {
        let step = resolved.rules.step(id);
        let Way::End(ending) = step.otherwise else { continue };
        let rule = &resolved.rules.endings[ending.index()];
        let fact = resolved.rules.fact(step.fact);
        if rule.kind != EndingKind::Repair || rule.parts.is_empty() || fact.may_be_missing {
            continue;
        }
        let title = format!("`{}` replaces a part though `{}` was not read", rule.id, fact.id);
        let draft =
            at_line(resolved, id, Line::Otherwise, |at| at.key("end").draft(Code::CannotReplacesPart, title));
        findings.push(draft.help("send it on to the next fact that could tell, or to a hand-over"));
    }
}
