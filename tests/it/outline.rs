//! `motorwright outline`: a tree as indented text.

use crate::house::{BOOK, root};
use crate::pond::Folder;
use serde_json::Value;
use std::ffi::OsStr;
use std::process::Output;

fn outline(words: &[&OsStr]) -> Output {
    crate::house::program().arg("outline").args(words).current_dir(root()).output().unwrap()
}

fn shown(words: &[&str]) -> String {
    let words: Vec<&OsStr> = words.iter().map(OsStr::new).collect();
    let output = outline(&words);
    assert_eq!(output.status.code(), Some(0), "{words:?}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_trainers_tree_is_shown_as_it_is_written() {
    let folder = Folder::new("outline", &[]);
    let rules = folder.path().to_str().unwrap();
    insta::assert_snapshot!(shown(&["pump", "--rules", rules]));
}

#[test]
fn without_a_name_the_trees_are_listed() {
    let list = shown(&[]);
    assert_eq!(list.lines().count(), BOOK.trees().len());
    for (line, tree) in list.lines().zip(BOOK.trees()) {
        assert!(line.starts_with(&format!("{} ", tree.id)) && line.ends_with(&tree.name), "{line}");
    }
}

#[test]
fn every_id_of_a_trainers_rules_is_listed_with_what_it_stands_for() {
    let folder = Folder::new("outline-ids", &[]);
    let shown = shown(&["--ids", "--rules", folder.path().to_str().unwrap()]);
    let (own, formulas) = shown.split_once("\nformulas\n").unwrap();
    insta::assert_snapshot!(own);
    assert!(formulas.lines().all(|line| line.starts_with("  ")), "{formulas}");
}

#[test]
fn the_ids_of_one_kind_are_all_there_each_at_the_start_of_its_line() {
    let facts: Vec<&str> = BOOK.facts().iter().map(|fact| fact.id.as_str()).collect();
    let deeds: Vec<&str> = BOOK.deeds().iter().map(|deed| deed.id.as_str()).collect();
    let endings: Vec<&str> = BOOK.endings().iter().map(|ending| ending.id.as_str()).collect();
    for (kind, ids) in [("readings", facts), ("deeds", deeds), ("endings", endings)] {
        let list = shown(&["--ids", kind]);
        let first: Vec<&str> = list.lines().map(|line| line.split(' ').next().unwrap()).collect();
        assert_eq!(first, ids, "{kind}");
    }
}

#[test]
fn a_script_gets_the_choices_and_the_units() {
    let rows = shown(&["--ids", "readings", "--json"]);
    for (row, fact) in rows.lines().zip(BOOK.facts()) {
        let row: Value = serde_json::from_str(row).unwrap();
        let choices: Vec<&str> = fact.choices().iter().map(|choice| choice.id.as_str()).collect();
        let said = row.get("choices").map_or(serde_json::json!([]), Clone::clone);
        assert_eq!((&row["id"], said), (&Value::from(fact.id.as_str()), serde_json::json!(choices)));
        let unit = fact.expected().map_or("", |expected| expected.unit().symbol());
        assert_eq!(row.get("unit").and_then(Value::as_str).unwrap_or(""), unit, "{}", fact.id);
    }
    assert_eq!(rows.lines().count(), BOOK.facts().len());
}

#[test]
fn every_shipped_tree_is_shown_with_each_step_once_and_what_every_branch_means() {
    for tree in BOOK.trees() {
        let text = shown(&[&tree.id]);
        assert!(text.starts_with(&format!("{}: {}\n", tree.id, tree.name)));
        for step in BOOK.steps().iter().filter(|step| BOOK.tree(step.tree).id == tree.id) {
            assert_eq!(text.lines().filter(|line| *line == step.id).count(), 1, "{}: {}", tree.id, step.id);
            for means in step.ways_out().filter_map(|(line, _)| step.means(line)) {
                assert!(text.contains(means), "{}: {}: {means}", tree.id, step.id);
            }
        }
    }
}

#[test]
fn a_tree_that_is_not_there_exits_with_2_and_the_name_that_was_meant() {
    let output = outline(&[OsStr::new("no-rum")]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said.starts_with("motorwright: there is no tree `no-rum`, did you mean `no-run`; there are: "),
        "{said}"
    );
}
