//! What each deed of the catalogue does to the unit, so that the proof after it is real.

mod air;
mod electrical;
mod motor;
mod noise;

pub(crate) use electrical::{switch_on, tap_for};

use crate::chance::Chance;
use crate::unit::Unit;

/// Does a deed. `false` for one that is not known: nothing happens.
///
/// A deed that lets the supply through powers the unit up by itself; after any other, the routine that brings power
/// back does.
pub(crate) fn apply(unit: &mut Unit, deed: &str, chance: &mut Chance) -> bool {
    electrical::apply(unit, deed, chance)
        || motor::apply(unit, deed, chance)
        || air::apply(unit, deed)
        || noise::apply(unit, deed)
}
