//! How a case is written.

use super::file;
use crate::house::{BOOK, CASES, written};
use crate::scene::fact;
use engine::call::{Call, DeedResult, Event, Purpose, drive};
use engine::case::{Case, Player, Recorded, replay};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, ChoiceSet, Value};
use engine::source::Source;
use std::sync::Arc;

/// What is written of a case that says no more than this.
fn rewritten(head: &str, answer: &str) -> String {
    written(&format!("{head}\nanswers: {{{answer}}}\nends: left\n")).to_yaml(&BOOK)
}

#[test]
fn readings_are_written_as_the_trade_writes_them() {
    for (answer, line) in [
        ("rating_selected: 0.5 hp", "rating_selected: 1/2 hp"),
        ("rating_selected: 1/3 hp", "rating_selected: 1/3 hp"),
        ("heat_output: 64000 Btu/h", "heat_output: 64000 Btu/h"),
        ("rise_low: 35 F", "rise_low: 35 °F"),
        ("return_air_temperature: 21.1 C", "return_air_temperature: 21.1 °C"),
        ("static_return: -0.20 in wc", "static_return: -0.2 in wc"),
        ("insulation_to_case: OL", "insulation_to_case: OL"),
        ("line_pin_resistance: 240 k", "line_pin_resistance: 240 kohm"),
        ("air_opening: 10.25 in", "air_opening: 10.25 in"),
        ("supply_sources: 2", "supply_sources: 2"),
        ("motor_runs: no", "motor_runs: no"),
        ("unit_rated_supply: 115-volt", "unit_rated_supply: 115-volt"),
        ("danger_seen: [gas_smell, shock_felt]", "danger_seen: [gas_smell, shock_felt]"),
        ("line_voltage_at_unit: [208 V, cannot]", "line_voltage_at_unit: [208 V, cannot]"),
    ] {
        let text = rewritten("case: shown", answer);
        assert_eq!(text, format!("case: shown\nanswers:\n  {line}\nends: left\n"));
    }
}

#[test]
fn names_and_texts_that_a_tool_would_misread_are_quoted() {
    for (name, shown) in [
        ("no", "'no'"),
        ("null", "'null'"),
        ("115", "'115'"),
        ("1e9", "'1e9'"),
        ("0x1f", "'0x1f'"),
        ("it's", "'it''s'"),
        ("two words", "'two words'"),
        ("panel-left-off", "panel-left-off"),
        ("3rd-motor", "3rd-motor"),
    ] {
        let text = file(&Case::of_call(&Call::new(Arc::clone(&BOOK)), name, None));
        assert!(text.contains(&format!("\ncase: {shown}\n")), "{text}");
    }
    let about = |about: &str| Case::of_call(&Call::new(Arc::clone(&BOOK)), "a", Some(about));
    for (said, shown) in [
        ("Dead since yesterday.", "Dead since yesterday."),
        ("no", ">-\n  no"),
        ("Said: it hums", ">-\n  Said: it hums"),
        ("- and so on", ">-\n  - and so on"),
        ("  two\nlines\u{200b} ", "two lines"),
    ] {
        let text = file(&about(said));
        assert!(text.contains(&format!("\nabout: {shown}\nanswers:")), "{text}");
    }
    let long = "The wheel is free and the motor still dead. ".repeat(4);
    let text = file(&about(&long));
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    assert!(!file(&about(" \n ")).contains("about"));
}

#[test]
fn a_time_at_which_nothing_was_found_keeps_its_place() {
    let text = "case: gap\nanswers: {}\nends: left\nafter:\n  fit-link-115:\n    - {}\n    - motor_runs: yes\n      \
                link_fitted: link-115\n  fit-link-230: {}\n  switch-supply-on: {motor_runs: yes}\n";
    let again = written(text).to_yaml(&BOOK);
    assert_eq!(again, text);
}

/// Whatever a log that was tampered with holds, what is written is read.
#[test]
fn answers_that_no_fact_takes_are_left_out() {
    let mut call = Call::new(Arc::clone(&BOOK));
    let volts = Value::Quantity(Quantity::parse_exact("118 V").unwrap());
    for (id, value) in [
        ("motor_runs", Value::Choices(ChoiceSet::default())),
        ("motor_popped", Value::Choices(ChoiceSet::only(0).with(ChoiceSet::only(1)))),
        ("filter_condition", Value::Choices(ChoiceSet::only(31))),
        ("registers", volts),
        ("line_voltage_at_unit", Value::Choices(ChoiceSet::only(0))),
        ("proved_dead", Value::Choices(ChoiceSet::only(0))),
    ] {
        call.apply(Event::Told { fact: fact(id), answer: Answer::Value(value), purpose: Purpose::Unasked });
    }
    let recorded = Case::of_call(&call, "tampered", None);
    assert_eq!(recorded.case.answers.facts().count(), 0);
    file(&recorded);
}

/// What an earlier call came to is in the case of a callback, and its player begins with it.
#[test]
fn a_callback_is_a_case_that_begins_with_what_the_earlier_call_came_to() {
    let shut = CASES.iter().find(|case| case.name == "two-registers-shut-in-the-study").unwrap();
    let began_with: [(&str, &[DeedResult]); 2] =
        [("open-registers", &[DeedResult::Done]), ("open-registers", &[DeedResult::Later, DeedResult::Done])];
    for (ending, results) in began_with {
        let ending = BOOK.ending_named(ending).unwrap();
        let mut call = Call::new(Arc::clone(&BOOK));
        for result in results {
            call.apply(Event::Earlier { ending, result: *result, of: Some("call 7".to_owned()) });
        }
        let ended = drive(&mut call, &mut Player::new(&BOOK, shut)).unwrap();
        let Recorded { case, unsaid } = Case::of_call(&call, "a-callback", None);
        assert_eq!(unsaid, Vec::<String>::new());
        assert_eq!(case.earlier, results.iter().map(|result| (ending, *result)).collect::<Vec<_>>());
        let text = case.to_yaml(&BOOK);
        let words = results.iter().map(|result| if *result == DeedResult::Done { "done" } else { "later" });
        let words: Vec<&str> = words.collect();
        assert!(text.contains(words[0]) && text.contains("earlier:\n  open-registers: "), "{text}");
        let read = Case::read(&BOOK, Source::new("a-callback.yaml", text.clone()).unwrap()).unwrap();
        assert_eq!(read.earlier, case.earlier, "{text}");
        let verdict = replay(&BOOK, &read).unwrap();
        assert!(verdict.ok, "{text}");
        assert_eq!(verdict.ended.last.ending, ended.last.ending, "{text}");
    }
}

/// In mid-call it is not known before.
#[test]
fn what_is_said_of_earlier_work_in_mid_call_is_told_to_be_missing() {
    let shut = CASES.iter().find(|case| case.name == "two-registers-shut-in-the-study").unwrap();
    let mut call = Call::new(Arc::clone(&BOOK));
    drive(&mut call, &mut Player::new(&BOOK, shut)).unwrap();
    let ending = BOOK.ending_named("open-registers").unwrap();
    call.apply(Event::Earlier { ending, result: DeedResult::Done, of: None });
    let Recorded { case, unsaid } = Case::of_call(&call, "a-callback", None);
    assert!(
        case.earlier.is_empty() && unsaid.iter().any(|text| text.contains("before the call")),
        "{unsaid:?}"
    );
}
