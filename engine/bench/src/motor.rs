//! The motor: its link, its electronics, its law of torque, its feel for rotation, what it remembers, its heat.

use crate::chance::Chance;
use crate::wheel::Turn;

/// The link that tells the electronics its supply.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Link {
    V115,
    V230,
    None,
}

/// The speed inputs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Speed {
    Low,
    Medium,
    High,
}

/// Whose motor it is: the invented maker's two, or any other.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Model {
    A,
    B,
    Other,
}

impl Model {
    /// The ratings that its leads select, hp.
    pub(crate) const fn ratings(self) -> &'static [f64] {
        match self {
            Self::A => &[1.0 / 6.0, 0.25, 1.0 / 3.0],
            Self::B | Self::Other => &[1.0 / 3.0, 0.5, 0.75],
        }
    }
}

/// Where it was before.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum History {
    New,
    Moved,
    RunningHere,
}

/// How its first run here went.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum FirstRun {
    Normal,
    WheelLoose,
    PanelOpen,
    PowerLost,
}

/// State of its electronics.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Electronics {
    Sound,
    /// They do nothing.
    Dead,
    /// Their input is shorted, this many ohms.
    Shorted(f64),
}

/// State of its plugs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Plugs {
    Sound,
    /// Not home: a contact that comes and goes.
    Loose,
    Burnt,
    Wet,
}

/// Why it stands still.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Still {
    /// No line volts, or too few or too many for its rail.
    Rail,
    NoCall,
    NoRating,
    Broken,
    Stuck,
}

/// The motor of one unit. Torque in Nm, speeds in turns a minute, temperatures in °C.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Motor {
    pub(crate) model: Model,
    /// hp that its leads select.
    pub(crate) rating: f64,
    pub(crate) link: Link,
    pub(crate) speed: Speed,
    pub(crate) low_torque: f64,
    pub(crate) medium_torque: f64,
    pub(crate) top_speed: f64,
    pub(crate) efficiency: f64,
    pub(crate) under_plate: f64,
    pub(crate) standby: f64,
    pub(crate) rail_low: f64,
    pub(crate) rail_high: f64,
    pub(crate) call_needs: f64,
    pub(crate) electronics: Electronics,
    pub(crate) insulation: f64,
    pub(crate) filter_leak: f64,
    pub(crate) pin_ohms: f64,
    pub(crate) rail_farads: f64,
    pub(crate) bleeder_ohms: f64,
    pub(crate) bearing: f64,
    /// The same as built.
    pub(crate) bearing_built: f64,
    /// How worn bearings sound; none where they are sound.
    pub(crate) bearing_sounds: Option<crate::sound::Noise>,
    /// Pulses of its torque in a turn.
    pub(crate) pulses: f64,
    /// Those pulses, share of the torque.
    pub(crate) pulse_share: f64,
    /// Share of its speed that its own control swings by.
    pub(crate) hunts: f64,
    pub(crate) seized: bool,
    pub(crate) plugs: Plugs,
    pub(crate) history: History,
    pub(crate) first_run: FirstRun,
    /// The way it keeps to; `None` before its first whole learning.
    pub(crate) learned: Option<Turn>,
    pub(crate) learn_speed: f64,
    pub(crate) feel: f64,
    /// It keeps the way that took less.
    pub(crate) misreads: bool,
    /// What a watched relearn found, if there was one in this call: watts right and wrong, and whether it kept more.
    pub(crate) watched: Option<Watched>,
    pub(crate) rise_at_rating: f64,
    pub(crate) trips_at: f64,
    pub(crate) thermal_minutes: f64,
    pub(crate) start_joules: f64,
    /// How much worse than in free air it sheds its heat.
    pub(crate) smothered: f64,
    /// Of the air round it.
    pub(crate) space: f64,
    /// The same in order.
    pub(crate) space_built: f64,
}

/// One learning, as somebody with a wattmeter would have noted it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Watched {
    pub(crate) right: f64,
    pub(crate) wrong: f64,
    pub(crate) kept: Turn,
}

/// Turns a minute at which the ratings hold.
pub(crate) const RATED_SPEED: f64 = 1075.0;

/// Watts on the shaft for each volt-ampere of the plate's current, the same for every rating: half a horsepower of 3.6 A.
/// The plate gives one figure for 208 to 230 volts, so it has to hold at 208.
const SHAFT_PER_VOLT_AMPERE: f64 = 0.5 * crate::units::HP / (3.6 * 208.0);

