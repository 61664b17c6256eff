//! Steps of power and work: what is taken as done, and what is not.

use super::{TO_A_POWER_STEP, TO_THE_BREAKER, after, call, echoed, last, played, rows};
use crate::house::files;

/// Up to the test for dead of a unit with one supply.
const TO_THE_TEST: [&str; 7] = ["tripped", "1", "5", "done", "done", "done", "done"];

fn at_the_test(lines: &[&str]) -> String {
    let start = [&TO_THE_BREAKER[..], &TO_THE_TEST].concat();
    after(&start, lines).0
}

#[test]
fn the_test_for_dead_takes_no_mere_yes() {
    for line in ["done", "yes", "ok"] {
        assert_eq!(last(&at_the_test(&[line]), "AGAIN"), "type dead or live: what does the tester read?");
    }
    for line in ["dead", "0 V", "no voltage", "it reads dead"] {
        let shown = at_the_test(&[line]);
        assert!(last(&shown, "SAY").starts_with("Prove the tester again"), "{line}:\n{shown}");
    }
}

#[test]
fn a_question_answers_no_step() {
    for line in ["is it dead", "dead?", "0?", "nothing?", "cannot?", "live?"] {
        let shown = at_the_test(&[line]);
        assert!(last(&shown, "AGAIN").starts_with("that is a question: type dead, if"), "{line}:\n{shown}");
        assert!(last(&shown, "SAY").starts_with("Test "), "{line}:\n{shown}");
    }
    assert!(last(&at_the_test(&["nothing"]), "AGAIN").contains("type dead, if everything reads dead"));
    // What makes less known needs no mark to be heard.
    assert!(last(&at_the_test(&["is live"]), "SAY").starts_with("Hands out of the unit now"));
    let wait = [&TO_THE_BREAKER[..], &TO_THE_TEST[..4]].concat();
    let work = [&TO_THE_BREAKER[..], &["off", "no", "now"]].concat();
    for start in [&TO_A_POWER_STEP[..], &wait, &work] {
        let (before, _) = after(start, &[]);
        for line in ["ok?", "is it done", "10 minutes?"] {
            let (shown, _) = after(start, &[line]);
            assert!(last(&shown, "AGAIN").starts_with("that is a question: type "), "{line}:\n{shown}");
            assert_eq!(last(&shown, "SAY"), last(&before, "SAY"), "{line}");
        }
        let (shown, _) = after(start, &["how?", "why?", "where?", "?"]);
        assert!(!shown.contains("that is a question"), "{shown}");
    }
}

#[test]
fn live_is_shown_back_and_counts_when_it_is_said_again() {
    let shown = at_the_test(&["118 V"]);
    assert!(last(&shown, "SURE").starts_with("118 V: that is live. Another supply"), "{shown}");
    assert!(last(&shown, "SAY").starts_with("Hands out of the unit now"), "{shown}");
    for first in ["live", "not dead", "it reads live", "118 V", "cannot"] {
        let shown = at_the_test(&[first, "why", "how", "live", ""]);
        assert_eq!(last(&shown, "END"), "stop, the unit cannot be proved dead", "{first}");
        assert_eq!(
            last(&shown, "LEFT"),
            "Locks and tags stay on. Nobody reaches in, and nobody uses the unit."
        );
    }
}

#[test]
fn after_a_live_reading_back_counts_the_supplies_and_locks_out_anew() {
    let shown = at_the_test(&["live", "back", "two"]);
    assert!(rows(&shown, "SAY").iter().filter(|say| say.starts_with("How many separate")).count() == 2);
    assert_eq!(last(&shown, "NOTED"), "2, number of supplies to the unit");
    assert!(last(&shown, "SAY").starts_with("Switch off supply 1 of 2"), "{shown}");
    let shown = at_the_test(&["120", "back", "1"]);
    assert!(last(&shown, "SAY").starts_with("Switch off the unit's supply"), "{shown}");
}

#[test]
fn what_read_live_is_not_dead_for_a_word() {
    let not_yet = "it read live, so no word makes it dead";
    let aside = ["it reads live and sparks", "no", "dead"];
    for lines in [&["120", "dead"][..], &aside, &["120", "why", "0"], &["live", "leave", "note cold", "dead"]]
    {
        let shown = at_the_test(lines);
        assert!(last(&shown, "AGAIN").starts_with(not_yet), "{lines:?}:\n{shown}");
        assert!(!shown.contains("Prove the tester again"), "{lines:?}:\n{shown}");
    }
}

