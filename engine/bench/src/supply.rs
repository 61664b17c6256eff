//! The supply, from the service to the motor's plug: a chain of resistances, any of which may be open or burnt.
//!
//! Currents of the motor are far from a sine, and reactance of a few yards of branch wire is small: drops are taken as
//! resistance times current, which is common practice for branch circuits.

use crate::breaker::{Breaker, GroundFault, Handle};

/// The kinds of supply.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum System {
    V115,
    V208,
    V230,
}

impl System {
    /// Volts on the unit's plate.
    pub(crate) const fn rated(self) -> f64 {
        match self {
            Self::V115 => 115.0,
            Self::V208 => 208.0,
            Self::V230 => 230.0,
        }
    }

    /// Lowest and highest volts in order: 10 % about the rating, and a motor marked 208-230 read our way.
    pub(crate) const fn in_order(self) -> (f64, f64) {
        match self {
            Self::V115 => (103.5, 126.5),
            Self::V208 => (187.2, 253.0),
            Self::V230 => (207.0, 253.0),
        }
    }

    /// Whether both conductors are legs.
    pub(crate) const fn has_two_legs(self) -> bool {
        !matches!(self, Self::V115)
    }

    /// Volts of one leg to ground, at so many between the conductors.
    pub(crate) fn to_ground(self, volts: f64) -> f64 {
        match self {
            Self::V115 => volts,
            Self::V208 => volts / 3.0_f64.sqrt(),
            Self::V230 => volts / 2.0,
        }
    }
}

/// The disconnect beside the unit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Disconnect {
    On,
    Off,
    FuseBlown,
}

/// The conductors ahead of the unit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Ahead {
    Whole,
    /// One conductor is open: nothing between the two.
    Open,
    /// One of two legs is open, and other loads feed back this share of the volts.
    LegLost(f64),
}

/// Volts at a place.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Volts {
    /// Joined to the supply.
    Fed(f64),
    /// On an open conductor, with so many volts on the wires beside it.
    Ghost(f64),
    /// Nothing is near.
    None,
}

impl Volts {
    /// What a load would get.
    pub(crate) const fn solid(self) -> f64 {
        match self {
            Self::Fed(volts) => volts,
            Self::Ghost(_) | Self::None => 0.0,
        }
    }

    /// The same with a few thousand ohms across it: a ghost comes through some hundred picofarads, and is gone.
    pub(crate) const fn across_a_load(self) -> Self {
        match self {
            Self::Ghost(_) => Self::None,
            other => other,
        }
    }

    /// The same after a resistance that a current flows through; an infinite one is open.
    pub(crate) fn past(self, ohms: f64, amps: f64) -> Self {
        match self {
            Self::Fed(volts) if ohms.is_finite() => Self::Fed((volts - ohms * amps).max(0.0)),
            Self::Fed(volts) => Self::Ghost(volts),
            other => other,
        }
    }
}

/// Currents, A.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub(crate) struct Amps {
    pub(crate) motor: f64,
    pub(crate) control: f64,
}

/// The supply of one unit. Resistances are in ohms; infinite is open.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Supply {
    pub(crate) system: System,
    /// Volts of the source without load, between the two conductors.
    pub(crate) source_volts: f64,
    pub(crate) source_ohms: f64,
    /// Both conductors of the branch circuit.
    pub(crate) branch_ohms: f64,
    pub(crate) other_amps: f64,
    pub(crate) breaker: Breaker,
    pub(crate) disconnect: Disconnect,
    /// Whether the disconnect holds fuses, which then go before the breaker.
    pub(crate) fused: bool,
    pub(crate) ground_fault: Option<GroundFault>,
    pub(crate) ahead: Ahead,
    /// The terminals where the supply enters.
    pub(crate) entry_ohms: f64,
    pub(crate) panel_switch_ohms: f64,
    /// The worse of the two line leads from board to plug, its terminals with it.
    pub(crate) worse_lead_ohms: f64,
    pub(crate) better_lead_ohms: f64,
    /// mA that leak elsewhere on the circuit.
    pub(crate) stray_milliamps: f64,
    /// Its breaker or fuse went while somebody was at work on the unit, and nobody has said so yet.
    pub(crate) tripped_unseen: bool,
    /// Another supply feeds the unit that no diagram shows.
    pub(crate) back_fed: bool,
}

