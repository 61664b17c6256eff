//! What is measured is there in the state in which it is measured, and that state can be brought about.

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
            dead_and_closed(&fact.id, fact.power, fact.panel, spot, findings);
        }
    }
    for (deed, spot) in rules.deeds.iter().zip(&resolved.spots.deeds) {
        dead_and_closed(&deed.id, deed.power, deed.panel, spot, findings);
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

fn dead_and_closed(id: &str, power: PowerNeed, panel: PanelNeed, spot: &Spot, findings: &mut Findings) {
    if (power, panel) != (PowerNeed::Dead, PanelNeed::On) {
        return;
    }
    let title = format!("`{id}` wants the panel on, and the test for dead takes it off");
    let draft = spot.draft("panel", Code::DeadWithPanelOn, title);
    findings.push(draft.help("make it `panel: off`, or `panel: any` where it is outside the unit"));
}