impl Motor {
    /// Amps on its sheet at a rating: 14.4 a horsepower at 115 volts, half at twice.
    pub(crate) fn plate_amps(&self, two_legs: bool) -> f64 {
        self.rating * if two_legs { 7.2 } else { 14.4 }
    }

    /// Watts that its rating gives at the shaft.
    pub(crate) fn rated_watts(&self) -> f64 {
        self.rating * crate::units::HP
    }

    /// Torque that a speed input asks for.
    pub(crate) fn torque(&self) -> f64 {
        let rated = self.rated_watts() / (RATED_SPEED / 60.0 * std::f64::consts::TAU);
        rated
            * match self.speed {
                Speed::Low => self.low_torque,
                Speed::Medium => self.medium_torque,
                Speed::High => 1.0,
            }
    }

    /// Torque that it gives at a speed in turns a minute: constant, held to its rated power, none past its top speed.
    pub(crate) fn torque_at(&self, speed: f64) -> f64 {
        if speed >= self.top_speed {
            return 0.0;
        }
        let limit = self.rated_watts() / (speed.max(1.0) / 60.0 * std::f64::consts::TAU);
        self.torque().min(limit)
    }

    /// Line watts at a shaft power: the electronics' own, and what the rest loses, so that full load has the
    /// efficiency.
    pub(crate) fn line_watts(&self, shaft: f64) -> f64 {
        let full = self.rated_watts();
        self.standby + shaft * (full / self.efficiency - self.standby) / full
    }

    /// Power factor at a line power. A rectifier into a capacitor draws spikes, more so at part load.
    pub(crate) fn power_factor(&self, line: f64) -> f64 {
        let full = SHAFT_PER_VOLT_AMPERE * self.under_plate / self.efficiency;
        let load = (line * self.efficiency / self.rated_watts()).clamp(0.0, 1.2);
        full * (0.8 + 0.2 * load)
    }

    /// Line amps at a line power and voltage.
    pub(crate) fn amps(&self, line: f64, volts: f64) -> f64 {
        line / (volts * self.power_factor(line))
    }

    /// Volts of the rail inside: the link marked 115 doubles, the other does not, none joins nothing.
    pub(crate) fn rail(&self, line: f64) -> f64 {
        let peak = line * 2.0_f64.sqrt();
        match self.link {
            Link::V115 => 2.0 * peak,
            Link::V230 => peak,
            Link::None => 0.0,
        }
    }

    /// Volts that its capacitors still hold some minutes after the supply is off. What would destroy them they never held.
    pub(crate) fn charge_after(&self, line: f64, minutes: f64) -> f64 {
        let held = self.rail(line).min(crate::ranges::motor::RAIL_DESTROYS);
        held * (-minutes * 60.0 / (self.bleeder_ohms * self.rail_farads)).exp()
    }

    /// Whether its rail lets it run at these line volts.
    pub(crate) fn rail_is_in_order(&self, line: f64) -> bool {
        let rail = self.rail(line);
        rail >= self.rail_low && rail <= self.rail_high
    }

    /// Feels out its rotation: keeps the way of more felt power. `takes` gives the net watts of a slow turn each way.
    pub(crate) fn learn(&mut self, takes: impl Fn(Turn) -> f64, chance: &mut Chance) {
        let (right, wrong) = (takes(Turn::Right), takes(Turn::Wrong));
        let mut felt = |watts: f64| watts + self.feel * chance.either_way();
        let more = if felt(right) >= felt(wrong) { Turn::Right } else { Turn::Wrong };
        let kept = if self.misreads { more.other() } else { more };
        self.learned = Some(kept);
        self.watched = Some(Watched { right, wrong, kept });
    }

    /// °C that it comes to at a shaft power, so many starts an hour.
    pub(crate) fn steady_celsius(&self, shaft: f64, starts: f64) -> f64 {
        let losses = |watts: f64| self.line_watts(watts) - watts;
        let starting = starts * self.start_joules / 3600.0;
        let share = (losses(shaft) + starting) / losses(self.rated_watts());
        self.space + self.rise_at_rating * share * self.smothered
    }

    /// Minutes until its own protection stops it, from the air's warmth; `None` never.
    pub(crate) fn trips_after(&self, steady: f64) -> Option<f64> {
        let share = (self.trips_at - self.space) / (steady - self.space);
        (steady > self.trips_at).then(|| -self.thermal_minutes * (1.0 - share.max(0.0)).ln())
    }
}
