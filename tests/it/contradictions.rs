//! Readings that cannot all be true are caught before they mislead.

mod units;

use crate::house::{BOOK, played};
use engine::call::{Call, Event, Next, Purpose, Reply, Wants};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, FactId, Value};
use std::sync::Arc;
use units::{Slip, Unit};

pub(crate) fn fact(id: &str) -> FactId {
    BOOK.fact_named(id).unwrap()
}

/// A call in which these readings were told unasked.
fn told(readings: &[(&str, &str)]) -> Call {
    let mut call = Call::new(Arc::clone(&BOOK));
    for (id, text) in readings {
        let rule = BOOK.fact(fact(id));
        let value = match rule.expected() {
            Some(expected) => Value::Quantity(Quantity::parse(text, expected).unwrap()),
            None => Value::Choices(rule.choice(text).unwrap()),
        };
        tell(&mut call, fact(id), value);
    }
    call
}

fn tell(call: &mut Call, fact: FactId, value: Value) {
    for event in call.hear(None, Reply::Tell(fact, Answer::Value(value))).unwrap() {
        call.apply(event);
    }
}

fn one_supply() -> Quantity {
    Quantity::parse("1", BOOK.fact(BOOK.power().sources).expected().unwrap()).unwrap()
}

fn broken(call: &Call) -> Vec<&str> {
    call.broken_relations().map(|id| BOOK.relation(id).id.as_str()).collect()
}

#[test]
fn what_lies_within_the_meters_doubt_is_no_contradiction() {
    assert!(
        broken(&told(&[("line_voltage_at_unit", "118.0 V"), ("line_voltage_at_motor", "119.5 V")]))
            .is_empty()
    );
    assert!(
        broken(&told(&[("line_voltage_at_unit", "118.0 V")])).is_empty(),
        "one reading contradicts nothing"
    );
    let far = told(&[("line_voltage_at_unit", "118.0 V"), ("line_voltage_at_motor", "181.0 V")]);
    assert_eq!(broken(&far), ["motor-volts-within-unit-volts"]);
}

#[test]
fn a_relation_holds_only_where_it_says() {
    let cold = [("supply_air_temperature", "55 °F"), ("return_air_temperature", "75 °F")];
    assert!(broken(&told(&cold)).is_empty(), "while it cools");
    let heating = [cold[0], cold[1], ("thermostat_calling", "heat")];
    assert_eq!(broken(&told(&heating)), ["supply-air-above-return"]);
}

#[test]
fn a_part_of_the_static_lies_within_the_whole() {
    let parts = [
        ("static_supply", "0.20 in wc"),
        ("static_return", "-0.15 in wc"),
        ("filter_pressure_drop", "0.60 in wc"),
    ];
    let call = told(&parts);
    assert_eq!(broken(&call), ["filter-within-return-static", "filter-within-external-static"]);
    let doubted = call.doubted_first().unwrap();
    assert!(parts.iter().any(|(id, _)| fact(id) == doubted), "a reading, not what is worked out of it");
}

#[test]
fn the_reading_in_most_conflicts_is_taken_anew_first() {
    let call = told(&[
        ("line_voltage_before_panel_switch", "118 V"),
        ("line_voltage_at_unit", "18 V"),
        ("line_voltage_at_motor", "117 V"),
        ("line_voltage_running", "116 V"),
    ]);
    assert_eq!(broken(&call).len(), 2);
    assert_eq!(call.doubted_first(), Some(fact("line_voltage_at_unit")));
}

/// 69 for 96, said over a phone: the second word is right, and the call goes on as if it had been said at first.
#[test]
fn a_misheard_reading_is_mended_on_the_way() {
    let (call, reached) = played(
        "case: misheard\nanswers:\n  complaint: no_run\n  unit_rated_supply: 115-volt\n  motor_model: tarnhow-a\n  \
         supply_sources: 1\n  breaker_position: on\n  disconnect_position: on\n  access_panel_switch: made\n  \
         thermostat_calling: fan\n  motor_runs: no\n  live_work_allowed: yes\n  line_voltage_at_motor: 95 V\n  \
         line_voltage_at_unit: 96 V\n  line_voltage_before_panel_switch: [69 V, 96 V]\nends: supply-voltage-low\n",
    );
    assert_eq!(reached, "supply-voltage-low");
    let anew =
        call.events().iter().filter(|event| matches!(event, Event::Told { purpose: Purpose::Doubted, .. }));
    assert!(anew.count() >= 1);
    assert!(
        !call.events().iter().any(|event| matches!(event, Event::Insist { .. })),
        "nobody had to stand by it"
    );
    assert!(broken(&call).is_empty());
}

