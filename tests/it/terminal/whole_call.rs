//! A whole call, led by somebody who reads nothing but a small window.

use super::WIDTHS;
use super::person::{END, REPAIR, WRONG_LINK, lead};
use super::pty::{ENTER, Window};

/// The moments of a call that finds the unit live, up to a wait that no word shortens.
const LIVE_FIRST: [&str; 17] = [
    "What is wrong with the unit",
    "complaint: no run",
    "rated supply of the unit: 115-volt",
    "breaker position: on",
    "Panel: on",
    "unit is live",
    "motor runs: no",
    "live work allowed: yes",
    "Panel: off",
    "DANGER Live parts and a moving wheel",
    "Defeat the panel interlock",
    "WARNING The panel interlock is defeated",
    "Touch only meter and insulated leads",
    "DANGER Until every source is locked out",
    "Qualified person only",
    "the wait is 5 minutes",
    WAS_ON,
];
/// The moments of a call that locks out first, up to its proof.
const LOCKED_FIRST: [&str; 14] = [
    "Qualified person only",
    "the wait is 5 minutes",
    "waited 90 minutes, as told",
    "Prove your tester",
    "Prove the tester again",
    "proved dead. Panel: off",
    "link fitted: link-230",
    "FOUND fit the link marked 115 volts",
    "step 1 of 7",
    "step 7 of 7",
    "fit the link marked 115 volts: done",
    "Panel: on",
    "PROOF is it mended",
    "Done and proved",
];
/// What is said to a time that the unit cannot have been off for.
const WAS_ON: &str = "the unit was live in this call less than a minute ago";

fn has_in_order(read: &str, moments: &[&str]) {
    let mut rest = read;
    for moment in moments {
        rest = rest.split_once(moment).unwrap_or_else(|| panic!("no `{moment}` in its place:\n{read}")).1;
    }
}

#[test]
fn a_unit_that_had_power_here_is_waited_out() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&[]);
        has_in_order(&lead(&mut terminal, WAS_ON), &LIVE_FIRST);
    }
}

#[test]
fn a_call_is_led_from_a_small_window_to_its_proof() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).call(&WRONG_LINK);
        has_in_order(&lead(&mut terminal, END), &LOCKED_FIRST);
        terminal.keys(ENTER);
        assert_eq!(terminal.ended(), Some(0));
    }
}

#[test]
fn the_ending_as_it_stands_in_a_tall_window() {
    for columns in WIDTHS {
        let mut terminal = Window::of(columns).rows(100).call(&WRONG_LINK);
        lead(&mut terminal, END);
        let screen = terminal.screen();
        let end = screen.rfind(&format!("END  {REPAIR}")).unwrap_or_else(|| panic!("{screen}"));
        let start = screen[..end].rfind('\n').map_or(0, |before| before + 1);
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path("../snapshots");
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        settings.bind(|| {
            insta::assert_snapshot!(format!("terminal_ending_at_{columns}_columns"), &screen[start..]);
        });
    }
}
