//! Facts of a role can be read when the role needs them: proofs from outside, hold-offs without power.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{FactId, PanelNeed, PowerNeed, Rules};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (ending, spot) in rules.endings.iter().zip(&resolved.spots.endings) {
        for (fact, _) in &ending.proof {
            let rule = rules.fact(*fact);
            if rule.power == PowerNeed::Dead || rule.panel == PanelNeed::Off {
                findings.push(
                    spot.draft(
                        &format!("proof/{}", rule.id),
                        Code::ProofBehindPanel,
                        format!("`{}` cannot be read with the panel on and the power on", rule.id),
                    )
                    .help("prove a repair by what can be read from outside"),
                );
            }
        }
    }
    for (hold_off, spot) in rules.power.hold_offs.iter().zip(&resolved.spots.hold_offs) {
        let when = hold_off.when.iter().map(|(fact, _)| ("when", *fact));
        let until = hold_off.until.iter().map(|(fact, _)| ("until", *fact));
        for (list, fact) in when.chain(until).filter(|(_, fact)| needs_power(rules, *fact)) {
            let name = &rules.fact(fact).id;
            findings.push(
                spot.draft(
                    &format!("{list}/{name}"),
                    Code::HoldOffNeedsPower,
                    format!("`{name}` is read live, and this hold-off keeps the power off"),
                )
                .help("hold power off by what can be read without it"),
            );
        }
    }
}

fn needs_power(rules: &Rules, fact: FactId) -> bool {
    rules.fact(fact).power == PowerNeed::Live
}
