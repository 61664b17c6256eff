//! What the commands on calls that are kept do, off a pipe: resume, again, calls, show, note, replay --calls.

use crate::house::{program, root};
use std::io::Write as _;
use std::path::Path;
use std::process::{Output, Stdio};
use tempfile::TempDir;

/// A log of a test's own.
struct Log {
    folder: TempDir,
}

impl Log {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// What a command shows with these lines typed, and its exit code; what it complains of comes behind.
    fn says(&self, words: &[&str], lines: &[&str]) -> (String, Option<i32>) {
        let mut child = program()
            .env("MOTORWRIGHT_LOG_TO", self.folder.path().join("calls.db"))
            .args(words)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // One that reads no further has come to its end.
        let _ = child.stdin.take().unwrap().write_all((lines.join("\n") + "\n").as_bytes());
        let Output { status, stdout, stderr } = child.wait_with_output().unwrap();
        let said = String::from_utf8(stdout).unwrap() + &String::from_utf8(stderr).unwrap();
        (said.split_whitespace().collect::<Vec<_>>().join(" "), status.code())
    }

    fn file(&self, name: &str) -> std::path::PathBuf {
        self.folder.path().join(name)
    }
}

/// What is typed until the call offers to fit the 115 volt link, read off a case shown as a call.
fn lines_of(case: &str) -> Vec<String> {
    let case = root().join("cases").join(case);
    let output = program().args(["call", "--answers"]).arg(case).output().unwrap();
    let shown = String::from_utf8(output.stdout).unwrap();
    shown.lines().filter_map(|line| line.strip_prefix("       >  ").map(str::to_owned)).collect()
}

/// A call that leaves its repair for later, on a unit.
fn left_for_later(log: &Log) -> (String, Option<i32>) {
    let lines = lines_of("no-run/panel-hung-on-one-hook.yaml");
    let to_the_work = lines.iter().take_while(|line| *line != "now").map(String::as_str);
    let lines: Vec<&str> = to_the_work.chain(["later", ""]).collect();
    log.says(&["call", "--unit", "job 7"], &lines)
}

#[test]
fn a_call_that_was_cut_off_goes_on_and_asks_what_is_live_anew() {
    let log = Log::new();
    let (said, code) = log.says(&["call"], &["none", "no run", "115"]);
    assert!(said.contains("It is kept as call 1: motorwright resume 1 goes on with it."), "{said}");
    assert_eq!(code, Some(1));
    let (said, _) = log.says(&["resume"], &["none", "other"]);
    assert!(said.contains("Call 1, begun"), "{said}");
    assert!(said.contains("2 complaint: no run") && said.contains("NOTED motor model: other"), "{said}");
    let (said, code) = log.says(&["resume", "7"], &[]);
    assert!(said.contains("there is no call 7") && code == Some(2), "{said}");
}

#[test]
fn a_callback_knows_the_plates_and_begins_with_what_was_left_for_later() {
    let log = Log::new();
    let (said, code) = left_for_later(&log);
    assert!(said.contains("left for another visit") && code == Some(0), "{said}");
    let (said, code) = log.says(&["resume", "1"], &[]);
    assert!(said.contains("has come to its end") && said.contains("motorwright again 1"), "{said}");
    assert_eq!(code, Some(2));
    for words in [["again", "1"].as_slice(), &["call", "--unit", "job 7"]] {
        let (said, _) = log.says(words, &["none", "later", ""]);
        assert!(said.contains("on the unit of call"), "{said}");
        assert!(said.contains("rated supply of the unit"), "{said}");
        let asked = said.find("anyone hurt or ill").unwrap();
        assert!(said[asked..].contains("Do it now, or leave it for later?"), "{said}");
    }
    let (said, _) = log.says(&["call", "--unit", "job 7", "--fresh"], &["none"]);
    assert!(!said.contains("on the unit of call"), "{said}");
}

#[test]
fn what_was_left_for_later_may_have_been_done_since_and_is_proved() {
    let log = Log::new();
    left_for_later(&log);
    let (said, _) = log.says(&["again", "1"], &["none", "it was done yesterday", "now"]);
    assert!(said.contains("TYPE now, or later; already done, to prove it"), "{said}");
    assert!(said.contains("done before this, as said; now it is proved"), "{said}");
    let (_, then) = said.split_once("now it is proved").unwrap();
    assert!(then.contains("RESTORE") && !then.contains("WORK"), "{then}");
    let (account, _) = log.says(&["show", "2"], &[]);
    assert!(account.contains("in call 1 of ") && account.contains("left for this visit"), "{account}");
    // Where nobody left it, a word of yours does it no more than it mends it.
    let lines = lines_of("no-run/panel-hung-on-one-hook.yaml");
    let to_the_work = lines.iter().take_while(|line| *line != "now").map(String::as_str);
    let lines: Vec<&str> = to_the_work.chain(["already done", "later", ""]).collect();
    let (said, _) = log.says(&["call"], &lines);
    assert!(said.contains("AGAIN by what was read here it is still to be done"), "{said}");
}

