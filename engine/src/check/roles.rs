//! The facts and endings that play a part in a call can play it: a fact is of the right kind and is told by nothing else
//! than the part allows, an ending ends a call as the part does.

use super::{at_step, steps};
use crate::finding::{Code, Draft, Findings, Place};
use crate::graph::StepGraph;
use crate::quantity::Expected;
use crate::resolve::{Resolved, Spot};
use crate::rulebook::{EndingKind, FactId, Lasts, PanelNeed, PowerNeed, Rules};
use std::collections::BTreeSet;

/// The most supplies that the lock-out goes through one by one.
const MOST_SUPPLIES: f64 = 9.0;
/// Places that are shown beside a finding.
const MOST_SHOWN: usize = 4;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let (Some(power), Some(call)) = (&resolved.spots.power, &resolved.spots.call) else { return };
    let rules = &resolved.rules;
    let (by, part) = (&rules.power, &rules.roles);
    let parts = [
        Role { at: power.value_of("proved dead"), name: "proved dead", fact: by.proved_dead },
        Role { at: power.value_of("supply sources"), name: "supply sources", fact: by.sources },
        Role { at: power.value_of("stored charge"), name: "stored charge", fact: by.stored_charge },
        Role { at: power.value_of("live work/fact"), name: "live work", fact: by.live_work.0 },
        Role { at: call.value_of("complaint"), name: "complaint", fact: part.complaint },
        Role { at: call.value_of("complaint gone/fact"), name: "complaint gone", fact: part.gone.0 },
        Role { at: call.value_of("danger/fact"), name: "danger", fact: part.danger.0 },
    ];
    let faults = [
        proved_dead(resolved, by.proved_dead),
        sources(resolved, by.sources),
        planned_by(resolved, by.stored_charge),
        live_work(resolved, by.live_work.0),
        asked(resolved, part.complaint),
        gone(resolved, part.gone.0),
        [asked(resolved, part.danger.0), given(resolved, part.danger.0)].concat(),
    ];
    let mut told = false;
    for (role, faults) in parts.iter().zip(faults) {
        told |= !faults.is_empty();
        if let Some(draft) = role.draft(faults, || is_another(resolved, role.fact)) {
            findings.push(draft);
        }
    }
    if !told {
        played_twice(&parts, rules, findings);
    }
    endings(resolved, call, findings);
}

/// A part in the call, and the fact that plays it.
struct Role {
    at: Place,
    name: &'static str,
    fact: FactId,
}

/// Why a fact cannot play its part.
#[derive(Clone)]
struct Fault {
    at: Place,
    title: String,
    help: &'static str,
}

impl Role {
    /// What is wrong with it: at its own place where it is one thing and the fact is the one that is meant, else at the
    /// part.
    fn draft(&self, faults: Vec<Fault>, is_another: impl Fn() -> bool) -> Option<Draft> {
        let more = faults.len();
        let mut faults = faults.into_iter();
        let first = faults.next()?;
        if more == 1 && !is_another() {
            let draft = Draft::at(Code::WrongRole, first.at, first.title).help(first.help);
            return Some(draft.also_at(self.at.clone(), format!("it is `{}` here", self.name)));
        }
        let draft = Draft::at(Code::WrongRole, self.at.clone(), first.title);
        let mut draft = draft.help(format!("name the reading that is meant as `{}`", self.name));
        for at in std::iter::once(first.at).chain(faults.map(|fault| fault.at)).take(MOST_SHOWN) {
            draft = draft.also_at(at, "this stands against it");
        }
        Some(draft)
    }
}

/// Whether live work is allowed by a reading that work changes, or the lock-out is planned by one that a step goes by:
/// another was meant.
fn is_another(resolved: &Resolved, fact: FactId) -> bool {
    let rules = &resolved.rules;
    let is_changed = || rules.deeds.iter().any(|deed| deed.stales.contains(&fact));
    let is_gone_by = || rules.steps.iter().any(|step| step.fact == fact);
    let (planned, live_work) = (rules.power.plans_by(fact), fact == rules.power.live_work.0);
    planned && is_gone_by() || (planned || live_work) && is_changed()
}

