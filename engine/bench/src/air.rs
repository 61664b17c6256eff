//! The way of the air: filter, coil, ducts and registers, each Δp = k·Q² at standard density.

use crate::units::density;

/// State of the filter.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Filter {
    Clean,
    Dirty,
    Missing,
}

/// State of the coil.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Coil {
    Clean,
    Dirty,
    Iced,
}

/// State of the ducts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Duct {
    Sound,
    Leaking,
    Crushed,
}

/// A part of the way: k as built, Pa/(m³/s)², and what multiplies it now.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Part {
    pub(crate) built: f64,
    /// Dirt, ice, shut registers, or a filter that is not there.
    pub(crate) clogged: f64,
    /// A length that is flattened.
    pub(crate) crushed: f64,
    /// Built smaller than it had to be.
    pub(crate) too_small: f64,
}

impl Part {
    pub(crate) const fn built(k: f64) -> Self {
        Self { built: k, clogged: 1.0, crushed: 1.0, too_small: 1.0 }
    }

    pub(crate) const fn k(self) -> f64 {
        self.built * self.clogged * self.crushed * self.too_small
    }
}

/// The way of the air of one unit.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Air {
    pub(crate) elevation: f64,
    pub(crate) return_celsius: f64,
    /// Whether the coil sits on the supply side, outside the cabinet: a furnace's.
    pub(crate) coil_outside: bool,
    pub(crate) inside: Part,
    pub(crate) filter: Part,
    pub(crate) coil: Part,
    pub(crate) supply: Part,
    pub(crate) return_side: Part,
    /// k of what leaks out beside the supply duct.
    pub(crate) leak: f64,
    /// The same as built.
    pub(crate) leak_built: f64,
    pub(crate) filter_state: Filter,
    pub(crate) filter_behind_panel: bool,
    pub(crate) coil_state: Coil,
    pub(crate) duct_state: Duct,
    pub(crate) registers_open: bool,
    /// Times the return side when the panel is off.
    pub(crate) panel_off: f64,
}

/// Pressures to the room, Pa, the return one below zero.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Statics {
    pub(crate) supply: f64,
    pub(crate) return_side: f64,
    pub(crate) filter: f64,
    pub(crate) coil: f64,
}

/// kg/m³ that every k is given at.
pub(crate) const STANDARD: f64 = 1.2;

impl Air {
    /// kg/m³ of the air that the wheel moves.
    pub(crate) fn density(&self) -> f64 {
        density(self.elevation, self.return_celsius)
    }

    /// k of supply duct and leak side by side: the roots of what they let through add up.
    fn supply_with_leak(&self) -> f64 {
        let through = self.supply.k().sqrt().recip() + self.leak.sqrt().recip();
        through.powi(-2)
    }

    /// Share of the flow that gets to the rooms.
    pub(crate) fn delivered(&self) -> f64 {
        let (supply, leak) = (self.supply.k().sqrt().recip(), self.leak.sqrt().recip());
        supply / (supply + leak)
    }

    /// k of the leak that loses this share of the flow beside the supply duct as it is now.
    pub(crate) fn leak_that_loses(&self, share: f64) -> f64 {
        self.supply.k() * ((1.0 - share) / share).powi(2)
    }

    /// k of the whole way at the density that is there.
    pub(crate) fn resistance(&self, panel_on: bool) -> f64 {
        let return_side =
            (self.return_side.k() + self.filter.k()) * if panel_on { 1.0 } else { self.panel_off };
        let all = self.inside.k() + self.coil.k() + self.supply_with_leak() + return_side;
        all * self.density() / STANDARD
    }

    /// The same with every part as built.
    pub(crate) fn built_resistance(&self) -> f64 {
        let with_leak = (self.supply.built.sqrt().recip() + self.leak_built.sqrt().recip()).powi(-2);
        let rest = self.inside.built + self.coil.built + self.return_side.built + self.filter.built;
        (rest + with_leak) * self.density() / STANDARD
    }

    /// The pressures that would be read at a flow, panel on.
    pub(crate) fn statics(&self, flow: f64) -> Statics {
        let at = |k: f64| k * self.density() / STANDARD * flow * flow;
        let coil = at(self.coil.k());
        Statics {
            supply: at(self.supply_with_leak()) + if self.coil_outside { coil } else { 0.0 },
            return_side: -at(self.return_side.k() + self.filter.k()),
            filter: at(self.filter.k()),
            coil,
        }
    }
}
