//! A look that leads to work, and lasts until somebody touches what it is about, is touched by some deed: else the old
//! answer is believed after the work, and leads to it again.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Deed, FactId, Lasts, Way};
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let touched: BTreeSet<FactId> = rules.deeds.iter().flat_map(Deed::changed).collect();
    let works = |way| matches!(way, Way::End(ending) if rules.endings[ending.index()].is_repair());
    let leads_to_work = rules.steps.iter().filter(|step| step.ways_out().any(|(_, way)| works(way)));
    let untouched: BTreeSet<FactId> =
        leads_to_work.map(|step| step.fact).filter(|fact| !touched.contains(fact)).collect();
    for id in untouched {
        let fact = rules.fact(id);
        // What the call is about is asked anew after every repair, by the call itself.
        let is_of_the_call = id == rules.roles.complaint;
        if fact.asking.is_some() && fact.lasts == Lasts::UntilTouched && !is_of_the_call {
            let title = format!("`{}` lasts until touched, and no deed touches it", fact.id);
            let draft = resolved.spots.facts[id.index()].draft("lasts", Code::NeverStale, title);
            findings.push(draft.help(
                "name it under `makes stale` of every deed that can change it; what no work changes lasts `unit`",
            ));
        }
    }
}
