//! A threshold says where it comes from.

use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Edge, Line, Upper, Ways};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for id in steps(resolved) {
        let Ways::Bands(lines) = &resolved.rules.step(id).ways else { continue };
        for (index, line) in lines.iter().enumerate().filter(|(_, line)| line.from.is_none()) {
            let (key, edge) = match line.upper {
                Upper::Below(edge) => ("below", edge),
                Upper::UpTo(edge) => ("up to", edge),
                Upper::Last => continue,
            };
            // An edge that is the whole of another fact has that fact's source.
            if matches!(edge, Edge::Share { share, .. } if (share - 1.0).abs() < f64::EPSILON) {
                continue;
            }
            let draft = at_line(resolved, id, Line::Value(index), |at| {
                at.key(key).draft(Code::ThresholdWithoutSource, "nothing says where this threshold is from")
            });
            findings.push(draft.help("add `from:` with the standard, the sheet, or `common practice`"));
        }
    }
}
