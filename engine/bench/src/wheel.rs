//! The wheel: pressure and power in similarity form, both ways round.
//!
//! With n in turns a second, D in m: flow Q = φ n D³, static pressure p = ψ ρ (π n D)², power P = Π ρ n³ D⁵. A fan of
//! one shape has one ψ(φ) and one Π(φ) at every speed and density, which is what the fan laws say (AMCA 201).

use crate::solve::root;

/// Which way it turns, told by the arrow on the housing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Turn {
    Right,
    Wrong,
}

impl Turn {
    /// The other way.
    pub(crate) const fn other(self) -> Self {
        match self {
            Self::Right => Self::Wrong,
            Self::Wrong => Self::Right,
        }
    }
}

/// How the blades stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Blades {
    ForwardCurved,
    BackwardInclined,
}

/// One curve of pressure and power.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Curve {
    /// ψ at no flow.
    pub(crate) pressure: f64,
    /// φ at free delivery.
    pub(crate) free: f64,
    /// Π at free delivery for a forward-curved wheel, the scale of it for another.
    pub(crate) power: f64,
    pub(crate) blades: Blades,
}

impl Curve {
    /// ψ at a share x of free delivery. A forward-curved wheel has its top a little above no flow.
    pub(crate) fn pressure_at(&self, x: f64) -> f64 {
        let shape = match self.blades {
            Blades::ForwardCurved => 1.0 + 0.35 * x - 1.35 * x * x,
            Blades::BackwardInclined => 1.0 + 0.15 * x - 1.15 * x * x,
        };
        self.pressure * shape
    }

    /// Π at a share x of free delivery: it rises all the way for forward-curved, and has a top for leaning blades.
    pub(crate) fn power_at(&self, x: f64) -> f64 {
        let shape = match self.blades {
            Blades::ForwardCurved => 0.15 + 0.45 * x + 0.40 * x * x,
            Blades::BackwardInclined => 0.40 + 1.60 * x - 1.40 * x * x,
        };
        self.power * shape
    }
}

/// Shares of the right way's pressure, free delivery and power, for another way of turning.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Shares {
    pub(crate) pressure: f64,
    pub(crate) free: f64,
    pub(crate) power: f64,
}

/// How it holds to the shaft.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Hub {
    Tight,
    /// It slips above this torque, Nm.
    SlipsAbove(f64),
}

/// The wheel of one unit.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Wheel {
    pub(crate) diameter: f64,
    pub(crate) curve: Curve,
    /// Blades hollow-last and against the housing: an ordinary wheel that turns backwards.
    pub(crate) backward: Shares,
    /// Blades hollow-first and against the housing: a wheel on back to front that turns as its blades ask.
    pub(crate) against_housing: Shares,
    pub(crate) back_to_front: bool,
    pub(crate) hub: Hub,
    /// Share of its pressure that dirt takes.
    pub(crate) dirt: f64,
    /// Nm of rubbing on the housing.
    pub(crate) rub: f64,
    pub(crate) shape: Shape,
    /// Millimetres from the shaft to its centre of mass, as made.
    pub(crate) balance: f64,
    /// The same of dirt that lies unevenly.
    pub(crate) uneven: f64,
    /// Share of the mass of wheel and motor together.
    pub(crate) share_of_mass: f64,
}

/// Whether it is whole.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Shape {
    True,
    /// Bent or cracked, its centre of mass so many millimetres out.
    Bent(f64),
    /// A balance weight is gone, its centre of mass so many millimetres out.
    WeightLost(f64),
}

/// What it does against one system, by turns a second.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Meeting {
    /// m³/s at one turn a second.
    pub(crate) flow: f64,
    /// Nm at one turn a second; it grows by the square.
    pub(crate) torque: f64,
}

impl Wheel {
    /// Millimetres from the shaft to its centre of mass, all that puts it out lying anyhow to each other.
    pub(crate) fn out_of_balance(&self) -> f64 {
        let shape = match self.shape {
            Shape::True => 0.0,
            Shape::Bent(out) | Shape::WeightLost(out) => out,
        };
        self.balance.hypot(self.uneven).hypot(shape)
    }

    /// The best share of its power that it gives as flow times pressure, clean and turned the right way.
    pub(crate) fn best_efficiency(&self) -> f64 {
        let curve = &self.curve;
        let at = |x: f64| x * curve.pressure_at(x) / curve.power_at(x);
        let best = (1..50).map(|part| at(f64::from(part) / 50.0)).fold(0.0, f64::max);
        best * curve.free * std::f64::consts::PI.powi(2)
    }

    /// The curve for a way of turning, dirt and facing taken in.
    pub(crate) fn curve_for(&self, turn: Turn) -> Curve {
        let shares = match (turn, self.back_to_front) {
            (Turn::Right, false) => None,
            // Back to front and with the arrow: the blades go hollow-last, as those of a wheel turned backwards.
            (Turn::Wrong, false) | (Turn::Right, true) => Some(self.backward),
            (Turn::Wrong, true) => Some(self.against_housing),
        };
        let mut curve = self.curve;
        if let Some(shares) = shares {
            curve.pressure *= shares.pressure;
            curve.free *= shares.free;
            curve.power *= shares.power;
        }
        // Dirt in the hollows takes pressure and flow, and less of the power: it churns. A rough law, chosen.
        curve.pressure *= 1.0 - self.dirt;
        curve.free *= 1.0 - 0.5 * self.dirt;
        curve.power *= 1.0 - 0.7 * self.dirt;
        curve
    }

    /// What it does against a system of Δp = k·Q², at a density: both go by the square of the speed, so where they
    /// meet does not move with it.
    pub(crate) fn meets(&self, turn: Turn, k: f64, density: f64) -> Meeting {
        let curve = self.curve_for(turn);
        let tip = density * (std::f64::consts::PI * self.diameter).powi(2);
        let per_turn = curve.free * self.diameter.powi(3);
        let x = root(|x| curve.pressure_at(x) * tip - k * (x * per_turn).powi(2), 0.0, 1.0).unwrap_or(1.0);
        let power = curve.power_at(x) * density * self.diameter.powi(5);
        Meeting { flow: x * per_turn, torque: power / std::f64::consts::TAU }
    }
}