#[test]
fn calls_are_listed_found_shown_and_noted() {
    let log = Log::new();
    let (said, code) = log.says(&["calls"], &[]);
    assert!(said.contains("No call is kept yet") && code == Some(0), "{said}");
    left_for_later(&log);
    log.says(&["call"], &["none", "wrong rotation", "note the attic <b>is</b> hot"]);
    let (said, _) = log.says(&["calls"], &[]);
    assert!(said.contains("job 7") && said.contains("OPEN at reading"), "{said}");
    let (said, _) = log.says(&["calls", "attic"], &[]);
    assert!(said.contains("wrong rotation") && !said.contains("job 7"), "{said}");
    let (said, _) = log.says(&["calls", "--open", "--json"], &[]);
    let row: serde_json::Value = serde_json::from_str(&said).unwrap();
    assert_eq!((row["number"].as_i64(), row["open"].as_bool()), (Some(2), Some(true)));
    let (said, _) = log.says(&["show", "1"], &[]);
    assert!(said.contains("Call 1 on job 7") && said.contains("left for another visit"), "{said}");
    let (note, _) = log.says(&["note", "2"], &[]);
    assert!(note.starts_with("Left open, last word") && note.contains("the attic <b>is</b> hot"), "{note}");
}

#[test]
fn kept_calls_are_held_against_todays_rules() {
    let log = Log::new();
    let lines = lines_of("no-run/panel-hung-on-one-hook.yaml");
    log.says(&["call"], &lines.iter().map(String::as_str).chain([""]).collect::<Vec<_>>());
    left_for_later(&log);
    log.says(&["call"], &["none"]);
    let (said, code) = log.says(&["replay", "--calls"], &[]);
    assert!(
        said.contains("2 calls that ended: 2 would end where they did, 0 elsewhere; 1 left open"),
        "{said}"
    );
    assert_eq!(code, Some(0));
    // The same rules with one way out changed: the panel is not to be closed any more.
    let other = log.file("rules");
    copy(&root().join("rules"), &other, &|text| {
        text.replace("end: close-access-panel", "end: not-enough-readings")
    });
    let other = other.to_str().unwrap();
    let (said, code) = log.says(&["replay", "--calls", "--rules", other], &[]);
    assert!(said.contains("0 would end where they did, 2 elsewhere"), "{said}");
    assert_eq!(code, Some(1));
    let (said, _) = log.says(&["replay", "--calls", "--json"], &[]);
    assert!(
        said.contains(r#""came_to":["close-access-panel"]"#) && said.contains(r#""same_rules":true"#),
        "{said}"
    );
}

#[test]
fn a_kept_call_becomes_a_case_that_comes_to_the_same() {
    let log = Log::new();
    let lines = lines_of("no-run/panel-hung-on-one-hook.yaml");
    log.says(&["call"], &lines.iter().map(String::as_str).chain([""]).collect::<Vec<_>>());
    let output = program()
        .env("MOTORWRIGHT_LOG_TO", log.file("calls.db"))
        .args(["show", "1", "--as-case"])
        .output()
        .unwrap();
    let case = log.file("call-1.yaml");
    std::fs::write(&case, output.stdout).unwrap();
    let (said, code) = log.says(&["replay", case.to_str().unwrap()], &[]);
    assert!(said.contains("1 case: 1 agrees") && code == Some(0), "{said}");
}

fn copy(from: &Path, to: &Path, change: &dyn Fn(String) -> String) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy(&path, &target, change);
        } else {
            std::fs::write(target, change(std::fs::read_to_string(&path).unwrap())).unwrap();
        }
    }
}

/// A call on a unit that was left in the midst of its lock-out.
fn left_in_a_lock_out(log: &Log) {
    let (said, code) = log
        .says(&["call", "--unit", "job 7"], &["none", "no run", "115", "other", "tripped", "1", "5", "done"]);
    assert!(said.contains("locked off") && code == Some(1), "{said}");
}

