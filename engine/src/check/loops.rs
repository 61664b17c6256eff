//! Nothing leads back to where it came from, through any way out.

use super::{at_line, key_of_way};
use crate::finding::{Code, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Line, StepId, Way};
use std::collections::HashMap;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    // The first step of a loop that a call comes to is where the line that closes it leads back.
    let ranks: HashMap<StepId, usize> = graph.reachable().zip(0..).collect();
    for mut lines in graph.loops() {
        let first = |(step, _): &(StepId, Line)| ranks.get(step).copied().unwrap_or(usize::MAX);
        let entry = (0..lines.len()).min_by_key(|at| lines.get(*at).map(first)).unwrap_or_default();
        lines.rotate_left(entry);
        let names: Vec<String> = lines
            .iter()
            .chain(lines.first())
            .map(|(step, _)| format!("`{}`", resolved.rules.step(*step).id))
            .collect();
        let ways = lines.iter().zip(lines.iter().cycle().skip(1)).map(|((step, line), (next, _))| {
            at_line(resolved, *step, *line, |at| {
                let key = key_to(resolved, *step, *line, *next);
                (at.gated().clone(), at.key(key).pointer())
            })
        });
        let mut places = ways.collect::<Vec<_>>().into_iter();
        let Some((file, pointer)) = places.next_back() else {
            continue;
        };
        let title = format!("steps lead round in a loop: {}", names.join(" to "));
        let mut draft = crate::finding::Draft::new(Code::Loop, &file, &pointer, On::Value, title).help(
            "this line closes it: send it elsewhere, or one of the others, for a call must come to an end",
        );
        for (file, pointer) in places {
            draft = draft.also(&file, &pointer, On::Value, "it comes by this");
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
