//! What proves a repair is read anew after it: one of its deeds makes it stale, and none says what it is.

use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Ending, FactId};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for (index, ending) in resolved.rules.endings.iter().enumerate().filter(|(_, ending)| ending.is_repair())
    {
        for (fact, _) in &ending.proof {
            if let Some(draft) = not_anew(resolved, index, ending, *fact) {
                findings.push(draft);
            }
        }
    }
}

/// Why a fact of a proof would not be read; `None` where it would.
fn not_anew(resolved: &Resolved, index: usize, ending: &Ending, fact: FactId) -> Option<Draft> {
    let rules = &resolved.rules;
    let name = &rules.fact(fact).id;
    let deeds =
        || ending.deeds.iter().rev().map(|id| (&rules.deeds[id.index()], &resolved.spots.deeds[id.index()]));
    let at = |title| resolved.spots.endings[index].draft(&format!("proof/{name}"), Code::ProofNotAnew, title);
    if let Some((deed, spot)) = deeds().find(|(deed, _)| deed.sets.iter().any(|(set, _)| *set == fact)) {
        let place = spot.place(&format!("sets/{name}"));
        return Some(
            at(format!("`{name}` is not read after `{}`: a deed says what it is", ending.id))
                .also_at(place, format!("`{}` says it", deed.id))
                .help("take it out of `sets`, and put it under `makes stale`"),
        );
    }
    let parts = rules.made_of(fact);
    if deeds().any(|(deed, _)| deed.changed().any(|changed| parts.contains(&changed))) {
        return None;
    }
    let (last, spot) = deeds().next()?;
    Some(
        at(format!("`{name}`, read before `{}`, is not read again after it", ending.id))
            .also_at(spot.place(""), "this deed leaves what was read of it")
            .help(format!("add `{name}` under `makes stale` of `{}`", last.id)),
    )
}
