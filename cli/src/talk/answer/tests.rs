use super::{Numbers, choices, is_choice_exactly, parse, plain, shown_back};
use crate::talk::units::Units;
use engine::quantity::{Expected, Meter, Unit};
use engine::rulebook::{Answer, Asking, Choice, ChoiceSet, Fact, Kind, Lasts, PanelNeed, PowerNeed};

fn fact(kind: Kind) -> Fact {
    Fact {
        id: "a_fact".to_owned(),
        name: "a fact".to_owned(),
        asking: Some(Asking { say: "What is it?".to_owned(), how: "Look.".to_owned() }),
        kind,
        power: PowerNeed::Any,
        panel: PanelNeed::Any,
        station: None,
        ahead_of_interlock: false,
        live_work: false,
        lasts: Lasts::Now,
        minutes: 1.0,
        waits: Vec::new(),
        live_until_told: ChoiceSet::default(),
        yes_means: None,
        tools: Vec::new(),
        cautions: Vec::new(),
        cautions_when: Vec::new(),
        cannot_means: None,
        may_be_missing: false,
        feeds: None,
        given: Vec::new(),
        working: None,
    }
}

fn of(ids: &[&str], several: bool) -> Fact {
    let choices =
        ids.iter().map(|id| Choice { id: (*id).to_owned(), means: "so it is".to_owned() }).collect();
    fact(Kind::Choice { choices, several })
}

fn volts() -> Fact {
    let volt = Unit::parse("V").unwrap();
    fact(Kind::Quantity { expected: Expected::new(volt), meter: Meter::EXACT })
}

fn chosen(fact: &Fact, text: &str) -> Result<Vec<usize>, String> {
    choices(fact, text, Numbers::Shown).map(|set| set.positions().collect())
}

#[test]
fn a_choice_is_named_by_number_id_or_shortest_word() {
    let breaker = of(&["on", "off", "tripped"], false);
    for text in ["3", "tripped", "Tri", " t "] {
        assert_eq!(chosen(&breaker, text), Ok(vec![2]), "{text}");
    }
    assert_eq!(chosen(&breaker, "on"), Ok(vec![0]));
    assert_eq!(chosen(&breaker, "o"), Err("`o` could be on or off: type more of it".to_owned()));
    assert_eq!(
        chosen(&breaker, "4"),
        Err("`4` is none of the choices: type 1 to 3, or on, off, tripped".to_owned())
    );
    assert_eq!(
        chosen(&breaker, "trpped"),
        Err("`trpped` is none of the choices, did you mean `tripped`? type 1 to 3, or on, off, tripped"
            .to_owned())
    );
}

#[test]
fn an_id_may_be_typed_with_blanks_or_by_a_later_word() {
    let danger = of(&["none", "gas_smell", "smoke_or_burning", "shock_felt"], true);
    for text in ["gas smell", "GAS-SMELL", "gas", "smell"] {
        assert_eq!(chosen(&danger, text), Ok(vec![1]), "{text}");
    }
    let supply = of(&["115-volt", "208-volt", "230-volt"], false);
    for text in ["230", "230 V", "230v", "230 volts", "3"] {
        assert_eq!(chosen(&supply, text), Ok(vec![2]), "{text}");
    }
}

#[test]
fn several_choices_only_where_they_may_hold_together() {
    let danger = of(&["none", "gas_smell", "smoke_or_burning"], true);
    for text in ["gas smell, smoke", "gas and smoke", "2 3", "2,3", "gas_smell + smoke_or_burning"] {
        assert_eq!(chosen(&danger, text), Ok(vec![1, 2]), "{text}");
    }
    assert!(chosen(&of(&["on", "off"], false), "on, off").is_err());
}

#[test]
fn numbers_count_only_where_they_are_shown() {
    let breaker = of(&["on", "off"], false);
    assert!(choices(&breaker, "1", Numbers::NotShown).is_err());
    assert_eq!(choices(&breaker, "1", Numbers::Shown), Ok(ChoiceSet::only(0)));
}

#[test]
fn a_value_is_shown_back_with_unit_and_name() {
    let volts = volts();
    let back = |text| {
        parse(&volts, text, Numbers::Shown, Units::AsInRules)
            .map(|answer| shown_back(&volts, &answer, Units::AsInRules))
    };
    assert_eq!(back("118").as_deref(), Ok("118 V, a fact"));
    assert_eq!(back("0.12 kV").as_deref(), Ok("0.12 kV = 120 V, a fact"));
    assert_eq!(back("can't").as_deref(), Ok("a fact: cannot be told"));
    assert!(back("118 A").is_err_and(|why| why.contains("is a current; a voltage is asked for")));
    assert!(back("118,4").is_err_and(|why| why.contains("118.4")));
}

#[test]
fn a_choice_wins_over_a_command_word_only_by_its_very_id() {
    let waiting = of(&["back", "cannot"], false);
    assert!(is_choice_exactly(&waiting, "back"));
    assert!(!is_choice_exactly(&waiting, "bac"));
    assert_eq!(
        parse(&waiting, "can't", Numbers::Shown, Units::AsInRules),
        Ok(Answer::Cannot),
        "only the very id is the choice"
    );
    assert_eq!(plain("115-Volt_x"), "115 volt x");
}
