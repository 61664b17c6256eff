//! Deeds are done in a state that the engine can bring about, and what holds power off is read, never settled.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::{Resolved, Spot};
use crate::rulebook::{Deed, FactId, Lasts, PanelNeed, PowerNeed, Rules};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (deed, spot) in rules.deeds.iter().zip(&resolved.spots.deeds) {
        if deed.power == PowerNeed::Live && deed.panel == PanelNeed::Off {
            let title = format!("`{}` is work on live parts behind the panel", deed.id);
            let draft = spot.draft("panel", Code::LiveDeedBehindPanel, title);
            findings.push(draft.help("make it `power: dead`, or `panel: on`"));
        }
        if deed.energises && deed.is_in_the_unit() {
            let title = format!("`{}` lets the supply through, and hands may be in the unit", deed.id);
            let draft = spot.draft("energises", Code::EnergisesWithHandsIn, title);
            findings.push(draft.help(
                "take the line out: power comes back by the power steps, once hands are clear and the panel is on",
            ));
        }
        lets_the_supply_through(rules, deed, spot, findings);
        for (fact, _) in deed.sets.iter().filter(|(fact, _)| deed.stales.contains(fact)) {
            let name = &rules.fact(*fact).id;
            let title = format!(
                "`{}` sets `{name}`, and makes it stale as well: it cannot be known and not",
                deed.id
            );
            let at = deed.stales.iter().position(|stale| stale == fact).unwrap_or_default();
            let draft = spot.value(&format!("makes stale/{at}"), Code::ClashingKeys, title);
            findings.push(draft.also_at(spot.place(&format!("sets/{name}")), "set here").help(
                "leave it under `sets` where the work itself settles it, under `makes stale` where it has to be read anew",
            ));
        }
        settles_a_role(rules, deed, spot, findings);
        inside_left_open(rules, deed, spot, findings);
        for (fact, _) in &deed.sets {
            let holds = |hold_off: &&crate::rulebook::HoldOff| {
                hold_off.when.iter().chain(&hold_off.until).any(|(other, _)| other == fact)
            };
            let Some(hold_off) = rules.power.hold_offs.iter().find(holds) else { continue };
            let name = &rules.fact(*fact).id;
            let title =
                format!("`{}` settles `{name}`, which the hold-off `{}` goes by", deed.id, hold_off.id);
            let draft = spot.draft(&format!("sets/{name}"), Code::DeedSettlesHoldOff, title);
            findings.push(
                draft.help("put it under `makes stale`, so that it is read again before power comes back"),
            );
        }
    }
}

/// That a unit is dead, that live work is allowed, that there is no danger, that the complaint is gone: none of it is
/// known because something was done.
fn settles_a_role(rules: &Rules, deed: &Deed, spot: &Spot, findings: &mut Findings) {
    let (power, part) = (&rules.power, &rules.roles);
    let told = [
        (power.proved_dead, "that a unit is dead is proved by the lock-out alone"),
        (power.live_work.0, "whether live work is allowed is said by whoever is there"),
        (part.danger.0, "whether there is danger is said by whoever is there"),
        (part.gone.0, "whether the complaint is gone is said by whoever is there"),
    ];
    for (fact, why) in told {
        if deed.sets.iter().any(|(set, _)| *set == fact) {
            let name = &rules.fact(fact).id;
            let title = format!("`{}` settles `{name}`, and {why}", deed.id);
            let draft = spot.draft(&format!("sets/{name}"), Code::DeedSettlesHoldOff, title);
            findings.push(draft.help("take the line out: no work says it"));
        }
    }
}

/// Work that changes what is seen only in the unit, dead, is itself done in the unit, dead. A deed with the panel on is
/// outside it, and so is one that closes a switch or a panel from outside.
fn inside_left_open(rules: &Rules, deed: &Deed, spot: &Spot, findings: &mut Findings) {
    if deed.power != PowerNeed::Any || deed.panel != PanelNeed::Any || deed.energises {
        return;
    }
    let is_inside = |fact: &FactId| {
        let fact = rules.fact(*fact);
        let behind = fact.power == PowerNeed::Dead && fact.panel == PanelNeed::Off;
        behind && fact.lasts == Lasts::UntilTouched && fact.asking.is_some()
    };
    if let Some(fact) = deed.changed().find(is_inside) {
        let name = &rules.fact(fact).id;
        let title = format!(
            "`{}` changes `{name}`, which is read dead behind the panel, and may be done with the power in any state",
            deed.id
        );
        let list =
            if deed.stales.contains(&fact) { "makes stale".to_owned() } else { format!("sets/{name}") };
        let draft = spot.draft("power", Code::AnyPowerBehindPanel, title);
        findings.push(draft.also_at(spot.place(&list), "it is changed here").help(
            "make it `power: dead` and `panel: off`; work that nobody opens the unit for is `panel: on`",
        ));
    }
}

/// What brings the power back says so, so that nothing that holds power off is passed by.
fn lets_the_supply_through(rules: &Rules, deed: &Deed, spot: &Spot, findings: &mut Findings) {
    // A live deed is done with nothing left to hold power off.
    if deed.energises || deed.power == PowerNeed::Live {
        return;
    }
    for (fact, value) in &deed.sets {
        let rule = rules.fact(*fact);
        if rule.feeds.zip(value.choices()).is_some_and(|(feeds, set)| set.within(feeds)) {
            let title = format!("`{}` lets the supply through, and does not say so", deed.id);
            let draft = spot.draft(&format!("sets/{}", rule.id), Code::UnguardedSupply, title);
            findings.push(draft.help(if deed.is_in_the_unit() {
                "make it `power: any` and `panel: any`, with `energises: yes`, as a deed of its own"
            } else {
                "add `energises: yes`, so that nothing that holds power off is passed by"
            }));
        }
    }
}
