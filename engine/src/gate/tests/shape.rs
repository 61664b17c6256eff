use std::collections::BTreeMap;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::gated;
use crate::gate::yaml::{OneOrMany, Word};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "read for its faults")]
struct Page {
    tree: String,
    minutes: Option<u32>,
    share: Option<f64>,
    live: Option<bool>,
    #[serde(default)]
    steps: BTreeMap<String, Step>,
    power: Option<Power>,
    pair: Option<(u8, u8)>,
    #[serde(default)]
    counts: BTreeMap<Even, u8>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
#[expect(dead_code, reason = "read for its faults")]
struct Step {
    ask: Word,
    because: String,
    #[serde(default)]
    answers: Vec<Answer>,
    only_here: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "read for its faults")]
pub(super) struct Answer {
    is: OneOrMany<Word>,
    end: Option<OneOrMany<Power>>,
}

#[derive(Debug, Deserialize, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Power {
    Live,
    Dead,
    Any,
}

#[derive(Debug, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(try_from = "String")]
struct Even(String);

impl TryFrom<String> for Even {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        if text.len().is_multiple_of(2) { Ok(Self(text)) } else { Err(format!("the name `{text}` is odd")) }
    }
}

#[track_caller]
pub(super) fn fault<T: DeserializeOwned + std::fmt::Debug>(text: &str) -> String {
    gated(text).read::<T>().unwrap_err().to_string()
}

#[track_caller]
fn check(text: &str, expected: &str) {
    assert_eq!(fault::<Page>(text), expected, "{text:?}");
}

#[test]
fn an_unknown_key_is_told_at_the_key_with_the_near_one() {
    check(
        "tree: x\nminuts: 1\n",
        "x.yaml:2:1: error: unknown-key: unknown key `minuts`\n  help: did you mean `minutes`?",
    );
    let deep = "tree: x\nsteps:\n  a/b.c ~d:\n    ask: x\n    becuase: y\n";
    check(deep, "x.yaml:5:5: error: unknown-key: unknown key `becuase`\n  help: did you mean `because`?");
    let far = "tree: x\nsteps: {a: {ask: x, colour: y, because: z}}\n";
    check(
        far,
        "x.yaml:2:21: error: unknown-key: unknown key `colour`\n  help: expected `ask`, `because`, `answers` or `only-here`",
    );
    let sly = "tree: x\n\"a`, expected `b`\": 1\n";
    assert!(fault::<Page>(sly).starts_with("x.yaml:2:1: error: unknown-key: unknown key `a`, expected `b`"));
    let list = "tree: x\nsteps:\n  a: {ask: x, because: y, answers: [{is: x}, {was: y}]}\n";
    assert!(fault::<Page>(list).starts_with("x.yaml:3:47: error: unknown-key: unknown key `was`"));
}

#[test]
fn a_missing_key_is_told_at_the_key_above_it() {
    check(
        "minutes: 1\nshare: 2\n",
        "x.yaml:1:1: error: missing-key: missing key `tree`\n  help: add a line that starts with `tree:`",
    );
    check(
        "tree: x\nsteps:\n  a b:\n    ask: x\n",
        "x.yaml:3:3: error: missing-key: missing key `because`\n  help: add a line that starts with `because:`",
    );
    let item =
        "tree: x\nsteps:\n  a:\n    ask: x\n    because: y\n    answers:\n      - is: x\n      - end: live\n";
    assert!(fault::<Page>(item).starts_with("x.yaml:8:9: error: missing-key: missing key `is`\n"));
}

