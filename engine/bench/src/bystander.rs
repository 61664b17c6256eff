//! A bystander who sees the unit itself: whether a prompt may be shown as things truly stand.
//!
//! It takes nothing on the engine's word. Live or dead is what the unit is; what forbids power is what was told and not
//! mended since.

use crate::unit::Unit;
use engine::call::{Call, DeedResult, Event, Prompt, Routine, Wants};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, ChoiceSet, Fact, FactId, PanelNeed, PowerNeed};
use std::collections::BTreeSet;

/// What a bystander keeps in mind.
#[derive(Debug, Default)]
pub(crate) struct Bystander {
    /// Facts that were told to be so that power must stay off.
    bad: BTreeSet<FactId>,
}

impl Bystander {
    /// What is unsafe about showing a prompt now, if anything is.
    pub(crate) fn objects(
        &self,
        call: &Call,
        unit: &Unit,
        live_work: bool,
        prompt: &Prompt,
    ) -> Option<String> {
        let book = call.book();
        match prompt.wants() {
            Wants::Fact { fact, .. } => {
                let rule = book.fact(*fact);
                let says = |what: &str| Some(format!("`{}` asked {what}", rule.id));
                match rule.power {
                    PowerNeed::Dead if unit.can_hurt() => says("with volts in the unit"),
                    PowerNeed::Live if !self.bad.is_empty() => says("with power held off"),
                    PowerNeed::Live if rule.live_work && !live_work => {
                        says("of somebody who may not work live")
                    }
                    PowerNeed::Live => live_reading(unit, live_work, rule).and_then(says),
                    _ => None,
                }
            }
            Wants::Deed { deed, .. } => {
                let rule = book.deed(*deed);
                let says = |what: &str| Some(format!("`{}` shown {what}", rule.id));
                match rule.power {
                    PowerNeed::Dead if unit.can_hurt() => says("with volts in the unit"),
                    PowerNeed::Live if !unit.stand.panel.on => says("with the panel off"),
                    PowerNeed::Live if !self.bad.is_empty() => says("with power held off"),
                    _ if rule.energises && !self.bad.is_empty() => says("with power held off"),
                    PowerNeed::Any if unit.stand.panel.defeated && unit.can_hurt() => {
                        says("beside open live parts")
                    }
                    _ => None,
                }
            }
            Wants::Power { step, .. } => match step.routine {
                Routine::Restore(_) if !self.bad.is_empty() => {
                    Some("power restored while it is held off".into())
                }
                Routine::Staging if unit.can_hurt() => Some("leads handled with volts in the unit".into()),
                _ => None,
            },
            Wants::Consent { .. } | Wants::Conflict { .. } => None,
        }
    }

    /// Keeps in mind what was told, and what was mended.
    pub(crate) fn hears(&mut self, call: &Call, event: &Event) {
        let book = call.book();
        match event {
            Event::Told { fact, answer, .. } | Event::Again { fact, answer } => {
                if forbids_power(book.fact(*fact), *answer) {
                    self.bad.insert(*fact);
                } else {
                    self.bad.remove(fact);
                }
            }
            Event::Deed { deed, result: DeedResult::Done, .. } => {
                self.bad.retain(|fact| !book.deed(*deed).changes(*fact));
            }
            _ => {}
        }
    }
}

/// Whether what was told forbids power, by the words of the design: wet or burnt plugs, a pinched harness, failed
/// insulation, shorted line pins. The figures are those of a clear case, well inside any band.
fn forbids_power(rule: &Fact, answer: Answer) -> bool {
    let Answer::Value(value) = answer else { return false };
    let is = |ids: &[&str]| {
        let bad = ids.iter().filter_map(|id| rule.choice(id)).fold(ChoiceSet::default(), ChoiceSet::with);
        value.choices().is_some_and(|set| set.meets(bad))
    };
    let below = |text: &str| {
        let edge = Quantity::parse_exact(text).ok();
        matches!((value.quantity(), edge), (Some(found), Some(edge)) if found.base() < edge.base())
    };
    match rule.id.as_str() {
        "connectors_condition" => is(&["wet", "burnt"]),
        "harness_condition" => is(&["pinched"]),
        "insulation_to_case" => below("0.8 Mohm"),
        "line_pin_resistance" => below("3 ohm"),
        _ => false,
    }
}

/// What is wrong with a live reading as the unit stands.
fn live_reading(unit: &Unit, live_work: bool, rule: &Fact) -> Option<&'static str> {
    let stand = &unit.stand;
    match rule.panel {
        PanelNeed::On if !stand.panel.on => Some("with the panel off"),
        PanelNeed::Off if !stand.panel.on && !live_work => Some("behind the panel of somebody who may not"),
        PanelNeed::Off if !stand.panel.on && !stand.panel.defeated && !rule.ahead_of_interlock => {
            Some("behind an open interlock")
        }
        _ if stand.locked => Some("of a unit that is switched off"),
        _ => None,
    }
}
