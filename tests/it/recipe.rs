//! The recipe for a new complaint in `rules/README.md` does what it says.

use crate::house::{files, root};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// The documents of the recipe, each by its first word.
fn documents() -> Vec<(String, String)> {
    let readme = fs::read_to_string(root().join("rules/README.md")).unwrap();
    let (_, recipe) = readme.split_once("These five belong together").unwrap();
    let blocks = recipe.split("\n\n").filter(|block| block.starts_with("    "));
    let lines = |block: &str| block.lines().map(|line| line[4..].to_owned() + "\n").collect::<String>();
    blocks.map(|block| (block.trim().split(':').next().unwrap().to_owned(), lines(block))).collect()
}

fn replayed(folder: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_motorwright"))
        .args(["replay", "cases", "--rules", "rules"])
        .current_dir(folder)
        .output()
        .unwrap()
}

#[test]
fn a_new_complaint_is_checked_and_its_case_agrees() {
    let folder = std::env::temp_dir().join(format!("motorwright-recipe-{}", std::process::id()));
    for file in files("rules", "yaml") {
        let copy = folder.join("rules").join(file.strip_prefix(root().join("rules")).unwrap());
        fs::create_dir_all(copy.parent().unwrap()).unwrap();
        fs::copy(&file, &copy).unwrap();
    }
    fs::create_dir_all(folder.join("cases")).unwrap();
    let documents = documents();
    assert_eq!(documents.len(), 5);
    for (key, text) in &documents {
        let file =
            if key == "case" { "cases/scrapes.yaml".to_owned() } else { format!("rules/my-{key}.yml") };
        fs::write(folder.join(file), text).unwrap();
    }
    let change = |file: &str, changes: &[(&str, &str)]| {
        let file = folder.join("rules").join(file);
        let mut text = fs::read_to_string(&file).unwrap();
        for (old, new) in changes {
            assert!(text.contains(old), "{old}");
            text = text.replacen(old, &format!("{new}{old}"), 1);
        }
        fs::write(file, text).unwrap();
    };
    let wrong = |output: &Output| String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(wrong(&replayed(&folder)).contains("unknown-choice"));
    change("readings/unit.yaml", &[("      start_up: the motor", "      noise: it runs, and is loud\n")]);
    let missing = wrong(&replayed(&folder));
    assert!(missing.contains("choice-not-covered") && missing.contains("unreachable-step"), "{missing}");
    let line = |way: &str| format!("      - is: noise\n        means: the blower is loud\n        {way}\n");
    change(
        "trees/intake.yaml",
        &[
            ("      - is: [wrong_rotation, low_airflow, start_up]", &line("go: rated-supply")),
            ("      - is: [wrong_rotation, low_airflow, trips, start_up]", &line("continue in: noise")),
        ],
    );
    change("trees/wrong-link.yaml", &[("no_run, wrong_rotation, low_airflow", "noise, ")]);
    let agreed = replayed(&folder);
    fs::remove_dir_all(&folder).unwrap();
    assert_eq!(agreed.status.code(), Some(0), "{}", wrong(&agreed));
    assert!(String::from_utf8_lossy(&agreed.stdout).contains("1 case: 1 agrees"));
}
