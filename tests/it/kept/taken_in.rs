//! Calls that are imported a second time, in another state, or after they were forgotten.

use super::places::left_open;
use super::{Exported, on, said};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// A folder with two logs, and an export of the first: one call that was left open.
struct Desk {
    folder: tempfile::TempDir,
    line: Value,
}

impl Desk {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let first = folder.path().join("first.db");
        left_open(&first, &["none", "no run", "note the dog sleeps on it"]);
        let (line, code) = said(on(&first).arg("export"));
        assert_eq!(code, Some(0), "{line}");
        let line = serde_json::from_str(&line).unwrap();
        Self { folder, line }
    }

    fn log(&self) -> PathBuf {
        self.folder.path().join("second.db")
    }

    /// The call as it was after so many events.
    fn after(&self, events: usize) -> Value {
        let mut line = self.line.clone();
        line["events"].as_array_mut().unwrap().truncate(events);
        line["summary"] = Value::Null;
        line
    }

    fn events(&self) -> usize {
        self.line["events"].as_array().unwrap().len()
    }

    /// Takes a line in: what is said, and the exit code.
    fn import(&self, line: &Value, flags: &[&str]) -> (String, Option<i32>) {
        let lines = self.folder.path().join("calls.jsonl");
        fs::write(&lines, format!("{line}\n")).unwrap();
        said(on(self.log()).arg("import").arg(lines).args(flags))
    }
}

fn events(log: &Path) -> usize {
    Exported::only(log).unwrap().events.len()
}

#[test]
fn the_longer_of_two_states_of_a_call_is_kept_whichever_comes_first() {
    let desk = Desk::new();
    let all = desk.events();
    assert!(all > 2);
    for (line, here, told) in [
        (desk.after(2), 2, "1 taken in, 0 here already, 0 refused"),
        (desk.after(2), 2, "0 taken in, 1 here already, 0 refused"),
        (desk.line.clone(), all, "0 taken in, 0 here already, 0 refused, 1 here already and longer now"),
        (desk.after(1), all, "0 taken in, 1 here already, 0 refused"),
        (desk.line.clone(), all, "0 taken in, 1 here already, 0 refused"),
    ] {
        let (said, code) = desk.import(&line, &[]);
        assert_eq!((said.trim(), code), (told, Some(0)));
        assert_eq!(events(&desk.log()), here);
    }
    assert_eq!(Exported::only(desk.log()).unwrap().ends(), []);
}

#[test]
fn a_call_that_differs_from_the_one_here_is_named_and_left_as_it_is() {
    let desk = Desk::new();
    assert_eq!(desk.import(&desk.line, &[]).1, Some(0));
    let mut other = desk.line.clone();
    other["events"][1]["at"] = "2020-01-01T00:00:00Z".into();
    let (told, code) = desk.import(&other, &[]);
    assert_eq!(code, Some(1), "{told}");
    assert!(
        told.contains("line 1: differs from call 1 here from entry 2 on; call 1 was left as it is"),
        "{told}"
    );
    assert!(told.contains("1 left out as they differ"), "{told}");
    let (told, _) = said(on(desk.log()).arg("export"));
    assert!(!told.contains("2020-01-01"), "{told}");
}

#[test]
fn a_call_that_was_forgotten_does_not_come_back_unless_it_is_asked_for() {
    let desk = Desk::new();
    assert_eq!(desk.import(&desk.line, &[]).1, Some(0));
    assert_eq!(said(on(desk.log()).args(["forget", "1", "--yes"])).1, Some(0));
    let (told, code) = desk.import(&desk.line, &[]);
    assert!(code == Some(0) && told.contains("1 left out as they were forgotten here"), "{told}");
    assert!(Exported::only(desk.log()).is_none());
    let (told, code) = desk.import(&desk.line, &["--forgotten-too"]);
    assert!(code == Some(0) && told.starts_with("1 taken in"), "{told}");
    assert_eq!(events(&desk.log()), desk.events());
}

#[test]
fn a_line_that_is_no_call_is_told_by_its_number_in_plain_words() {
    let desk = Desk::new();
    let lines = desk.folder.path().join("calls.jsonl");
    let whole = desk.line.to_string();
    fs::write(&lines, format!("{whole}\n\n{}\nmy notes\n", &whole[..whole.len() / 2])).unwrap();
    let (told, code) = said(on(desk.log()).arg("import").arg(&lines));
    assert_eq!(code, Some(1), "{told}");
    assert!(
        told.contains("line 3 is no call: it ends in the middle, as of a file that was cut short"),
        "{told}"
    );
    assert!(told.contains("line 4 is no call: it is not as the program writes it"), "{told}");
    assert!(
        told.contains("Export the call anew") && told.contains("1 taken in, 0 here already, 2 refused"),
        "{told}"
    );
}

#[test]
fn a_line_of_another_form_is_refused_and_a_mark_before_the_first_is_no_part_of_it() {
    let desk = Desk::new();
    let mut line = desk.line.clone();
    line["form"] = "motorwright-call-9".into();
    let (told, code) = desk.import(&line, &[]);
    assert!(told.contains("`motorwright-call-9`") && told.contains("1 refused"), "{told}");
    assert_eq!(code, Some(1));
    let marked = desk.folder.path().join("marked.jsonl");
    fs::write(&marked, format!("\u{feff}{}\n", desk.line)).unwrap();
    let (told, code) = said(on(desk.log()).arg("import").arg(marked));
    assert!(told.contains("1 taken in") && code == Some(0), "{told}");
}
