//! Nothing leads back to where it came from, through any way out.

use super::{at_line, key_of_way};
use crate::finding::{Code, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Line, StepId, Way};

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    for lines in graph.loops() {
        let names: Vec<String> = lines
            .iter()
            .chain(lines.first())
            .map(|(step, _)| format!("`{}`", resolved.rules.step(*step).id))
            .collect();
        let mut places = lines.iter().zip(lines.iter().cycle().skip(1)).map(|((step, line), (next, _))| {
            at_line(resolved, *step, *line, |at| {
                let key = key_to(resolved, *step, *line, *next);
                (at.gated().clone(), at.key(key).pointer())
            })
        });
        let Some((file, pointer)) = places.next() else {
            continue;
        };
        let title = format!("steps lead round in a loop: {}", names.join(" to "));
        let mut draft = crate::finding::Draft::new(Code::Loop, &file, &pointer, On::Value, title)
            .help("break it: a call must come to an end, so send one of these lines elsewhere");
        for (file, pointer) in places {
            draft = draft.also(&file, &pointer, On::Value, "and on by this");
        }
        findings.push(draft);
    }
}

/// The key of a line by which the next step is come to.
fn key_to(resolved: &Resolved, step: StepId, line: Line, next: StepId) -> &'static str {
    let back = |way| matches!(way, Way::Visit { then, .. } if then == next);
    if resolved.rules.step(step).ways_out().any(|(other, way)| other == line && back(way)) {
        "then"
    } else {
        key_of_way(resolved, step, line)
    }
}
