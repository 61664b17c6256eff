//! What somebody at a support desk types of what a technician says on the phone.

use super::{TO_A_POWER_STEP, TO_THE_BREAKER, after, call, last, rows};

/// Up to the second proving of the tester, on a unit with one supply.
const BEHIND_THE_TEST: [&str; 8] = ["tripped", "1", "5", "done", "done", "done", "done", "dead"];

fn behind_the_test(lines: &[&str]) -> String {
    let start = [&TO_THE_BREAKER[..], &BEHIND_THE_TEST].concat();
    after(&start, lines).0
}

/// The note to send, line by line.
fn note(shown: &str) -> Vec<&str> {
    let (_, note) = shown.rsplit_once("    NOTE  to send").unwrap_or_else(|| panic!("no note in:\n{shown}"));
    note.lines().skip(1).collect()
}

#[test]
fn somebody_hurt_is_helped_and_nobody_is_told_of_gas() {
    for line in ["he's collapsed", "somebody is hurt", "he can't let go"] {
        for start in [&["none"][..], &TO_THE_BREAKER, &TO_A_POWER_STEP] {
            let (shown, code) = after(start, &[line, "yes", ""]);
            assert_eq!(last(&shown, "HEARD"), "someone hurt", "{line}:\n{shown}");
            let (_, end) = shown.split_once("HELP THE ONE WHO IS HURT").unwrap_or_else(|| panic!("{shown}"));
            let orders =
                ["Do not touch them", "Switch off at the breaker, if you can", "ambulance", "CPR", "AED"];
            let places: Vec<_> = orders.iter().map(|order| end.find(order)).collect();
            assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}\n{end}");
            assert!(!end.to_lowercase().contains("gas"), "{end}");
            assert_eq!(code, Some(0));
        }
    }
}

#[test]
fn one_who_is_held_or_was_bitten_felt_a_shock() {
    for line in ["he got bit", "buzzing in his hand"] {
        let (shown, _) = after(&TO_A_POWER_STEP, &[line, "yes"]);
        assert!(shown.contains("MAKE THE UNIT SAFE AND HAND IT OVER"), "{line}:\n{shown}");
    }
}

#[test]
fn danger_that_comes_out_as_something_else_is_heard_at_a_power_step() {
    for line in [
        "overflowed onto the board",
        "puddle under the blower",
        "the breaker is hot",
        "roll-out popped",
        "wire is melted",
    ] {
        let (shown, _) = after(&TO_A_POWER_STEP, &[line]);
        assert_eq!(rows(&shown, "HEARD").len(), 1, "{line}:\n{shown}");
    }
}

#[test]
fn the_first_line_of_a_note_is_the_danger_and_where_it_came_up() {
    let (shown, _) = after(&TO_THE_BREAKER, &["tripped", "1", "5", "danger shock felt", ""]);
    assert_eq!(note(&shown)[0], "DANGER: shock felt, told at: switching off and locking the unit's supply.");
    let (shown, _) = call(&["gas smell", ""]);
    assert_eq!(note(&shown)[0], "DANGER: gas smell.");
    // However much else there is to say.
    let remark = format!("note {}", "the attic is cold and the ladder short. ".repeat(40));
    let (shown, _) = after(&TO_THE_BREAKER, &[&remark, &remark, "danger smoke, shock felt", ""]);
    assert!(note(&shown)[0].starts_with("DANGER: smoke or burning, shock felt"), "{shown}");
}

