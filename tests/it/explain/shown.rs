//! What `motorwright explain` puts on the screen.

use crate::house::root;
use engine::finding::{Code, Severity};
use std::process::Output;

fn run(words: &[&str]) -> Output {
    crate::house::program().args(words).current_dir(root()).output().unwrap()
}

fn out(words: &[&str]) -> String {
    let output = run(words);
    assert_eq!(output.status.code(), Some(0), "{words:?}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_page_is_shown_as_it_is_with_how_much_it_matters() {
    for (code, severity) in
        [(Code::NotText, "error"), (Code::DeadBranch, "warning"), (Code::UnusedReading, "note")]
    {
        let shown = code.page().replacen(&format!("# {code}\n"), &format!("# {code}: {severity}\n"), 1);
        assert_eq!(out(&["explain", code.as_str()]), shown);
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
    let groups: Vec<&str> = list.split("\n\n").collect();
    assert!(groups[0].starts_with("Errors: ") && groups[2].starts_with("Notes: "), "{list}");
    for (group, severity) in groups.iter().zip([Severity::Error, Severity::Warning, Severity::Note]) {
        let codes = Code::ALL.iter().filter(|code| code.severity() == severity);
        let listed = group.lines().skip(1).map(|line| line.split_once(' ').unwrap());
        let listed: Vec<_> = listed.map(|(code, sentence)| (code, sentence.trim())).collect();
        assert_eq!(listed, codes.map(|code| (code.as_str(), code.sentence())).collect::<Vec<_>>());
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
