//! Nothing leads back to where it came from, through any way out.

use super::at_line;
use crate::finding::{Code, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    for lines in graph.loops() {
        let names: Vec<String> = lines
            .iter()
            .chain(lines.first())
            .map(|(step, _)| format!("`{}`", resolved.rules.step(*step).id))
            .collect();
        let mut places = lines
            .iter()
            .map(|(step, line)| at_line(resolved, *step, *line, |at| (at.gated().clone(), at.pointer())));
        let Some((file, pointer)) = places.next() else {
            continue;
        };
        let title = format!("steps lead round in a loop: {}", names.join(" to "));
        let mut draft = crate::finding::Draft::new(Code::Loop, &file, &pointer, On::Value, title)
            .help("break it: a call must come to an end, so send one of these lines elsewhere");
        for (file, pointer) in places {
            draft = draft.also(&file, &pointer, On::Value, "and on from here");
        }
        findings.push(draft);
    }
}
