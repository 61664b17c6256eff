//! How a fault comes to a call: put in at a severity at which people would call, lived with, and told.

use crate::breaker::Handle;
use crate::chance::Chance;
use crate::control::CallFor;
use crate::fault::Fault;
use crate::motor::{History, Link};
use crate::ranges;
use crate::supply::{Ahead, Disconnect, System};
use crate::unit::{Device, Symptom, Unit};

/// Units that are drawn until one can have the faults.
const MOST_UNITS: u32 = 500;

/// Units in which one fault undid another that are passed over.
const MOST_UNDONE: u32 = 20;

/// Units with a fault that does not show that are passed over, on the average.
const MOST_HIDDEN: f64 = 10.0;

/// What the caller says is wrong: a choice of the catalogue's fact.
pub type Complaint = &'static str;

/// All that a caller may say.
pub const COMPLAINTS: [Complaint; 7] =
    ["no_run", "trips", "wrong_rotation", "low_airflow", "too_noisy", "wrong_link", "start_up"];

/// A unit with its faults, and what the caller says of it.
#[derive(Clone, Debug)]
pub(crate) struct Callback {
    pub(crate) unit: Unit,
    /// The same unit before anything was put in.
    pub(crate) sound: Unit,
    pub(crate) complaint: Complaint,
}

impl Callback {
    /// A unit with these faults, each at a severity at which people would call, and lived with; `None` where none of
    /// many units can have them all. Some faults never show: they are found at a check.
    ///
    /// One fault may undo another before anybody comes: a motor that never ran here has not learned wrong. Such a unit
    /// has one of them and not both.
    pub(crate) fn draw(faults: &[Fault], chance: &mut Chance) -> Option<Self> {
        for _ in 0..MOST_UNDONE {
            let callback = Self::once(faults, chance)?;
            if faults.iter().all(|fault| fault.is_in(&callback.unit, &callback.sound)) {
                return Some(callback);
            }
        }
        None
    }

    fn once(faults: &[Fault], chance: &mut Chance) -> Option<Self> {
        let mut last = None;
        for _ in 0..MOST_UNITS {
            let sound = Unit::draw(&mut chance.branch());
            let fits = faults.iter().all(|fault| fault.fits(&sound));
            let mut pairs = faults.iter().zip(faults.iter().skip(1));
            if !fits || !pairs.all(|(one, other)| one.goes_with(*other, &sound)) {
                continue;
            }
            let mut part = chance.branch();
            let severities: Vec<Severity> =
                faults.iter().map(|fault| Severity::at_which_it_shows(*fault, &sound, &mut part)).collect();
            let all_show = severities.iter().all(|severity| severity.shows);
            last = Some((sound, severities));
            if all_show || chance.happens(1.0 / MOST_HIDDEN) {
                break;
            }
        }
        let (sound, severities) = last?;
        let mut unit = sound.clone();
        for (fault, mut severity) in faults.iter().zip(severities) {
            fault.put(&mut unit, severity.share, &mut severity.part);
        }
        unit = unit.settled(&mut chance.branch());
        unit.left_by_the_household(chance);
        let complaint = complaint(&unit, faults, &sound, chance);
        Some(Self { unit, sound, complaint })
    }
}

/// How bad a fault is, and whether people would notice it by itself.
struct Severity {
    share: f64,
    /// The chance that it was found with.
    part: Chance,
    shows: bool,
}

impl Severity {
    /// Worse and worse from a level drawn, until something shows.
    fn at_which_it_shows(fault: Fault, sound: &Unit, chance: &mut Chance) -> Self {
        let (floor, part) = (chance.share(), chance.branch());
        let worst = ranges::fault::TRIES;
        for step in 0..=worst {
            let share = floor + (1.0 - floor) * f64::from(step) / f64::from(worst);
            let mut unit = sound.clone();
            fault.put(&mut unit, share, &mut part.clone());
            let unit = unit.settled(&mut part.clone());
            if !unit.dangers.is_empty() || !unit.shows().is_empty() {
                return Self { share, part, shows: true };
            }
        }
        Self { share: 1.0, part, shows: false }
    }
}

/// What people say who call again: one thing that shows, or that there is danger. `None` where all is well.
pub(crate) fn complaint_again(unit: &mut Unit, chance: &mut Chance) -> Option<Complaint> {
    unit.left_by_the_household(chance);
    let shown = unit.shows();
    if shown.is_empty() && unit.dangers.is_empty() {
        return None;
    }
    let one = chance.one_of(&shown, Symptom::NoRun);
    Some(told_as(one, unit))
}

/// What people call a symptom.
fn told_as(symptom: Symptom, unit: &Unit) -> Complaint {
    match symptom {
        // A dead blower is what people see of a blown line fuse.
        Symptom::Trips if unit.supply.disconnect == Disconnect::FuseBlown => "no_run",
        Symptom::NoRun => "no_run",
        Symptom::Trips => "trips",
        Symptom::WrongRotation => "wrong_rotation",
        Symptom::LowAirflow => "low_airflow",
        Symptom::TooNoisy => "too_noisy",
    }
}

impl Unit {
    /// The unit after it had power and was called for: what bursts, trips or learns at once has done so.
    fn settled(mut self, chance: &mut Chance) -> Self {
        self.power_up(chance);
        self.stand.just_learned = false;
        // Nobody stood by with a wattmeter, unless a watched relearn is part of the fault.
        if !self.told.relearned {
            self.motor.watched = None;
        }
        self
    }

    /// What people do before they call: a breaker that tripped with time is found tripped, and some give up on it.
    fn left_by_the_household(&mut self, chance: &mut Chance) {
        let trip = self.trip();
        let breaker = trip.is_some_and(|trip| trip.device == Device::Breaker);
        if breaker && chance.happens(ranges::often::FOUND_TRIPPED) {
            self.supply.open_branch();
        }
        if breaker && chance.happens(ranges::fault::SWITCHED_OFF) {
            self.supply.breaker.handle = Handle::Off;
            self.told.off_for_trips = true;
        }
        if self.control.thermostat.makes_calls {
            let heats = self.heater.source != crate::heater::Source::None;
            self.control.thermostat.set_to = match chance.below(3) {
                0 if heats => CallFor::Heat,
                1 => CallFor::Cool,
                _ => CallFor::Fan,
            };
        }
    }

    /// Whether the link is not the one for the supply.
    pub(crate) fn is_linked_wrong(&self) -> bool {
        let right = if self.supply.system == System::V115 { Link::V115 } else { Link::V230 };
        self.motor.link != right
    }
}

fn complaint(unit: &Unit, faults: &[Fault], sound: &Unit, chance: &mut Chance) -> Complaint {
    if faults.is_empty() {
        // Nothing is wrong: a check, a doubt, or people who only think so.
        let new = sound.motor.history == History::New;
        let list: &[Complaint] =
            if new { &["start_up", "wrong_link", "wrong_rotation", "low_airflow"] } else { &["low_airflow"] };
        return chance.one_of(list, "start_up");
    }
    if !unit.dangers.is_empty() {
        return chance.one_of(&["no_run", "low_airflow", "trips", "start_up"], "no_run");
    }
    let shown = unit.shows();
    if unit.is_linked_wrong() && chance.happens(ranges::fault::LINK_IN_DOUBT) {
        return "wrong_link";
    }
    let supply_on = unit.supply.is_on() && unit.supply.ahead == Ahead::Whole;
    if shown.is_empty() || (chance.happens(ranges::fault::START_UP) && supply_on) {
        return "start_up";
    }
    told_as(chance.one_of(&shown, Symptom::NoRun), unit)
}