#[test]
fn a_wrong_type_is_told_in_plain_words() {
    check(
        "tree: {a: 1}\n",
        "x.yaml:1:7: error: wrong-type: expected text, found keys with values\n  help: put the whole text in quotes: \
         a colon with a blank behind it makes a key of what is before it",
    );
    check(
        "tree: [a]\n",
        "x.yaml:1:7: error: wrong-type: expected text, found a list\n  help: it is no list: write `tree: a`",
    );
    check(
        "tree: 115\n",
        "x.yaml:1:7: error: wrong-type: expected text, found the number `115`\n  help: put it in quotes",
    );
    check(
        "tree: true\n",
        "x.yaml:1:7: error: wrong-type: expected text, found the value `true`\n  help: put it in quotes",
    );
    check(
        "tree: ~\n",
        "x.yaml:1:7: error: wrong-type: expected text, found nothing\n  help: write text here",
    );
    check(
        "tree: x\nminutes: soon\n",
        "x.yaml:2:10: error: wrong-type: expected a whole number, zero or more, found the text `soon`\n  help: write a whole number, zero or more here",
    );
    check(
        "tree: x\nshare: a, expected b\n",
        "x.yaml:2:8: error: wrong-type: expected a number, found the text `a, expected b`\n  help: write a number here",
    );
    check(
        "tree: x\nlive: yes\n",
        "x.yaml:2:7: error: wrong-type: expected `true` or `false`, found the text `yes`\n  help: write `true` or `false` here",
    );
    check(
        "tree: x\nsteps: [a]\n",
        "x.yaml:2:8: error: wrong-type: expected keys with values, found a list\n  help: write each key with a colon and its value",
    );
    check(
        "tree: x\nsteps: {a: on}\n",
        "x.yaml:2:12: error: wrong-type: expected keys with values, found the text `on`\n  help: write each key with a colon and its value",
    );
    check(
        "tree: x\npower: {live: 1}\n",
        "x.yaml:2:8: error: wrong-type: expected one word, found keys with values\n  help: write one word here",
    );
}

#[test]
fn a_tab_only_the_data_library_minds_is_told_in_the_same_words() {
    let told = "error: bad-yaml: a tab where only spaces may stand\n  help: put spaces in place of the tab";
    check("tree: x\nsteps:\n \ta: y\n", &format!("x.yaml:3:2: {told}"));
}

#[test]
fn a_bad_value_is_told_at_the_value() {
    check(
        "tree: x\npower: Livee\n",
        "x.yaml:2:8: error: bad-value: unknown word `Livee`\n  help: did you mean `live`?",
    );
    check(
        "tree: x\npower: sleeping\n",
        "x.yaml:2:8: error: bad-value: unknown word `sleeping`\n  help: expected `live`, `dead` or `any`",
    );
    assert!(fault::<Page>("tree: x\nminutes: -1\n").starts_with(
        "x.yaml:2:10: error: bad-value: expected a whole number, zero or more, found the number `-1`\n"
    ));
    check(
        "tree: x\npair: [1]\n",
        "x.yaml:2:7: error: bad-value: expected a list of 2, found 1 of them\n  help: write a list of 2 here",
    );
    let long = format!("tree: x\npower: >-\n{}", "  abcdefgh\n".repeat(90_000));
    assert!(fault::<Page>(&long).len() < 200);
}

#[test]
fn a_fault_of_a_key_s_own_type_is_told_at_the_key() {
    check("tree: x\ncounts:\n  ab: 1\n  abc: 2\n", "x.yaml:4:3: error: bad-value: the name `abc` is odd");
}

