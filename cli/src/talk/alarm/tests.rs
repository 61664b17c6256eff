mod phrases;

use super::{beside, heard};
use crate::rules;
use crate::talk::answer::plain;
use engine::rulebook::Rulebook;
use phrases::{HEARD, INNOCENT};
use std::sync::{Arc, LazyLock};

static BOOK: LazyLock<Arc<Rulebook>> = LazyLock::new(|| rules::load(None).unwrap());

fn dangers(line: &str) -> Vec<String> {
    let book = &*BOOK;
    let fact = book.fact(book.roles().danger.0);
    heard(book, line).dangers.positions().map(|at| fact.choices()[at].id.clone()).collect()
}

#[test]
fn words_of_danger_are_heard_in_any_sentence() {
    for (line, danger) in [
        ("i smell gas", "gas_smell"),
        ("Rotten eggs!", "gas_smell"),
        ("none but smells a bit of gas", "gas_smell"),
        ("no, i smell gas", "gas_smell"),
        ("it's BURNING", "smoke_or_burning"),
        ("sparks in there", "smoke_or_burning"),
        ("the blower is on fire", "smoke_or_burning"),
        ("he got zapped", "shock_felt"),
        ("a tingle from the case", "shock_felt"),
        ("carbon monoxide", "co_alarm"),
        ("the alarm goes off", "co_alarm"),
        ("flames out the front", "flame_rollout"),
        ("cellar flooded", "water_on_electrics"),
        ("there is water on the board", "water_on_electrics"),
        ("water is dripping on the board", "water_on_electrics"),
        ("everything is soaked", "water_on_electrics"),
        ("smells like burnt", "smoke_or_burning"),
        ("burnt smell", "smoke_or_burning"),
        ("something smells hot", "smoke_or_burning"),
        ("breaker arced", "smoke_or_burning"),
        ("something is fizzing and popping", "smoke_or_burning"),
        ("its kinda tingly", "shock_felt"),
        ("the cabinet bit me", "shock_felt"),
        ("hes dizzy", "co_alarm"),
        ("the kids have headaches", "co_alarm"),
        ("the wires are melting", "smoke_or_burning"),
        ("its smouldering", "smoke_or_burning"),
        ("my arm's gone numb", "shock_felt"),
        ("the flame's licking out the front", "flame_rollout"),
        ("the CO detector is beeping", "co_alarm"),
    ] {
        assert_eq!(dangers(line), [danger], "{line}");
    }
    assert_eq!(dangers("gas, smoke"), ["gas_smell", "smoke_or_burning"]);
}

#[test]
fn an_emergency_is_heard_though_it_is_not_said_which() {
    for line in [
        "emergency",
        "stop!",
        "there is danger",
        "help us",
        "he passed out",
        "my head hurts",
        "I smell something",
        "fumes",
        "there are fumes coming out",
        "there is a hissing",
        "I can hear something hissing",
    ] {
        assert!(heard(&BOOK, line).is_said, "{line}");
    }
}

#[test]
fn nobody_cries_wolf() {
    for line in [
        "on",
        "help",
        "co",
        "it is a gas furnace",
        "flame sensor",
        "0.5 inches of water in the duct",
        "stop it",
        "118",
    ] {
        assert!(!heard(&BOOK, line).is_said, "{line}");
    }
    let denied = heard(&BOOK, "no gas smell");
    assert!(denied.is_denied && !denied.is_said);
}

#[test]
fn the_words_of_a_fact_are_no_alarm() {
    let book = &*BOOK;
    let fact = book.facts().iter().find(|fact| fact.id == "heat_source").unwrap();
    assert!(!beside(book, fact, "tell heat source gas").is_said);
    assert!(beside(book, fact, "tell heat source gas, and smoke").is_said);
}

/// All that differ at once, so that a change of the table is seen whole.
#[test]
fn what_callers_say_of_danger_is_heard() {
    assert!(HEARD.len() >= 60);
    let missed: Vec<String> = HEARD
        .iter()
        .filter(|(line, danger)| dangers(line) != [*danger])
        .map(|(line, danger)| format!("{line}: {:?}, not {danger}", dangers(line)))
        .collect();
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn what_callers_say_of_their_work_is_no_danger() {
    assert!(INNOCENT.len() >= 60);
    let alarms: Vec<String> = INNOCENT
        .iter()
        .filter(|line| heard(&BOOK, line).is_said)
        .map(|line| format!("{line}: {:?}", dangers(line)))
        .collect();
    assert!(alarms.is_empty(), "{}", alarms.join("\n"));
}

/// Nobody is asked about danger for an answer that stands on the screen.
#[test]
fn no_choice_of_any_fact_is_an_alarm_where_it_is_asked() {
    let (danger, _) = BOOK.roles().danger;
    for id in BOOK.fact_ids().filter(|id| *id != danger) {
        let fact = BOOK.fact(id);
        for choice in fact.choices() {
            for line in [plain(&choice.id), choice.means.clone()] {
                assert!(!beside(&BOOK, fact, &line).is_said, "{}: {line}", fact.name);
            }
        }
    }
}