#[test]
fn a_tester_that_fails_is_not_used_again_and_no_word_makes_up_for_it() {
    for (count, behind) in
        [(TO_THE_TEST.len() - 1, &[][..]), (TO_THE_TEST.len(), &[]), (TO_THE_TEST.len(), &["dead"])]
    {
        let start = [&TO_THE_BREAKER[..], &TO_THE_TEST[..count], behind].concat();
        for word in ["not done", "cannot", "fails", "the tester failed"] {
            let (shown, _) = after(&start, &[word]);
            let sure = last(&shown, "SURE");
            assert!(sure.contains("tester") && sure.contains("everything counts as live"), "{sure}");
            assert!(!sure.contains("type done"), "{sure}");
            let (shown, _) = after(&start, &[word, word, ""]);
            assert_eq!(last(&shown, "END"), "stop, the unit cannot be proved dead", "{word}");
        }
    }
    let start = [&TO_THE_BREAKER[..], &TO_THE_TEST, &["dead"]].concat();
    let (shown, _) = after(&start, &["not done", "done"]);
    assert!(last(&shown, "AGAIN").contains("no word makes it dead"), "{shown}");
    let (shown, _) = after(&start, &["not done", "back", "1"]);
    assert!(last(&shown, "SAY").starts_with("Switch off the unit's supply"), "{shown}");
}

#[test]
fn dc_volts_alone_pass_no_test_for_dead() {
    for (line, said) in [
        ("60 V dc", "60 V dc is stored charge"),
        ("50 Vdc", "Wait longer"),
        ("30 Vdc", "ac decides"),
        ("0 V dc", "ac decides"),
    ] {
        let shown = at_the_test(&[line]);
        assert!(last(&shown, "AGAIN").contains(said), "{line}:\n{shown}");
        assert!(!shown.contains("Prove the tester again"), "{line}:\n{shown}");
    }
    assert!(last(&at_the_test(&["30 Vdc", "0 V ac"]), "SAY").starts_with("Prove the tester again"));
}

#[test]
fn cannot_in_a_lock_out_is_no_way_round_it() {
    let lock_out = [&TO_THE_BREAKER[..], &TO_THE_TEST[..3]].concat();
    let (once, _) = after(&lock_out, &["cannot"]);
    assert!(last(&once, "SURE").contains("not proved dead"), "{once}");
    assert!(rows(&once, "TYPE").contains(&"done, or not done".to_owned()), "{once}");
    let (yes, _) = after(&lock_out, &["cannot", "yes"]);
    assert!(last(&yes, "AGAIN").starts_with("yes could be either here"), "{yes}");
    let (twice, _) = after(&lock_out, &["cannot", "can't", ""]);
    assert_eq!(last(&twice, "END"), "stop, the unit cannot be proved dead");
    let (restoring, _) = after(&TO_A_POWER_STEP, &["cannot"]);
    assert_eq!(last(&restoring, "NOTED"), "motor runs: cannot be told");
}

#[test]
fn cautions_are_said_in_full_once_in_a_row() {
    let (shown, _) = after(&TO_A_POWER_STEP, &["note the attic is hot"]);
    let again = last(&shown, "WARNING");
    assert!(again.starts_with("As before: ") && again.len() < 100, "{again}");
    let lock_out = [&TO_THE_BREAKER[..], &["tripped", "2", "5", "done"]].concat();
    assert_eq!(
        last(&after(&lock_out, &[]).0, "DANGER"),
        "As before: Until every source is locked out and tested dead, treat every part as live."
    );
}

/// At the tools, at the people, at the panel, and at the switch: nothing counts as done because power is said to be on.
#[test]
fn power_that_is_said_to_be_on_is_looked_at_and_no_step_is_done_by_it() {
    let restore = [&TO_A_POWER_STEP[..], &[]].concat();
    for (before, said, looked_at) in [
        (&[][..], "the power is already on", "hands out of the unit first"),
        (&["done"], "it is already on", "tell everybody near all the same"),
        (&["done", "done"], "the power is already on", "look only"),
        (&["done", "done", "done"], "it is already on", "is every disconnect and breaker of the unit on"),
    ] {
        let start = [&restore[..], before].concat();
        let say = last(&after(&start, &[]).0, "SAY");
        let (shown, _) = after(&start, &[said]);
        assert!(last(&shown, "AGAIN").contains(looked_at), "{shown}");
        assert_eq!(last(&shown, "SAY"), say, "{said}");
        assert_ne!(last(&after(&start, &[said, "done"]).0, "SAY"), say, "looked at, it is done");
    }
    // What is on is not off, and a panel that is on is not taken off.
    let lock_out = [&TO_THE_BREAKER[..], &["tripped", "1", "5"]].concat();
    for (before, said) in [(&[][..], "it's on"), (&[], "already on"), (&["done", "20 minutes"], "it's on")] {
        let start = [&lock_out[..], before].concat();
        let say = last(&after(&start, &[]).0, "SAY");
        let (shown, _) = after(&start, &[said]);
        assert_eq!((last(&shown, "SAY"), rows(&shown, "AGAIN").len()), (say, 1), "{shown}");
    }
}

#[test]
fn back_in_a_piece_of_work_goes_one_step_back() {
    let work = [&TO_THE_BREAKER[..], &["off", "no", "now"]].concat();
    let (shown, _) = after(&work, &["done", "back", "back"]);
    let steps: Vec<String> = rows(&shown, "WORK").into_iter().filter(|row| row.contains(", step ")).collect();
    assert!(steps[0].contains("step 1 of") && steps[1].contains("step 2 of"), "{steps:?}");
    assert!(steps[2].contains("step 1 of"), "{steps:?}");
    assert_eq!(last(&shown, "BACK"), "taken back: switched off for its trips: no");
}

