//! The whole unit, and how it stands: what is switched on, where the panel is, what is called for.

mod draw;
mod draw_sound;
mod heard;
mod passes;
mod run;
mod shows;
mod trips;

pub(crate) use run::Running;
pub(crate) use shows::Symptom;
pub(crate) use trips::{Device, Trip};

use crate::air::Air;
use crate::cabinet::Cabinet;
use crate::control::{CallFor, Control};
use crate::heater::Heater;
use crate::motor::Motor;
use crate::mount::Mount;
use crate::supply::{Amps, Supply};
use crate::wheel::Wheel;

/// The two kinds of unit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Kind {
    Furnace,
    AirHandler,
}

/// Danger that a person would tell of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Danger {
    GasSmell,
    Burning,
    Shock,
    Water,
    CarbonMonoxide,
    Rollout,
    Hurt,
}

/// What stands on plates and papers; SI units.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Plate {
    pub(crate) kind: Kind,
    pub(crate) tons: f64,
    /// m³/s that it is to move.
    pub(crate) wanted: f64,
    pub(crate) static_limit: f64,
    /// hp of the motor that came out.
    pub(crate) old_motor: f64,
    pub(crate) sources: u32,
    /// Inches.
    pub(crate) opening: f64,
    /// Inches.
    pub(crate) mount: f64,
    /// Minutes.
    pub(crate) charge_wait: f64,
}

/// The access panel and its interlock.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Panel {
    pub(crate) on: bool,
    /// Whether it presses its switch where it is on.
    pub(crate) seated: bool,
    /// A qualified person has defeated the interlock for now.
    pub(crate) defeated: bool,
}

/// What people remember.
#[derive(Clone, PartialEq, Debug, Default)]
pub(crate) struct Told {
    /// It popped when it last had power.
    pub(crate) popped: bool,
    /// Somebody switched it off because it tripped.
    pub(crate) off_for_trips: bool,
    /// A relearn with all in order was done and watched.
    pub(crate) relearned: bool,
    /// Whether a lower speed was tried.
    pub(crate) lower_speed: LowerSpeed,
}

/// What came of a lower speed.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub(crate) enum LowerSpeed {
    #[default]
    NotTried,
    /// It runs lower now than it did.
    Lowered { from: crate::motor::Speed },
    /// It was put back.
    NeedsTheAir,
}

/// How it stands just now.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Stand {
    /// Somebody switched it off and locked it.
    pub(crate) locked: bool,
    pub(crate) panel: Panel,
    /// The motor's line plug is pulled and tied clear.
    pub(crate) unplugged: bool,
    pub(crate) call: CallFor,
    /// Minutes since it last had power.
    pub(crate) minutes_off: f64,
    /// The motor felt for its way when it last got power.
    pub(crate) just_learned: bool,
}

/// One furnace or air handler with its replacement motor.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Unit {
    pub(crate) plate: Plate,
    pub(crate) supply: Supply,
    pub(crate) control: Control,
    pub(crate) motor: Motor,
    pub(crate) wheel: Wheel,
    pub(crate) mount: Mount,
    pub(crate) air: Air,
    pub(crate) cabinet: Cabinet,
    pub(crate) heater: Heater,
    pub(crate) stand: Stand,
    /// What is wrong beside the parts: dangers, in the order they are told.
    pub(crate) dangers: Vec<Danger>,
    pub(crate) rollout_tripped: bool,
    /// The harness is pinched: ohms from a line lead to the case, infinite while it holds.
    pub(crate) pinched: Option<f64>,
    pub(crate) told: Told,
}

impl Unit {
    /// Whether the panel's switch passes the supply on, as far as panel and person go.
    pub(crate) const fn switch_made(&self) -> bool {
        (self.stand.panel.on && self.stand.panel.seated) || self.stand.panel.defeated
    }

    /// Amps of the 24 volt side in its primary.
    pub(crate) fn control_amps(&self) -> f64 {
        self.control.transformer.primary_amps(self.supply.system.rated(), self.control.load)
    }

    /// What flows with the motor at rest.
    pub(crate) fn at_rest(&self) -> Amps {
        Amps { motor: 0.0, control: self.control_amps() }
    }

    /// Volts across the transformer's primary, the motor at rest.
    pub(crate) fn primary_volts(&self) -> f64 {
        if self.stand.locked { 0.0 } else { self.supply.at_board(self.switch_made(), self.at_rest()).solid() }
    }

    /// Whether any line conductor in the unit is live, or the motor still holds a charge above 50 volts.
    pub(crate) fn can_hurt(&self) -> bool {
        let fed = !self.stand.locked && self.supply.is_on();
        fed || self.supply.back_fed || self.charge_left() > 50.0
    }

    /// Volts of stored charge.
    pub(crate) fn charge_left(&self) -> f64 {
        self.motor.charge_after(self.supply.source_volts, self.stand.minutes_off)
    }

    /// The same unit with another call.
    pub(crate) fn calling(&self, call: CallFor) -> Self {
        let mut unit = self.clone();
        unit.stand.call = call;
        unit
    }
}
