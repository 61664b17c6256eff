//! How a unit stood when a call was left, for whoever sees it in a list.

use crate::call::{Call, Panel, PowerState};
use crate::rulebook::{Answer, Value};
use serde::{Deserialize, Serialize};

/// How a unit stands: what is known of its power, and what is open or fitted. It says nothing of dead for anybody who
/// comes later: a call that is taken up again takes the unit for live.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Standing {
    /// Its power.
    pub power: PowerThen,
    /// Its access panel.
    pub panel: PanelThen,
    /// Whether somebody's locks are on its supply.
    #[serde(default, skip_serializing_if = "is_not")]
    pub locked: bool,
    /// Whether the interlock of the panel is defeated.
    #[serde(default, skip_serializing_if = "is_not")]
    pub interlock_defeated: bool,
    /// Whether test leads are fitted in it.
    #[serde(default, skip_serializing_if = "is_not")]
    pub leads_fitted: bool,
    /// What was known last, where the call was taken up again since and nothing was said of its power.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<Box<Self>>,
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
        let mut standing = Self {
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
            locked: power.locked(),
            interlock_defeated: power.interlock_defeated(),
            leads_fitted: power.leads().is_some(),
            before: None,
        };
        if standing.power == PowerThen::NotKnown
            && let Some(call) = call.when_last_taken_up()
        {
            let then = Self::of(&call);
            let says_more = then.is_known().then(|| Box::new(then.clone()));
            standing.before = then.before.or(says_more);
        }
        standing
    }

    /// Whether anything was said of it.
    #[must_use]
    pub const fn is_known(&self) -> bool {
        !matches!((self.power, self.panel), (PowerThen::NotKnown, PanelThen::NotKnown))
            || self.interlock_defeated
            || self.leads_fitted
            || self.before.is_some()
    }

    /// Whether whoever comes next has to know of it: it is open, off, fitted with leads, or not proved dead.
    #[must_use]
    pub fn needs_care(&self) -> bool {
        !matches!(self.power, PowerThen::Live | PowerThen::NotKnown)
            || self.panel == PanelThen::Off
            || self.locked
            || self.interlock_defeated
            || self.leads_fitted
            || self.before.as_ref().is_some_and(|before| before.needs_care())
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands it over like this")]
const fn is_not(flag: &bool) -> bool {
    !*flag
}
