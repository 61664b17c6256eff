//! What keys do: completion, slips, taking back, pasting.

use super::person::{REPAIR, WRONG_LINK, lead};
use super::pty::{ENTER, TAB, Window, read};
use super::{TO_THE_BREAKER, WIDTHS};

#[test]
fn tab_completes_a_choice_a_command_word_and_the_name_of_a_fact() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&["none"]);
        for (typed, line) in [
            ("wrong r", "wrong rotation"),
            ("so", "so far"),
            ("tell filter c", "tell filter condition"),
            ("tell filter condition d", "tell filter condition dirty"),
            ("danger ga", "danger gas smell"),
        ] {
            terminal.keys(typed);
            terminal.holds(typed);
            terminal.keys(TAB);
            terminal.holds(line);
            // Away with the line: Ctrl-U.
            terminal.keys("\u{15}");
            terminal.asked();
        }
        terminal.keys(["wrong l", TAB].concat());
        terminal.enter();
        assert!(terminal.fresh().contains("complaint: wrong link"), "{}", terminal.screen());
    }
}

#[test]
fn a_second_tab_lists_what_the_line_may_become() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&["none"]);
        terminal.keys(["no", TAB, TAB].concat());
        for word in ["no run", "note"] {
            terminal.shows(word);
        }
        terminal.holds("no");
        terminal.line(" run");
        assert!(terminal.fresh().contains("complaint: no run"), "{}", terminal.screen());
    }
}

#[test]
fn a_wrong_unit_and_a_comma_are_refused_and_the_same_question_is_still_asked() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&[]);
        lead(&mut terminal, "in volts");
        for (typed, why) in
            [("118 A", "`118 A` is a current"), ("118,4", "type `118.4`"), ("1180", "is not likely")]
        {
            terminal.line(typed);
            assert!(terminal.fresh().contains(why), "{}", terminal.screen());
            assert!(!terminal.fresh().contains("NOTED"), "{}", terminal.screen());
        }
        terminal.line("0.1184 kV");
        assert!(terminal.fresh().contains("0.1184 kV = 118.4 V"), "{}", terminal.screen());
    }
}

#[test]
fn back_across_a_deed_takes_the_reading_back_and_not_the_deed() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).rows(60).call(&WRONG_LINK);
        lead(&mut terminal, &format!("{REPAIR}: done"));
        terminal.line("back");
        let fresh = terminal.fresh();
        assert!(fresh.contains("taken back"), "{fresh}");
        assert!(fresh.contains("stays done"), "{fresh}");
        terminal.line("so far");
        assert!(terminal.fresh().contains(&format!("DONE {REPAIR}")), "{}", terminal.screen());
    }
}

#[test]
fn correct_puts_an_older_answer_right_and_says_so() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&TO_THE_BREAKER);
        terminal.line("on");
        terminal.line("correct breaker off");
        let fresh = terminal.fresh();
        assert!(fresh.contains("taken back: breaker position: on"), "{fresh}");
        assert!(fresh.contains("breaker position: off"), "{fresh}");
        terminal.line("correct braeker positon on");
        assert!(terminal.fresh().contains("did you mean `breaker position`?"), "{}", terminal.screen());
    }
}

#[test]
fn the_keys_of_an_editor_move_in_the_line_and_in_this_calls_lines() {
    let mut terminal = Window::of(80).call(&["none", "wrnog link"]);
    // Up: the line as it was typed; Ctrl-U and the same word again.
    terminal.keys("\u{1b}[A");
    terminal.holds("wrnog link");
    terminal.keys("\u{15}link\u{1}wrong ");
    terminal.holds("wrong link");
    terminal.enter();
    assert!(terminal.fresh().contains("complaint: wrong link"), "{}", terminal.screen());
}

#[test]
fn a_paste_of_ten_thousand_characters_is_refused_and_the_call_goes_on() {
    // Pasted as such, and as if it were typed: not every terminal tells one from the other.
    for (before, after) in [("\u{1b}[200~", "\u{1b}[201~"), ("", "")] {
        // Among choices, and where a number is asked for.
        for (columns, asked) in [(80, "a number or a word"), (60, "in volts")] {
            let mut terminal = Window::of(columns).call(&[]);
            lead(&mut terminal, asked);
            terminal.keys([before, &"118 ".repeat(2_500), after, ENTER].concat());
            terminal.asks_after("longer than 4000 characters: nothing of it was taken");
            terminal.line("note here");
            assert!(terminal.fresh().contains("note: here"), "{}", terminal.screen());
        }
    }
}

#[test]
fn a_paste_of_several_lines_is_one_line_and_no_answer_by_accident() {
    let mut terminal = Window::of(80).call(&["none"]);
    terminal.keys("\u{1b}[200~no run\r\n115\u{1b}[201~");
    terminal.enter();
    assert!(terminal.fresh().contains("none of the choices"), "{}", terminal.screen());
    terminal.line("wrong link");
    assert!(terminal.fresh().contains("complaint: wrong link"), "{}", terminal.screen());
}

#[test]
fn lines_typed_ahead_are_all_taken() {
    let mut terminal = Window::of(80).call(&[]);
    terminal.keys(TO_THE_BREAKER.map(|line| [line, ENTER].concat()).concat());
    terminal.shows("Does the breaker");
    terminal.asked();
    terminal.line("so far");
    assert!(terminal.fresh().contains("complaint: no run"), "{}", terminal.screen());
}

/// What was pasted answers the step that stands on the screen, and none that came after it.
#[test]
fn lines_typed_ahead_of_a_power_step_are_not_taken_for_it() {
    let mut terminal = Window::of(80).rows(60).call(&WRONG_LINK);
    lead(&mut terminal, "Take the blower panel off");
    read();
    terminal.keys(["done", "done", "dead", "done"].map(|line| [line, ENTER].concat()).concat());
    terminal.shows("Prove your tester on a known live source");
    terminal.asked();
    terminal.line("how");
    assert!(terminal.fresh().contains("A contact tester or meter rated for"), "{}", terminal.screen());
    assert!(!terminal.screen().contains("every pair"), "{}", terminal.screen());
    // The history goes on in spite of it.
    terminal.keys("\u{10}\u{10}");
    terminal.holds("done");
}

#[test]
fn a_paste_of_several_lines_answers_no_power_step() {
    let mut terminal = Window::of(80).rows(60).call(&WRONG_LINK);
    lead(&mut terminal, "Take the blower panel off");
    terminal.keys("\u{1b}[200~done\rdone\u{1b}[201~");
    terminal.enter();
    assert!(terminal.fresh().contains("several lines at once are not taken here"), "{}", terminal.screen());
    terminal.line("done");
    assert!(terminal.fresh().contains("Prove your tester on a known live source"), "{}", terminal.screen());
}

#[test]
fn bytes_that_are_no_text_do_not_end_the_call() {
    let mut terminal = Window::of(80).call(&["none"]);
    terminal.keys(b"no \xff");
    terminal.shows("none of the choices");
    terminal.asked();
    terminal.line("note still here");
    assert!(terminal.fresh().contains("note: still here"), "{}", terminal.screen());
}