#[test]
fn the_first_line_of_a_note_has_the_volts_that_the_test_for_dead_read() {
    let start = [&TO_THE_BREAKER[..], &BEHIND_THE_TEST[..7]].concat();
    let (shown, _) = after(&start, &["118 V", "live", ""]);
    assert_eq!(note(&shown)[0], "NOT DEAD: the test for dead of the unit's supply read 118 V.");
    let (shown, _) = after(&start, &["not done", "not done", ""]);
    assert_eq!(
        note(&shown)[0],
        "NOT PROVED DEAD, could not be done: the test for dead of the unit's supply."
    );
    let shown = behind_the_test(&["no, 2 V", "live", ""]);
    assert_eq!(note(&shown)[0], "NOT DEAD: the test for dead read 2 V, said at: proving the tester again.");
    assert!(!note(&shown).iter().any(|line| line.starts_with("Remarks")), "said once is enough:\n{shown}");
}

#[test]
fn a_test_for_dead_that_lies_behind_is_put_right() {
    for line in ["live", "no, 2 V", "wait, it was live", "not dead"] {
        let shown = behind_the_test(&[line, "done", "why", "live", ""]);
        assert_eq!(
            rows(&shown, "SAY").iter().filter(|say| say.starts_with("Hands out")).count(),
            1,
            "{shown}"
        );
        assert!(last(&shown, "AGAIN").starts_with("it read live"), "{line}:\n{shown}");
        assert_eq!(last(&shown, "END"), "stop, the unit cannot be proved dead", "{line}");
    }
    let shown = behind_the_test(&["no, 2 V", "back", "2"]);
    assert!(last(&shown, "SAY").starts_with("Switch off supply 1 of 2"), "{shown}");
    // The known live source has volts too.
    let shown = behind_the_test(&["118 V", "done"]);
    assert!(last(&shown, "AGAIN").starts_with("where was that?"), "{shown}");
    assert!(!shown.contains("Hands out"), "{shown}");
}

#[test]
fn back_does_not_leave_a_lock_out() {
    for count in 4..=BEHIND_THE_TEST.len() {
        let start = [&TO_THE_BREAKER[..], &BEHIND_THE_TEST[..count]].concat();
        let (shown, _) = after(&start, &["back"]);
        assert!(last(&shown, "AGAIN").starts_with("the lock-out goes on"), "{count}:\n{shown}");
        assert!(!shown.contains("taken back"), "{count}:\n{shown}");
    }
}

#[test]
fn what_is_said_of_a_shock_holds_for_a_unit_that_is_locked_off() {
    let (shown, _) =
        after(&[&TO_THE_BREAKER[..], &BEHIND_THE_TEST].concat(), &["done", "he got shocked", "yes"]);
    assert!(!shown.contains("not locked off yet"), "{shown}");
    assert!(shown.contains("another supply feeds it"), "{shown}");
    assert!(last(&shown, "POWER").contains("counts as ON"), "{shown}");
}

#[test]
fn a_wait_that_is_told_shorter_than_it_is_is_not_over() {
    let wait = [&TO_THE_BREAKER[..], &["tripped", "1", "5", "done"]].concat();
    for line in ["2 minutes", "it was off for 3 min", "four minutes"] {
        let (shown, _) = after(&wait, &[line]);
        assert!(last(&shown, "AGAIN").starts_with("the wait is 5 minutes, and"), "{line}:\n{shown}");
        assert!(last(&shown, "SAY").starts_with("Wait 5 minutes"), "{line}:\n{shown}");
    }
    // A number in a sentence is no wait: what is understood is said.
    for line in ["not 10", "in 10 minutes", "not off for 10 minutes", "done, only 3 min"] {
        let (shown, _) = after(&wait, &[line]);
        assert!(
            last(&shown, "AGAIN").contains("type done, when it is over, or how many minutes"),
            "{line}:\n{shown}"
        );
        assert!(last(&shown, "SAY").starts_with("Wait 5 minutes"), "{line}:\n{shown}");
    }
    let (shown, _) = after(&wait, &["it's been off for half an hour"]);
    assert_eq!(last(&shown, "NOTED"), "note: waited 30 minutes, as told");
    assert!(last(&shown, "SAY").starts_with("Take the blower panel off"), "{shown}");
}