#[test]
fn a_second_call_on_a_unit_that_another_has_open_waits_for_a_plain_yes() {
    let log = Log::new();
    left_in_a_lock_out(&log);
    let kept = |log: &Log| log.says(&["calls"], &[]).0.matches("job 7").count();
    for words in
        [["call", "--unit", "job 7"].as_slice(), &["call", "--unit", "job 7", "--fresh"], &["again", "1"]]
    {
        for lines in [["none", "no run"].as_slice(), &["no"], &["how", "?", "leave"]] {
            let (said, code) = log.says(words, lines);
            let (before, _) =
                said.split_once("TYPE yes, to go on with this call").unwrap_or_else(|| panic!("{said}"));
            for part in [
                "WARNING Call 1 on this unit is open, since 2",
                "power NOT proved dead, counts as ON",
                "At its last word, 2",
            ] {
                assert!(before.contains(part), "{part}: {said}");
            }
            assert!(before.contains("WARNING Two people may be at one unit."), "{said}");
            assert!(!said.contains("anyone hurt or ill"), "nothing is asked before the yes: {said}");
            assert_eq!(code, Some(1));
            assert_eq!(kept(&log), 1, "no call was begun");
        }
    }
    let (said, _) = log.says(&["call", "--unit", "job 7"], &["yes", "none", "so far"]);
    assert!(said.contains("Call 2, on the unit of call 1"), "{said}");
    assert!(said.contains("POWER not known, so it counts as live. Panel: not known."), "{said}");
    assert_eq!(kept(&log), 2);
    let (said, _) = log.says(&["call", "--unit", "job 7", "--yes"], &["none"]);
    assert!(!said.contains("Two people") && said.contains("danger seen: none"), "{said}");
}

#[test]
fn danger_said_at_that_question_needs_no_yes() {
    let log = Log::new();
    left_in_a_lock_out(&log);
    let (said, _) = log.says(&["call", "--unit", "job 7"], &["there is a smell of gas", "yes", ""]);
    assert!(said.contains("LEAVE THE BUILDING"), "{said}");
}

#[test]
fn a_call_in_which_nothing_was_touched_keeps_nobody_from_the_next() {
    let log = Log::new();
    log.says(&["call", "--unit", "job 7"], &["none", "no run"]);
    let (said, _) = log.says(&["call", "--unit", "job 7"], &["none"]);
    assert!(said.contains("was left open; to go on with it") && said.contains("danger seen: none"), "{said}");
}

#[test]
fn work_that_was_cut_off_goes_on_at_the_step_that_is_next() {
    let log = Log::new();
    let lines = lines_of("no-run/panel-hung-on-one-hook.yaml");
    let to_the_work = lines.iter().take_while(|line| *line != "now").map(String::as_str);
    let lines: Vec<&str> = to_the_work.chain(["now", "done", "done"]).collect();
    let (said, _) = log.says(&["call"], &lines);
    assert!(said.contains(", step 3 of"), "{said}");
    let (said, _) = log.says(&["resume"], &["none", "back"]);
    assert!(said.contains("Steps 1 to 2 of") && said.contains("Next is step 3, once the unit"), "{said}");
    let (told, shown) = said.split_once("DONE steps 1 to 2, before the call was cut off").unwrap();
    assert!(told.contains("the unit counts as live"), "{said}");
    assert!(!told.contains(", step 1 of") && shown.contains(", step 2 of"), "{said}");
}

#[test]
fn who_may_be_at_a_unit_is_told_from_whichever_call_it_is_gone_on_with() {
    let log = Log::new();
    log.says(&["call", "--unit", "job 7"], &["none", "no run"]);
    left_in_a_lock_out(&log);
    for words in [["again", "1"], ["resume", "1"]] {
        let (said, code) = log.says(&words, &["no"]);
        assert!(said.contains("WARNING Call 2 on this unit is open") && code == Some(1), "{said}");
        assert!(!said.contains("goes on; the last word"), "{said}");
    }
    let (said, _) = log.says(&["resume", "1", "--yes"], &["none"]);
    assert!(said.contains("goes on; the last word") && !said.contains("Two people"), "{said}");
}

#[test]
fn work_that_stopped_half_way_is_told_in_the_note_and_to_the_next_call() {
    let log = Log::new();
    let lines = lines_of("no-run/panel-hung-on-one-hook.yaml");
    let to_the_work = lines.iter().take_while(|line| *line != "now").map(String::as_str);
    let lines: Vec<&str> = to_the_work.chain(["now", "done", "done", "not possible"]).collect();
    log.says(&["call", "--unit", "job 7"], &lines);
    let (note, _) = log.says(&["note", "1"], &[]);
    assert!(note.contains("Begun, NOT finished: ") && note.contains(", 2 of "), "{note}");
    let (said, _) = log.says(&["again", "1"], &["none"]);
    assert!(said.contains("WARNING Call 1 began work and did not finish it"), "{said}");
    assert!(said.contains("WARNING Call 1 left the unit so: "), "{said}");
}

