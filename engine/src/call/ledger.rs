//! Facts with their versions: what was told, what a deed settled, what has gone stale.

use super::event::{EventId, Purpose};
use crate::meter::OwnMeter;
use crate::quantity::Quantity;
use crate::rulebook::{Answer, FactId, Value};
use std::sync::Arc;

/// How many times further off than the others lie apart a third reading is, to be a slip.
const SLIP: f64 = 2.0;

/// One version of a fact.
#[derive(Clone, PartialEq, Debug)]
pub struct Version {
    /// The event that made it: a telling, or a deed.
    pub event: EventId,
    /// What was told.
    pub answer: Answer,
    /// Second and third readings, where they were asked for; `cannot` when no other could be taken.
    pub again: Vec<Answer>,
    /// Why it was asked for; `None` when a deed settled it.
    pub purpose: Option<Purpose>,
    /// Whether a later deed, or time, made it stale.
    pub stale: bool,
}

impl Version {
    /// All readings of a measured fact, the first one first; empty for choices and for what cannot be had.
    pub fn readings(&self) -> impl Iterator<Item = Quantity> + '_ {
        [&self.answer].into_iter().chain(&self.again).filter_map(|answer| match answer {
            Answer::Value(Value::Quantity(quantity)) => Some(*quantity),
            _ => None,
        })
    }

    /// The readings that count. A third is taken where two do not agree: where it agrees with one of them, the other
    /// was a slip.
    pub(super) fn counted(&self) -> Vec<Quantity> {
        let mut readings: Vec<Quantity> = self.readings().collect();
        if let [_, _, _] = readings[..] {
            readings.sort_by(|one, other| one.base().total_cmp(&other.base()));
            let below = readings[1].base() - readings[0].base();
            let above = readings[2].base() - readings[1].base();
            if below > SLIP * above {
                readings.remove(0);
            } else if above > SLIP * below {
                readings.pop();
            }
        }
        readings
    }

    /// What the readings come to: of several, the mean of those that count, in the unit of the first.
    #[must_use]
    pub fn value(&self) -> Answer {
        let Answer::Value(Value::Quantity(first)) = self.answer else {
            return self.answer;
        };
        let unit = first.unit();
        let counted = self.counted();
        let numbers: Vec<f64> =
            counted.iter().filter_map(|reading| Some(reading.in_unit(unit)?.number())).collect();
        #[expect(clippy::cast_precision_loss, reason = "a fact is read three times at the most")]
        let mean = numbers.iter().sum::<f64>() / numbers.len() as f64;
        Quantity::new(mean, unit).map_or(self.answer, |mean| Answer::Value(Value::Quantity(mean)))
    }

    /// Whether somebody said that no other reading can be taken.
    #[must_use]
    pub fn is_last_word(&self) -> bool {
        self.again.contains(&Answer::Cannot)
    }
}

#[derive(Clone, PartialEq, Debug, Default)]
struct Entry {
    versions: Vec<Version>,
    staled_by: Option<EventId>,
    reset: bool,
}

/// Every fact's versions. Retracted ones are not in it: taking back folds the log anew without them.
#[derive(Clone, PartialEq, Debug)]
pub struct Ledger {
    entries: Vec<Entry>,
    meter: Option<Arc<OwnMeter>>,
}

impl Ledger {
    pub(super) fn new(facts: usize, meter: Option<Arc<OwnMeter>>) -> Self {
        Self { entries: vec![Entry::default(); facts], meter }
    }

    /// The caller's own meter, where one was named.
    #[must_use]
    pub fn meter(&self) -> Option<&Arc<OwnMeter>> {
        self.meter.as_ref()
    }

    /// The newest version, whether or not it is stale.
    #[must_use]
    pub fn newest(&self, fact: FactId) -> Option<&Version> {
        self.entries[fact.index()].versions.last()
    }

    /// The version that holds now, if any.
    #[must_use]
    pub fn current(&self, fact: FactId) -> Option<&Version> {
        self.newest(fact).filter(|version| !version.stale)
    }

    /// The newest version that has a value, whether or not it is stale.
    #[must_use]
    pub fn newest_value(&self, fact: FactId) -> Option<(&Version, Value)> {
        self.entries[fact.index()].versions.iter().rev().find_map(|version| match version.answer {
            Answer::Value(_) => match version.value() {
                Answer::Value(value) => Some((version, value)),
                Answer::Cannot => None,
            },
            Answer::Cannot => None,
        })
    }

    /// All versions, oldest first.
    #[must_use]
    pub fn versions(&self, fact: FactId) -> &[Version] {
        &self.entries[fact.index()].versions
    }

    /// The last deed that made the fact stale, told or not, if it has not been told since.
    #[must_use]
    pub fn stale_since(&self, fact: FactId) -> Option<EventId> {
        let entry = &self.entries[fact.index()];
        entry.staled_by.filter(|deed| self.current(fact).is_none_or(|version| version.event <= *deed))
    }

    pub(super) fn tell(&mut self, fact: FactId, version: Version) {
        self.entries[fact.index()].versions.push(version);
    }

    pub(super) fn again(&mut self, fact: FactId, answer: Answer) {
        if let Some(version) = self.entries[fact.index()].versions.last_mut() {
            version.again.push(answer);
        }
    }

    /// Makes every version of a fact stale, because of a deed.
    pub(super) fn stale_by_deed(&mut self, fact: FactId, deed: EventId) {
        self.stale(fact);
        self.entries[fact.index()].staled_by = Some(deed);
    }

    /// The device that a fact tells of was reset: it is looked at anew, and is not reset again before a deed.
    pub(super) fn reset(&mut self, fact: FactId) {
        self.stale(fact);
        self.entries[fact.index()].reset = true;
    }

    /// Whether the device that a fact tells of was reset since the last deed.
    #[must_use]
    pub fn was_reset(&self, fact: FactId) -> bool {
        self.entries[fact.index()].reset
    }

    /// Something was done: a device may be reset again.
    pub(super) fn may_reset(&mut self) {
        for entry in &mut self.entries {
            entry.reset = false;
        }
    }

    /// Makes every version of a fact stale.
    pub(super) fn stale(&mut self, fact: FactId) {
        for version in &mut self.entries[fact.index()].versions {
            version.stale = true;
        }
    }
}