/// That a unit is dead is never told: a step that went by it would wait for ever.
fn proved_dead(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let rule = resolved.rules.fact(fact);
    let mut faults = Vec::new();
    if rule.choice("yes").is_none() || rule.choices().len() != 2 || rule.allows_several() {
        faults.push(Fault {
            at: resolved.spots.facts[fact.index()].place(""),
            title: format!("`{}` does not say by yes or no whether the unit is dead", rule.id),
            help: "give it two choices, `yes` and `no`",
        });
    }
    let title = format!("`{}` is settled by the lock-out alone, and is never told", rule.id);
    let help = "take it out: what needs the unit dead says `power: dead`";
    let by_steps = steps(resolved)
        .filter(|id| resolved.rules.step(*id).fact == fact)
        .map(|id| at_step(resolved, id, |at| at.key(asks(resolved, id)).place()));
    let stales = resolved.rules.deeds.iter().zip(&resolved.spots.deeds);
    let stales =
        stales.filter(|(deed, _)| deed.stales.contains(&fact)).map(|(_, spot)| spot.place("makes stale"));
    let places = by_steps.chain(stales).chain(demands(resolved, fact)).chain(givers(resolved, fact));
    faults.extend(places.map(|at| Fault { at, title: title.clone(), help }));
    faults
}

fn asks(resolved: &Resolved, id: crate::rulebook::StepId) -> &'static str {
    if resolved.rules.step(id).asks { "ask" } else { "if known" }
}

/// How many supplies are locked off one by one.
fn sources(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let (rule, spot) = (resolved.rules.fact(fact), &resolved.spots.facts[fact.index()]);
    let mut faults = planned_by(resolved, fact);
    let range = rule.expected().and_then(Expected::range);
    let fits = range.is_some_and(|(low, high)| low.base() >= 1.0 && high.base() <= MOST_SUPPLIES);
    if !fits {
        faults.push(Fault {
            at: spot.place(if range.is_some() { "range" } else { "measures" }),
            title: format!("`{}` may be none, or more supplies than are locked off one by one", rule.id),
            help: "give it a `range:` from 1 to 9 at the most, such as `1 to 6`",
        });
    }
    faults
}

/// What the lock-out is planned by is known before it: nothing that it comes from wants power steps.
fn planned_by(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let (rules, spots) = (&resolved.rules, &resolved.spots.facts);
    let (mut open, mut seen) = (vec![fact], BTreeSet::new());
    let mut faults = Vec::new();
    while let Some(part) = open.pop() {
        if !seen.insert(part) {
            continue;
        }
        open.extend(rules.comes_from(part));
        let rule = rules.fact(part);
        if rule.asking.is_some() && rule.power != PowerNeed::Any {
            faults.push(Fault {
                at: spots[part.index()].place("power"),
                title: format!("`{}` wants power steps, and these are planned by it", rule.id),
                help: "make it `power: any` and `panel: any`",
            });
        }
    }
    faults
}

/// Whether live work is allowed is asked of whoever is there, each visit anew.
fn live_work(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let (rule, spot) = (resolved.rules.fact(fact), &resolved.spots.facts[fact.index()]);
    let mut faults = planned_by(resolved, fact);
    if rule.lasts != Lasts::Now {
        faults.push(Fault {
            at: spot.place("lasts"),
            title: format!(
                "`{}` lasts beyond the visit, and the next one there may not be allowed it",
                rule.id
            ),
            help: "make it `lasts: now`",
        });
    }
    if rule.every_choice().within(resolved.rules.power.live_work.1) {
        faults.push(Fault {
            at: spot.place("choices"),
            title: format!("every answer of `{}` allows live work", rule.id),
            help: "give it a choice for those who may not",
        });
    }
    faults.extend(given(resolved, fact));
    faults
}

/// Whether the complaint is gone is asked of whoever is there, at a unit that is closed and at work; what work is proved by
/// comes besides.
fn gone(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let (rule, spot) = (resolved.rules.fact(fact), &resolved.spots.facts[fact.index()]);
    let mut faults = asked(resolved, fact);
    let (dead, off) = (rule.power == PowerNeed::Dead, rule.panel == PanelNeed::Off);
    for key in [dead.then_some("power"), off.then_some("panel")].into_iter().flatten() {
        faults.push(Fault {
            at: spot.place(key),
            title: format!("`{}` cannot be told of a unit that is closed and at work", rule.id),
            help: "make it `power: live` and `panel: on`",
        });
    }
    let title = format!("`{}` is asked after every repair, and proves none besides", rule.id);
    let help = "prove it by what the work was to change";
    faults.extend(proofs(resolved, fact).map(|at| Fault { at, title: title.clone(), help }));
    faults.extend(given(resolved, fact));
    faults
}