/// Off a pipe there is no clock: when the blower was switched off, nothing tells, and the word for the wait counts.
#[test]
fn a_wait_that_is_told_off_a_pipe_counts_whenever_the_blower_was_switched_off() {
    let lines = ["none", "too noisy", "scrapes", "stopped", "115", "other", "1", "5", "done"];
    let (shown, _) = after(&lines, &["3 minutes", "10 minutes"]);
    assert!(last(&shown, "AGAIN").starts_with("the wait is 5 minutes, and 3 minutes passed"), "{shown}");
    assert_eq!(last(&shown, "NOTED"), "note: waited 10 minutes, as told");
}

#[test]
fn a_label_that_asks_for_less_says_what_it_makes_of_the_wait() {
    let asked = [&TO_THE_BREAKER[..], &["tripped", "1"]].concat();
    let (shown, _) = after(&asked, &["1"]);
    assert!(shown.contains("The wait is then 1 minute, by the label, in place of 5 minutes."), "{shown}");
    for label in ["5", "10", "cannot"] {
        assert!(!after(&asked, &[label]).0.contains("by the label"), "{label}");
    }
}

#[test]
fn a_wait_that_is_made_shorter_counts_when_it_is_said_twice() {
    let wait = [&TO_THE_BREAKER[..], &["tripped", "1", "10", "done"]].concat();
    let (long, _) = after(&wait, &[]);
    assert!(last(&long, "SAY").starts_with("Wait 10 minutes"), "{long}");
    for line in ["correct wait for the stored charge 1 min", "tell wait for the stored charge 2 min"] {
        for lines in
            [&[line][..], &[line, "note x", line], &[line, "correct wait for the stored charge 3 min"]]
        {
            let (shown, _) = after(&wait, lines);
            assert!(last(&shown, "SURE").contains("in place of 10 minutes"), "{lines:?}:\n{shown}");
            assert!(!shown.contains("The wait is then"), "{lines:?}:\n{shown}");
            let said = rows(&after(&wait, &[lines, &["2 minutes"]].concat()).0, "AGAIN");
            assert!(said.last().unwrap().starts_with("the wait is 10 minutes"), "{lines:?}: {said:?}");
        }
        let (shown, _) = after(&wait, &[line, line]);
        assert!(shown.contains("by the label, in place of 10 minutes."), "{shown}");
    }
    // Longer is taken at once.
    let (shown, _) = after(&wait, &["correct wait for the stored charge 12 min"]);
    assert!(rows(&shown, "SURE").is_empty(), "{shown}");
}

#[test]
fn a_heading_never_says_dead_or_on_of_what_is_still_to_be_done() {
    let (shown, _) = after(&TO_THE_BREAKER, &["tripped", "1", "5"]);
    let heading = last(&shown, "LOCK-OUT");
    assert!(heading.starts_with("now the unit is made dead: locked out, then tested. For: "), "{heading}");
    let heading = last(&after(&super::TO_A_POWER_STEP, &[]).0, "RESTORE");
    assert!(heading.starts_with("now power is brought back"), "{heading}");
}

#[test]
fn a_further_danger_ends_none_that_was_told_before() {
    for second in ["it just went bang", "danger smoke", "tell danger seen smoke"] {
        let (shown, _) = after(&TO_A_POWER_STEP, &["he hurt his hand", "yes", second, "yes", ""]);
        assert!(note(&shown)[0].contains("someone hurt"), "{second}:\n{shown}");
        assert!(note(&shown)[0].contains("smoke"), "{second}:\n{shown}");
    }
}

