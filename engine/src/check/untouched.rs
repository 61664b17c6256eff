//! A look that leads to work, and lasts until somebody touches what it is about, is touched by some deed: else the old
//! answer is believed after the work, and leads to it again.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{FactId, Lasts, Way};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (index, (fact, spot)) in rules.facts.iter().zip(&resolved.spots.facts).enumerate() {
        let id = FactId::at(index);
        let lasts = fact.asking.is_some() && fact.lasts == Lasts::UntilTouched;
        let leads_to_work = rules.steps.iter().filter(|step| step.fact == id).any(|step| {
            step.ways_out().any(|(_, way)| match way {
                Way::End(ending) => rules.endings[ending.index()].is_repair(),
                _ => false,
            })
        });
        // What the call is about is asked anew after every repair, by the call itself.
        if !lasts || !leads_to_work || id == rules.roles.complaint {
            continue;
        }
        if !rules.deeds.iter().any(|deed| deed.changes(id)) {
            let title = format!("`{}` lasts until touched, and no deed touches it", fact.id);
            let draft = spot.draft("lasts", Code::NeverStale, title);
            findings.push(draft.help(
                "name it under `makes stale` of every deed that can change it; what no work changes lasts `unit`",
            ));
        }
    }
}
