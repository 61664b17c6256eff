//! The shipped rules as data: every fixed id is there, every question can be said aloud.

use crate::house::BOOK;
use engine::rulebook::{EndingKind, PanelNeed, PowerNeed};

/// Words that a question may not hold: written, not spoken.
const UNSPOKEN: [&str; 12] = ["V", "A", "W", "hp", "°F", "MΩ", "ohms?", "rpm", "cfm", "R-C", "w.c.", "VAC"];

#[test]
fn every_question_is_one_short_sentence_that_can_be_said() {
    for fact in BOOK.facts() {
        let Some(asking) = &fact.asking else { continue };
        let say = &asking.say;
        assert!(say.split_whitespace().count() <= 20, "{}: too long: {say}", fact.id);
        assert!(say.ends_with('?') && say.matches('?').count() == 1, "{}: not one question: {say}", fact.id);
        assert!(!say.contains(['(', ')', '/', ';']), "{}: not sayable: {say}", fact.id);
        let unspoken =
            say.split_whitespace().find(|word| UNSPOKEN.contains(&word.trim_end_matches(['?', ','])));
        assert_eq!(unspoken, None, "{}: {say}", fact.id);
    }
}

#[test]
fn a_repair_says_whose_work_it_is_and_what_can_hurt() {
    for ending in BOOK.endings() {
        assert!(!ending.whose.is_empty(), "{}", ending.id);
        let touches = ending.deeds.iter().any(|deed| BOOK.deed(*deed).power == PowerNeed::Dead);
        assert!(!touches || !ending.cautions.is_empty(), "{} is done dead, without a caution", ending.id);
        if ending.kind == EndingKind::HandOver {
            assert!(!ending.does.is_empty(), "{} does not say what to do", ending.id);
        }
    }
}

#[test]
fn live_readings_behind_the_panel_carry_a_warning() {
    for fact in BOOK.facts() {
        if fact.power == PowerNeed::Live && fact.panel == PanelNeed::Off {
            assert!(!fact.cautions.is_empty(), "{}", fact.id);
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