#[test]
fn a_wait_told_wrongly_is_taken_back_at_the_next_step() {
    for count in ["1", "2", "cannot"] {
        let wait = [&TO_THE_BREAKER[..], &["tripped", count, "5", "done"]].concat();
        let wait = if count == "2" { [&wait[..], &["done"]].concat() } else { wait };
        let (shown, _) = after(&wait, &["50 minutes", "note oops", "back"]);
        assert_eq!(last(&shown, "NOTED"), "note: taken back: waited 50 minutes, as told");
        // How the lock-out begins anew is nobody's word.
        assert!(rows(&shown, "BACK").is_empty(), "{shown}");
        assert!(last(&shown, "SAY").starts_with("Switch off "), "{count}:\n{shown}");
        let again = if count == "2" {
            &["50 minutes", "back", "done", "done"][..]
        } else {
            &["50 minutes", "back", "done"]
        };
        let (shown, _) = after(&wait, again);
        assert!(last(&shown, "SAY").starts_with("Wait 5 minutes"), "{count}:\n{shown}");
        // One step on, and where nobody told a time, the lock-out goes on.
        for lines in [&["50 minutes", "done", "back"][..], &["done", "back"]] {
            let (shown, _) = after(&wait, lines);
            assert!(last(&shown, "AGAIN").starts_with("the lock-out goes on"), "{lines:?}:\n{shown}");
        }
    }
}

#[test]
fn what_a_caller_takes_back_is_not_offered() {
    let (shown, _) = call(&["none", "tell return air temperature seventy, no, sixty eight"]);
    assert_eq!(last(&shown, "NOTED"), "68 °F, return air temperature (told unasked)");
    let (shown, _) = after(&TO_THE_BREAKER, &["on, sorry, off"]);
    assert_eq!(last(&shown, "NOTED"), "breaker position: off");
    // A denial beside a danger takes none back.
    let (shown, _) = call(&["gas smell, no smoke"]);
    assert!(shown.contains("danger seen: gas smell\n"), "{shown}");
}

#[test]
fn a_number_that_would_be_refused_is_not_offered() {
    let (shown, _) = call(&["none", "tell heat input 80 V", "tell wait for the stored charge 120 V"]);
    let again = rows(&shown, "AGAIN");
    assert!(again[0].ends_with("type a number, in Btu per hour"), "{again:?}");
    assert!(again[1].ends_with("type a number, in minutes"), "{again:?}");
}

#[test]
fn a_note_has_no_reading_that_is_known_otherwise() {
    let (shown, _) =
        call(&["none", "tell live work allowed cannot", "tell filter pressure cannot", "note to send"]);
    let not_read: Vec<&str> = note(&shown).into_iter().filter(|line| line.starts_with("Not read")).collect();
    assert!(not_read.iter().all(|line| !line.contains("live work allowed")), "{not_read:?}");
}

#[test]
fn plain_words_and_sentences_are_answers() {
    for (lines, noted) in [
        (&["tell filter black"][..], "filter condition: dirty (told unasked)"),
        (&["it's a 208 building"], "rated supply of the unit: 208-volt"),
    ] {
        let (shown, _) = after(&["none", "no run"], lines);
        assert_eq!(last(&shown, "NOTED"), noted);
    }
    let (shown, _) = after(&TO_THE_BREAKER, &["it has tripped on us again"]);
    assert_eq!(last(&shown, "NOTED"), "breaker position: tripped");
    let (shown, _) = after(&TO_THE_BREAKER, &["it has not tripped"]);
    assert_eq!(last(&shown, "NOTED"), "motor model: other");
}

#[test]
fn back_takes_back_that_work_is_not_possible() {
    let start = [&TO_THE_BREAKER[..], &["on", "off", "no", "now", "done", "done"]].concat();
    let (shown, _) = after(&start, &["not possible", "back"]);
    assert_eq!(last(&shown, "BACK"), "taken back: switch the supply on: not possible");
    assert!(last(&shown, "WORK").contains("step 3 of"), "{shown}");
    let (shown, _) = after(&start[..7], &["later", "back"]);
    assert_eq!(last(&shown, "BACK"), "taken back: switch the supply on: left for another visit");
    assert!(last(&shown, "SAY").contains("Do it now, or leave it for later?"), "{shown}");
}