#[test]
fn a_fault_inside_one_or_many_keeps_its_place_and_its_words() {
    type Powers = BTreeMap<String, OneOrMany<Power>>;
    type Answers = BTreeMap<String, OneOrMany<Answer>>;
    assert_eq!(
        fault::<Powers>("a: []\n"),
        "x.yaml:1:4: error: bad-value: expected at least one, found an empty list\n  help: write what belongs here"
    );
    assert_eq!(
        fault::<Powers>("a: ~\n"),
        "x.yaml:1:4: error: bad-value: expected a value, found nothing\n  help: write the value"
    );
    assert!(
        fault::<Powers>("a: [live, ded]\n")
            .starts_with("x.yaml:1:11: error: bad-value: unknown word `ded`\n  help: did you mean `dead`?")
    );
    assert!(fault::<Powers>("a: ded\n").starts_with("x.yaml:1:4: error: bad-value: unknown word `ded`"));
    assert!(
        fault::<Answers>("a: {iz: x}\n")
            .starts_with("x.yaml:1:5: error: unknown-key: unknown key `iz`\n  help: did you mean `is`?")
    );
    assert!(
        fault::<Answers>("a: {end: live}\n").starts_with("x.yaml:1:1: error: missing-key: missing key `is`")
    );
    assert!(
        fault::<Answers>("a: x\n")
            .starts_with("x.yaml:1:4: error: wrong-type: expected keys with values, found the text `x`")
    );
    assert!(
        fault::<Answers>("a:\n  - is: x\n  - is: ~\n")
            .starts_with("x.yaml:3:9: error: bad-value: expected a value, found nothing")
    );
    assert!(
        fault::<BTreeMap<String, OneOrMany<f64>>>("a: no\n")
            .contains("expected a number, found the text `no`")
    );
}

#[test]
fn faults_that_do_not_hang_together_are_all_told_of_from_top_to_bottom() {
    let told = |text: &str| -> Vec<String> {
        let titles = |line: &str| Some(line.strip_prefix("x.yaml:")?.replacen(" error:", "", 1));
        fault::<Page>(text).lines().filter_map(titles).collect()
    };
    let steps = "tree: [x]
minutes: soon
steps:
  a: {ask: [x], because: y, colour: z}
  b: {because: y, answers: [{is: x, was: z}, {end: [ded, live, liv]}]}
  c: [x]
  d: {ask: x, because: y}
  e: {ask: x, because: y, answers: {is: x}}
power: [live]
";
    assert_eq!(
        told(steps),
        [
            "1:7: wrong-type: expected text, found a list",
            "2:10: wrong-type: expected a whole number, zero or more, found the text `soon`",
            "4:12: wrong-type: expected a single value, found a list",
            "4:29: unknown-key: unknown key `colour`",
            "5:3: missing-key: missing key `ask`",
            "5:37: unknown-key: unknown key `was`",
            "5:47: missing-key: missing key `is`",
            "5:53: bad-value: unknown word `ded`",
            "5:64: bad-value: unknown word `liv`",
            "6:6: wrong-type: expected keys with values, found a list",
            "8:36: wrong-type: expected a list, found keys with values",
            "9:8: wrong-type: expected one word, found a list",
        ]
    );
}

#[test]
fn what_stands_behind_a_misspelt_key_is_read_as_if_it_were_spelt_right() {
    let fault =
        fault::<Page>("tree: x\nsteps:\n  a: {aks: [x], becuase: y}\n  b: {ask: x, aks: y, because: z}\n");
    let titles: Vec<&str> = fault.lines().filter(|line| line.starts_with('x')).collect();
    assert_eq!(
        titles,
        [
            "x.yaml:3:7: error: unknown-key: unknown key `aks`",
            "x.yaml:3:12: error: wrong-type: expected a single value, found a list",
            "x.yaml:3:17: error: unknown-key: unknown key `becuase`",
            "x.yaml:4:15: error: unknown-key: unknown key `aks`",
        ]
    );
}

#[test]
fn a_number_without_end_is_no_number_of_anything() {
    assert!(fault::<Page>("tree: x\nshare: .inf\n").starts_with(
        "x.yaml:2:8: error: bad-value: expected a number that has an end, found the number `inf`"
    ));
}

#[test]
fn behind_twenty_faults_the_rest_is_left_alone() {
    let steps: Vec<String> = (0..3_000).map(|step| format!("  s{step}: {{ask: x, becuase: y}}\n")).collect();
    let fault = fault::<Page>(&format!("tree: x\nsteps:\n{}", steps.concat()));
    assert_eq!(fault.matches("unknown-key").count(), 20);
    assert!(fault.contains(": error: too-many: 20 faults so far"), "{fault}");
}
