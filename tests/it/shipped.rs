//! The shipped rules as data: nothing is found in them, every question can be said aloud.

use crate::house::{BOOK, files, source};
use engine::finding::{Code, Finding, Severity};
use engine::rulebook::EndingKind;
use engine::source::Source;

/// Words that a question may not hold: written, not spoken.
const UNSPOKEN: [&str; 12] = ["V", "A", "W", "hp", "°F", "MΩ", "ohms?", "rpm", "cfm", "R-C", "w.c.", "VAC"];

#[test]
fn nothing_is_found_but_notes() {
    let checked = engine::check_rules(files("rules", "yaml").iter().map(|path| source(path)));
    let matters = |found: &&Finding| found.code().severity() > Severity::Note;
    let found: Vec<String> = checked.findings.iter().filter(matters).map(Finding::plain).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Where a step leads back, nothing is proved of the ways: what would only follow from that is held back.
#[test]
fn a_loop_is_told_of_by_itself() {
    let rules = files("rules", "yaml").into_iter().map(|path| {
        let (read, name) = (source(&path), path.file_name().unwrap().to_str().unwrap().to_owned());
        if name != "start-up.yaml" {
            return read;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let start = text.lines().find_map(|line| line.strip_prefix("start: ")).unwrap();
        let (before, last) = text.rsplit_once("        go: ").unwrap();
        let (_, after) = last.split_once('\n').unwrap();
        Source::new(read.name(), format!("{before}        go: {start}\n{after}")).unwrap()
    });
    let found = engine::check_rules(rules).findings;
    let codes: Vec<Code> = found.iter().map(Finding::code).collect();
    assert!(codes.contains(&Code::Loop), "{codes:?}");
    // A step that only the line now gone led to is told of as well, and has to have a line for every choice: no way
    // says there which are left.
    let known = |code: &Code| matches!(code, Code::Loop | Code::UnreachableStep | Code::ChoiceNotCovered);
    assert!(codes.iter().all(known) && codes.len() <= 3, "{codes:?}");
}

#[test]
fn every_question_can_be_said_and_is_one() {
    for fact in BOOK.facts() {
        let Some(asking) = &fact.asking else { continue };
        let say = &asking.say;
        assert!(say.ends_with('?') && say.matches('?').count() == 1, "{}: not one question: {say}", fact.id);
        assert!(!say.contains(['(', ')', '/', ';']), "{}: not sayable: {say}", fact.id);
        let unspoken =
            say.split_whitespace().find(|word| UNSPOKEN.contains(&word.trim_end_matches(['?', ','])));
        assert_eq!(unspoken, None, "{}: {say}", fact.id);
    }
}

#[test]
fn an_ending_says_whose_work_it_is_and_a_hand_over_what_to_do() {
    for ending in BOOK.endings() {
        assert!(!ending.whose.is_empty(), "{}", ending.id);
        if ending.kind == EndingKind::HandOver {
            assert!(!ending.does.is_empty(), "{} does not say what to do", ending.id);
        }
    }
}

/// NEMA MG 1 12.44.1 (Condensed MG 1-2011, 9.9.1): a motor runs within 10 % of its rated voltage. A plate of 208 V
/// stands for the dual marking 208-230 V, so its upper limit is that of 230 V: our reading, not the standard's.
#[test]
fn each_supply_carries_its_limits() {
    let plates = [
        ("115-volt", 115.0, 103.5, 126.5),
        ("208-volt", 208.0, 187.2, 253.0),
        ("230-volt", 230.0, 207.0, 253.0),
    ];
    let supply = BOOK.fact_named("unit_rated_supply").unwrap();
    for (choice, rated, low, high) in plates {
        let wanted = engine::rulebook::Value::Choices(BOOK.fact(supply).choice(choice).unwrap());
        for (name, expected) in [("rated_voltage", rated), ("supply_low", low), ("supply_high", high)] {
            let fact = BOOK.fact(BOOK.fact_named(name).unwrap());
            let given = fact.given.iter().find(|given| given.when == [(supply, wanted)]).unwrap();
            let found = given.is.quantity().unwrap().base();
            assert!((found - expected).abs() < 1e-9, "{choice} {name}: {found}");
        }
    }
}
