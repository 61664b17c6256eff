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
}
