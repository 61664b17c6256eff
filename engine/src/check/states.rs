//! What is measured is there in the state in which it is measured, and where the panel then is can be brought about.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::quantity::Dimension;
use crate::resolve::{Resolved, Spot};
use crate::rulebook::{Fact, Kind, PanelNeed, PowerNeed};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        // What only comes with others is never read.
        if fact.asking.is_some() {
            without_power(fact, spot, findings);
            panel_said(&fact.id, fact.power, fact.panel, spot, findings);
        }
    }
    for (deed, spot) in rules.deeds.iter().zip(&resolved.spots.deeds) {
        panel_said(&deed.id, deed.power, deed.panel, spot, findings);
    }
}

/// Volts, amps, turns and moving air are there only while the unit has power; a plate names them in any state.
fn without_power(fact: &Fact, spot: &Spot, findings: &mut Findings) {
    let Kind::Quantity { expected, meter } = &fact.kind else { return };
    let needs_power = matches!(
        expected.dimension(),
        Dimension::Voltage | Dimension::Current | Dimension::RotationalSpeed | Dimension::Airflow
    );
    if !needs_power || meter.is_exact() || fact.power == PowerNeed::Live {
        return;
    }
    let kind = expected.dimension().with_article();
    let title = format!("`{}` is {kind}, and there is none on a unit without power", fact.id);
    let draft = spot.draft("power", Code::MeasuredWithoutPower, title);
    findings.push(draft.help("make it `power: live`, or `meter: exact` where it is read off a plate"));
}

/// Whether the panel is on is no matter only where the unit may be in any state, or is dead and what is meant is outside.
fn panel_said(id: &str, power: PowerNeed, panel: PanelNeed, spot: &Spot, findings: &mut Findings) {
    let (code, title, help) = match (power, panel) {
        (PowerNeed::Dead, PanelNeed::On) => (
            Code::DeadWithPanelOn,
            format!("`{id}` wants the panel on, and the test for dead takes it off"),
            "make it `panel: off`, or `panel: any` where it is outside the unit",
        ),
        (PowerNeed::Live, PanelNeed::Any) => (
            Code::LiveWithAnyPanel,
            format!("`{id}` is live, and does not say whether the panel is on"),
            "make it `panel: on`; or `panel: off`, with its `station:`, where it is read behind the panel",
        ),
        _ => return,
    };
    findings.push(spot.draft("panel", code, title).help(help));
}
