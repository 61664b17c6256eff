//! `motorwright trial`: calls on simulated units are the same however they are made, safe, and shown as they were judged.

mod page;

use crate::house::{BOOK, program};
use engine::case::Case;
use engine::source::Source;
use serde_json::Value;

/// What it showed with these words, what it said aside, and its exit code.
fn trial(words: &[&str]) -> (String, String, Option<i32>) {
    let output = program().arg("trial").args(words).output().unwrap();
    let [shown, aside] = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap());
    (shown, aside, output.status.code())
}

fn lines(shown: &str) -> Vec<Value> {
    shown.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// The texts of a list.
fn texts(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect()
}

#[test]
fn the_same_seed_makes_the_same_calls_on_any_number_of_threads() {
    let words = ["--json", "--count", "40", "--slips", "--threads"];
    let on = |threads| trial(&[&words[..], &[threads]].concat());
    let (one, aside, code) = on("1");
    assert_eq!((aside.as_str(), code), ("", Some(0)));
    assert_eq!(on("3").0, one);
    let calls = lines(&one);
    assert_eq!(calls.len(), 40);
    for (call, number) in calls.iter().zip(1..) {
        assert_eq!(call["call"], number);
        assert_eq!(call["unsafe_prompts"], serde_json::json!([]), "{call}");
        assert_eq!(call["faults"].as_array().unwrap().len(), 1, "{call}");
    }
    let other = trial(&["--json", "--count", "40", "--slips", "--seed", "2"]).0;
    assert_ne!(other.replace("\"seed\":2", "\"seed\":1"), one, "another seed, other calls");
}

#[test]
fn plainly_every_row_of_a_table_is_a_line_with_its_headings() {
    let (shown, _, _) = trial(&["--count", "6", "--plain"]);
    assert!(
        shown.lines().any(|line| line.starts_with("a call took: ") && line.contains("; median: ")),
        "{shown}"
    );
    assert!(
        shown.lines().any(|line| line.starts_with("put in: ") && line.contains("; ended in: ")),
        "{shown}"
    );
    assert!(!shown.lines().any(|line| line.trim_start().contains("  ")), "no columns: {shown}");
    let (listed, _, _) = trial(&["--faults", "list", "--plain"]);
    assert!(
        listed.lines().all(|line| line.starts_with("fault: ") && line.contains("; because: ")),
        "{listed}"
    );
}

/// Fewer calls are the first of more: a number that was told stays good.
#[test]
fn a_call_is_its_number_whatever_else_is_made() {
    let some = trial(&["--json", "--count", "6", "--pairs"]).0;
    let more = trial(&["--json", "--count", "12", "--pairs"]).0;
    assert!(more.starts_with(&some));
    for call in lines(&more) {
        let faults = texts(&call["faults"]);
        assert!(faults.len() == 2 && faults[0] != faults[1], "{call}");
    }
}

#[test]
fn a_call_that_is_shown_ends_as_its_line_says_and_tells_last_what_was_put_in() {
    for call in lines(&trial(&["--json", "--count", "70"]).0).iter().step_by(9) {
        let number = call["call"].to_string();
        let (shown, aside, _) = trial(&["--show", &number, "--plain"]);
        assert_eq!(aside, "");
        let last = *texts(&call["reached"]).last().unwrap();
        let ending = BOOK.ending(BOOK.ending_named(last).unwrap());
        let name = if ending.urgent { ending.name.to_uppercase() } else { format!("END: {}", ending.name) };
        let fault = texts(&call["faults"])[0];
        let (conversation, behind) = shown.rsplit_once("PUT IN: ").unwrap();
        assert!(conversation.contains(&name), "{number}: {last}: {shown}");
        assert!(behind.starts_with(&format!("{fault}. It ends right in ")), "{number}: {shown}");
        let verdict = call["verdict"].as_str().unwrap();
        assert!(behind.contains(&format!("\nJUDGED: {verdict}: ")), "{number}: {shown}");
        assert!(!conversation.contains(fault), "{number} tells too early: {shown}");
    }
}

/// Behind somebody else's work, or a motor that was fetched, there is a next call where the house is not right.
#[test]
fn visits_are_shown_one_after_the_other() {
    let words = ["--pairs", "--faults", "supply-open,rating-lead-off", "--every-reading"];
    let calls = lines(&trial(&[&words[..], &["--json", "--count", "12"]].concat()).0);
    let twice = calls.iter().find(|call| call["visits"] == 2).expect("a call with two visits");
    assert_eq!((&twice["named"], &twice["mended"]), (&true.into(), &true.into()), "{twice}");
    assert_eq!(texts(&twice["since"]), ["restore-open-supply"]);
    let number = twice["call"].to_string();
    let (shown, _, code) = trial(&[&words[..], &["--show", &number, "--plain"]].concat());
    assert_eq!(code, Some(0));
    assert!(shown.contains(&format!("number {number} under seed 1.")), "{shown}");
    assert!(shown.contains(&format!("number {number} under seed 1, visit 2.")), "{shown}");
    assert!(shown.contains("SINCE: Others did their work: mend the open supply to the unit."), "{shown}");
    assert_eq!(shown.matches("\nEND: ").count(), 2, "{shown}");
    let (cases, _, _) = trial(&[&words[..], &["--show", &number, "--as-case"]].concat());
    assert!(cases.contains(&format!("case: trial-{number}-1\n")), "{cases}");
    assert!(cases.contains("\n---\n") && cases.contains(&format!("case: trial-{number}-2\n")), "{cases}");
}

/// The share that was named and the share that is mended stand beside each other, and count what the lines say.
#[test]
fn what_was_named_and_what_is_mended_are_both_told() {
    let words = ["--pairs", "--faults", "speed-lead-misplaced,motor-wet", "--count", "10"];
    let calls = lines(&trial(&[&words[..], &["--json"]].concat()).0);
    let count = |what: &str| calls.iter().filter(|call| call[what] == true).count();
    assert!(count("mended") > count("named"), "a new motor mends the lead beside it: {calls:#?}");
    let shown = trial(&words).0.replace('\n', " ");
    let share = |what: &str| format!("{:.1} %", 10.0 * f64::from(u32::try_from(count(what)).unwrap()));
    assert!(shown.contains(&format!("Both faults named: {} ", share("named"))), "{shown}");
    assert!(
        shown.contains(&format!("out of the unit at the end, and the house right: {} ", share("mended"))),
        "{shown}"
    );
}

#[test]
fn a_call_that_is_shown_as_a_case_is_one_that_ends_the_same() {
    let words = ["--faults", "filter-dirty", "--every-reading"];
    let call = lines(&trial(&[&words[..], &["--json", "--count", "1"]].concat()).0).remove(0);
    let (text, _, code) = trial(&[&words[..], &["--show", "1", "--as-case"]].concat());
    assert_eq!(code, Some(0), "{text}");
    let case = Case::read(&BOOK, Source::new("trial-1.yaml", &text).unwrap()).unwrap();
    let ends: Vec<&str> = case.ends.iter().map(|id| BOOK.ending(*id).id.as_str()).collect();
    assert_eq!(ends, texts(&call["reached"]), "{text}");
}

#[test]
fn units_in_order_are_left_as_they_are() {
    let calls = lines(&trial(&["--json", "--count", "20", "--healthy", "--every-reading"]).0);
    let right = calls.iter().filter(|call| call["verdict"] == "right").count();
    assert!(right >= 15, "{right} of 20: {calls:#?}");
    assert!(calls.iter().all(|call| call["faults"] == serde_json::json!([])));
}

/// What the tables count is what the lines say.
#[test]
fn the_tables_count_what_the_lines_say() {
    let words = ["--count", "30", "--faults", "filter-dirty,coil-dirty,motor-seized"];
    let calls = lines(&trial(&[&words[..], &["--json"]].concat()).0);
    let (shown, _, code) = trial(&words);
    assert_eq!(code, Some(0), "{shown}");
    assert!(
        shown.starts_with("30 calls on simulated units with one fault each, out of 3; seed 1; "),
        "{shown}"
    );
    for word in ["right", "detour", "half", "gave up", "wrong"] {
        let count = calls.iter().filter(|call| call["verdict"] == word).count().to_string();
        let row = shown.lines().find(|line| line.trim_start().starts_with(&format!("{word} "))).unwrap();
        let row = row.trim_start().strip_prefix(word).unwrap();
        assert_eq!(row.split_whitespace().next(), Some(count.as_str()), "{word}: {shown}");
    }
    let seized: Vec<&Value> =
        calls.iter().filter(|call| texts(&call["faults"]) == ["motor-seized"]).collect();
    assert_eq!(seized.len(), 10, "every fault in its turn");
    assert!(shown.contains("No prompt was unsafe"), "{shown}");
    assert!(
        shown.contains("motorwright trial --seed 1 --faults filter-dirty,coil-dirty,motor-seized --show ")
    );
}

#[test]
fn a_fault_that_there_is_not_gets_the_near_name_and_the_way_to_the_list() {
    let (_, aside, code) = trial(&["--faults", "filter-drity"]);
    let told = "motorwright: there is no fault `filter-drity`, did you mean `filter-dirty`; \
        `motorwright trial --faults list` lists them\n";
    assert_eq!((aside.as_str(), code), (told, Some(2)));
    let (list, _, code) = trial(&["--faults", "list"]);
    assert_eq!(code, Some(0));
    assert!(
        list.lines().any(|line| line.contains("filter-dirty") && line.contains("change-filter")),
        "{list}"
    );
    assert!(!list.contains("not in these rules"), "the shipped rules have an ending for each: {list}");
    let (_, aside, code) = trial(&["--pairs", "--faults", "filter-dirty"]);
    assert_eq!(code, Some(2));
    assert!(aside.contains("a pair takes two faults, and there is only `filter-dirty`"), "{aside}");
}

/// Two links at a time no motor has: told, and not counted.
#[test]
fn what_no_unit_can_have_is_not_counted() {
    let words = ["--pairs", "--faults", "link-missing-115,link-missing-230", "--count", "2"];
    let (shown, _, code) = trial(&words);
    assert!(shown.contains("Not made, and not counted: 2 calls."), "{shown}");
    assert_eq!(code, Some(0));
    let (_, aside, code) = trial(&[&words[..3], &["--show", "1"]].concat());
    assert_eq!(code, Some(2));
    assert!(
        aside.contains("call 1 cannot be made: no unit can have link-missing-115 + link-missing-230"),
        "{aside}"
    );
}

/// Rules about another machine: what the model lacks is told, and nothing is made up.
#[test]
fn rules_that_lack_the_faults_endings_are_told_so() {
    let rules = crate::house::root().join("tests/it/wrong/base");
    let (shown, _, _) =
        trial(&["--rules", rules.to_str().unwrap(), "--faults", "filter-dirty", "--count", "2"]);
    assert!(shown.contains("These rules have no ending that is right for: filter-dirty."), "{shown}");
    let unsaid = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(unsaid.contains(" what the rules do then was not tried: no_water, hums."), "{shown}");
}

/// As calls come: most units have one fault, some none or two, and each call is the one that a list shows.
#[test]
fn faults_are_drawn_as_calls_come() {
    let calls = lines(&trial(&["--json", "--count", "60", "--drawn"]).0);
    let with = |count: usize| calls.iter().filter(|call| texts(&call["faults"]).len() == count).count();
    assert!(with(1) > 30 && with(2) > 0 && with(0) + with(1) + with(2) == 60, "{calls:#?}");
    let (shown, _, code) = trial(&["--drawn", "--count", "3"]);
    assert_eq!(code, Some(0), "{shown}");
    assert!(shown.contains("none, one or two faults drawn"), "{shown}");
    assert!(shown.contains("motorwright trial --seed 1 --drawn --show "), "{shown}");
    let (_, _, code) = trial(&["--drawn", "--pairs"]);
    assert_eq!(code, Some(2));
}
