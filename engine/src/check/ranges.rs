//! A reading that a band is chosen by says between which values it lies: a slip of the decimal point is noticed by it
//! alone. A resistance may be over range: an open circuit shows nothing else.

use super::meters::judged;
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::quantity::{Dimension, Expected, Unit};
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for fact in judged(resolved) {
        let (rule, spot) = (resolved.rules.fact(fact), &resolved.spots.facts[fact.index()]);
        let lacks = rule.expected().filter(|expected| expected.range().is_none() && rule.asking.is_some());
        let Some(unit) = lacks.map(Expected::unit).map(Unit::typed) else { continue };
        let title = format!(
            "`{}` does not say between which values it lies, so no slip in a number is noticed",
            rule.id
        );
        let unit = format!(" {unit}");
        let unit = unit.trim_end();
        findings.push(spot.named(Code::NoRange, title).help(format!(
            "add `range: …{unit} to …{unit}` with the least and the most that may ever be read, also where much is wrong"
        )));
    }
    for (rule, spot) in resolved.rules.facts.iter().zip(&resolved.spots.facts) {
        let is_refused =
            |expected: &Expected| expected.dimension() == Dimension::Resistance && !expected.over_range();
        if rule.asking.is_some() && rule.expected().is_some_and(is_refused) {
            let title = format!("an open circuit shows OL, and `{}` takes no such answer", rule.id);
            findings.push(spot.named(Code::NoOverRange, title).help("add `over range: allowed`"));
        }
    }
    in_another_unit(resolved, findings);
}

/// The range of a reading is written in the unit that a bare number is taken in.
fn in_another_unit(resolved: &Resolved, findings: &mut Findings) {
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
