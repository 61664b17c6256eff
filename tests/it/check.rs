//! `motorwright check`, as a trainer or an editor meets it.

mod rows;
mod sarif;
#[cfg(unix)]
mod unreadable;
mod watch;

use crate::house::root;
use crate::pond::{File, Folder, files};
use std::ffi::OsStr;
use std::path::Path;
use std::process::{Output, Stdio};

fn check(words: &[&OsStr]) -> Output {
    crate::house::program().arg("check").args(words).current_dir(root()).output().unwrap()
}

/// A wrong rule file of the collection.
fn wrong(name: &str) -> File {
    files("rules").into_iter().find(|file| file.name == name).unwrap()
}

/// A reading that nothing goes by: a note.
fn note() -> File {
    wrong("a_reading_that_nothing_goes_by.yaml")
}

/// A question whose answer is known: a warning.
fn warning() -> File {
    wrong("a_question_whose_answer_is_known.yaml")
}

/// A name that is not there: an error.
fn error() -> File {
    wrong("an_ending_that_is_not_there.yaml")
}

/// What a folder of rules is said to be, and the exit code.
fn checked(name: &str, added: &[File], words: &[&str]) -> (String, Option<i32>) {
    let folder = Folder::new(name, added);
    let words: Vec<&OsStr> = words.iter().map(OsStr::new).collect();
    let output = check(&[&[folder.path().as_os_str()], &words[..]].concat());
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    let shown = String::from_utf8(output.stdout).unwrap();
    (shown.replace(&format!("{}/", folder.path().display()), ""), output.status.code())
}

#[test]
fn clean_rules_are_counted_and_exit_with_0() {
    let (shown, code) = checked("check-clean", &[], &[]);
    assert_eq!(shown, "2 trees, 7 steps, 19 readings, 10 endings: nothing found\n");
    assert_eq!(code, Some(0));
}

#[test]
fn notes_alone_exit_with_0_warnings_and_errors_with_1() {
    let (shown, code) = checked("check-note", &[note()], &[]);
    assert!(shown.ends_with(": 1 note\nmore on a finding: motorwright explain CODE\n"), "{shown}");
    assert_eq!(code, Some(0), "{shown}");
    let (shown, code) = checked("check-warning", &[note(), warning()], &[]);
    assert!(shown.contains(": 1 warning, 1 note\n"), "{shown}");
    assert_eq!(code, Some(1), "{shown}");
    let (shown, code) = checked("check-error", &[note(), error()], &[]);
    let last =
        "\n1 error; no call can be made with these rules, and more may be found once they are mended\n";
    assert!(shown.contains(last), "{shown}");
    assert_eq!(code, Some(1), "{shown}");
}

#[test]
fn every_finding_has_its_place_and_its_line_underlined() {
    let (shown, _) = checked("check-shown", &[warning()], &[]);
    let found = "\
a_question_whose_answer_is_known.yaml:20:10: warning: never-asked: `impeller_turns` is known on every way to this \
step, so that it is never asked here
   |
20 |     ask: impeller_turns # <- never-asked
   |          ^^^^^^^^^^^^^^
help: write `if known: impeller_turns`, or ask for something else
";
    assert!(shown.starts_with(found), "{shown}");
}

#[test]
fn what_cannot_be_read_exits_with_2_and_says_what() {
    for folder in ["no-such-folder", "tests/it/explain"] {
        let output = check(&[OsStr::new(folder)]);
        assert_eq!(output.status.code(), Some(2));
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(
            said.starts_with("motorwright: ") && said.contains(folder) && output.stdout.is_empty(),
            "{said}"
        );
    }
}

#[test]
fn text_that_is_no_text_is_a_finding_as_any_other() {
    let (shown, code) = checked("check-bytes", &[File::new("old.yaml", *b"tree: 70 \xb0F\n")], &[]);
    assert!(shown.starts_with("old.yaml:1:10: error: not-text: "), "{shown}");
    assert_eq!(code, Some(1));
}

#[test]
fn the_rules_built_in_are_looked_through_where_no_folder_is_given() {
    let (built_in, folder) = (check(&[]), check(&[OsStr::new("--rules"), OsStr::new("rules")]));
    assert_eq!(built_in.stdout, folder.stdout);
    assert!(String::from_utf8_lossy(&built_in.stdout).contains(" trees, "));
}