#[test]
fn a_stray_voltage_is_not_dead_before_it_falls_to_nothing_under_load() {
    let start = [&TO_THE_BREAKER[..], &BEHIND_THE_TEST[..7]].concat();
    for read in ["0.3 V", "1.2"] {
        let (shown, _) = after(&start, &[read]);
        assert!(last(&shown, "SURE").contains("is not dead yet"), "{shown}");
        assert!(last(&shown, "SAY").contains("low-impedance range"), "{shown}");
        // A word is no reading there, and pages are.
        for word in ["dead", "done", "yes", "back", "how", "why"] {
            let (shown, _) = after(&start, &[read, word]);
            assert!(!shown.contains("Prove the tester again"), "{word}:\n{shown}");
        }
        let (shown, _) = after(&start, &[read, "how", "0 V"]);
        assert!(last(&shown, "HOW").contains("second supply"), "{shown}");
        assert!(last(&shown, "SAY").starts_with("Prove the tester again"), "{shown}");
        assert!(
            rows(&shown, "NOTED").iter().any(|noted| noted.contains("nothing on the low-impedance range"))
        );
        // What stays is live, and so is what nobody could load.
        for (said, end) in [("0.3 V", "NOT DEAD: "), ("24", "NOT DEAD: "), ("cannot", "NOT PROVED DEAD")] {
            let (shown, _) = after(&start, &[read, said, "done", "live", ""]);
            assert!(note(&shown)[0].starts_with(end), "{said}:\n{shown}");
            assert!(
                rows(&shown, "SAY")
                    .contains(&"Hands out of the unit now, and touch nothing in it.".to_owned())
            );
        }
    }
    // What read live is not taken for a stray voltage afterwards.
    let (shown, _) = after(&start, &["118 V", "0.3 V", ""]);
    assert_eq!(last(&shown, "END"), "stop, the unit cannot be proved dead");
}

#[test]
fn why_how_and_help_are_understood_where_supplies_are_counted_again() {
    let start = [&TO_THE_BREAKER[..], &BEHIND_THE_TEST[..7], &["118 V", "back"]].concat();
    for (word, label, said) in
        [("how", "HOW", ""), ("why", "WHY", "found, locked and tested anew"), ("?", "HELP", "a whole number")]
    {
        let (shown, _) = after(&start, &[word, "2"]);
        assert!(last(&shown, label).contains(said) && !last(&shown, label).is_empty(), "{word}:\n{shown}");
        assert!(rows(&shown, "AGAIN").is_empty(), "{word}:\n{shown}");
        assert!(last(&shown, "SAY").starts_with("Switch off supply 1 of 2"), "{word}:\n{shown}");
    }
    let (shown, _) = after(&start, &["note a second breaker"]);
    assert!(last(&shown, "AGAIN").contains("not taken here"), "{shown}");
}

#[test]
fn a_plain_yes_or_no_answers_a_question_of_two_choices() {
    for (said, noted) in [("yes", "made"), ("no", "not made"), ("nope", "not made")] {
        let (shown, _) = after(&TO_THE_BREAKER, &["on", "on", said]);
        assert_eq!(last(&shown, "NOTED"), format!("access panel switch: {noted}"), "{said}");
    }
    // Where it could be either of two, it answers nothing.
    let (shown, _) = after(&TO_THE_BREAKER, &["yes"]);
    assert!(last(&shown, "AGAIN").contains("none of the choices"), "{shown}");
}

#[test]
fn a_whole_sentence_of_what_is_wrong_is_offered_the_nearest_complaints() {
    let (shown, _) = call(&["none", "the blower runs but hardly any air comes out", "4"]);
    let again = last(&shown, "AGAIN");
    assert!(again.contains("Nearest: 4, low airflow (it runs, but too little air comes out"), "{again}");
    assert_eq!(last(&shown, "NOTED"), "complaint: low airflow");
}
