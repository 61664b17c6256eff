//! What is read and done is read and done in a state of power that leaves nobody's hands among live parts unled.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::quantity::Dimension;
use crate::resolve::{Resolved, Spot};
use crate::rulebook::{Fact, Kind, PanelNeed, PowerNeed};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let mut behind_panel = |id: &str, power, panel, spot: &Spot| {
        if power == PowerNeed::Any && panel == PanelNeed::Off {
            let title = format!("`{id}` is behind the panel, and may come with the power in any state");
            findings.push(
                spot.draft("power", Code::AnyPowerBehindPanel, title)
                    .help("make it `power: dead`, or for a reading `power: live`"),
            );
        }
    };
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        behind_panel(&fact.id, fact.power, fact.panel, spot);
    }
    for (deed, spot) in rules.deeds.iter().zip(&resolved.spots.deeds) {
        behind_panel(&deed.id, deed.power, deed.panel, spot);
    }
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        if is_measured_in_ohms(fact) && fact.power != PowerNeed::Dead {
            let title = format!("`{}` is a resistance, and may be measured on live parts", fact.id);
            let draft = spot.draft("power", Code::ResistanceNotDead, title);
            findings.push(draft.help("make it `power: dead`"));
        }
    }
    for (deed, spot) in rules.deeds.iter().zip(&resolved.spots.deeds) {
        for (fact, value) in &deed.sets {
            let rule = rules.fact(*fact);
            let feeds = rule.feeds.zip(value.choices()).is_some_and(|(feeds, set)| set.within(feeds));
            // A live deed is done with nothing left to hold power off.
            if feeds && !deed.energises && deed.power != PowerNeed::Live {
                let title = format!("`{}` lets the supply through, and does not say so", deed.id);
                let draft = spot.draft(&format!("sets/{}", rule.id), Code::UnguardedSupply, title);
                findings.push(
                    draft.help("add `energises: yes`, so that nothing that holds power off is passed by"),
                );
            }
        }
    }
}

/// Whether a meter is put to it; what is printed is exact, and is read off in any state.
fn is_measured_in_ohms(fact: &Fact) -> bool {
    let Kind::Quantity { expected, meter } = &fact.kind else { return false };
    expected.dimension() == Dimension::Resistance && fact.asking.is_some() && !meter.is_exact()
}
