//! Lists of calls: what is found, and what cannot be asked for.

use super::places::{execute, left_open, refused};
use super::{on, said};
use std::path::Path;

/// Three calls: about noise, about no run with a remark, and one that was dropped at the first question.
fn desk(log: &Path) {
    left_open(log, &["none", "too noisy", "shakes"]);
    left_open(log, &["none", "no run", "note the dog sleeps on it"]);
    left_open(log, &[]);
}

/// The numbers of the calls that a list shows.
fn listed(log: &Path, words: &[&str]) -> Vec<i64> {
    let (told, code) = said(on(log).args(["calls", "--json"]).args(words));
    assert_eq!(code, Some(0), "{told}");
    let number =
        |line: &str| serde_json::from_str::<serde_json::Value>(line).unwrap()["number"].as_i64().unwrap();
    told.lines().map(number).collect()
}

#[test]
fn a_call_is_found_by_what_was_answered_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    desk(&log);
    for (words, found) in [
        (&["shakes"][..], &[1][..]),
        // As it was said aloud, in any case; and beside a word that stands elsewhere.
        (&["SHAKE"], &[1]),
        (&["shakes", "too"], &[1]),
        (&["shakes", "dog"], &[]),
        (&["dog"], &[2]),
        (&["no run"], &[2]),
        // What was asked and never answered.
        (&["hums"], &[]),
        (&["nowhere in any rule"], &[]),
        (&["shakes", "--open"], &[1]),
        (&["--open"], &[3, 2, 1]),
    ] {
        assert_eq!(listed(&log, words), found, "{words:?}");
    }
    assert_eq!(listed(&log, &["none", "--most", "1"]), [2], "the newest of two that told no danger");
}

#[test]
fn days_that_hold_no_call_and_a_list_of_none_are_told_to_be_so() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    desk(&log);
    for command in ["calls", "report"] {
        for before in ["2026-10-31", "2026-11-01"] {
            let told = refused(on(&log).args([command, "--since", "2026-11-01", "--before", before]));
            assert!(told.contains("--since takes the earlier day"), "{told}");
        }
        assert_eq!(
            said(on(&log).args([command, "--since", "2026-11-01", "--before", "2026-11-02"])).1,
            Some(0)
        );
    }
    let told = refused(on(&log).args(["calls", "--most", "0"]));
    assert!(told.contains("a whole number from 1 on") && told.contains("--all"), "{told}");
}

#[test]
fn plainly_every_line_begins_with_its_word() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    desk(&log);
    for (command, words) in
        [("calls", &["CALL"][..]), ("report", &["REPORT", "COMPLAINT", "ENDING", "LEFT AT", "COUNTED"])]
    {
        let (told, code) = said(on(&log).args([command, "--plain"]));
        assert_eq!(code, Some(0), "{told}");
        for line in told.lines() {
            assert!(words.iter().any(|word| line.starts_with(&format!("{word}: "))), "{line}");
        }
        for word in words {
            assert!(told.contains(&format!("{word}: ")), "{word}: {told}");
        }
    }
    let (told, _) = said(on(&log).arg("report"));
    assert!(told.contains("left before the first answer: 1 call."), "{told}");
    assert!(told.starts_with("2 calls, ") && told.contains("Left open: 2"), "{told}");
}

#[test]
fn a_call_is_not_found_by_what_else_might_have_been_answered() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    // Where it stands at on, no fuse shows blown: that is what the choice means, and no word of the call's.
    left_open(&log, &["none", "no run", "tell disconnect position on"]);
    left_open(&log, &["none", "no run", "tell control fuse blown"]);
    left_open(&log, &["none", "too noisy", "shakes", "back"]);
    assert_eq!(listed(&log, &["disconnect", "on"]), [1]);
    assert_eq!(listed(&log, &["fuse"]), [2]);
    assert_eq!(listed(&log, &["shakes"]), [0; 0], "it was taken back");
}

/// Answers on the way into a lock-out, up to the panel that is off.
const INTO_IT: [&str; 9] =
    ["none", "no run", "115-volt", "tarnhow-a", "tripped", "1", "done", "done", "done"];

#[test]
fn an_open_call_tells_how_it_left_the_unit() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    left_open(&log, &["none", "no run"]);
    left_open(&log, &INTO_IT);
    let told = || {
        let (plain, code) = said(on(&log).args(["calls", "--open", "--plain"]));
        assert_eq!(code, Some(0), "{plain}");
        let (json, _) = said(on(&log).args(["calls", "--open", "--json"]));
        let rows = json.lines().map(|line| serde_json::from_str::<serde_json::Value>(line).unwrap());
        (plain, rows.map(|row| row["left"].clone()).collect::<Vec<_>>())
    };
    let first = told();
    let (plain, json) = &first;
    let lines: Vec<&str> = plain.lines().collect();
    assert!(lines[0].contains("; left with power NOT proved dead, counts as ON, panel OFF"), "{plain}");
    assert!(!lines[1].contains("left with"), "{plain}");
    assert_eq!(json[0], serde_json::json!({"power": "counts-as-live", "panel": "off"}));
    assert_eq!(json[1], serde_json::json!({"power": "not-known", "panel": "not-known"}));
    // An older program left that out: it is made good.
    execute(&log, "UPDATE calls SET summary = json_remove(summary, '$.left')");
    assert_eq!(told(), first);
}
