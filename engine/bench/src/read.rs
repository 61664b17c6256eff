//! The true state of the unit, as facts of the catalogue: what a person or a perfect meter would find.

mod air;
mod electrical;
mod looks;
mod noise;
mod ohms;
mod plates;
mod told;

use crate::unit::Unit;

/// What would be found.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Reading {
    /// A choice of the fact's list, by its id.
    Choice(&'static str),
    /// A quantity in a unit of the trade, as it is spelled.
    Is(f64, &'static str),
    /// Volts on an open conductor beside live ones: what a meter makes of it is its own affair.
    Ghost(f64),
    /// More than a meter can show.
    Over,
    /// It is not there to be read.
    Cannot,
}

impl Reading {
    const fn yes(yes: bool) -> Self {
        Self::Choice(if yes { "yes" } else { "no" })
    }

    const fn either(first: bool, one: &'static str, other: &'static str) -> Self {
        Self::Choice(if first { one } else { other })
    }

    const fn some(value: Option<f64>, unit: &'static str) -> Self {
        match value {
            Some(value) => Self::Is(value, unit),
            None => Self::Cannot,
        }
    }
}

/// What would be found for a fact, as the unit stands; `None` for a fact that is no reading of the unit.
pub(crate) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    plates::read(unit, fact)
        .or_else(|| looks::read(unit, fact))
        .or_else(|| told::read(unit, fact))
        .or_else(|| electrical::read(unit, fact))
        .or_else(|| ohms::read(unit, fact))
        .or_else(|| air::read(unit, fact))
        .or_else(|| noise::read(unit, fact))
}
