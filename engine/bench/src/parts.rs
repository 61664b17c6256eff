//! Parts of a trial, each by itself, so that what each takes can be measured.

use crate::Care;
use crate::chance::Chance;
use crate::fault::Fault;
use crate::household::Callback;
use crate::read::Reading;
use crate::technician::Meter;
use crate::unit::Unit;
use engine::rulebook::{Kind, Rulebook};

/// Draws the unit of a call with one fault, as its trial does: sized, the fault put in, lived with and told. What the
/// caller complains of; nothing where no unit can have the fault.
#[must_use]
pub fn draw(fault: Fault, seed: u64, call: u64) -> &'static str {
    let mut chance = Chance::of_call(seed, call);
    Callback::draw(&[fault], &mut chance.branch()).map_or("", |callback| callback.complaint)
}

/// A unit in order, to be run again and again.
#[derive(Debug)]
pub struct Sample(Unit);

impl Sample {
    /// The unit of a call.
    #[must_use]
    pub fn of(seed: u64, call: u64) -> Self {
        Self(Unit::draw(&mut Chance::of_call(seed, call)))
    }

    /// Solves how it runs, once: torque against wheel and air, then power against the supply. Turns a minute.
    #[must_use]
    pub fn run(&self) -> f64 {
        self.0.run().map_or(0.0, |running| running.speed)
    }
}

/// Reads every quantity of the rules once by an ordinary meter. How many there were.
#[must_use]
pub fn read_meters(book: &Rulebook, call: u64) -> usize {
    let mut chance = Chance::of_call(0, call);
    let meter = Meter::draw(Care::Careful, &mut chance);
    let quantities = book.facts().iter().filter(|fact| matches!(fact.kind, Kind::Quantity { .. }));
    quantities.map(|fact| meter.shows(fact, Reading::Is(1.0, ""), &mut chance)).count()
}
