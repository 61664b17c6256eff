//! What nothing goes by: readings that no question, edge, rule of power or proof needs, deeds that no ending is made
//! of, endings that nothing comes to.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{DeedId, EndingId, EndingKind, FactId, Rules, Way};
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let ended = endings(rules);
    let facts = facts(rules, &ended);
    let deeds: BTreeSet<DeedId> =
        rules.endings.iter().flat_map(|ending| ending.deeds.iter().copied()).collect();
    let unused = |kind: &str, id: &str| format!("nothing goes by the {kind} `{id}`");
    for (index, (fact, spot)) in rules.facts.iter().zip(&resolved.spots.facts).enumerate() {
        if !facts.contains(&FactId::at(index)) {
            let kind = if fact.asking.is_none() && fact.working.is_some() { "working" } else { "reading" };
            let draft = spot.named(Code::UnusedReading, unused(kind, &fact.id));
            findings.push(draft.help("ask for it at a step, let an edge go by it, or leave it to be told"));
        }
    }
    for (index, (deed, spot)) in rules.deeds.iter().zip(&resolved.spots.deeds).enumerate() {
        if !deeds.contains(&DeedId::at(index)) {
            let draft = spot.named(Code::UnusedDeed, unused("deed", &deed.id));
            findings.push(draft.help("name it under `deeds` of an ending, or delete it"));
        }
    }
    for (index, (ending, spot)) in rules.endings.iter().zip(&resolved.spots.endings).enumerate() {
        if !ended.contains(&EndingId::at(index)) && ending.kind != EndingKind::Open {
            let draft = spot.named(Code::UnusedEnding, format!("no line ends in `{}`", ending.id));
            findings.push(draft.help(format!("end a line with `end: {}`, or delete it", ending.id)));
        }
    }
}

/// The endings that a step or the engine itself comes to.
fn endings(rules: &Rules) -> BTreeSet<EndingId> {
    let part = &rules.roles;
    let own = [part.cannot_prove_dead, part.same_fault_again, part.not_enough_readings, part.left];
    let ways = rules.steps.iter().flat_map(crate::rulebook::Step::ways_out);
    ways.filter_map(|(_, way)| match way {
        Way::End(ending) => Some(ending),
        _ => None,
    })
    .chain(own)
    .chain(rules.endings.iter().filter_map(|ending| ending.again))
    .collect()
}

/// The facts that something goes by, with all that they are made of.
fn facts(rules: &Rules, ended: &BTreeSet<EndingId>) -> BTreeSet<FactId> {
    let (power, part) = (&rules.power, &rules.roles);
    let own = [
        power.proved_dead,
        power.sources,
        power.stored_charge,
        power.live_work.0,
        part.complaint,
        part.gone.0,
        part.danger.0,
    ];
    let steps = rules
        .steps
        .iter()
        .flat_map(|step| std::iter::once(step.fact).chain(step.shares().into_iter().map(|(fact, _)| fact)));
    let held = power.hold_offs.iter().flat_map(|held| held.when.iter().chain(&held.until));
    let proofs = ended.iter().flat_map(|ending| &rules.endings[ending.index()].proof);
    let related = rules.relations.iter().flat_map(crate::rulebook::Relation::facts);
    let mut open: Vec<FactId> = own.into_iter().chain(steps).chain(related).collect();
    open.extend(held.chain(proofs).map(|(fact, _)| *fact));
    let mut found = BTreeSet::new();
    while let Some(fact) = open.pop() {
        if found.insert(fact) {
            open.extend(rules.comes_from(fact));
        }
    }
    found
}