/// Live work on a unit with one supply: the panel comes off a unit that is on.
const OPENED: [&str; 7] = ["done", "done", "done", "done", "no", "yes", "1"];

#[test]
fn a_routine_that_switches_off_first_says_so_and_where_the_power_stands() {
    let start = [&TO_A_POWER_STEP[..], &OPENED].concat();
    let (shown, _) = after(&start, &["done", "done", "done", "done"]);
    let change = rows(&shown, "CHANGE");
    assert!(change[0].starts_with("off first, then on again with the panel off"), "{change:?}");
    assert!(
        change[1..].iter().all(|row| row.ends_with("supply switched off, not proved dead")),
        "{change:?}"
    );
    assert!(change.len() > 3, "{change:?}");
    assert!(rows(&shown, "POWER").iter().any(|row| row.starts_with("supply switched off, not proved dead")));
}

#[test]
fn a_reading_on_leads_is_read_on_their_ends() {
    let ends = "Read it on what is led out and tagged. The panel stays on, and nobody opens it.";
    let case = files("cases", "yaml")
        .into_iter()
        .find(|case| rows(&played(case).0, "LEADS").contains(&ends.to_owned()));
    let (shown, _) = played(&case.unwrap());
    let typed = echoed(&shown);
    let (before, _) = shown.split_once("   LEADS  Read it").unwrap();
    let (asked, _) = call(&[&typed[..echoed(before).len()], &["how"]].concat());
    assert_eq!(rows(&asked, "LEADS").iter().filter(|row| *row == ends).count(), 2, "{asked}");
}

#[test]
fn a_reading_typed_at_a_step_is_told_how_it_is_told() {
    let (shown, _) = after(&TO_A_POWER_STEP, &["118 V"]);
    assert!(last(&shown, "AGAIN").contains("tell line voltage at the unit 118 V"), "{shown}");
    let open = [&TO_A_POWER_STEP[..], &OPENED].concat();
    let (shown, _) = after(&open, &["118"]);
    let again = last(&shown, "AGAIN");
    assert!(
        again.contains("is a reading") && again.contains("To tell it, type: tell line voltage"),
        "{again}"
    );
}

#[test]
fn one_digit_at_a_step_is_no_reading() {
    let consent = [&TO_THE_BREAKER[..], &["off", "no"]].concat();
    let open = [&TO_A_POWER_STEP[..], &OPENED].concat();
    for (start, words) in [
        (&TO_A_POWER_STEP[..], "done, or not done"),
        (&open, "done, or not done"),
        (&consent, "now, or later"),
    ] {
        for digit in ["1", "2."] {
            let (shown, _) = after(start, &[digit]);
            let again = last(&shown, "AGAIN");
            assert!(again.starts_with(&format!("`{digit}` is not understood here: type {words}")), "{again}");
            assert!(!again.contains("tell"), "{again}");
        }
    }
}

#[test]
fn answers_are_understood_as_they_are_spoken() {
    let (shown, _) = after(&["none", "no run"], &["120V", "other", "it's on"]);
    assert_eq!(
        rows(&shown, "NOTED")[2..],
        ["rated supply of the unit: 115-volt", "motor model: other", "breaker position: on"]
    );
    // A loose word changes nothing that was told, and does not change by itself; but what holds power off is taken.
    let loose = ["tell place of the filter behind the panel", "the place of the filter is outside", "so far"];
    let (shown, _) = after(&TO_THE_BREAKER, &loose);
    assert!(
        last(&shown, "AGAIN").starts_with("nothing is changed: place of the filter was told to be behind"),
        "{shown}"
    );
    let (shown, _) = after(&TO_THE_BREAKER, &["tell connectors sound", "the connectors are burnt"]);
    assert_eq!(last(&shown, "NOTED"), "condition of the plugs: burnt (told unasked)");
    let (shown, _) = after(&TO_A_POWER_STEP, &["okay", "yep", "done", "already", "nope"]);
    assert_eq!(last(&shown, "NOTED"), "motor runs: no");
    let (shown, _) = after(&TO_THE_BREAKER, &["tripped", "just the one"]);
    assert_eq!(last(&shown, "NOTED"), "1, number of supplies to the unit");
    let (shown, _) =
        after(&TO_THE_BREAKER, &["tell line voltage at the unit one eighteen", "tell panel off"]);
    let noted = rows(&shown, "NOTED");
    assert!(noted.contains(&"118 V, line voltage at the unit (told unasked)".to_owned()), "{noted:?}");
    assert_eq!(last(&shown, "NOTED"), "access panel switch: not made (told unasked)");
}

#[test]
fn correct_alone_shows_how_it_is_written() {
    let (shown, _) = after(&TO_THE_BREAKER, &["correct"]);
    assert!(last(&shown, "AGAIN").contains("correct breaker position on"));
    let (shown, _) = after(&TO_THE_BREAKER, &["not sure"]);
    assert!(!last(&shown, "AGAIN").contains("meant"), "{shown}");
}
