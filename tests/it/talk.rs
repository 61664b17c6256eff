//! `motorwright call` off a pipe: what is asked, what is understood, how it closes.

mod alarm;
mod desk;
mod pages;
mod raw;
mod steps;

use crate::house::{files, root};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Output, Stdio};

/// A call with these lines typed: what it showed, and its exit code.
fn call(lines: &[&str]) -> (String, Option<i32>) {
    typed(&(lines.join("\n") + "\n"), &[])
}

fn typed(input: &str, arguments: &[&str]) -> (String, Option<i32>) {
    let mut child = crate::house::program()
        .arg("call")
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    // A call that has come to its end reads no further: that is no fault.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let Output { status, stdout, .. } = child.wait_with_output().unwrap();
    (String::from_utf8(stdout).unwrap(), status.code())
}

/// A case shown as a call.
fn played(case: &Path) -> (String, Option<i32>) {
    typed("", &["--answers", case.to_str().unwrap()])
}

/// The texts behind a label, wrapped lines joined.
fn rows(shown: &str, label: &str) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    let mut within = false;
    for line in shown.lines() {
        let (word, text) = line.split_at_checked(10).unwrap_or((line, ""));
        if word.trim() == label {
            rows.push(text.to_owned());
            within = true;
        } else if within && word.trim().is_empty() && !text.is_empty() {
            let row = rows.last_mut().unwrap();
            row.push(' ');
            row.push_str(text);
        } else {
            within = false;
        }
    }
    rows
}

fn last(shown: &str, label: &str) -> String {
    rows(shown, label).pop().unwrap_or_else(|| panic!("no {label} in:\n{shown}"))
}

/// What was typed, as shown.
fn echoed(shown: &str) -> Vec<&str> {
    shown.lines().filter_map(|line| line.strip_prefix("       >  ")).collect()
}

/// Without the title, and without what only a person is asked at the end.
fn conversation(shown: &str) -> String {
    let (_, shown) = shown.split_once("\n\n").unwrap();
    let Some((shown, closing)) = shown.split_once("    TYPE  Enter, to close") else {
        return shown.to_owned();
    };
    // What is shown as it closes stands behind the line that was typed.
    let behind = closing.split_once("       >  \n").map_or("", |(_, behind)| behind);
    format!("{shown}{behind}")
}

/// Up to the question where the breaker stands.
const TO_THE_BREAKER: [&str; 4] = ["none", "no run", "115", "other"];
/// Up to the first step of power coming back.
const TO_A_POWER_STEP: [&str; 9] = ["none", "no run", "115", "other", "on", "on", "made", "fan", "no"];

fn after<'l>(start: &[&'l str], lines: &[&'l str]) -> (String, Option<i32>) {
    call(&[start, lines].concat())
}

#[test]
fn a_choice_is_answered_by_number_by_word_and_by_the_start_of_a_word() {
    for word in ["3", "tripped", "Tri"] {
        let (shown, _) = after(&TO_THE_BREAKER, &[word]);
        assert_eq!(last(&shown, "NOTED"), "breaker position: tripped", "{word}");
    }
    let (shown, _) = after(&TO_THE_BREAKER, &["o"]);
    assert_eq!(last(&shown, "AGAIN"), "`o` could be on or off: type more of it");
}

#[test]
fn a_bare_enter_is_never_an_answer() {
    let (shown, _) = call(&[""]);
    assert_eq!(
        last(&shown, "AGAIN"),
        "Enter alone is no answer: type a number or a word; several with commas"
    );
    let (shown, _) = after(&TO_A_POWER_STEP, &[""]);
    assert_eq!(
        last(&shown, "AGAIN"),
        "Enter alone is no answer: type done, or not done; or cannot, to go on without the reading"
    );
}

#[test]
fn a_wrong_unit_and_a_comma_decimal_are_refused_with_what_would_be_understood() {
    let refused =
        |value: &str| last(&call(&["none", &format!("tell line voltage at the unit {value}")]).0, "AGAIN");
    assert_eq!(
        refused("118 A"),
        "line voltage at the unit: `118 A` is a current; a voltage is asked for: if only the unit is wrong, type `118 V`"
    );
    assert!(refused("118,4").contains("type `118.4`"), "{}", refused("118,4"));
    assert!(refused("1180").contains("is not likely"), "{}", refused("1180"));
}

#[test]
fn a_fact_told_unasked_is_shown_back_with_unit_and_name() {
    let (shown, _) = call(&["none", "line voltage at the unit 0.118 kV", "filter dirty"]);
    let noted = rows(&shown, "NOTED");
    assert_eq!(
        noted[1..],
        [
            "0.118 kV = 118 V, line voltage at the unit (told unasked)",
            "filter condition: dirty (told unasked)"
        ]
    );
}

