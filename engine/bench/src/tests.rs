//! The model against the world outside it, and against its own promises.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

#[path = "../../../tests/it/below.rs"]
mod below;
mod faults;
mod learning;
mod noise;
mod physics;
mod sizing;
mod technician;
mod time;
mod trials;
mod visits;

use crate::chance::Chance;
use crate::unit::Unit;
use below::below;
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::path::Path;
use std::sync::{Arc, LazyLock};

/// So many units in order, each of its own stream.
pub(crate) fn units(count: u64) -> impl Iterator<Item = Unit> {
    (0..count).map(|call| Unit::draw(&mut Chance::of_call(11, call)))
}

/// Whether two figures agree to a share of the second.
pub(crate) fn near(found: f64, expected: f64, share: f64) {
    assert!((found - expected).abs() <= share * expected.abs(), "found {found}, expected {expected}");
}

/// The rules that are shipped.
pub(crate) static BOOK: LazyLock<Arc<Rulebook>> = LazyLock::new(|| {
    let files = below(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../rules"), "yaml");
    let sources = files
        .iter()
        .map(|path| Source::new(path.display().to_string(), std::fs::read(path).unwrap()).unwrap());
    Arc::new(engine::read_rules(sources.collect::<Vec<_>>()).unwrap())
});