/// A call whose unit could not be proved dead.
fn left_unproved(log: &Log) {
    let lines = ["none", "no run", "115", "other", "tripped", "1", "5", "not done", "not done", ""];
    let (said, code) = log.says(&["call", "--unit", "job 7"], &lines);
    assert!(said.contains("the unit cannot be proved dead") && code == Some(0), "{said}");
}

#[test]
fn a_unit_that_was_not_proved_dead_is_asked_about_and_gets_no_power_before_it_is() {
    let begins = [&["again", "1"][..], &["call", "--unit", "job 7"], &["call", "--unit", "job 7", "--fresh"]];
    for words in begins {
        let log = Log::new();
        left_unproved(&log);
        let (said, _) = log.says(words, &["no", "none", "start up"]);
        let (asked, then) =
            said.split_once("Has that been seen to since, and the unit proved dead?").unwrap();
        assert!(asked.contains("could not be proved dead") && !asked.contains("CALL "), "{said}");
        assert!(then.contains("POWER not proved dead in an earlier call"), "{said}");
        // Whoever is asked nothing has said nothing.
        let (said, _) = log.says(&[words, &["--yes"]].concat(), &["none", "start up"]);
        assert!(said.contains("POWER not proved dead in an earlier call"), "{said}");
        let (said, _) = log.says(words, &["yes", "none", "start up"]);
        assert!(said.contains("seen to: stop, the unit cannot be proved dead (before this call"), "{said}");
        assert!(!said.contains("POWER not proved dead in an earlier call"), "{said}");
        let (said, _) = log.says(words, &["none", "start up"]);
        assert!(!said.contains("Has that been seen to since"), "it was said: {said}");
    }
    let log = Log::new();
    left_unproved(&log);
    // Danger that is told there is told in the call.
    let (said, _) = log.says(&["again", "1"], &["there is a smell of gas", "yes", ""]);
    assert!(said.contains("LEAVE THE BUILDING"), "{said}");
}

#[test]
fn of_several_open_calls_none_is_gone_on_with_for_want_of_a_number() {
    let log = Log::new();
    log.says(&["call", "--unit", "job 7"], &["none", "no run"]);
    log.says(&["call", "--unit", "job 8"], &["none", "wrong rotation"]);
    let (said, code) = log.says(&["resume"], &["none"]);
    assert!(said.contains("2 calls stand open") && code == Some(2), "{said}");
    let (said, _) = log.says(&["resume", "--yes"], &["none"]);
    assert!(said.contains("Call 2 on job 8, begun"), "{said}");
    let (said, _) = log.says(&["resume", "1"], &["none"]);
    assert!(said.contains("Call 1 on job 7, begun"), "{said}");
}

/// A call on a unit whose panel is off and whose interlock is defeated, up to there.
fn open_and_defeated() -> Vec<String> {
    let case = root().join("cases/trips/line-wire-half-eaten-through.yaml");
    let output = program().args(["call", "--answers"]).arg(case).output().unwrap();
    let shown = String::from_utf8(output.stdout).unwrap();
    let (before, _) = shown.split_once("The panel interlock is defeated").unwrap();
    before.lines().filter_map(|line| line.strip_prefix("       >  ").map(str::to_owned)).collect()
}

const DEFEATED: &str = "panel OFF, panel interlock DEFEATED";

#[test]
fn after_danger_the_next_call_is_told_of_it_and_how_the_unit_was_left() {
    let log = Log::new();
    let lines = open_and_defeated();
    let lines: Vec<&str> = lines.iter().map(String::as_str).chain(["he got a shock", "yes", ""]).collect();
    let (said, code) = log.says(&["call", "--unit", "job 7"], &lines);
    assert!(said.contains("DANGER: shock felt") && code == Some(0), "{said}");
    for words in [["again", "1"].as_slice(), &["call", "--unit", "job 7"]] {
        let (said, _) = log.says(words, &["none"]);
        let (_, warning) = said.split_once("left the unit so: ").unwrap_or_else(|| panic!("{said}"));
        let (left, _) = warning.split_once("Locks and tags").unwrap();
        assert!(left.contains("counts as ON") && left.contains(DEFEATED), "{left}");
        assert!(left.contains("danger told: shock felt"), "{left}");
    }
    // The list finds it by how the unit was left, and by the danger; the callbacks left nothing.
    for word in ["defeated", "panel off", "left with", "shock"] {
        let (said, _) = log.says(&["calls", word, "--json"], &[]);
        let row: serde_json::Value = serde_json::from_str(&said).unwrap_or_else(|_| panic!("{word}: {said}"));
        assert_eq!(row["number"], 1, "{word}: {said}");
        assert_eq!(row["left"]["interlock_defeated"], true, "{said}");
    }
    // A newer call that was told of danger and knew nothing of the unit hides none of it.
    log.says(&["call", "--unit", "job 7", "--yes"], &["I smell gas", "yes", ""]);
    let (said, _) = log.says(&["call", "--unit", "job 7"], &["none"]);
    assert!(said.contains("Call 4 left the unit so: ") && said.contains("danger told: gas smell"), "{said}");
    assert!(said.contains("Call 1 left the unit so: ") && said.contains(DEFEATED), "{said}");
    // What is told at the first question, where nothing was touched, is told on as well.
    let log = Log::new();
    log.says(&["call", "--unit", "job 7"], &["I smell gas", "yes", ""]);
    let (said, _) = log.says(&["again", "1"], &["none"]);
    assert!(
        said.contains("Call 1 left the unit so: power not known, panel not known; danger told: gas smell"),
        "{said}"
    );
}

