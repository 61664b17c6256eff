//! Danger said in passing, and ways out of a call.

use super::{TO_A_POWER_STEP, TO_THE_BREAKER, after, call, last, rows};

const LEAVE: &str = "LEAVE THE BUILDING AND CALL THE EMERGENCY LINE";

#[test]
fn words_of_danger_at_any_prompt_are_asked_about() {
    for start in [&[][..], &["none"], &TO_THE_BREAKER, &TO_A_POWER_STEP] {
        for line in [
            "can't, i smell gas",
            "wait, there is smoke",
            "why does it smell of rotten eggs",
            "note gas smell in the cellar",
        ] {
            let (shown, _) = after(start, &[line]);
            let asked = rows(&shown, "SAY").iter().any(|say| say.starts_with("Is there danger?"));
            let taken = shown.contains(LEAVE);
            assert!(asked || taken, "{line}:\n{shown}");
        }
    }
}

#[test]
fn the_dangers_guessed_stand_first_and_a_yes_takes_them() {
    for answer in ["yes", "danger gas smell", "danger gas, smoke", "i smell gas", "2"] {
        let (shown, _) = after(&TO_A_POWER_STEP, &["i smell gas here", answer, ""]);
        assert_eq!(rows(&shown, "HEARD"), ["gas smell"], "{answer}");
        assert!(shown.contains(LEAVE), "{answer}:\n{shown}");
        assert_eq!(last(&shown, "POWER"), "Tell the crew: power not known, panel not known.");
    }
}

#[test]
fn a_second_danger_in_place_of_a_yes_takes_nothing_back_of_the_first() {
    let first = "i got a poke off the cabinet";
    let (shown, _) = after(&TO_A_POWER_STEP, &[first, "it smells of burning too", ""]);
    let noted = last(&shown, "NOTED");
    assert!(noted.contains("shock felt") && noted.contains("smoke or burning"), "{noted}");
    let (shown, _) = after(&TO_A_POWER_STEP, &[first, "no, but it smells of burning", ""]);
    assert!(!last(&shown, "NOTED").contains("shock felt"), "{shown}");
}

#[test]
fn a_danger_is_taken_back_by_no_single_word_and_a_denied_one_is_not_waited_for() {
    let (once, _) = after(&TO_A_POWER_STEP, &["danger gas smell", "back"]);
    assert!(last(&once, "SURE").starts_with("It takes the danger back"), "{once}");
    assert!(!once.contains("BACK"), "{once}");
    let (twice, _) = after(&TO_A_POWER_STEP, &["danger gas smell", "back", "back"]);
    assert!(last(&twice, "BACK").contains("danger"), "{twice}");
    let (denied, _) = after(&TO_A_POWER_STEP, &["hang on, i smell gas", "no"]);
    assert!(!denied.contains("WAITING"), "{denied}");
    let (bare, _) = after(&TO_A_POWER_STEP, &["i smell gas", "danger"]);
    assert!(bare.contains(LEAVE), "{bare}");
}

#[test]
fn a_yes_counts_though_it_is_not_said_which_danger_it_is() {
    for line in ["emergency", "help us", "stop!"] {
        let (shown, _) = after(&TO_A_POWER_STEP, &[line, "yes", ""]);
        assert!(shown.contains(LEAVE), "{line}:\n{shown}");
    }
    assert!(last(&call(&["yes"]).0, "AGAIN").starts_with("which danger is it?"));
}

#[test]
fn a_no_goes_on_and_loses_nothing_of_the_line() {
    let (shown, _) = after(&TO_THE_BREAKER, &["note the alarm beeps, its battery is low", "no", "on"]);
    assert!(rows(&shown, "NOTED").contains(&"note: the alarm beeps, its battery is low".to_owned()));
    assert_eq!(last(&shown, "NOTED"), "breaker position: on");
    let (shown, _) = after(&TO_THE_BREAKER, &["the alarm, nope", "back", "tripped"]);
    assert_eq!(last(&shown, "NOTED"), "breaker position: tripped");
}

#[test]
fn at_the_question_of_danger_a_sentence_is_an_answer() {
    for (line, danger) in [
        ("he got zapped", "danger seen: shock felt"),
        ("none but smells a bit of gas", "danger seen: gas smell"),
        ("gas and it's burning", "danger seen: gas smell + smoke or burning"),
        ("nope", "danger seen: none"),
    ] {
        assert_eq!(last(&call(&[line]).0, "NOTED"), danger, "{line}");
    }
    assert!(last(&call(&["no gas smell"]).0, "AGAIN").contains("type none"));
    assert!(!call(&["on"]).0.contains("NOTED"));
}

#[test]
fn a_plain_answer_with_a_word_of_danger_in_it_is_no_alarm() {
    for line in ["tell heat source gas", "on", "cannot", "no smoke"] {
        let (shown, _) = after(&TO_THE_BREAKER, &[line]);
        assert!(!shown.contains("HEARD") && !shown.contains("Is anybody in danger?"), "{line}:\n{shown}");
    }
}

#[test]
fn leaving_is_said_twice_and_a_question_in_between_keeps_the_first() {
    let (once, _) = after(&TO_THE_BREAKER, &["leave", "on"]);
    assert!(last(&once, "SURE").contains("not kept"));
    assert_eq!(last(&once, "NOTED"), "breaker position: on");
    let (twice, code) = after(&TO_THE_BREAKER, &["leave", "why", "leave"]);
    assert_eq!((last(&twice, "END").as_str(), code), ("the call was left open", Some(1)));
}

#[test]
fn every_end_says_how_the_unit_is_left_and_the_outcome_last() {
    let (shown, _) = after(&TO_THE_BREAKER, &["off", "no", "leave it for later", ""]);
    assert_eq!(last(&shown, "OUTCOME"), "Not done: left for another visit.");
    let (before, behind) = shown.split_once(" OUTCOME").unwrap();
    assert!(before.contains("   POWER  not known, so it counts as live."), "{shown}");
    let rows = behind.lines().skip_while(|line| !line.contains("NOTE")).count();
    assert!(rows < 22, "the outcome is off a screen of 24 rows:\n{shown}");
}

#[test]
fn a_danger_that_is_taken_back_is_on_the_record_as_a_remark() {
    let remark = "note: danger was told, and taken back";
    // Beside an answer, at a power step, by the word itself, and at the end.
    for (start, line, named) in [
        (&TO_THE_BREAKER[..], "tripped, smells like smoke", ": smoke or burning"),
        (&TO_A_POWER_STEP, "smells like smoke", ": smoke or burning"),
        (&TO_A_POWER_STEP, "danger", ""),
    ] {
        let (shown, _) = after(start, &[line, "no", "leave", "leave"]);
        assert!(rows(&shown, "NOTED").contains(&format!("{remark}{named}")), "{line}:\n{shown}");
        let notes = rows(&shown, "NOTES");
        assert!(
            notes.iter().any(|note| note.contains("danger was told, and taken back")),
            "{line}:\n{shown}"
        );
    }
    // What was said beside it holds.
    let (shown, _) = after(&TO_THE_BREAKER, &["tripped, smells like smoke", "no"]);
    assert!(
        last(&shown, "SAY").starts_with("Does the breaker") || shown.contains("breaker position: tripped")
    );
    let (shown, _) = after(&TO_THE_BREAKER, &["danger", "smoke", ""]);
    assert!(!shown.contains("taken back"), "{shown}");
}
