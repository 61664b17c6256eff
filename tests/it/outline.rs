//! `motorwright outline`: a tree as indented text.

use crate::house::{BOOK, root};
use crate::pond::Folder;
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