#[test]
fn place_title_and_marks_stand_out_where_colour_is_wanted_and_nowhere_else() {
    let folder = Folder::new("check-colour", &[warning()]);
    let run = |colour: &str, no_colour: bool| {
        let mut command = crate::house::program();
        if no_colour {
            command.env("NO_COLOR", "1");
        }
        let output = command.arg("check").arg(folder.path()).args(["--color", colour]).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let coloured = run("always", false);
    assert!(coloured.starts_with("\u{1b}[1m"), "{coloured:?}");
    assert!(coloured.contains("\u{1b}[1m\u{1b}[33mwarning\u{1b}[0m"), "{coloured:?}");
    assert!(coloured.contains("\u{1b}[33m^^^^^^^^^^^^^^\u{1b}[0m\n"), "{coloured:?}");
    for plain in [run("auto", false), run("never", false), run("auto", true)] {
        assert!(!plain.contains('\u{1b}'), "{plain:?}");
    }
}

/// As when it is piped into `head`.
#[test]
fn nobody_reading_on_is_no_failure() {
    let folder = Folder::new("check-pipe", &[warning()]);
    for words in [&[][..], &["--json"], &["--sarif"], &["--watch"]] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = crate::house::program()
            .arg("check")
            .arg(folder.path())
            .args(words)
            .stdout(Stdio::from(writer))
            .output()
            .unwrap();
        assert_eq!((output.status.code(), output.stderr), (Some(0), Vec::new()), "{words:?}");
    }
}

#[test]
fn what_the_cases_walk_is_a_table_and_what_none_walks_a_list() {
    let cases = Folder::new("check-cases", &[]);
    for file in std::fs::read_dir(cases.path()).unwrap() {
        std::fs::remove_file(file.unwrap().path()).unwrap();
    }
    cases.save(&File::new("stuck.yaml", "case: stuck\nanswers: {fault: hums, water_in_trap: full, impeller_turns: stuck}\nends: clear-impeller\n"));
    let words = ["--coverage", cases.path().to_str().unwrap()];
    let (shown, code) = checked("check-coverage", &[], &words);
    let table = "
 tree    steps  branches  endings
 pump   2 of 5   2 of 15   0 of 5
 water  2 of 2    2 of 6   1 of 4
 all    4 of 7   4 of 21   1 of 7

no case walks:
";
    assert!(shown.contains(table), "{shown}");
    assert!(shown.contains("\n  pump: danger: it can hurt\n"), "{shown}");
    assert!(shown.contains("\n  water: impeller: the impeller cannot be told\n"), "{shown}");
    assert!(!shown.contains("stones hold it"), "{shown}");
    let (_, endings) = shown.split_once("\nno case comes to: ").unwrap();
    assert_eq!(endings.trim_end().split(", ").count(), 6, "{endings}");
    assert_eq!(code, Some(0));
    cases.save(&File::new("dry.yaml.txt", "case: dry\nanswers: {fault: trips}\nends: low-supply\n"));
    let rules = Folder::new("check-coverage", &[]);
    let words = [rules.path(), "--coverage".as_ref(), cases.path()].map(Path::as_os_str);
    let output = check(&words);
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(
        told.contains("dry.yaml.txt:1:1: warning: file-not-read: ") && output.status.code() == Some(1),
        "{told}"
    );
}

/// Among the rules that were there before, a trainer looks for their own slip.
#[test]
fn warnings_stand_before_notes() {
    let first = File::new("a.yaml", note().bytes);
    let (shown, _) = checked("check-order", &[first, warning()], &[]);
    let at = |word: &str| shown.find(word);
    assert!(at(": warning: ").is_some() && at(": warning: ") < at(": note: "), "{shown}");
}

#[test]
fn a_path_below_the_rules_narrows_what_is_shown_and_not_what_is_looked_at() {
    let folder = Folder::new("check-narrow", &[note(), error()]);
    let said = |file: &str| {
        let path = folder.path().join(file);
        let rules = [OsStr::new("--rules"), folder.path().as_os_str()];
        String::from_utf8(check(&[&[path.as_os_str()], &rules[..]].concat()).stdout).unwrap()
    };
    assert!(said(&error().name).contains(": error: unknown-id"), "{}", said(&error().name));
    assert_eq!(said("deeds.yaml"), "nothing found; no call can be made with these rules\n");
}

