//! Ways out of a call, meant and not meant.

use super::person::lead;
use super::pty::{CTRL_C, CTRL_D, ENTER, Window, flat, read};
use super::{DEFEATED, TO_THE_BREAKER, WIDTHS};

#[test]
fn ctrl_c_leaves_the_call_where_it_is() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&TO_THE_BREAKER);
        terminal.keys("trip");
        terminal.holds("trip");
        terminal.send(CTRL_C);
        assert!(terminal.fresh().contains("call is still here"), "{}", terminal.screen());
        terminal.send(CTRL_C);
        terminal.line("on");
        assert!(terminal.fresh().contains("breaker position: on"), "{}", terminal.screen());
    }
}

#[test]
fn ctrl_d_leaves_the_call_open_and_shows_what_was_read() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&TO_THE_BREAKER);
        // A slip of the hand, and a line in between: it has to come twice in a row.
        terminal.send(CTRL_D);
        assert!(terminal.fresh().contains("Ctrl-D once more leaves it open"), "{}", terminal.screen());
        terminal.line("note still here");
        terminal.send(CTRL_D);
        terminal.keys(CTRL_D);
        assert_eq!(terminal.ended(), Some(1));
        let screen = flat(&terminal.screen());
        let open = screen.split_once("left open").unwrap_or_else(|| panic!("{screen}")).1;
        for known in ["danger seen: none", "complaint: no run", "rated supply of the unit: 115-volt"] {
            assert!(open.contains(known), "{known}: {open}");
        }
        assert!(!terminal.breaks_a_line(), "{}", terminal.screen());
    }
}

#[test]
fn ctrl_d_on_a_line_begun_ends_nothing() {
    let mut terminal = Window::of(80).call(&TO_THE_BREAKER);
    terminal.keys("on");
    terminal.holds("on");
    terminal.keys(CTRL_D);
    terminal.enter();
    assert!(terminal.fresh().contains("breaker position: on"), "{}", terminal.screen());
}

#[test]
fn ctrl_d_with_the_interlock_defeated_says_so_last() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&[]);
        lead(&mut terminal, DEFEATED);
        terminal.send(CTRL_D);
        assert!(!terminal.fresh().contains("live and open"), "not live yet: {}", terminal.screen());
        terminal.keys(CTRL_D);
        assert_eq!(terminal.ended(), Some(1));
        let screen = flat(&terminal.screen());
        let last = screen.split_once("STILL DEFEATED").unwrap_or_else(|| panic!("{screen}")).1;
        assert!(last.contains("qualified person restores it"), "{screen}");
    }
}

#[test]
fn ctrl_d_on_a_unit_live_and_open_says_to_switch_off_first() {
    let mut terminal = Window::of(80).call(&[]);
    lead(&mut terminal, "the unit is live. Panel: off");
    terminal.send(CTRL_D);
    assert!(terminal.fresh().contains("supply switched off first"), "{}", terminal.screen());
    terminal.keys(CTRL_D);
    assert_eq!(terminal.ended(), Some(1));
}

#[test]
fn leaving_with_the_interlock_defeated_leads_to_it_first() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&[]);
        lead(&mut terminal, DEFEATED);
        terminal.line("leave");
        assert!(terminal.fresh().contains("type leave once more"), "{}", terminal.screen());
        terminal.line("leave");
        assert!(terminal.fresh().contains("left as it must be"), "{}", terminal.screen());
        let mut seen = terminal.fresh();
        while !seen.contains("Restore the panel interlock") {
            assert!(seen.contains("not done"), "{}", terminal.screen());
            terminal.line("done");
            seen = terminal.fresh();
        }
        // And at once, if it has to be.
        read();
        terminal.keys(["leave", ENTER].concat());
        assert_eq!(terminal.ended(), Some(1));
        let screen = flat(&terminal.screen());
        assert!(screen.contains("STILL DEFEATED. Nobody may use the unit"), "{screen}");
    }
}

#[test]
fn danger_in_the_middle_comes_first_and_short() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&[]);
        lead(&mut terminal, "being locked out");
        terminal.line("danger gas smell");
        // All of it in a small window: what has scrolled off is not seen.
        let fresh = flat(&terminal.screen());
        let (before, after) = fresh.split_once("LEAVE THE BUILDING").unwrap_or_else(|| panic!("{fresh}"));
        assert!(before.trim_end().ends_with("DANGER"), "{fresh}");
        assert!(after.contains("emergency line"), "{fresh}");
        assert!(!terminal.breaks_a_line(), "{}", terminal.screen());
        terminal.keys(ENTER);
        assert_eq!(terminal.ended(), Some(0));
        assert!(flat(&terminal.screen()).contains("DANGER: gas smell, told at: "), "{fresh}");
    }
}

#[test]
fn help_for_the_injured_stands_whole_in_a_small_window() {
    let mut terminal = Window::of(80).call(&[]);
    lead(&mut terminal, "being locked out");
    terminal.line("he's collapsed");
    assert!(terminal.fresh().contains("I heard: someone hurt"), "{}", terminal.screen());
    terminal.line("yes");
    let screen = flat(&terminal.screen());
    for text in
        ["HELP THE ONE WHO IS HURT", "Do not touch them", "ambulance now", "begin CPR", "Enter, to close"]
    {
        assert!(screen.contains(text), "{text} is off the screen: {screen}");
    }
    assert!(!screen.contains("gas"), "{screen}");
}
