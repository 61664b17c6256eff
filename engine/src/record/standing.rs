//! How a unit stood when a call was left, for whoever sees it in a list.

use crate::call::{Call, Panel, PowerState};
use crate::rulebook::{Answer, Value};
use serde::{Deserialize, Serialize};

/// How a unit stands: what is known of its power, and what is open or fitted. It says nothing of dead for anybody who
/// comes later: a call that is taken up again takes the unit for live.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Standing {
    /// Its power.
    pub power: PowerThen,
    /// Its access panel.
    pub panel: PanelThen,
    /// Whether the interlock of the panel is defeated.
    #[serde(default, skip_serializing_if = "is_not")]
    pub interlock_defeated: bool,
    /// Whether test leads are fitted in it.
    #[serde(default, skip_serializing_if = "is_not")]
    pub leads_fitted: bool,
}

/// What was known of a unit's power.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PowerThen {
    /// On.
    Live,
    /// Found live by somebody, between off and on, or a lock-out that did not come to its end: it counts as live.
    CountsAsLive,
    /// Locked off, and not proved dead.
    LockedOff,
    /// Locked out and proved dead.
    ProvedDead,
    /// Nobody has said.
    NotKnown,
}

/// Where a unit's access panel was.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PanelThen {
    /// In its place.
    On,
    /// Off.
    Off,
    /// Nobody has said.
    NotKnown,
}

impl Standing {
    /// How the unit of a call stands at its last word.
    #[must_use]
    pub fn of(call: &Call) -> Self {
        let (power, undoes) = (call.power(), call.book().roles().undoes_dead);
        let found_live =
            matches!(call.danger(), Some(Answer::Value(Value::Choices(what))) if what.meets(undoes));
        Self {
            power: match power.state() {
                PowerState::Live => PowerThen::Live,
                PowerState::Dead { .. } => PowerThen::ProvedDead,
                PowerState::LockingOut { .. } | PowerState::Restoring { .. } => PowerThen::CountsAsLive,
                PowerState::Unknown if found_live || power.is_unproved() => PowerThen::CountsAsLive,
                PowerState::Unknown if power.locked() => PowerThen::LockedOff,
                PowerState::Unknown => PowerThen::NotKnown,
            },
            panel: match power.panel() {
                Panel::On => PanelThen::On,
                Panel::Off => PanelThen::Off,
                Panel::Unknown => PanelThen::NotKnown,
            },
            interlock_defeated: power.interlock_defeated(),
            leads_fitted: power.leads().is_some(),
        }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands it over like this")]
const fn is_not(flag: &bool) -> bool {
    !*flag
}
