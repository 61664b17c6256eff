//! `--sarif` against the schema that OASIS publishes.

use super::{checked, error, note, warning};
use crate::house::root;
use crate::pond::{File, Folder};
use engine::finding::Code;
use serde_json::Value;
use std::fs;

/// The log as it was printed, held against the schema.
fn log(shown: &str) -> Value {
    let schema = fs::read_to_string(root().join("tests/it/check/sarif-schema-2.1.0.json")).unwrap();
    // One of its patterns has a bracket that strict regular expressions want escaped; it means the same.
    let escaped = schema.replace("-[a-zA-Z]{2}]?$", r"-[a-zA-Z]{2}\\]?$");
    assert_ne!(escaped, schema);
    let validator = jsonschema::options()
        .should_validate_formats(true)
        .build(&serde_json::from_str(&escaped).unwrap())
        .unwrap();
    let log: Value = serde_json::from_str(shown).unwrap();
    let wrong: Vec<String> =
        validator.iter_errors(&log).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(wrong.is_empty(), "{}\n{shown}", wrong.join("\n"));
    log
}

fn results(name: &str, added: &[File]) -> Vec<Value> {
    let (shown, _) = checked(name, added, &["--sarif"]);
    log(&shown)["runs"][0]["results"].as_array().unwrap().clone()
}

#[test]
fn a_log_without_results_is_a_log() {
    assert!(results("sarif-none", &[]).is_empty());
}

#[test]
fn a_result_has_its_level_its_place_and_its_words() {
    let found = results("sarif", &[warning(), note()]);
    let of = |code: &str| found.iter().find(|result| result["ruleId"] == code).unwrap();
    let (asked, unused) = (of("never-asked"), of("unused-reading"));
    assert_eq!((&asked["level"], &unused["level"]), (&"warning".into(), &"note".into()));
    let region = &asked["locations"][0]["physicalLocation"]["region"];
    let place = ["startLine", "startColumn", "endLine", "endColumn"].map(|key| region[key].as_u64().unwrap());
    assert_eq!(place, [20, 10, 20, 24]);
    assert!(asked["message"]["text"].as_str().unwrap().contains("; write `if known"));
    assert_eq!(results("sarif-error", &[error()])[0]["level"], "error");
}

#[test]
fn other_places_are_related_locations() {
    let twice = File::new("twice.yaml", "readings:\n  depth: {name: a, name: b}\n");
    let found = results("sarif-more", &[twice]);
    let related = found[0]["relatedLocations"].as_array().unwrap();
    assert_eq!(related.len(), 1);
    assert!(!related[0]["message"]["text"].as_str().unwrap().is_empty());
}

#[test]
fn the_rules_of_the_tool_are_the_codes_met_with_their_pages() {
    let (shown, _) = checked("sarif-rules", &[warning(), note()], &["--sarif"]);
    let log = log(&shown);
    let rules = log["runs"][0]["tool"]["driver"]["rules"].as_array().unwrap();
    assert_eq!(rules.len(), 2);
    for rule in rules {
        let code = Code::from_word(rule["id"].as_str().unwrap()).unwrap();
        assert_eq!(rule["help"]["markdown"], code.page());
        assert_eq!(rule["defaultConfiguration"]["level"], code.severity().word());
    }
}

fn whole(folder: &Folder) -> &str {
    folder.path().to_str().unwrap()
}

/// The file's address as RFC 3986 writes it, relative to where the program ran, or from the root.
#[test]
fn a_file_name_with_blanks_and_signs_is_a_uri() {
    let name = "Wärme: 100 % #1 ?[x].yaml";
    let folder = Folder::new("sarif-uri", &[File::new(name, note().bytes)]);
    let address = |argument: &str| {
        let output = crate::house::program()
            .args(["check", argument, "--sarif"])
            .current_dir(folder.path())
            .output()
            .unwrap();
        let log = log(&String::from_utf8(output.stdout).unwrap());
        let place = &log["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
        place["artifactLocation"]["uri"].as_str().unwrap().to_owned()
    };
    let encoded = "W%C3%A4rme%3A%20100%20%25%20%231%20%3F%5Bx%5D.yaml";
    assert_eq!(address("."), format!("./{encoded}"));
    assert_eq!(address(whole(&folder)), format!("file://{}/{encoded}", whole(&folder)));
}
