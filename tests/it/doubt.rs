//! What a meter cannot tell is not concluded from it.

use crate::house::{BOOK, played};
use engine::call::{Call, Event, Purpose, Reply, Stop};
use engine::meter::OwnMeter;
use engine::quantity::Quantity;
use engine::rulebook::{Answer, Line, Value};
use engine::source::Source;
use std::sync::Arc;

/// A unit with a 230 V plate and a right link, at this reading (or these: first, second, third).
fn at(volts: &str) -> (Call, String) {
    played(&format!(
        "case: measured\nanswers:\n  complaint: wrong_link\n  unit_rated_supply: 230-volt\n  motor_model: tarnhow-a\n  \
         supply_sources: 1\n  live_work_allowed: yes\n  line_voltage_at_unit: {volts}\n  motor_runs: yes\n  \
         connectors_condition: sound\n  harness_condition: sound\n  link_fitted: link-230\nends: not-enough-readings\n"
    ))
}

fn readings(call: &Call, id: &str) -> usize {
    let fact = BOOK.fact_named(id).unwrap();
    call.ledger().newest(fact).map_or(0, |version| version.readings().count())
}

fn second_readings(call: &Call) -> usize {
    call.events().iter().filter(|event| matches!(event, Event::Again { .. })).count()
}

fn is_sure(call: &Call) -> bool {
    call.walk().trail.iter().all(|passed| passed.sure)
}

/// JCGM 106:2012, 8.3, guarded acceptance with r = 1 (w = U = 2u); vectors T9.1 and T9.2 of our list of trade facts, for
/// ±(1.0 % + 3 counts of 0.1 V) and the limit 207.0 V, u taken of each reading: 203.0 V is rejected, 204.3 and 209.7 V
/// are indeterminate, 209.8 V is accepted.
#[test]
fn a_reading_in_the_guard_band_is_taken_again_and_one_beyond_it_is_not() {
    for (volts, asked_again, ending) in [
        (203.0, 0, "supply-voltage-low"),
        (204.3, 1, "supply-voltage-low"),
        (207.0, 1, "supply-voltage-low"),
        (209.7, 1, "supply-voltage-low"),
        (209.8, 0, "link-matches-supply"),
    ] {
        let (call, reached) = at(&format!("{volts} V"));
        assert_eq!((second_readings(&call), reached.as_str()), (asked_again, ending), "{volts} V");
        assert_eq!(is_sure(&call), asked_again == 0, "{volts} V: what stayed too close is marked");
    }
}

#[test]
fn a_second_reading_that_lies_clear_decides() {
    let (call, reached) = at("[209.0 V, 211.2 V]");
    // The mean is 210.1 V, and the scatter of two readings 2.2 V apart widens u: still too close to tell.
    assert_eq!((second_readings(&call), reached.as_str()), (1, "supply-voltage-low"));
    let (call, reached) = at("[209.4 V, 210.4 V]");
    // Mean 209.9 V; u = √(1.3854² + 0.5²) by hand, so that U = 2.946 V reaches below 207 V.
    assert_eq!((second_readings(&call), reached.as_str()), (1, "supply-voltage-low"));
    let (call, reached) = at("[209.7 V, 210.1 V]");
    // Mean 209.9 V; u = √(1.3837² + 0.2²) = 1.398 V, U = 2.796 V: clear of 207 V.
    assert_eq!((second_readings(&call), reached.as_str()), (1, "link-matches-supply"));
}

#[test]
fn two_readings_far_apart_ask_for_a_third_and_never_for_a_fourth() {
    // 2√2·u of 207 V is 3.87 V.
    let (call, _) = at("[207.0 V, 211.5 V, 208.0 V]");
    assert_eq!(readings(&call, "line_voltage_at_unit"), 3);
    let (call, _) = at("[207.0 V, 210.5 V, 208.0 V]");
    assert_eq!(readings(&call, "line_voltage_at_unit"), 2);
}

#[test]
fn a_second_reading_that_cannot_be_taken_leaves_the_first() {
    let (call, reached) = at("[209.0 V, cannot]");
    assert_eq!(reached, "supply-voltage-low");
    assert_eq!(readings(&call, "line_voltage_at_unit"), 1);
}

#[test]
fn plates_counts_and_choices_are_never_in_doubt() {
    let (call, _) = at("230 V");
    assert_eq!(second_readings(&call), 0);
    assert!(is_sure(&call));
}

