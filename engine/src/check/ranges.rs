//! The range of a reading is written in the unit that a bare number is taken in.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for (fact, spot) in resolved.rules.facts.iter().zip(&resolved.spots.facts) {
        let Some((expected, (low, high))) = fact.expected().and_then(|other| Some((other, other.range()?)))
        else {
            continue;
        };
        let (unit, other) = (expected.unit(), high.unit());
        if low.unit() == unit || other == unit {
            continue;
        }
        let title =
            format!("`{}` is typed in `{}`, and its range is in `{}`", fact.id, unit.typed(), other.typed());
        let key = if spot.file.places().has(&format!("{}/unit", spot.pointer)) { "unit" } else { "range" };
        let draft = spot.draft(key, Code::RangeInOtherUnit, title);
        findings.push(draft.help(format!(
            "make it `unit: {}`, or write the range in `{}`",
            other.typed(),
            unit.typed()
        )));
    }
}
