//! What is read and done goes with its state: what is measured is there and hurts nobody, and where the panel then is
//! can be brought about.

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
            measured(fact, spot, findings);
            panel_said(&fact.id, fact.power, fact.panel, spot, findings);
        }
    }
    for (deed, spot) in rules.deeds.iter().zip(&resolved.spots.deeds) {
        panel_said(&deed.id, deed.power, deed.panel, spot, findings);
    }
}

/// Volts, amps, turns and moving air are there only while the unit has power, ohms only while it has none. What is
/// exact is printed, and is read off in any state.
fn measured(fact: &Fact, spot: &Spot, findings: &mut Findings) {
    let Kind::Quantity { expected, meter } = &fact.kind else { return };
    if meter.is_exact() {
        return;
    }
    let dimension = expected.dimension();
    let (code, title, help) = match dimension {
        Dimension::Voltage | Dimension::Current | Dimension::RotationalSpeed | Dimension::Airflow
            if fact.power != PowerNeed::Live =>
        {
            let kind = dimension.with_article();
            (
                Code::MeasuredWithoutPower,
                format!("`{}` is {kind}, and there is none on a unit without power", fact.id),
                "make it `power: live`, or `meter: exact` where it is read off a plate",
            )
        }
        Dimension::Resistance if fact.power != PowerNeed::Dead => (
            Code::ResistanceNotDead,
            format!("`{}` is a resistance, and may be measured on live parts", fact.id),
            "make it `power: dead`",
        ),
        _ => return,
    };
    findings.push(spot.draft("power", code, title).help(help));
}

/// Whether the panel is on is no matter only where the unit may be in any state, or is dead and what is meant is outside.
fn panel_said(id: &str, power: PowerNeed, panel: PanelNeed, spot: &Spot, findings: &mut Findings) {
    let (key, code, title, help) = match (power, panel) {
        (PowerNeed::Any, PanelNeed::Off) => (
            "power",
            Code::AnyPowerBehindPanel,
            format!("`{id}` is behind the panel, and may come with the power in any state"),
            "make it `power: dead`, or for a reading `power: live`",
        ),
        (PowerNeed::Dead, PanelNeed::On) => (
            "panel",
            Code::DeadWithPanelOn,
            format!("`{id}` wants the panel on, and the test for dead takes it off"),
            "make it `panel: off`, or `panel: any` where it is outside the unit",
        ),
        (PowerNeed::Live, PanelNeed::Any) => (
            "panel",
            Code::LiveWithAnyPanel,
            format!("`{id}` is live, and does not say whether the panel is on"),
            "make it `panel: on`; or `panel: off`, with its `station:`, where it is read behind the panel",
        ),
        _ => return,
    };
    findings.push(spot.draft(key, code, title).help(help));
}
