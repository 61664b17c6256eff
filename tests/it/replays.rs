//! `motorwright replay`: what is said of a case that differs.

use crate::house::root;
use std::fs;
use std::process::Command;

/// What it showed of one case, and its exit code.
fn replayed(name: &str, text: &str) -> (String, Option<i32>) {
    let folder = std::env::temp_dir().join(format!("motorwright-{name}-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let case = folder.join(format!("{name}.yaml"));
    fs::write(&case, text).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_motorwright")).arg("replay").arg(&case).output().unwrap();
    fs::remove_dir_all(&folder).unwrap();
    let shown = String::from_utf8(output.stdout).unwrap();
    (shown.replace(&case.display().to_string(), "CASE"), output.status.code())
}

#[test]
fn a_case_that_differs_is_named_with_what_it_leaves_open_and_how_to_watch_it() {
    let (shown, code) = replayed(
        "breaker-not-said",
        "case: breaker-not-said\nanswers: {complaint: no_run}\nends: close-access-panel\n",
    );
    assert_eq!(code, Some(1), "{shown}");
    assert!(shown.contains("\nCASE: asked, and not in it: "), "{shown}");
    assert!(shown.contains("breaker_position"), "{shown}");
    assert!(!shown.contains("danger_seen"), "the case need not speak of danger: {shown}");
    assert!(shown.contains("watch it: motorwright call --answers CASE\n"), "{shown}");
    assert!(shown.ends_with("\n1 case: 0 agree, 1 differs\n"), "{shown}");
}

#[test]
fn one_case_that_agrees_is_one_case() {
    let case = root().join("cases/no-run/breaker-left-off-after-the-move.yaml");
    let (shown, code) = replayed("breaker-left-off-after-the-move", &fs::read_to_string(case).unwrap());
    assert!(shown.ends_with("\n1 case: 1 agrees, 0 differ\n") && code == Some(0), "{shown}");
}