#[test]
fn a_defeated_interlock_is_told_wherever_an_open_call_says_how_the_unit_stood() {
    let log = Log::new();
    let lines = open_and_defeated();
    log.says(&["call", "--unit", "job 7"], &lines.iter().map(String::as_str).collect::<Vec<_>>());
    let ways = [&["call", "--unit", "job 7"][..], &["resume", "1"], &["note", "1"], &["calls", "--open"]];
    for words in ways {
        let (said, _) = log.says(words, &["no"]);
        assert!(said.contains(DEFEATED), "{words:?}: {said}");
    }
}

#[test]
fn what_was_known_of_a_lock_out_outlives_a_call_that_is_taken_up_and_cut_off_at_once() {
    let log = Log::new();
    let lines = ["none", "no run", "115-volt", "tarnhow-a", "tripped", "1"];
    let lock_out = ["done", "done", "done", "done", "dead", "done"];
    let (said, _) = log.says(&["call", "--unit", "job 7"], &[&lines[..], &lock_out].concat());
    assert!(said.contains("locked out and proved dead"), "{said}");
    for _ in 0..2 {
        log.says(&["resume", "1"], &["none"]);
        for words in
            [&["calls", "--open"][..], &["note", "1"], &["call", "--unit", "job 7"], &["resume", "1"]]
        {
            let (said, _) = log.says(words, &["no"]);
            let before = "power not known now, panel OFF; before that: power locked out and proved dead then";
            assert!(said.contains(before), "{words:?}: {said}");
        }
    }
    // It is word of then: here the unit counts as live, and nothing is done in it before it is proved dead anew.
    let (said, _) = log.says(&["resume", "1"], &["none"]);
    assert!(said.contains("POWER not known, so it counts as live"), "{said}");
}

#[test]
fn a_command_that_is_named_finds_the_same_log() {
    let log = Log::new();
    let place = log.file("the desk's log.db");
    let says = |words: &[&str], lines: &[&str]| {
        log.says(&[words, &["--log-to", place.to_str().unwrap()]].concat(), lines).0
    };
    let behind = format!(" --log-to '{}'", place.to_str().unwrap().replace('\'', r"'\''"));
    let said = says(&["call", "--unit", "job 7"], &["none"]);
    assert!(said.contains(&format!("motorwright resume 1{behind} goes on with it")), "{said}");
    let said = says(&["call", "--unit", "job 7"], &["I smell gas", "yes", ""]);
    assert!(said.contains(&format!("to go on with it: motorwright resume 1{behind}.")), "{said}");
    let said = says(&["resume", "2"], &[]);
    assert!(said.contains(&format!("motorwright again 2{behind}")), "{said}");
    let said = says(&["show", "9"], &[]);
    assert!(said.contains(&format!("`motorwright calls{behind}` lists them")), "{said}");
}

#[test]
fn a_unit_whose_name_is_nearly_that_of_another_is_told_of() {
    let log = Log::new();
    log.says(&["call", "--unit", "Job 12-A"], &["none"]);
    let hint = "WARNING No call on Job 12a is kept; on Job 12-A there is one: call 1.";
    let (said, _) = log.says(&["call", "--unit", "Job 12a"], &["none"]);
    assert!(said.contains(hint) && said.contains("motorwright again 1"), "{said}");
    // One of its own, or another number, is no such name.
    for unit in ["JOB 12-a", "Job 12b", "Job 2-A", "-"] {
        let (said, _) = log.says(&["call", "--unit", unit], &["none"]);
        assert!(!said.contains("No call on"), "{unit}: {said}");
    }
}
