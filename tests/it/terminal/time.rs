//! Work and waits that take their time, by the clock of the conversation and of the record.

use super::person::lead;
use super::pty::{ENTER, Window};
use crate::house::{program, root};
use std::io::Write as _;
use std::process::Stdio;

/// What is typed in a case that is shown as a call.
fn typed(case: &str) -> Vec<String> {
    let output = program().args(["call", "--answers"]).arg(root().join("cases").join(case)).output().unwrap();
    let shown = String::from_utf8(output.stdout).unwrap();
    shown.lines().filter_map(|line| line.strip_prefix("       >  ").map(str::to_owned)).collect()
}

#[test]
fn a_step_that_takes_a_minute_is_asked_about_once_where_it_is_done_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db").display().to_string();
    // Left for later off a pipe, which has no clock; the callback begins with it.
    let lines = typed("wrong-rotation/came-off-the-neighbours-furnace.yaml");
    let to_the_work = lines.iter().take_while(|line| *line != "now").map(String::as_str);
    let input =
        to_the_work.chain(["later", "done", "done", "done", "done", ""]).collect::<Vec<_>>().join("\n");
    let mut child = program()
        .env("MOTORWRIGHT_LOG_TO", &log)
        .arg("call")
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    assert!(child.wait().unwrap().success());
    let again = Window::by_shell(80, "exec $0 again 1").rows(60).env("MOTORWRIGHT_LOG_TO", &log);
    let mut terminal = again.call(&["none", "now"]);
    for _ in 0..30 {
        if terminal.fresh().contains("for the whole first minute") {
            terminal.line("done");
            let asked = terminal.fresh();
            assert!(asked.contains("this step takes 1 minute, and only"), "{asked}");
            terminal.line("done");
            assert!(terminal.fresh().contains("Watch or listen"), "{}", terminal.screen());
            return;
        }
        terminal.line("done");
    }
    panic!("no such step:\n{}", terminal.screen());
}

#[test]
fn power_that_came_on_before_the_call_was_left_is_not_forgotten() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db").display().to_string();
    let mut terminal = Window::of(80).rows(60).env("MOTORWRIGHT_LOG_TO", &log).call(&[]);
    lead(&mut terminal, "Does the motor run");
    terminal.line("leave");
    terminal.keys(["leave", ENTER].concat());
    assert_eq!(terminal.ended(), Some(1));
    let mut terminal =
        Window::by_shell(80, "exec $0 resume").rows(60).env("MOTORWRIGHT_LOG_TO", &log).call(&[]);
    // Leaving is asked about anew, though somebody left before.
    terminal.line("leave");
    assert!(terminal.fresh().contains("type leave once more"), "{}", terminal.screen());
    // Nothing is powered before the dead tests: this conversation puts no power on.
    terminal.line("none");
    terminal.line("tell breaker position tripped");
    lead(&mut terminal, "with everything locked off");
    terminal.line("90 minutes");
    assert!(
        terminal.fresh().contains("the unit was live by the record of its calls"),
        "{}",
        terminal.screen()
    );
}

/// The first word on the wait is doubted as any later one, where a call before this one had the unit live.
#[test]
fn a_wait_is_no_longer_than_since_an_earlier_call_had_the_unit_live() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db").display().to_string();
    let first = Window::by_shell(80, "exec $0 call --unit 'job 7'").rows(60);
    let mut terminal = first.env("MOTORWRIGHT_LOG_TO", &log).call(&[]);
    lead(&mut terminal, "Does the motor run");
    terminal.line("leave");
    terminal.keys(["leave", ENTER].concat());
    assert_eq!(terminal.ended(), Some(1));
    for begin in ["again 1 --yes", "call --unit 'job 7' --yes --fresh"] {
        let line = format!("exec $0 {begin}");
        let mut terminal =
            Window::by_shell(80, &line).rows(60).env("MOTORWRIGHT_LOG_TO", &log).call(&["none", "no run"]);
        terminal.line("tell breaker position tripped");
        lead(&mut terminal, "with everything locked off");
        terminal.line("90 minutes");
        let fresh = terminal.fresh();
        assert!(fresh.contains("the unit was live by the record of its calls"), "{begin}: {fresh}");
    }
}

#[test]
fn an_answer_that_takes_its_time_is_taken_before_it_by_a_plain_yes_only() {
    let mut terminal = Window::of(80).rows(60).call(&[]);
    let shown = lead(&mut terminal, "Does the motor run");
    assert!(shown.contains("no takes 2 minutes: not before "), "{shown}");
    terminal.line("no");
    let asked = terminal.fresh();
    assert!(asked.contains("that takes 2 minutes, and it was asked for"), "{asked}");
    assert!(asked.contains("Have 2 minutes passed all the same"), "{asked}");
    for line in ["maybe", "done", "2 minutes"] {
        terminal.line(line);
        assert!(terminal.fresh().contains("AGAIN"), "{line}: {}", terminal.screen());
    }
    terminal.line("no");
    assert!(terminal.fresh().contains("Does the motor run"), "{}", terminal.screen());
    assert!(!terminal.fresh().contains("motor runs: no"), "{}", terminal.screen());
    terminal.line("no");
    terminal.line("yes");
    assert!(terminal.fresh().contains("motor runs: no"), "{}", terminal.screen());
}

#[test]
fn an_answer_that_can_be_told_at_once_is_taken_at_once() {
    let mut terminal = Window::of(80).rows(60).call(&[]);
    lead(&mut terminal, "Does the motor run");
    terminal.line("yes");
    assert!(terminal.fresh().contains("motor runs: yes"), "{}", terminal.screen());
}

#[test]
fn the_first_time_that_is_told_for_the_wait_is_doubted_where_the_lock_out_was_only_just_begun() {
    let mut terminal =
        Window::of(80).rows(60).call(&["none", "no run", "115", "other", "tripped", "1", "5", "done"]);
    terminal.line("90 minutes");
    let asked = terminal.fresh();
    assert!(asked.contains("The lock-out was begun in this call at"), "{asked}");
    terminal.line("no");
    assert!(terminal.fresh().contains("with everything locked off"), "{}", terminal.screen());
    terminal.line("90 minutes");
    terminal.line("yes");
    assert!(terminal.fresh().contains(", as told"), "{}", terminal.screen());
}

/// What was switched off in this call ran until then: no word makes it off for longer.
#[test]
fn a_blower_that_was_switched_off_in_this_call_was_live_until_it_was_told() {
    let told = ["none", "too noisy", "scrapes", "stopped", "115", "other", "1", "5", "done"];
    let mut terminal = Window::of(80).rows(60).call(&told);
    assert!(terminal.fresh().contains("with everything locked off"), "{}", terminal.screen());
    for line in ["90 minutes", "it has been off for 5 minutes"] {
        terminal.line(line);
        let refused = terminal.fresh();
        assert!(refused.contains("the unit was live in this call less than a minute ago"), "{refused}");
        assert!(refused.contains("5 minutes to go, until "), "{refused}");
        assert!(!refused.contains("all the same"), "{refused}");
    }
    terminal.line("yes");
    assert!(terminal.fresh().contains("the wait is 5 minutes"), "{}", terminal.screen());
}