#[test]
fn back_takes_the_newest_answer_back_and_asks_again() {
    let (shown, _) = call(&["none", "no run", "back", "trips"]);
    assert_eq!(last(&shown, "BACK"), "taken back: complaint: no run");
    assert_eq!(rows(&shown, "SAY").iter().filter(|say| say.starts_with("What is wrong")).count(), 2);
    assert_eq!(call(&["back"]).0.matches("nothing has been answered yet").count(), 1);
}

#[test]
fn correct_names_the_fact_in_plain_words_and_offers_near_ones() {
    let (shown, _) = after(&TO_THE_BREAKER, &["on", "correct breaker off", "correct braeker positon on"]);
    assert_eq!(last(&shown, "BACK"), "taken back: breaker position: on");
    assert_eq!(last(&shown, "NOTED"), "breaker position: off");
    assert_eq!(last(&shown, "AGAIN"), "`braeker positon on` names no fact, did you mean `breaker position`?");
}

#[test]
fn what_comes_near_to_one_choice_is_asked_back_and_taken_by_a_yes() {
    for (line, choice) in [("nosiy", "too noisy"), ("weak air", "low airflow")] {
        let (shown, _) = after(&["none"], &[line]);
        let asked = last(&shown, "AGAIN");
        assert!(asked.contains(choice) && asked.ends_with("; or yes, for that one"), "{asked}");
        assert!(!shown.contains("complaint: "), "nothing is taken: {shown}");
        let (shown, _) = after(&["none"], &[line, "why", "yea"]);
        assert!(rows(&shown, "NOTED").contains(&format!("complaint: {choice}")), "{shown}");
        // It holds for the next word only.
        let (shown, _) = after(&["none"], &[line, "none of that", "yes"]);
        assert!(!shown.contains("complaint: "), "{shown}");
    }
    // No danger is taken so, nor anything where yes is an answer of its own.
    let (shown, _) = after(&[], &["shcok", "yes"]);
    assert!(!shown.contains("danger seen: "), "{shown}");
    let (shown, _) = after(&TO_THE_BREAKER, &["no idea"]);
    assert_eq!(last(&shown, "NOTED"), "breaker position: cannot be told");
}

#[test]
fn what_is_denied_is_not_asked_back_as_what_it_denies() {
    for line in ["theres no disconect", "there's no disconnect", "not on"] {
        let (shown, _) = after(&TO_THE_BREAKER, &["on", line, "yes"]);
        let again = rows(&shown, "AGAIN");
        assert!(again[0].contains("none of the choices") && !again[0].contains("for that one"), "{again:?}");
        assert!(!shown.contains("disconnect position: "), "{line}:\n{shown}");
    }
}

#[test]
fn a_plain_no_is_no_start_of_another_word() {
    for lines in [["no", "no"], ["n", "nope"]] {
        let (shown, _) = after(&["none"], &lines);
        assert_eq!(rows(&shown, "AGAIN").len(), 2, "{shown}");
        assert!(!shown.contains("complaint: "), "{shown}");
    }
    assert_eq!(last(&call(&["no"]).0, "NOTED"), "danger seen: none");
    assert_eq!(last(&call(&["none", "no r"]).0, "NOTED"), "complaint: no run");
}

#[test]
fn a_noise_is_asked_back_by_another_end_of_its_word() {
    for line in ["scraping", "grinding"] {
        let (shown, _) = call(&["none", "too noisy", line, "yes"]);
        assert!(last(&shown, "AGAIN").contains("1, scrapes (something scrapes, grinds"), "{shown}");
        assert_eq!(last(&shown, "NOTED"), "noise heard: scrapes", "{line}");
    }
}

#[test]
fn a_comparison_with_a_number_names_no_reading() {
    let (shown, _) = call(&["none", "over 500", "above 500"]);
    assert_eq!(rows(&shown, "NOTED"), ["danger seen: none"], "{shown}");
    for again in rows(&shown, "AGAIN") {
        assert!(again.contains("none of the choices"), "{again}");
    }
}

#[test]
fn cannot_is_an_answer_in_any_spelling() {
    for word in ["cannot", "can't", "cant", "can\u{2019}t tell"] {
        let (shown, _) = after(&TO_THE_BREAKER, &[word]);
        assert_eq!(last(&shown, "NOTED"), "breaker position: cannot be told", "{word}");
    }
}

#[test]
fn a_no_in_the_lock_out_counts_when_it_is_said_twice() {
    let lock_out = [&TO_THE_BREAKER[..], &["tripped", "1", "5"]].concat();
    let (once, _) = after(&lock_out, &["not done"]);
    assert!(last(&once, "SURE").contains("type not done once more"));
    assert!(last(&once, "OPEN").contains("left open"));
    let (twice, code) = after(&lock_out, &["not done", "no", ""]);
    assert_eq!((last(&twice, "END").as_str(), code), ("stop, the unit cannot be proved dead", Some(0)));
}