#[test]
fn the_rules_around_a_file_are_found_without_being_named() {
    let folder = Folder::new("check-around", &[note(), error()]);
    let run = |file: &str| check(&[folder.path().join(file).as_os_str()]);
    let shown = |file: &str| String::from_utf8(run(file).stdout).unwrap();
    assert!(shown(&error().name).contains(": error: unknown-id"), "{}", shown(&error().name));
    assert!(shown("deeds.yaml").starts_with("nothing found;"), "{}", shown("deeds.yaml"));
    let within = |file: &str| {
        crate::house::program().arg("check").arg(file).current_dir(folder.path()).output().unwrap()
    };
    assert_eq!(String::from_utf8(within("deeds.yaml").stdout).unwrap(), shown("deeds.yaml"));
}

#[test]
fn a_file_of_the_rules_that_is_not_there_is_no_clean_one() {
    let folder = Folder::new("check-none", &[]);
    let path = folder.path().join("dedes.yaml");
    let rules = [OsStr::new("--rules"), folder.path().as_os_str()];
    for words in [&[][..], &rules[..]] {
        let output = check(&[&[path.as_os_str()], words].concat());
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0), "{said}");
        assert!(said.contains("there is no `") && said.contains("/deeds.yaml`"), "{said}");
    }
}

/// It may be why a name is not known: it stands before the errors. What an editor keeps for itself is none of them.
#[test]
fn rules_under_a_name_that_is_not_read_are_told_of_and_an_editors_own_files_left_alone() {
    let lost = File::new("note.yaml.txt", note().bytes);
    let others = [".#note.yaml", "._note.yaml", "note.yaml~"].map(|name| File::new(name, *b"deeds: [\xff"));
    let page = File::new("README.md", *b"# Rules\n\n    tree: pump\n\ntree: what stands in a tree\n");
    let added = [&[lost, error(), page], &others[..]].concat();
    let (shown, code) = checked("check-unread", &added, &[]);
    assert!(shown.starts_with("note.yaml.txt:1:1: warning: file-not-read: "), "{shown}");
    assert!(shown.contains("\n1 error, 1 warning; "), "{shown}");
    assert_eq!(code, Some(1));
}

#[test]
fn lock_outs_and_coverage_can_be_had_of_one_tree() {
    let said = |words: &[&str]| {
        let words: Vec<&OsStr> = words.iter().map(OsStr::new).collect();
        let output = check(&words);
        (String::from_utf8(output.stdout).unwrap(), String::from_utf8(output.stderr).unwrap())
    };
    let (shown, _) = said(&["tests/it/wrong/base", "--lockouts", "--tree", "water"]);
    assert!(shown.contains("clear-impeller") && !shown.contains("keep-away"), "{shown}");
    let (shown, _) = said(&["rules", "--coverage", "cases/safety", "--tree", "no-run"]);
    assert!(
        shown.contains("\n no-run ") && !shown.contains("\n trips ") && !shown.contains("\n all "),
        "{shown}"
    );
    let (_, unreached) = shown.split_once("\nno case comes to: ").unwrap();
    assert!(unreached.contains("switch-supply-on") && unreached.ends_with('\n'), "{unreached}");
    // Calls of other complaints come to endings of that tree too, and never by it.
    let (shown, _) = said(&["rules", "--lockouts", "--tree", "start-up"]);
    let (_, rows) = shown.split_once("where the most are\n").unwrap();
    assert!(rows.starts_with(" start_up ") && !rows.contains("\n no_run "), "{rows}");
    // Of the warnings and notes, those in its file.
    let (shown, _) = said(&["rules", "--tree", "surging"]);
    assert!(shown.ends_with(" endings: nothing found\n"), "{shown}");
    let (_, said_of_none) = said(&["rules", "--lockouts", "--tree", "no-rum"]);
    assert!(said_of_none.contains("did you mean `no-run`"), "{said_of_none}");
}
