//! The model against the world outside it, and against its own promises.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod faults;
mod sizing;

use crate::chance::Chance;
use crate::unit::Unit;

/// So many units in order, each of its own stream.
pub(crate) fn units(count: u64) -> impl Iterator<Item = Unit> {
    (0..count).map(|call| Unit::draw(&mut Chance::of_call(11, call)))
}

/// Whether two figures agree to a share of the second.
pub(crate) fn near(found: f64, expected: f64, share: f64) {
    assert!((found - expected).abs() <= share * expected.abs(), "found {found}, expected {expected}");
}