#[test]
fn each_reading_is_taken_anew_once_and_then_the_person_may_stand_by_them() {
    let mut call = told(&[
        ("line_voltage_at_unit", "118 V"),
        ("line_voltage_at_motor", "181 V"),
        ("danger_seen", "none"),
    ]);
    let mut anew = Vec::new();
    for _ in 0..40 {
        let Next::Prompt(prompt) = call.next() else { break };
        let reply = match prompt.wants() {
            Wants::Fact { fact, purpose: Purpose::Doubted } => {
                anew.push(*fact);
                Reply::Answer(call.known(*fact).unwrap())
            }
            Wants::Fact { fact, purpose: Purpose::Routine } if *fact == BOOK.power().live_work.0 => {
                Reply::Answer(Answer::Value(Value::Choices(BOOK.power().live_work.1)))
            }
            Wants::Fact { fact, purpose: Purpose::Routine } if *fact == BOOK.power().sources => {
                Reply::Answer(Answer::Value(Value::Quantity(one_supply())))
            }
            Wants::Power { .. } => Reply::Step(engine::call::StepResult::Done),
            Wants::Conflict { .. } => break,
            other => panic!("{other:?}"),
        };
        for event in call.hear(Some(&prompt), reply).unwrap() {
            call.apply(event);
        }
    }
    anew.sort_unstable();
    anew.dedup();
    assert_eq!(anew.len(), 2, "both, once each");
    let Next::Prompt(prompt) = call.next() else { panic!("the conflict stands") };
    for event in call.hear(Some(&prompt), Reply::Insist).unwrap() {
        call.apply(event);
    }
    assert!(broken(&call).is_empty(), "muted for these readings");
    let value = Value::Quantity(Quantity::parse_exact("190 V").unwrap());
    tell(&mut call, fact("line_voltage_at_motor"), value);
    assert_eq!(broken(&call), ["motor-volts-within-unit-volts"], "and for no others");
}

#[test]
fn a_danger_and_a_hold_off_are_never_argued_away() {
    let mut call = told(&[("line_voltage_at_unit", "118 V"), ("line_voltage_at_motor", "181 V")]);
    let smoke = BOOK.fact(BOOK.roles().danger.0).choice("smoke_or_burning").unwrap();
    for event in call.hear(None, Reply::Danger(smoke)).unwrap() {
        call.apply(event);
    }
    assert!(matches!(call.next(), Next::Ended(_)), "danger comes before any doubt");
    let held = told(&[
        ("line_voltage_at_unit", "118 V"),
        ("line_voltage_at_motor", "181 V"),
        ("harness_condition", "pinched"),
    ]);
    if let Next::Prompt(prompt) = held.next() {
        assert!(
            !matches!(prompt.wants(), Wants::Fact { purpose: Purpose::Doubted, .. }),
            "no live reading behind a hold-off"
        );
    }
}

/// Units whose readings are drawn from one true state and read with an ordinary meter: a contradiction is claimed of
/// fewer than one in a hundred. And with one slip in them: how many are caught, and on the right reading.
#[test]
fn consistent_units_are_believed_and_slips_are_caught() {
    let mut false_alarms = 0;
    for seed in 0..10_000 {
        let mut call = Call::new(Arc::clone(&BOOK));
        for (fact, value) in Unit::draw(seed).readings() {
            tell(&mut call, fact, value);
        }
        false_alarms += usize::from(call.broken_relations().next().is_some());
    }
    assert!(false_alarms < 100, "{false_alarms} of 10 000 consistent units are doubted");
    let mut lines = Vec::new();
    for slip in Slip::ALL {
        let (mut made, mut caught, mut blamed) = (0, 0, 0);
        for seed in 0..2_000 {
            let unit = Unit::draw(50_000 + seed);
            let Some((readings, slipped)) = unit.with_slip(slip, seed) else { continue };
            made += 1;
            let mut call = Call::new(Arc::clone(&BOOK));
            tell(&mut call, BOOK.roles().danger.0, Value::Choices(BOOK.roles().danger.1));
            for (fact, value) in readings {
                tell(&mut call, fact, value);
            }
            if call.broken_relations().next().is_some() {
                caught += 1;
                blamed += usize::from(call.doubted_first() == Some(slipped));
            }
        }
        lines.push(format!("{slip:?}: {caught} of {made} caught, {blamed} of those on the right reading"));
        // Relations bound readings on one side only, so that many slips stay within what can be true.
        assert!(caught * 20 > made && blamed * 4 > caught, "{}", lines.join("\n"));
    }
    println!("{false_alarms} of 10 000 consistent units doubted\n{}", lines.join("\n"));
}