#[test]
fn two_dangers_that_lead_to_two_ends_are_both_said_ahead_of_the_orders() {
    let (shown, _) = after(&[], &["smoke, and he is hurt", ""]);
    let (before, orders) = shown.split_once("Do this now, in this order").unwrap();
    for said in
        ["LEAVE THE BUILDING", "HELP THE ONE WHO IS HURT", "Somebody who is held by live metal is live"]
    {
        assert!(before.contains(said), "{said}: {shown}");
    }
    let call = rows(orders, "CALL");
    assert!(call[0].contains("fire service") && call[1].contains("ambulance"), "{shown}");
    let (shown, _) = after(&[], &["smoke", ""]);
    assert!(!shown.contains("HELP THE ONE WHO IS HURT") && rows(&shown, "CALL").len() == 2, "{shown}");
}

#[test]
fn danger_is_heard_at_any_prompt_and_comes_first() {
    for start in [&[][..], &["none"], &TO_THE_BREAKER, &TO_A_POWER_STEP] {
        for lines in [&["danger gas smell", ""][..], &["danger", "2", ""], &["danger: gas", ""]] {
            let (shown, code) = after(start, lines);
            assert!(last(&shown, "DANGER").contains("electrical"), "{shown}");
            assert_eq!(rows(&shown, "DANGER")[0], "LEAVE THE BUILDING AND CALL THE EMERGENCY LINE");
            assert_eq!(code, Some(0));
        }
    }
}

#[test]
fn the_end_of_the_input_leaves_the_call_open_and_shows_what_was_read() {
    let (shown, code) = typed("none\nno run", &[]);
    assert_eq!(code, Some(1));
    let (_, open) = shown.split_once("    OPEN").unwrap();
    assert!(
        open.contains("       1  danger seen: none\n       2  complaint: no run (told last)\n"),
        "{open}"
    );
    assert_eq!(typed("", &[]).1, Some(1));
}

#[test]
fn leaving_is_said_and_the_call_is_open() {
    let (shown, code) = call(&["none", "leave", "leave"]);
    assert_eq!((last(&shown, "END").as_str(), code), ("the call was left open", Some(1)));
}

#[test]
fn an_interlock_still_defeated_is_said_at_the_very_end() {
    let live =
        ["done", "done", "done", "done", "no", "yes", "1", "done", "done", "done", "done", "done", "done"];
    let (shown, code) = after(&[&TO_A_POWER_STEP[..], &live].concat(), &["leave", "leave", "leave"]);
    assert_eq!(
        rows(&shown, "LEAVING").len(),
        1,
        "said at once to leave, nothing comes first any more:\n{shown}"
    );
    assert!(last(&shown, "LEAVING").contains("left as it must be"), "{shown}");
    assert!(last(&shown, "WARNING").starts_with("The panel interlock is STILL DEFEATED."));
    assert_eq!(code, Some(1));
}

#[test]
fn no_control_character_reaches_the_terminal() {
    let (shown, _) = call(&["\u{1b}[2J", "note a\u{1b}]0;b\u{7}c\u{202e}d", "no\tne", "tell \u{9b}x"]);
    assert!(!shown.contains(|sign: char| sign.is_control() && sign != '\n'), "{shown:?}");
    assert!(!shown.contains('\u{202e}'));
}

#[test]
fn a_line_over_four_thousand_characters_is_refused_and_the_call_goes_on() {
    let (shown, _) = call(&[&"9".repeat(10_000), "none"]);
    assert!(last(&shown, "AGAIN").contains("longer than 4000 characters"));
    assert_eq!(last(&shown, "NOTED"), "danger seen: none");
}

#[test]
fn no_line_is_wider_than_eighty_columns_on_a_pipe() {
    for case in spread() {
        let (shown, _) = played(&case);
        let widest = shown.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(80), "{}: {widest:?}", case.display());
    }
}

/// Some cases of every folder.
fn spread() -> Vec<PathBuf> {
    let cases = files("cases", "yaml");
    let step = (cases.len() / 16).max(1);
    cases.into_iter().step_by(step).collect()
}

#[test]
fn a_case_is_the_conversation_that_its_answers_make_when_they_are_typed() {
    for case in spread() {
        let (shown, code) = played(&case);
        assert_eq!(code, Some(0), "{}", case.display());
        let (again, _) = call(&[&echoed(&shown)[..], &[""]].concat());
        assert_eq!(conversation(&again), conversation(&shown), "{}", case.display());
    }
}

#[test]
fn a_case_file_that_cannot_be_read_exits_with_two() {
    let (_, code) = played(&root().join("cases/no-such-case.yaml"));
    assert_eq!(code, Some(2));
}
