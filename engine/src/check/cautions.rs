//! What is done dead or on live parts says what can hurt.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Deed, PanelNeed, PowerNeed};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (ending, spot) in rules.endings.iter().zip(&resolved.spots.endings) {
        let can_hurt = |deed: &&Deed| match deed.power {
            PowerNeed::Dead => true,
            PowerNeed::Live => deed.panel != PanelNeed::On,
            PowerNeed::Any => false,
        };
        let mut deeds = ending.deeds.iter().map(|deed| &rules.deeds[deed.index()]);
        if let Some(deed) = deeds.find(can_hurt).filter(|_| ending.cautions.is_empty()) {
            let state = if deed.power == PowerNeed::Dead { "locked out" } else { "live" };
            let title = format!("`{}` is worked on {state}, and nothing says what can hurt", ending.id);
            findings.push(spot.named(Code::NoCaution, title).help(HELP));
        }
    }
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        if fact.is_inside_live() && fact.cautions.is_empty() {
            let title = format!("`{}` is read on live parts, and nothing says what can hurt", fact.id);
            findings.push(spot.named(Code::NoCaution, title).help(HELP));
        }
    }
}

const HELP: &str = "add `cautions:`, such as `[{warning: Live parts inside. Qualified person only.}]`";
