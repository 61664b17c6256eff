//! A reading that a band is chosen by says how good its meter is: what says nothing is taken as it stands.

use super::steps;
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::quantity::{Dimension, Expected, Meter};
use crate::resolve::Resolved;
use crate::rulebook::{FactId, Rules, Ways};
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for fact in judged(resolved) {
        let (rule, spot) = (resolved.rules.fact(fact), &resolved.spots.facts[fact.index()]);
        let measured = rule.expected().map(Expected::dimension).is_some_and(|what| what != Dimension::Count);
        let says = spot.file.places().has(&format!("{}/meter", spot.pointer));
        if measured && rule.asking.is_some() && !says {
            let title = format!("`{}` does not say how good its meter is, and is taken as exact", rule.id);
            let draft = spot.named(Code::NoMeter, title);
            let unit = rule.expected().map(Expected::unit);
            let like = unit.map(Meter::written_like).unwrap_or_default();
            findings.push(draft.help(format!(
                "add `meter:` with how good it is, such as {like}; `exact` for what is read off a plate"
            )));
        }
    }
}

/// What stands at a step with bands or in an edge of one, and what these are worked out of.
pub(super) fn judged(resolved: &Resolved) -> BTreeSet<FactId> {
    let rules: &Rules = &resolved.rules;
    let banded = steps(resolved).map(|id| rules.step(id)).filter(|step| matches!(step.ways, Ways::Bands(_)));
    banded
        .flat_map(|step| std::iter::once(step.fact).chain(step.shares().into_iter().map(|(of, _)| of)))
        .flat_map(|fact| rules.made_of(fact))
        .collect()
}
