//! Whole calls as they are played: one for each ending, pinned, and read one by one as the caller would hear it.

use crate::house::{BOOK, CASES, root};
use std::collections::BTreeSet;
use std::process::Command;

/// The case that stands for each ending, below `cases/`.
const CONVERSATIONS: &[&str] = &[
    "safety/one-pair-that-could-not-be-tested",
    "no-run/staple-through-the-thermostat-cable",
    "no-run/harness-under-the-motor-band",
    "no-run/panel-hung-on-one-hook",
    "no-run/all-rating-leads-capped",
    "no-run/speed-lead-still-in-its-cap",
    "no-run/new-transformer-on-its-two-forty-tap",
    "no-run/two-thirty-link-on-one-fifteen",
    "no-run/no-link-and-a-two-thirty-unit-on-two-oh-eight",
    "no-run/wheel-scrapes-its-housing",
    "safety/gas-smelled-at-the-furnace",
    "wrong-link/right-link-after-all",
    "safety/tingle-at-the-cabinet",
    "no-run/harness-out-of-sight",
    "no-run/call-wire-broken-at-a-splice",
    "no-run/line-wire-broken-in-its-sheath",
    "no-run/blower-relay-stuck-open",
    "no-run/transformer-open-inside",
    "no-run/all-there-and-still-dead",
    "no-run/breaker-tripped-by-a-grounded-motor",
    "no-run/one-fifteen-link-on-two-forty",
    "no-run/bearing-rusted-solid",
    "no-run/condensate-in-the-motor-plug",
    "no-run/panel-switch-worn-out",
    "no-run/line-plug-not-latched",
    "no-run/splice-burnt-open-in-the-attic",
    "safety/flame-at-the-burner-opening",
    "two-faults/call-wire-broken-twice",
    "no-run/thermostat-set-to-off",
    "no-run/lights-bright-and-dim",
    "no-run/long-thin-cord-to-the-workshop",
    "no-run/breaker-left-off-after-the-move",
    "no-run/hot-screw-at-the-board",
    "no-run/breaker-tripped-by-a-shorted-input",
    "wrong-rotation/panel-off-to-watch-it-start",
    "wrong-rotation/breaker-thrown-in-the-first-minute",
    "wrong-rotation/came-off-the-neighbours-furnace",
    "wrong-rotation/ran-the-lower-way-with-all-in-order",
    "wrong-rotation/only-looked-backwards-at-speed",
    "wrong-rotation/screw-on-the-round-of-the-shaft",
    "wrong-rotation/wheel-on-by-its-wrong-face",
    "wrong-rotation/leaning-blades-in-an-air-handler",
];

#[test]
fn each_ending_has_its_conversation() {
    for path in CONVERSATIONS {
        let case = root().join("cases").join(path).with_extension("yaml");
        let output = Command::new(env!("CARGO_BIN_EXE_motorwright"))
            .args(["call", "--answers", case.to_str().unwrap()])
            .output()
            .unwrap();
        let shown = String::from_utf8(output.stdout).unwrap();
        insta::with_settings!({ omit_expression => true }, {
            insta::assert_snapshot!(ending(path), shown);
        });
    }
}

/// The last ending of a case.
fn ending(path: &str) -> &'static str {
    let name = path.rsplit('/').next().unwrap();
    let case = CASES.iter().find(|case| case.name == name).unwrap_or_else(|| panic!("no case {path}"));
    &BOOK.ending(*case.ends.last().unwrap()).id
}

#[test]
fn no_ending_that_a_case_comes_to_is_left_out() {
    let shown: BTreeSet<&str> = CONVERSATIONS.iter().map(|path| ending(path)).collect();
    let reached: BTreeSet<&str> =
        CASES.iter().filter_map(|case| case.ends.last()).map(|id| BOOK.ending(*id).id.as_str()).collect();
    assert_eq!(shown, reached);
    assert_eq!(shown.len(), CONVERSATIONS.len(), "two conversations for one ending");
}