impl Supply {
    /// Whether all that can be switched is on, and nothing has tripped.
    pub(crate) fn is_on(&self) -> bool {
        self.breaker.handle == Handle::On
            && self.disconnect == Disconnect::On
            && !self.ground_fault.is_some_and(|device| device.tripped)
    }

    /// Opens what opens on too much current.
    pub(crate) fn open_branch(&mut self) {
        if self.fused {
            self.disconnect = Disconnect::FuseBlown;
        } else {
            self.breaker.handle = Handle::Tripped;
        }
    }

    /// Resets what tripped, and fits a fuse where one blew.
    pub(crate) fn reset(&mut self) {
        self.tripped_unseen = false;
        if self.breaker.handle == Handle::Tripped {
            self.breaker.handle = Handle::On;
        }
        if self.disconnect == Disconnect::FuseBlown {
            self.disconnect = Disconnect::On;
        }
        if let Some(device) = &mut self.ground_fault {
            device.tripped = false;
        }
    }

    /// Volts where the supply enters the unit.
    pub(crate) fn at_entry(&self, amps: Amps) -> Volts {
        if self.disconnect == Disconnect::FuseBlown && self.breaker.handle == Handle::On {
            return Volts::Ghost(self.source_volts);
        }
        if !self.is_on() {
            return Volts::None;
        }
        let unit = amps.motor + amps.control;
        match self.ahead {
            Ahead::Open => Volts::Ghost(self.source_volts),
            Ahead::LegLost(share) => Volts::Fed(self.source_volts * share),
            Ahead::Whole => Volts::Fed(self.source_volts)
                .past(self.source_ohms + self.branch_ohms, unit + self.other_amps)
                .past(self.entry_ohms, unit),
        }
    }

    /// Volts where the supply enters, as they are read: with the panel switch closed, the transformer's primary lies
    /// across them too.
    pub(crate) fn read_at_entry(&self, switch_made: bool, amps: Amps) -> Volts {
        let joined = switch_made && self.panel_switch_ohms.is_finite();
        let entry = self.at_entry(amps);
        if joined { entry.across_a_load() } else { entry }
    }

    /// Volts at the board, behind the panel switch, with the transformer's primary across them.
    pub(crate) fn at_board(&self, switch_made: bool, amps: Amps) -> Volts {
        let switch = if switch_made { self.panel_switch_ohms } else { f64::INFINITY };
        self.at_entry(amps).past(switch, amps.motor + amps.control).across_a_load()
    }

    /// Volts at the motor's line plug.
    pub(crate) fn at_motor(&self, switch_made: bool, amps: Amps) -> Volts {
        self.at_board(switch_made, amps).past(self.worse_lead_ohms + self.better_lead_ohms, amps.motor)
    }

    /// Volts of the higher leg to ground at the board, on a system that has two.
    pub(crate) fn higher_leg(&self, switch_made: bool, amps: Amps) -> Option<Volts> {
        if !self.system.has_two_legs() {
            return None;
        }
        let to_ground = |volts| self.system.to_ground(volts);
        let switched = switch_made && self.panel_switch_ohms.is_finite();
        Some(match (self.ahead, self.disconnect) {
            // The sound leg still stands at its full volts to ground.
            (Ahead::LegLost(_), _) if self.is_on() && switched => Volts::Fed(to_ground(self.source_volts)),
            _ => match self.at_board(switch_made, amps) {
                Volts::Fed(volts) => Volts::Fed(to_ground(volts)),
                Volts::Ghost(volts) => Volts::Ghost(to_ground(volts)),
                Volts::None => Volts::None,
            },
        })
    }
}
