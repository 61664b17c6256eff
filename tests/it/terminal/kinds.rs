//! Terminals of every kind: dumb, without colour, pulled wider, gone.

use super::person::lead;
use super::pty::{ENTER, Terminal, Window, flat};
use super::{TO_THE_BREAKER, WIDTHS};
use crate::house::root;

/// The sequences that set colour or weight.
fn styles(terminal: &Terminal) -> Vec<String> {
    let raw = terminal.raw();
    let sequences = raw.split("\u{1b}[").skip(1);
    let ends = |sequence: &str| sequence.find(|sign: char| sign.is_ascii_alphabetic());
    sequences
        .filter_map(|sequence| Some(&sequence[..=ends(sequence)?]))
        .filter(|sequence| sequence.ends_with('m'))
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_dumb_terminal_gets_plain_lines() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).env("TERM", "dumb").call(&TO_THE_BREAKER);
        assert!(terminal.fresh().contains("breaker"), "{}", terminal.screen());
        assert!(!terminal.raw().contains('\u{1b}'), "{:?}", terminal.raw());
        assert!(!terminal.breaks_a_line(), "{}", terminal.screen());
        // The line that was typed stands there once.
        assert_eq!(
            terminal.screen().matches("> other").count() + terminal.screen().matches(">  other").count(),
            1
        );
        terminal.line(&"9".repeat(4_050));
        assert!(terminal.fresh().contains("longer than 4000 characters"), "{}", terminal.screen());
        terminal.line("leave");
        terminal.keys(["leave", ENTER].concat());
        assert_eq!(terminal.ended(), Some(1));
    }
}

#[test]
fn a_closed_standard_input_leaves_the_call_open_at_once() {
    for line in ["exec $0 call </dev/null", "exec $0 call <&-"] {
        for columns in WIDTHS {
            let mut terminal = Window::by_shell(columns, line).open();
            assert_eq!(terminal.ended(), Some(1), "{line}");
            assert!(flat(&terminal.screen()).contains("the call is left open"), "{}", terminal.screen());
        }
    }
}

#[test]
fn colour_is_there_and_no_color_takes_it_away() {
    let mut with = Window::of(80).call(&[]);
    lead(&mut with, "WARNING");
    assert!(styles(&with).iter().any(|style| style.contains("31")), "{:?}", styles(&with));
    for (name, value) in [("NO_COLOR", "1"), ("TERM", "dumb")] {
        let mut without = Window::of(80).env(name, value).call(&[]);
        lead(&mut without, "WARNING");
        assert_eq!(styles(&without), Vec::<String>::new(), "{name}");
        assert_eq!(flat(&without.screen()), flat(&with.screen()), "{name}");
    }
}

#[test]
fn findings_are_in_colour_on_a_terminal_and_no_color_takes_it_away() {
    let checked = |name: &str, value: &str| {
        let line = format!(
            "exec $0 check {}/tests/it/wrong/cases/a_current_in_place_of_a_voltage.yaml",
            root().display()
        );
        let mut terminal = Window::by_shell(80, &line).env(name, value).open();
        assert_eq!(terminal.ended(), Some(1));
        (styles(&terminal), flat(&terminal.screen()))
    };
    let (with, screen) = checked("LANG", "C");
    assert!(
        with.iter().any(|style| style.contains("31")) && screen.contains("no call can be made"),
        "{with:?}"
    );
    for name in ["NO_COLOR", "TERM"] {
        assert_eq!(checked(name, "dumb"), (Vec::new(), screen.clone()), "{name}");
    }
}

#[test]
fn a_window_pulled_to_another_width_wraps_what_comes_to_it() {
    for (first, then) in [(80, 60), (60, 100), (80, 44)] {
        let mut terminal = Window::of(first).rows(50).call(&["none"]);
        terminal.keys("wrong l");
        terminal.holds("wrong l");
        terminal.resize(50, then);
        terminal.line("ink");
        assert!(terminal.fresh().contains("complaint: wrong link"), "{}", terminal.screen());
        terminal.line("help");
        let screen = terminal.screen();
        assert!(!terminal.breaks_a_line(), "{first} to {then}:\n{screen}");
        let help = screen.rsplit_once("help\n").unwrap().1;
        let widest = help.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= usize::from(then), "{first} to {then}:\n{help}");
        assert!(then < first || widest > usize::from(first), "{first} to {then}:\n{help}");
    }
}
