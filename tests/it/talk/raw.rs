//! Control and escape characters, from wherever they come, never reach the terminal as they are.

use super::typed;
use crate::house::{files, root, source};
use std::fs;
use std::path::{Path, PathBuf};

/// What clears a screen, sets a title, turns text round, or rings.
const RAW: [&str; 5] = ["\u{1b}[2J", "\u{1b}]0;x\u{7}", "\u{202e}", "\u{9b}2J", "\u{8}\u{8}"];

/// Everything that a command wrote, colour switched off so that no escape is ours.
fn all_of(arguments: &[&str]) -> String {
    // Where the output is no terminal, escapes are stripped on the way: `always` shows what a terminal would get.
    let output = crate::house::program().args(["--color", "always"]).args(arguments).output().unwrap();
    String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap()
}

/// The same as escapes of YAML, which a file can hold without showing them.
fn escaped(raw: &str) -> String {
    raw.chars().fold(String::new(), |text, sign| text + &format!("\\U{:08X}", u32::from(sign)))
}

/// Without the sequences that set a style, which are the program's own.
fn unstyled(shown: &str) -> String {
    let mut rest = shown;
    let mut text = String::new();
    while let Some((before, behind)) = rest.split_once("\u{1b}[") {
        let style = behind
            .find('m')
            .filter(|end| behind[..*end].chars().all(|sign| sign.is_ascii_digit() || sign == ';'));
        text.push_str(before);
        if style.is_none() {
            text.push('\u{1b}');
        }
        rest = style.map_or(behind, |end| &behind[end + 1..]);
    }
    text + rest
}

fn is_seen_only(shown: &str) -> bool {
    let text = unstyled(shown);
    !text.contains(|sign: char| sign.is_control() && sign != '\n') && !text.contains('\u{202e}')
}

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("motorwright-{}-{name}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    folder
}

fn play(case: &Path) -> String {
    all_of(&["call", "--answers", case.to_str().unwrap()])
}

#[test]
fn in_a_case_they_are_refused_or_shown_as_signs() {
    let folder = folder("case");
    for raw in RAW {
        for text in [raw.to_owned(), escaped(raw)] {
            let case = folder.join("raw.yaml");
            let yaml = format!(
                "case: raw\nabout: \"a{text}b\"\nanswers:\n  danger_seen: gas_smell\nends: leave-and-call-emergency\n"
            );
            fs::write(&case, yaml).unwrap();
            for shown in [play(&case), all_of(&["replay", case.to_str().unwrap()])] {
                assert!(is_seen_only(&shown), "{shown:?}");
            }
        }
    }
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn in_rules_they_are_refused_or_shown_as_signs() {
    let folder = folder("rules");
    let rules = root().join("rules");
    for path in files("rules", "yaml") {
        let copy = folder.join(path.strip_prefix(&rules).unwrap());
        fs::create_dir_all(copy.parent().unwrap()).unwrap();
        fs::write(copy, source(&path).text()).unwrap();
    }
    let intake = folder.join("trees/intake.yaml");
    let text = fs::read_to_string(&intake).unwrap();
    let line = text.lines().find(|line| line.trim_start().starts_with("because:")).unwrap();
    for raw in RAW {
        for written in [raw, &escaped(raw)] {
            let because = format!("    because: \"a{written}b\"");
            fs::write(&intake, text.replacen(line, &because, 1)).unwrap();
            let shown = all_of(&["call", "--rules", folder.to_str().unwrap()]);
            assert!(is_seen_only(&shown), "{shown:?}");
            assert!(shown.contains("intake.yaml"), "{shown}");
        }
    }
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn in_answers_remarks_and_the_note_they_are_shown_as_signs() {
    for raw in RAW {
        let lines = format!(
            "{raw}\nnone\ntell line {raw}\nnote a{raw}b\nwait {raw}\ncorrect {raw}\nnote to send\nso far\nleave\n"
        );
        for layout in ["--units=us", "--plain"] {
            let (shown, _) = typed(&lines, &["--color=always", layout]);
            assert!(is_seen_only(&shown), "{shown:?}");
            assert!(shown.contains('\u{fffd}'), "{shown}");
        }
    }
}

#[test]
fn in_names_of_files_and_commands_they_are_shown_as_signs() {
    for raw in RAW {
        for arguments in
            [&["replay", raw][..], &["call", "--answers", raw], &["man", raw], &["--rules", raw, "call"]]
        {
            let shown = all_of(arguments);
            assert!(is_seen_only(&shown), "{shown:?}");
        }
    }
}