/// What decides is the gap between two readings, each with its own doubt: 112.0 V at the unit, u = 0.8198 V, and what is
/// left at the motor against 90 % of it. u of the gap is √(u² + (0.9·u)²), worked out here by itself.
#[test]
fn an_edge_that_is_a_reading_brings_its_own_doubt() {
    let u = |volts: f64| (0.01 * volts + 0.3) / 3.0_f64.sqrt();
    let unit = 112.0_f64;
    let edge = 0.9 * unit;
    for below in [1.0, 1.5, 2.0, 2.3, 2.6, 3.0] {
        let motor: f64 = edge - below;
        let reach = 2.0 * u(motor).hypot(0.9 * u(unit));
        let (call, _) = played(&format!(
            "case: measured\nanswers:\n  complaint: no_run\n  unit_rated_supply: 115-volt\n  motor_model: tarnhow-a\n  \
             supply_sources: 1\n  breaker_position: on\n  disconnect_position: on\n  access_panel_switch: made\n  \
             thermostat_calling: fan\n  motor_runs: no\n  live_work_allowed: yes\n  line_voltage_at_unit: {unit} V\n  \
             line_voltage_at_motor: {motor:.1} V\n  connectors_condition: sound\n  harness_condition: sound\n  \
             line_lead_continuity: 0.2 ohm\nends: not-enough-readings\n"
        ));
        let close = call.walk().trail.iter().any(|passed| {
            let step = BOOK.step(passed.step);
            let by_unit = matches!(&step.ways, engine::rulebook::Ways::Bands(bands) if bands.iter().any(|band| {
                matches!(band.upper, engine::rulebook::Upper::Below(engine::rulebook::Edge::Share { share, .. }) if (share - 0.9).abs() < 1e-9)
            }));
            by_unit && !passed.sure && passed.line != Line::Otherwise
        });
        assert_eq!(close, below < reach, "{motor:.1} V, {below} V below the edge, U = {reach:.2} V");
    }
}

/// Insulation between bad and doubtful, within what an ohm-meter's highest range can tell: power stays off.
#[test]
fn a_hold_off_holds_where_the_meter_cannot_tell() {
    let (call, reached) = played(
        "case: measured\nanswers:\n  complaint: no_run\n  unit_rated_supply: 115-volt\n  motor_model: tarnhow-a\n  \
         supply_sources: 1\n  breaker_position: tripped\n  connectors_condition: sound\n  harness_condition: sound\n  \
         shaft_turn: free\n  insulation_to_case: 1.2 Mohm\n  line_pin_resistance: OL\nends: replace-motor-grounded\n\
         after:\n  replace-motor-grounded: {insulation_to_case: OL, line_pin_resistance: OL, motor_runs: yes}\n",
    );
    assert_eq!(reached, "replace-motor-grounded");
    let purposes = call.events().iter().filter(|event| {
        matches!(event, Event::Told { purpose: Purpose::Step, fact, .. } if BOOK.fact(*fact).id == "insulation_to_case")
    });
    assert_eq!(purposes.count(), 1);
    assert_eq!(second_readings(&call), 1);
}

/// A better meter than the ordinary one, by its own statement: ±(0.2 % + 1 count of 0.1 V) has U = 0.59 V at 207 V, so that
/// 208.0 V is clear of the limit; the ordinary one would ask again.
#[test]
fn a_callers_own_meter_is_believed_as_far_as_its_statement_goes() {
    let text = "meter: a better one\naccuracy:\n  voltage:\n    - {up to: 20 V, is: 5 % + 9 counts of 0.1 V}\n    \
                - {up to: 600 V, is: 0.2 % + 1 count of 0.1 V}\n";
    let meter = OwnMeter::read(Source::new("meter.yaml", text).unwrap()).unwrap();
    let fact = |id: &str| BOOK.fact_named(id).unwrap();
    let mut call = Call::with_meter(Arc::clone(&BOOK), Some(Arc::new(meter)));
    let tell = |call: &mut Call, id: &str, text: &str| {
        let rule = BOOK.fact(fact(id));
        let value = match rule.expected() {
            Some(expected) => Value::Quantity(Quantity::parse(text, expected).unwrap()),
            None => Value::Choices(rule.choice(text).unwrap()),
        };
        for event in call.hear(None, Reply::Tell(fact(id), Answer::Value(value))).unwrap() {
            call.apply(event);
        }
    };
    for (id, text) in [
        ("danger_seen", "none"),
        ("complaint", "wrong_link"),
        ("breaker_position", "on"),
        ("unit_rated_supply", "230-volt"),
        ("motor_model", "other"),
        ("live_work_allowed", "yes"),
        ("line_voltage_before_panel_switch", "208.0 V"),
        ("line_voltage_at_unit", "208.0 V"),
        ("motor_runs", "yes"),
        ("link_fitted", "link-230"),
    ] {
        tell(&mut call, id, text);
    }
    assert!(is_sure(&call), "208.0 V is clear of 207 V for this meter");
    assert!(matches!(call.walk().stop, Stop::End(ending) if BOOK.ending(ending).id == "link-matches-supply"));
}

#[test]
fn a_meter_file_that_says_nothing_is_told_of_at_its_line() {
    let text = "meter: x\naccuracy:\n  colour:\n    - {up to: 5 V, is: 1 % + 1 count of 1 V}\n  voltage:\n    - {up to: 5 A, is: good}\n";
    let reported = OwnMeter::read(Source::new("meter.yaml", text).unwrap()).unwrap_err();
    let lines: Vec<usize> = reported.findings().iter().map(|finding| finding.place().line()).collect();
    assert_eq!(lines, [3, 6, 6]);
}

/// Two readings that do not agree have a third taken; the one that it does not agree with was a slip, and is left out.
#[test]
fn of_three_readings_the_one_that_stands_apart_does_not_count() {
    let (call, reached) = at("[206.0 V, 226.0 V, 226.4 V]");
    assert_eq!((second_readings(&call), reached.as_str()), (2, "link-matches-supply"));
    let volts = BOOK.fact_named("line_voltage_at_unit").unwrap();
    let Some(Answer::Value(Value::Quantity(value))) = call.known(volts) else { panic!("not measured") };
    assert!((value.number() - 226.2).abs() < 1e-9, "{value}");
}
