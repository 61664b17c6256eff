//! `motorwright report`: what is counted, over calls that cases were played as.

mod desk;
mod page;

use crate::house::{BOOK, program};
use desk::DESK;
use engine::call::{Call, Event, Purpose};
use engine::record::Summary;
use engine::rulebook::{Answer, ChoiceSet, Value};
use serde_json::Value as Json;
use std::sync::Arc;

/// What it says with these words behind, over a log that holds these calls, and its exit code.
fn reported(calls: &[Json], words: &[&str]) -> (String, Option<i32>) {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    desk::import(&log, calls);
    let output =
        program().arg("report").args(words).arg("--log-to").arg(log).env("TZ", "UTC").output().unwrap();
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    (String::from_utf8(output.stdout).unwrap(), output.status.code())
}

fn as_json(calls: &[Json], words: &[&str]) -> Json {
    let (json, code) = reported(calls, &[&["--json"], words].concat());
    assert_eq!((json.lines().count(), code), (1, Some(0)), "{json}");
    serde_json::from_str(&json).unwrap()
}

#[test]
fn the_table_of_a_small_desk() {
    let (table, code) = reported(&DESK, &[]);
    assert_eq!(code, Some(0));
    insta::assert_snapshot!(table);
}

#[test]
fn the_same_as_json() {
    insta::assert_snapshot!(in_lines(&as_json(&DESK, &[]), ""));
}

/// JSON, with what holds no list of objects on one line.
fn in_lines(value: &Json, indent: &str) -> String {
    fn holds_lists(value: &Json) -> bool {
        match value {
            Json::Array(all) => all.iter().any(Json::is_object),
            Json::Object(all) => all.values().any(holds_lists),
            _ => false,
        }
    }
    if !holds_lists(value) {
        return value.to_string();
    }
    let inner = format!("{indent}  ");
    let ([open, close], lines) = match value {
        Json::Array(all) => {
            let lines = all.iter().map(|one| format!("{inner}{}", in_lines(one, &inner)));
            (["[", "]"], lines.collect::<Vec<_>>())
        }
        Json::Object(all) => {
            let lines = all.iter().map(|(key, one)| format!("{inner}\"{key}\": {}", in_lines(one, &inner)));
            (["{", "}"], lines.collect())
        }
        plain => return plain.to_string(),
    };
    format!("{open}\n{}\n{indent}{close}", lines.join(",\n"))
}

#[test]
fn without_calls_it_says_so() {
    let (table, code) = reported(&[], &[]);
    assert_eq!((table.as_str(), code), ("No call is kept yet. `motorwright call` begins one.\n", Some(0)));
    let (table, _) = reported(&DESK, &["--unit", "job 99"]);
    assert_eq!(table, "Only calls on the unit job 99.\nNo call that is kept is like that.\n");
    let json = as_json(&[], &[]);
    assert_eq!(json["calls"], 0);
    assert_eq!(json["all"]["calls"]["share"], Json::Null);
}

#[test]
fn a_callback_after_the_days_that_are_counted_is_still_one() {
    let all = as_json(&DESK, &["--since", "2025-03-01", "--before", "2025-03-02"]);
    assert_eq!(all["calls"], 1);
    assert_eq!(all["all"]["ended"]["callbacks"], 1, "the call of the 11th is on the same unit");
    assert_eq!(all["all"]["endings"][0]["ending"], "close-access-panel");
}

#[test]
fn a_reading_that_could_be_had_after_all_counts_as_taken() {
    let mut call = Call::new(Arc::clone(&BOOK));
    let told =
        |id: &str, answer, purpose| Event::Told { fact: BOOK.fact_named(id).unwrap(), answer, purpose };
    for id in ["breaker_position", "motor_history"] {
        call.apply(told(id, Answer::Cannot, Purpose::Step));
    }
    assert_eq!(Summary::of(&call).not_taken, ["breaker_position", "motor_history"]);
    let seen = Answer::Value(Value::Choices(ChoiceSet::only(0)));
    call.apply(told("breaker_position", seen, Purpose::Unasked));
    assert_eq!(Summary::of(&call).not_taken, ["motor_history"]);
}

/// What the calls cost is what `calls` lists of them, and each is counted once.
#[test]
fn the_medians_are_those_of_the_calls_that_are_listed() {
    let json = as_json(&DESK, &[]);
    let summary = |call: &Json| serde_json::from_value::<Summary>(call["summary"].clone()).unwrap();
    let summaries = DESK.iter().map(summary).filter(|summary| !summary.is_open());
    let mut minutes: Vec<f64> = summaries.map(|summary| summary.minutes).collect();
    minutes.sort_by(f64::total_cmp);
    assert_eq!(minutes.len() % 2, 0, "an even count, so that the median lies between two");
    let median = f64::midpoint(minutes[minutes.len() / 2 - 1], minutes[minutes.len() / 2]);
    assert_eq!(json["all"]["ended"]["minutes"], median);
    let of_complaints = json["complaints"].as_array().unwrap().iter();
    let counted: u64 = of_complaints.map(|one| one["calls"]["count"].as_u64().unwrap()).sum();
    assert_eq!(counted, DESK.len() as u64);
}
