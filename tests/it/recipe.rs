//! The recipe for a new complaint in `rules/README.md` does what it says.

use crate::house::{files, root};
use std::fs;
use std::path::Path;
use std::process::Output;

/// The documents of the recipe, each by its first word.
fn documents() -> Vec<(String, String)> {
    let readme = fs::read_to_string(root().join("rules/README.md")).unwrap();
    let (_, recipe) = readme.split_once("These five belong together").unwrap();
    let blocks = recipe.split("\n\n").filter(|block| block.starts_with("    "));
    let lines = |block: &str| block.lines().map(|line| line[4..].to_owned() + "\n").collect::<String>();
    blocks.map(|block| (block.trim().split(':').next().unwrap().to_owned(), lines(block))).collect()
}

fn replayed(folder: &Path) -> Output {
    crate::house::program()
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
        let file = if key == "case" { "cases/gaps.yaml".to_owned() } else { format!("rules/my-{key}.yml") };
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
    let unknown = wrong(&replayed(&folder));
    assert!(unknown.contains("unknown-choice"), "{unknown}");
    assert_eq!(unknown.matches("intake.yaml").count(), 2, "both steps that need a line are named\n{unknown}");
    change("readings/unit.yaml", &[("      start_up: the motor", "      dust: it runs, and blows dust\n")]);
    let missing = wrong(&replayed(&folder));
    assert_eq!(missing.matches("choice-not-covered").count(), 1, "one slip\n{missing}");
    assert_eq!(missing.matches("intake.yaml").count(), 2, "at both of its places\n{missing}");
    assert!(missing.contains("continue in: dust") && !missing.contains("unreachable-step"), "{missing}");
    let line = |way: &str| format!("      - is: dust\n        means: the blower blows dust\n        {way}\n");
    let edit = |file: &Path, edit: &dyn Fn(&str) -> String| {
        let text = fs::read_to_string(file).unwrap();
        fs::write(file, edit(&text)).unwrap();
    };
    // A line before the last one of a step.
    let into = |text: &str, step: &str, last: &str, line: &str| {
        let step = text.find(step).unwrap();
        let at = step + text[step..].find(last).unwrap();
        format!("{}{line}{}", &text[..at], &text[at..])
    };
    edit(&folder.join("rules/trees/intake.yaml"), &|text| {
        let text = into(text, "\n  complaint:\n", "    cannot:", &line("go: rated-supply"));
        into(&text, "\n  by-complaint:\n", "    not known:", &line("continue in: dust"))
    });
    // Every other step on the complaint has a line for all the rest.
    for tree in files("rules", "yaml") {
        let copy = folder.join("rules").join(tree.strip_prefix(root().join("rules")).unwrap());
        if !copy.ends_with("trees/intake.yaml") {
            edit(&copy, &|text| {
                let mut parts = text.split("    if known: complaint\n");
                let first = parts.next().unwrap().to_owned();
                parts.fold(first, |text, part| {
                    let end = part.find("    not known:").unwrap();
                    let rest = part[..end].rfind("- is: [").unwrap() + "- is: [".len();
                    format!("{text}    if known: complaint\n{}dust, {}", &part[..rest], &part[rest..])
                })
            });
        }
    }
    let agreed = replayed(&folder);
    fs::remove_dir_all(&folder).unwrap();
    assert_eq!(agreed.status.code(), Some(0), "{}", wrong(&agreed));
    assert!(String::from_utf8_lossy(&agreed.stdout).contains("1 case: 1 agrees"));
}
