//! Faults: what can be put into a unit, how bad, and which endings are then right.

mod air;
mod control;
mod motor;
mod noise;
mod safety;
mod supply;
mod trips;
mod wheel;

use crate::chance::Chance;
use crate::unit::Unit;

/// What differs by less than this share is the same.
const SAME: f64 = 1e-9;

/// One kind of fault.
pub(crate) struct Row {
    id: &'static str,
    /// What it is called, in a few plain words.
    name: &'static str,
    /// The endings that are right, each with why.
    right: &'static [(&'static str, &'static str)],
    /// Endings that may come before it, and are no mistake.
    way: &'static [&'static str],
    /// Whether a unit can have it.
    fits: fn(&Unit) -> bool,
    /// Puts it in. The share is its severity, from hardly worth a call to as bad as it gets.
    put: fn(&mut Unit, f64, &mut Chance),
    /// Whether it is still in a unit that was the second, sound one before: by the part that it is in, and by nothing
    /// that was read or said.
    is_in: fn(&Unit, &Unit) -> bool,
}

/// A fault that can be put into a unit, out of a closed list.
///
/// ```
/// let fault = bench::Fault::named("filter-dirty").unwrap();
/// assert_eq!(fault.name(), "filter dirty");
/// assert!(fault.right().any(|(ending, _)| ending == "change-filter"));
/// assert!(bench::Fault::named("colour-wrong").is_none());
/// ```
#[derive(Clone, Copy)]
pub struct Fault(&'static Row);

impl Fault {
    /// Every fault, topic by topic.
    pub fn all() -> impl Iterator<Item = Self> {
        [
            supply::ROWS,
            control::ROWS,
            motor::ROWS,
            wheel::ROWS,
            air::ROWS,
            trips::ROWS,
            safety::ROWS,
            noise::ROWS,
        ]
        .into_iter()
        .flatten()
        .map(Self)
    }

    /// The fault with this id.
    #[must_use]
    pub fn named(id: &str) -> Option<Self> {
        Self::all().find(|fault| fault.id() == id)
    }

    /// Its id, what is wrong in a few words.
    #[must_use]
    pub fn id(self) -> &'static str {
        self.0.id
    }

    /// What it is called, in a few plain words: `filter dirty`.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.0.name
    }

    /// The endings that are right for it, each with why.
    pub fn right(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        self.0.right.iter().copied()
    }

    /// Whether an ending may come before the right one, and is no mistake.
    pub(crate) fn leads_over(self, ending: &str) -> bool {
        self.0.way.contains(&ending)
    }

    /// Whether a unit that both fit can have both: neither takes the other's place.
    pub(crate) fn goes_with(self, other: Self, unit: &Unit) -> bool {
        let chance = Chance::of_call(0, 0);
        let put = |faults: &[Self]| {
            let mut unit = unit.clone();
            for fault in faults {
                fault.put(&mut unit, 0.5, &mut chance.clone());
            }
            unit
        };
        let hides = |first: Self, second: Self| put(&[first, second]) == put(&[second]);
        self != other && !hides(self, other) && !hides(other, self)
    }

    /// Whether a unit can have it.
    pub(crate) fn fits(self, unit: &Unit) -> bool {
        (self.0.fits)(unit)
    }

    /// Puts it in, at a severity from 0 to 1.
    pub(crate) fn put(self, unit: &mut Unit, severity: f64, chance: &mut Chance) {
        (self.0.put)(unit, severity, chance);
    }

    /// Whether it is still in a unit, which was this sound one before.
    pub(crate) fn is_in(self, unit: &Unit, sound: &Unit) -> bool {
        (self.0.is_in)(unit, sound)
    }
}

impl PartialEq for Fault {
    fn eq(&self, other: &Self) -> bool {
        self.id() == other.id()
    }
}

impl Eq for Fault {}

impl std::fmt::Debug for Fault {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(self.id())
    }
}

/// For rows that every unit can have.
const fn any(_: &Unit) -> bool {
    true
}
