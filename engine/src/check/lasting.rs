//! What a deed makes stale does not last as long as the unit, and what is read live lasts no longer than the visit: the
//! next call would believe the old answer.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Fact, FactId, Lasts, PowerNeed};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let is_live = |fact: &Fact| fact.power == PowerNeed::Live && fact.asking.is_some();
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        if is_live(fact) && fact.lasts != Lasts::Now {
            let title = format!("`{}` is read live, and lasts beyond the visit", fact.id);
            let draft = spot.draft("lasts", Code::LastsTooLong, title);
            findings.push(draft.help("make it `lasts: now`: it is another one every time the unit runs"));
        }
    }
    for (index, fact) in rules.facts.iter().enumerate().filter(|(_, fact)| fact.lasts == Lasts::Unit) {
        if is_live(fact) {
            continue;
        }
        // A deed that says what a plate is from then on leaves nothing old behind.
        let stales = |deed: &crate::rulebook::Deed| deed.stales.contains(&FactId::at(index));
        let Some(first) = rules.deeds.iter().position(stales) else { continue };
        let deed = &rules.deeds[first].id;
        let title = format!("`{}` lasts as long as the unit, and `{deed}` makes it stale", fact.id);
        let draft = resolved.spots.facts[index].draft("lasts", Code::LastsTooLong, title);
        findings.push(
            draft.also_at(resolved.spots.deeds[first].place("makes stale"), "it is made stale here").help(
                "write `lasts: until touched`; or take it out of `makes stale`, where no work can change it",
            ),
        );
    }
}
