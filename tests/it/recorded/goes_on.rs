//! Which repairs a case may name before another ending: those after which the call that it tells of goes on.

use super::play;
use crate::house::{BOOK, written};
use crate::scene::{WRONG_LINK, name};
use engine::case::Case;
use engine::finding::Code;
use engine::source::Source;

/// A dead unit with this in place of its sound harness and free wheel, and these endings.
fn dead_unit(changes: &str, ends: &str, after: &str) -> String {
    let rest = WRONG_LINK.lines().filter(|line| {
        let id = line.trim().split(':').next().unwrap_or_default();
        !changes.contains(&format!("  {id}:")) && !line.starts_with("ends:") && !line.is_empty()
    });
    format!("{}\n{changes}\nends: {ends}\nafter:\n{after}\n", rest.collect::<Vec<_>>().join("\n"))
}

/// The case is read, and plays to its endings.
fn holds(text: &str) {
    let case = written(text);
    let ends: Vec<&str> = case.ends.iter().map(|ending| name(*ending)).collect();
    assert_eq!(play(&case).1, ends, "{text}");
}

fn is_refused(text: &str) {
    let source = Source::new("wrong-link-on-115.yaml", text).unwrap();
    let found = Case::read(&BOOK, source).expect_err("nothing fails the proof");
    let codes: Vec<Code> = found.findings().iter().map(engine::finding::Finding::code).collect();
    assert_eq!(codes, [Code::ProofNotFailed], "{found}");
}

#[test]
fn power_that_stays_off_for_something_else_fails_a_proof() {
    let grounded = dead_unit(
        "  complaint: trips\n  trip_device: breaker\n  trip_timing: at_once\n  insulation_to_case: 0.2 Mohm",
        "[replace-motor-grounded, free-the-wheel, same-fault-again]",
        "  replace-motor-grounded:\n    complaint: trips\n    trip_timing: at_once\n    connectors_condition: sound\n    \
         harness_condition: sound\n    shaft_turn: stuck\n    shaft_turn_wheel_off: free\n    \
         insulation_to_case: 0.2 Mohm\n  free-the-wheel: {complaint: trips, harness_condition: sound, shaft_turn: free}",
    );
    holds(&grounded);
    // In order, the insulation holds nothing off any more.
    is_refused(
        &grounded.replace(
            "    insulation_to_case: 0.2 Mohm",
            "    insulation_to_case: 200 Mohm\n    motor_runs: no",
        ),
    );
}

#[test]
fn what_cannot_be_read_again_keeps_power_off() {
    let pinched = |after: &str| {
        dead_unit(
            "  harness_condition: pinched",
            "[clear-pinched-harness, not-enough-readings]",
            &format!("  clear-pinched-harness: {{{after}}}"),
        )
    };
    holds(&pinched("harness_condition: cannot, complaint: no_run"));
    is_refused(&pinched("complaint: no_run"));
    is_refused(&pinched("harness_condition: sound, complaint: no_run"));
}

#[test]
fn a_unit_that_cannot_be_proved_dead_after_a_repair_ends_the_call() {
    let stuck = |ends: &str, dead: &str| {
        dead_unit(
            "  complaint: wrong_rotation\n  shaft_turn: rubs\n  rotation_seen: not_turning\n  live_work_allowed: no",
            ends,
            &format!("  free-the-wheel: {{proved_dead: {dead}}}"),
        )
    };
    written(&stuck("[free-the-wheel, cannot-prove-dead]", "no"));
    written(&stuck("[free-the-wheel, cannot-prove-dead]", "cannot"));
    is_refused(&stuck("[free-the-wheel, cannot-prove-dead]", "yes"));
    is_refused(&stuck("[free-the-wheel, not-enough-readings]", "no"));
}
