//! `--json`: one object a line.

use super::{checked, error, note, warning};
use crate::pond::File;
use serde_json::Value;

fn rows(name: &str, added: &[File]) -> Vec<Value> {
    let (shown, _) = checked(name, added, &["--json"]);
    shown.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

#[test]
fn a_row_has_what_the_finding_has() {
    let found = rows("rows", &[warning(), note()]);
    assert_eq!(found.len(), 2);
    let row = found.iter().find(|row| row["code"] == "never-asked").unwrap();
    assert_eq!(row["severity"], "warning");
    assert_eq!(row["file"], "a_question_whose_answer_is_known.yaml");
    let place = ["line", "column", "end_line", "end_column"].map(|key| row[key].as_u64().unwrap());
    assert_eq!(place, [20, 10, 20, 24]);
    assert!(row["title"].as_str().unwrap().contains("`impeller_turns`"));
    assert!(row["help"].as_str().unwrap().starts_with("write "));
    assert_eq!(row["more"], serde_json::json!([]));
    assert_eq!(found.iter().find(|row| row["code"] == "unused-reading").unwrap()["severity"], "note");
}

#[test]
fn columns_are_characters_and_every_other_place_is_there() {
    let text = "readings:\n  dépth: {name: Tiefe, name: 2}\n";
    let found = rows("rows-more", &[File::new("twice.yaml", text)]);
    let row = &found[0];
    assert_eq!((&row["code"], &row["severity"]), (&"duplicate-key".into(), &"error".into()));
    assert_eq!((&row["line"], &row["column"]), (&2.into(), &24.into()));
    let other = &row["more"][0];
    assert_eq!(
        (&other["file"], &other["line"], &other["column"]),
        (&"twice.yaml".into(), &2.into(), &11.into())
    );
    assert!(!other["text"].as_str().unwrap().is_empty());
}

#[test]
fn clean_rules_give_no_row_and_wrong_ones_no_tally() {
    assert!(rows("rows-none", &[]).is_empty());
    assert_eq!(rows("rows-error", &[error()]).len(), 1);
}

/// As in the table: the same lines in the same order, and the same ends of each span.
#[test]
fn lock_outs_are_rows_too_behind_the_findings() {
    let (table, _) = checked("rows-lockouts", &[], &["--lockouts"]);
    let lines: Vec<Vec<String>> = table
        .lines()
        .skip_while(|line| !line.trim_start().starts_with("complaint"))
        .skip(1)
        .take_while(|line| !line.is_empty())
        .map(|line| {
            line.trim()
                .split("  ")
                .map(|cell| cell.trim().to_owned())
                .filter(|cell| !cell.is_empty())
                .collect()
        })
        .collect();
    let (shown, code) = checked("rows-lockouts-json", &[note()], &["--lockouts", "--json"]);
    let all: Vec<Value> = shown.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!((all[0]["code"].as_str(), code), (Some("unused-reading"), Some(0)));
    let rows: Vec<&Value> = all.iter().filter(|row| row.get("ending").is_some()).collect();
    assert_eq!(rows.len(), lines.len());
    assert!(!rows.is_empty());
    for (row, line) in rows.into_iter().zip(&lines) {
        let span = |key: &str| {
            let (least, most) = (row[key]["least"].as_u64().unwrap(), row[key]["most"].as_u64().unwrap());
            if least == most { most.to_string() } else { format!("{least} to {most}") }
        };
        let at: Vec<&str> =
            row["most_at"].as_array().unwrap().iter().map(|step| step.as_str().unwrap()).collect();
        let mut cells =
            vec![row["complaint"].as_str().unwrap().to_owned(), row["ending"].as_str().unwrap().to_owned()];
        cells.extend(["live_work", "no_live_work"].map(span));
        cells.extend(Some(at.join(", ")).filter(|at| !at.is_empty()));
        assert_eq!(&cells, line);
    }
}