/// What can be told only by who is asked has its question.
fn asked(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let rule = resolved.rules.fact(fact);
    let at = || resolved.spots.facts[fact.index()].place("");
    let title = || format!("`{}` has no question, and nobody else can tell it", rule.id);
    let fault = || Fault { at: at(), title: title(), help: "add `say:` and `how:`" };
    rule.asking.is_none().then(fault).into_iter().collect()
}

/// What is told by whoever is there comes with no other reading.
fn given(resolved: &Resolved, fact: FactId) -> Vec<Fault> {
    let rule = resolved.rules.fact(fact);
    let title = format!("`{}` is told by whoever is there, and comes with no other reading", rule.id);
    let fault = |at| Fault { at, title: title.clone(), help: "take the line out" };
    givers(resolved, fact).map(fault).collect()
}

/// Where another reading says what a fact is.
fn givers(resolved: &Resolved, fact: FactId) -> impl Iterator<Item = Place> {
    let rule = resolved.rules.fact(fact);
    let givers: BTreeSet<FactId> =
        rule.given.iter().flat_map(|given| &given.when).map(|(giver, _)| *giver).collect();
    givers.into_iter().map(|giver| resolved.spots.facts[giver.index()].gives(&rule.id))
}

/// Where a fact stands in the proof of a repair.
fn proofs(resolved: &Resolved, fact: FactId) -> impl Iterator<Item = Place> {
    let pointer = format!("proof/{}", resolved.rules.fact(fact).id);
    let endings = resolved.rules.endings.iter().zip(&resolved.spots.endings);
    let proved = endings.filter(move |(ending, _)| ending.proof.iter().any(|(other, _)| *other == fact));
    proved.map(move |(_, spot)| spot.place(&pointer))
}

/// Where a proof or a hold-off goes by a fact.
fn demands(resolved: &Resolved, fact: FactId) -> impl Iterator<Item = Place> {
    let name = &resolved.rules.fact(fact).id;
    let held = resolved.rules.power.hold_offs.iter().zip(&resolved.spots.hold_offs);
    let held = held.flat_map(move |(hold_off, spot)| {
        [("when", &hold_off.when), ("until", &hold_off.until)]
            .into_iter()
            .filter(move |(_, list)| list.iter().any(|(other, _)| *other == fact))
            .map(move |(key, _)| spot.place(&format!("{key}/{name}")))
    });
    proofs(resolved, fact).chain(held)
}

/// One fact plays one part.
fn played_twice(parts: &[Role], rules: &Rules, findings: &mut Findings) {
    for (index, role) in parts.iter().enumerate() {
        if let Some(first) = parts.iter().take(index).find(|other| other.fact == role.fact) {
            let title = format!("`{}` is `{}` as well", rules.fact(role.fact).id, first.name);
            let draft = Draft::at(Code::WrongRole, role.at.clone(), title);
            let draft = draft.also_at(first.at.clone(), format!("it is `{}` here", first.name));
            findings.push(draft.help("name a reading of its own for each"));
        }
    }
}

/// The endings of the engine's own hand over, but for that of a person who left.
fn endings(resolved: &Resolved, call: &Spot, findings: &mut Findings) {
    let part = &resolved.rules.roles;
    let (hand_over, open) = (EndingKind::HandOver, EndingKind::Open);
    for (key, ending, wanted) in [
        ("cannot prove dead", part.cannot_prove_dead, hand_over),
        ("same fault again", part.same_fault_again, hand_over),
        ("not enough readings", part.not_enough_readings, hand_over),
        ("left", part.left, open),
    ] {
        let (rule, spot) = (&resolved.rules.endings[ending.index()], &resolved.spots.endings[ending.index()]);
        if rule.kind == wanted {
            continue;
        }
        let title = format!("`{}` is `kind: {}`, and a call cannot end so here", rule.id, rule.kind.word());
        let draft = Draft::at(Code::WrongRole, call.value_of(&format!("endings/{key}")), title);
        let draft = draft.also_at(spot.place("kind"), "its kind stands here");
        findings.push(draft.help(format!("name an ending that is `kind: {}`", wanted.word())));
    }
}
