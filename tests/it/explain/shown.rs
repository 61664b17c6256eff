//! What `motorwright explain` puts on the screen.

use crate::house::root;
use engine::finding::Code;
use std::process::{Command, Output};

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_motorwright")).args(words).current_dir(root()).output().unwrap()
}

fn out(words: &[&str]) -> String {
    let output = run(words);
    assert_eq!(output.status.code(), Some(0), "{words:?}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_page_is_shown_as_it_is() {
    for code in [Code::NotText, Code::HoldOffNeedsPower] {
        assert_eq!(out(&["explain", code.as_str()]), code.page());
    }
}

#[test]
fn only_headings_are_bold_and_only_where_colour_is_wanted() {
    let coloured = out(&["explain", "unknown-choice", "--color", "always"]);
    let bold: Vec<_> = coloured.lines().filter(|line| line.contains('\u{1b}')).collect();
    assert_eq!(bold.len(), 4, "{coloured}");
    assert!(bold.iter().all(|line| line.starts_with("\u{1b}[1m#") && line.ends_with("\u{1b}[0m")));
}

#[test]
fn without_a_code_every_one_is_listed_with_its_sentence() {
    let list = out(&["explain"]);
    for (line, code) in list.lines().zip(Code::ALL) {
        let words: Vec<_> = line.splitn(2, ' ').map(str::trim).collect();
        assert_eq!(words, [code.as_str(), code.sentence()]);
    }
    assert!(list.lines().all(|line| line.chars().count() <= 100), "{list}");
    assert!(list.trim_end().ends_with("the rules say."), "{list}");
}

#[test]
fn a_slip_in_a_code_is_told_with_the_one_that_was_meant() {
    let output = run(&["explain", "unknown-choise"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        String::from_utf8_lossy(&output.stderr),
        "motorwright: `unknown-choise` is no finding code, did you mean `unknown-choice`; `motorwright explain` lists them\n"
    );
    let output = run(&["explain", "\u{1b}[31m"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(!output.stderr.contains(&0x1b));
}

#[test]
fn a_shell_completes_the_codes_and_help_does_not_list_them() {
    for shell in ["bash", "zsh"] {
        assert!(out(&["completions", shell]).contains("proof-not-failed"), "{shell}");
    }
    assert!(!out(&["explain", "--help"]).contains("proof-not-failed"));
    assert!(!out(&["man", "explain"]).contains("proof"));
}

#[test]
fn whoever_is_told_of_a_finding_is_told_of_its_page() {
    let output = run(&["replay", "cases", "--rules", "tests/it/wrong/cases"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.ends_with("more on a finding: motorwright explain CODE\n"), "{said}");
}
