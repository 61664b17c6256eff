//! No line of a tree ends as only the call itself does: by a lock-out that failed, or by a person who left.

use super::as_found::lines_in;
use super::at_line;
use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let Some(call) = &resolved.spots.call else { return };
    let part = &resolved.rules.roles;
    let lines = lines_in(resolved);
    for (key, ending, when) in [
        ("cannot prove dead", part.cannot_prove_dead, "a lock-out that failed"),
        ("left", part.left, "a person who left"),
    ] {
        let places: Vec<_> = lines[ending.index()]
            .iter()
            .map(|(step, line)| at_line(resolved, *step, *line, |at| at.key("end").place()))
            .collect();
        let Some((first, more)) = places.split_first() else { continue };
        let id = &resolved.rules.endings[ending.index()].id;
        let role = call.value_of(&format!("endings/{key}"));
        let draft = if more.is_empty() {
            let title = format!("`{id}` is how the call ends by {when}, and no line comes to that");
            let draft =
                Draft::at(Code::EndingOfTheCall, first.clone(), title).also_at(role, "it is named here");
            draft.help("end in another hand-over")
        } else {
            let title =
                format!("`{id}` ends the call by {when}, and {} lines of trees end in it", places.len());
            let draft =
                Draft::at(Code::EndingOfTheCall, role, title).also_at(first.clone(), "a line ends in it");
            draft.help(format!("name the ending that is meant as `{key}`, or end these lines in another"))
        };
        findings.push(draft);
    }
}
