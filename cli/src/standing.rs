//! How a unit stands, in words: the same wherever the next person reads of it.

use engine::record::{PanelThen, PowerThen, Standing};

/// Power, panel, and what else is not as it should be, in a few words.
pub(crate) fn in_short(stands: &Standing) -> String {
    let now = if stands.before.is_some() { " now" } else { "" };
    let power = match (stands.power, stands.locked) {
        (PowerThen::Live, _) => "power ON",
        (PowerThen::CountsAsLive, true) => "power locked off, and found live: counts as ON",
        (PowerThen::CountsAsLive, false) => "power NOT proved dead, counts as ON",
        (PowerThen::LockedOff, _) => "power locked off, to be proved dead anew",
        (PowerThen::ProvedDead, _) => "power locked out and proved dead then, to be proved anew",
        (PowerThen::NotKnown, _) => "power not known",
    };
    let panel = match stands.panel {
        PanelThen::On => "panel on",
        PanelThen::Off => "panel OFF",
        PanelThen::NotKnown => "panel not known",
    };
    let interlock = if stands.interlock_defeated { ", panel interlock DEFEATED" } else { "" };
    let leads = if stands.leads_fitted { ", test leads FITTED" } else { "" };
    let before =
        stands.before.as_ref().map_or(String::new(), |before| format!("; before that: {}", in_short(before)));
    format!("{power}{now}, {panel}{interlock}{leads}{before}")
}
