use std::collections::BTreeMap;

use serde::Deserialize;

use super::gated;
use super::shape::{Answer, Power, fault};
use crate::gate::yaml::{OneOrMany, Word};

#[test]
fn a_number_or_a_word_of_yes_and_no_is_a_word() {
    let words: BTreeMap<String, Word> = gated(
        "a: yes\nb: no\nc: on\nd: off\ne: 115\nf: 1.50\ng: -3\nh: '007'\ni: 0.5 in wc\nj: 1e300\nk: 'true'\nl: 3/4 hp\nm: 007\nn: y\no: 99999999999999999999999\n",
    )
    .read()
    .unwrap();
    let texts: Vec<_> = words.values().map(Word::as_str).collect();
    let expected = [
        "yes",
        "no",
        "on",
        "off",
        "115",
        "1.5",
        "-3",
        "007",
        "0.5 in wc",
        "1e300",
        "true",
        "3/4 hp",
        "007",
        "y",
        "1e23",
    ];
    assert_eq!(texts, expected);
    let plain: BTreeMap<String, String> = gated("a: yes\nb: no\nc: on\nd: off\n").read().unwrap();
    assert_eq!(plain.into_values().collect::<Vec<_>>(), ["yes", "no", "on", "off"]);
}

#[test]
fn what_is_no_word_is_refused_with_the_mend() {
    type Words = BTreeMap<String, Word>;
    assert_eq!(
        fault::<Words>("a: null\n"),
        "x.yaml:1:4: error: bad-value: expected a value, found nothing\n  help: write the value"
    );
    assert_eq!(
        fault::<Words>("a: .inf\n"),
        "x.yaml:1:4: error: bad-value: expected a number or text, found no finite number\n  help: write the number out"
    );
    assert!(
        fault::<Words>("a: [b]\n")
            .starts_with("x.yaml:1:4: error: wrong-type: expected a single value, found a list\n")
    );
}

#[test]
fn keys_are_text_as_written_whatever_they_look_like() {
    let keys: BTreeMap<String, Word> = gated("115: a\n1.10: b\ntrue: false\non: d\n~: e\n").read().unwrap();
    assert_eq!(keys["true"].as_str(), "false");
    assert_eq!(keys.into_keys().collect::<Vec<_>>(), ["1.10", "115", "on", "true", "~"]);
    let fault = fault::<BTreeMap<String, Word>>("1.10: ~\n");
    assert!(fault.starts_with("x.yaml:1:7: error: bad-value"), "{fault}");
}

#[test]
fn one_value_or_a_list_of_them() {
    #[derive(Debug, Deserialize, PartialEq)]
    struct Name(String);
    let read: BTreeMap<String, OneOrMany<Word>> = gated("a: x\nb: [y, 115, no]\nc: 1.5\n").read().unwrap();
    let texts: Vec<Vec<String>> = read
        .into_values()
        .map(|many| many.as_slice().iter().map(|word| word.as_str().to_owned()).collect())
        .collect();
    assert_eq!(texts, [vec!["x"], vec!["y", "115", "no"], vec!["1.5"]]);
    let names: BTreeMap<String, OneOrMany<Name>> = gated("a: x\nb: [y]\n").read().unwrap();
    assert_eq!(names["a"].as_slice(), [Name("x".to_owned())]);
    let powers: BTreeMap<String, OneOrMany<Power>> = gated("a: live\nb: [dead, any]\n").read().unwrap();
    assert_eq!(powers["b"].as_slice(), [Power::Dead, Power::Any]);
    let answers: BTreeMap<String, OneOrMany<Answer>> = gated("a: {is: x}\nb: [{is: y}]\n").read().unwrap();
    assert_eq!(answers["a"].as_slice().len(), 1);
}
