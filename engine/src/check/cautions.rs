//! What is done dead, read live, or done to the power says what can hurt. A notice is not about injury.

use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{Caution, Deed, Fact, PanelNeed, PowerNeed, PowerStepKind, Signal};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (ending, spot) in rules.endings.iter().zip(&resolved.spots.endings) {
        let can_hurt = |deed: &&Deed| match deed.power {
            PowerNeed::Dead => true,
            PowerNeed::Live => deed.panel != PanelNeed::On,
            PowerNeed::Any => false,
        };
        let mut deeds = ending.deeds.iter().map(|deed| &rules.deeds[deed.index()]);
        if let Some(deed) = deeds.find(can_hurt).filter(|_| !says_what_hurts(&ending.cautions)) {
            let state = if deed.power == PowerNeed::Dead { "locked out" } else { "live" };
            let title = format!("`{}` is worked on {state}, and {}", ending.id, lacks(&ending.cautions));
            findings.push(spot.named(Code::NoCaution, title).help(HELP));
        }
    }
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        if let Some(state) = in_a_state(fact).filter(|_| !says_what_hurts(&fact.cautions)) {
            let title = format!("`{}` is read {state}, and {}", fact.id, lacks(&fact.cautions));
            findings.push(spot.named(Code::NoCaution, title).help(HELP));
        }
    }
    let Some(spot) = &resolved.spots.power else { return };
    for kind in PowerStepKind::ALL {
        let cautions = &rules.power.words(kind).cautions;
        if !says_what_hurts(cautions) {
            let title = format!("`{}` is a power step, and {}", kind.key(), lacks(cautions));
            let draft = Draft::at(Code::NoCaution, spot.place(&format!("words/{}", kind.key())), title);
            findings.push(draft.help("add `cautions:`, such as `[{warning: Treat every part as live.}]`"));
        }
    }
}

/// The state in which a fact is read that can hurt. Dead, the lock-out has said what can; what is said beside it is more
/// than a notice.
fn in_a_state(fact: &Fact) -> Option<&'static str> {
    match fact.power {
        _ if fact.asking.is_none() => None,
        PowerNeed::Live if fact.is_inside_live() => Some("on live parts"),
        PowerNeed::Live => Some("live"),
        PowerNeed::Dead if !fact.cautions.is_empty() => Some("locked out"),
        PowerNeed::Dead | PowerNeed::Any => None,
    }
}

fn says_what_hurts(cautions: &[Caution]) -> bool {
    cautions.iter().any(|caution| caution.signal > Signal::Notice)
}

fn lacks(cautions: &[Caution]) -> &'static str {
    if cautions.is_empty() {
        "nothing says what can hurt"
    } else {
        "a notice alone does not say what can hurt"
    }
}

const HELP: &str = "add `cautions:`, such as `[{warning: Live parts inside. Qualified person only.}]`";
