//! What the gate lets through, what it refuses, and in which words.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod places;
mod refused;
mod shape;
mod words;

use super::Gated;
use crate::finding::Reported;
use crate::source::Source;

/// The document of a text that may pass.
fn gated(text: &str) -> Gated {
    Gated::check(Source::new("x.yaml", text).unwrap()).unwrap()
}

/// The report on a text that may not.
fn reported(text: &str) -> Reported {
    Gated::check(Source::new("x.yaml", text).unwrap()).unwrap_err()
}

#[test]
fn a_plain_document_passes_with_its_top_keys_in_order() {
    let passed = gated("# notes\ntree: no-run\n\"name\": x\nsteps: {a: {b: 1}}\n115: y\n");
    assert_eq!(passed.top_keys(), ["tree", "name", "steps", "115"]);
    assert_eq!(passed.source().name(), "x.yaml");
}

#[test]
fn one_document_may_be_marked_as_such() {
    assert_eq!(gated("---\na: 1\n...\n").top_keys(), ["a"]);
    assert_eq!(gated("\u{feff}a: 1\nb: 2\n").top_keys(), ["a", "b"]);
    assert_eq!(gated("a: 1\r\nb: 2\r\n").top_keys(), ["a", "b"]);
}
