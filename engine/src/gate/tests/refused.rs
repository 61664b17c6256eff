use super::{gated, reported};
use crate::gate::Gated;
use crate::source::Source;

#[track_caller]
fn check(text: &str, expected: &str) {
    assert_eq!(reported(text).to_string(), expected, "{text:?}");
}

#[test]
fn nothing_at_all_is_told() {
    let help = "\n  help: write the rules, or take the file away";
    for text in ["", "\n\n", "# only a note\n", "\u{feff}"] {
        check(text, &format!("x.yaml:1:1: error: empty-file: there is nothing in this file{help}"));
    }
    check(
        "---\n",
        "x.yaml:1:4: error: empty-file: there is nothing in this document\n  help: write the rules",
    );
}

#[test]
fn the_top_has_to_be_a_mapping() {
    assert!(reported("- a\n").to_string().starts_with(
        "x.yaml:1:1: error: wrong-type: expected keys with values at the top of the file, found a list\n"
    ));
    assert!(reported("some text\n").to_string().contains("found a single value"));
}

#[test]
fn a_key_written_twice_is_told_with_both_places() {
    let help = "\n  help: keep one of the two; or give the second the name it should have";
    check(
        "a: 1\nb: 2\na: 3\n",
        &format!(
            "x.yaml:3:1: error: duplicate-key: the key `a` stands here twice\n  x.yaml:1:1: first written here{help}"
        ),
    );
    check(
        "s:\n  - {Ω: 1, \"Ω\": 2}\n",
        &format!(
            "x.yaml:2:12: error: duplicate-key: the key `Ω` stands here twice\n  x.yaml:2:6: first written here{help}"
        ),
    );
    assert!(gated("a: {a: {a: 1}}\nb: [{a: 1}, {a: 2}]\n").top_keys().len() == 2);
}

#[test]
fn anchors_aliases_tags_and_merge_keys_are_told_at_their_sign() {
    let told = |text: &str| {
        reported(text)
            .findings()
            .iter()
            .map(|f| (f.code().as_str(), f.place().line(), f.place().column()))
            .collect::<Vec<_>>()
    };
    assert_eq!(told("a: &x 1\nb: *x\n"), [("forbidden-yaml", 1, 4), ("forbidden-yaml", 2, 4)]);
    assert_eq!(
        told("a: &x {b: 1}\nc:\n  <<: *x\n"),
        [("forbidden-yaml", 1, 4), ("forbidden-yaml", 3, 3), ("forbidden-yaml", 3, 7)]
    );
    assert_eq!(told("a: *missing\n"), [("forbidden-yaml", 1, 4)]);
    assert_eq!(told("a: *\n"), [("forbidden-yaml", 1, 4)]);
    assert_eq!(
        told("a: !!str 1\nb: !x {c: 1}\nd: ! e\n"),
        [("forbidden-yaml", 1, 4), ("forbidden-yaml", 2, 4), ("forbidden-yaml", 3, 4)]
    );
    assert_eq!(told("%YAML 1.2\n---\na: 1\n"), [("forbidden-yaml", 1, 1)]);
    assert!(gated("a: '*x'\nb: \"<<\"\n'<<': c\n").top_keys().len() == 3);
}

#[test]
fn a_second_document_is_told_where_it_begins() {
    let told = reported("a: 1\n---\nb: 2\n").to_string();
    assert!(told.starts_with("x.yaml:2:1: error: two-documents: a second document begins here\n"), "{told}");
}

#[test]
fn a_key_is_one_word_or_a_few_on_one_line() {
    let told = |text: &str| reported(text).to_string();
    assert!(told("say: {{ name }}\n").starts_with(
        "x.yaml:1:7: error: forbidden-yaml: expected a word as the key, found keys with values\n"
    ));
    assert!(
        told("[1, 2]: a\n").contains("1:1: error: forbidden-yaml: expected a word as the key, found a list")
    );
    assert!(told("? - a\n: b\n").contains("forbidden-yaml: expected a word as the key, found a list"));
    assert!(told("? |\n  a\n  b\n: c\n").contains("forbidden-yaml: a key over several lines"));
    assert!(told("a: {b\n  c: 1}\n").contains("1:5: error: forbidden-yaml: a key over several lines"));
    assert!(told(": a\n").contains("forbidden-yaml: expected a key, found nothing"));
}

#[test]
fn a_key_or_a_dash_with_nothing_after_it_is_told() {
    check(
        "a: 1\nbecause:\nc: 2\n",
        "x.yaml:2:1: error: empty-value: expected a value after `because`, found nothing\n  help: write the value, or take the key out",
    );
    check(
        "a:\n  - b\n  -\n",
        "x.yaml:3:3: error: empty-value: expected an item, found nothing\n  help: write the item, or take the dash out",
    );
    assert!(reported("a: {b}\n").to_string().contains("1:5: error: empty-value: expected a value after `b`"));
    assert!(gated("a: ''\nb: []\nc: {}\n").top_keys().len() == 3);
}

#[test]
fn an_escape_does_not_smuggle_control_characters_in() {
    let told = reported("a: \"\\e[31m\"\n").to_string();
    assert!(
        told.starts_with("x.yaml:1:4: error: not-text: a character that cannot be seen, U+001B\n"),
        "{told}"
    );
}

#[test]
fn syntax_errors_are_told_in_plain_words() {
    let first = |text: &str| reported(text).to_string().lines().next().unwrap().to_owned();
    assert_eq!(
        first("a: 1\nmeans: one: two\n"),
        "x.yaml:2:11: error: bad-yaml: a colon where none may stand"
    );
    assert_eq!(first("a:\n\tb: 1\n"), "x.yaml:2:1: error: bad-yaml: a tab where only spaces may stand");
    assert_eq!(first("a: 'x\nb: 1\n"), "x.yaml:1:4: error: bad-yaml: a quote is opened and never closed");
    assert_eq!(first("a: [1, 2\n"), "x.yaml:1:4: error: bad-yaml: `[` is opened and never closed");
    assert_eq!(first("a: 1\n b: 2\n"), "x.yaml:2:3: error: bad-yaml: a colon where none may stand");
    assert_eq!(
        first("a:\n    b: 1\n  c: 2\n"),
        "x.yaml:3:3: error: bad-yaml: this line does not line up with the lines before it"
    );
    assert_eq!(first("a: @x\n"), "x.yaml:1:4: error: bad-yaml: plain text cannot start with `@`");
    assert_eq!(
        first("a: 1\njust text\n"),
        "x.yaml:2:1: error: bad-yaml: expected a key with a colon, found text"
    );
    assert_eq!(first("a: \"x\" y\n"), "x.yaml:1:8: error: bad-yaml: text after a closing quote");
}

#[test]
fn a_bracket_left_open_is_shown_with_the_error_it_leads_to() {
    let told = reported("a: [1, 2\nb: 3\n").to_string();
    assert!(
        told.starts_with(
            "x.yaml:2:2: error: bad-yaml: a colon where none may stand\n  x.yaml:1:4: this bracket is still open\n"
        ),
        "{told}"
    );
}

#[test]
fn every_fault_before_a_syntax_error_is_told_too() {
    let told = reported("a: 1\na: 2\nb: *x\nc: 'open\n");
    let codes: Vec<_> = told.findings().iter().map(|finding| finding.code().as_str()).collect();
    assert_eq!(codes, ["duplicate-key", "forbidden-yaml", "bad-yaml"]);
}

/// The traps that stall or sink a YAML reader: each is one clear finding, at once.
#[test]
#[expect(clippy::disallowed_methods, reason = "that nothing stalls is what is tested")]
fn bombs_are_refused_at_once() {
    let deep_blocks: Vec<_> = (0..1_000).map(|n| format!("{}a:", " ".repeat(n))).collect();
    let aliases = format!("a: &x {}\nb: [{}]\n", "y".repeat(10_000), vec!["*x"; 4_000].join(", "));
    let long_list = format!("a:\n{}", "- *x\n".repeat(100_000));
    let bombs = [
        ("[".repeat(19_000), "too-deep"),
        ("[\n".repeat(200_000), "too-deep"),
        ("{a: ".repeat(4_000), "too-deep"),
        ("- ".repeat(9_000), "too-deep"),
        ("? ".repeat(9_000), "too-many"),
        (deep_blocks.join("\n"), "too-deep"),
        (aliases, "too-many"),
        (long_list, "too-many"),
        (format!("a: {}", "!".repeat(19_000)), "forbidden-yaml"),
        (format!("a: {}", "&x ".repeat(6_000)), "bad-yaml"),
        ("a: 1\n".repeat(200_000), "too-many"),
        (format!("{}\n", "a".repeat(19_000)), "wrong-type"),
        (format!("\"{}", "\\\n".repeat(500_000)), "bad-yaml"),
    ];
    for (bomb, code) in bombs {
        let start = bomb.get(..bomb.floor_char_boundary(30)).unwrap();
        let clock = std::time::Instant::now();
        let told = Gated::check(Source::new("x.yaml", &bomb).unwrap()).unwrap_err();
        let took = clock.elapsed();
        let shown: String = told.findings().iter().map(crate::finding::Finding::with_source).collect();
        assert!(told.findings().iter().any(|f| f.code().as_str() == code), "{start:?} {shown}");
        assert!(told.findings().len() <= 21);
        assert!(took.as_millis() < 2_000, "{start:?} took {took:?}");
    }
    let endless = "[".repeat(200_000);
    assert!(Source::new("x.yaml", endless).unwrap_err().to_string().contains("too-large: a line"));
}

#[test]
fn the_depth_of_rule_files_is_well_inside_the_limit() {
    let nest = |deep: usize| format!("a: {}1{}\n", "[".repeat(deep), "]".repeat(deep));
    assert_eq!(gated(&nest(63)).top_keys(), ["a"]);
    assert!(reported(&nest(64)).to_string().contains("1:67: error: too-deep: more than 64 lists and keys"));
}

#[test]
fn a_sign_that_compares_is_told_with_its_word() {
    for (sign, help) in [
        ("<", "write `below: 0.5 V`"),
        ("<=", "write `at most: 0.5 V`, or in a band `up to: 0.5 V`"),
        ("≥", "write `at least: 0.5 V`; a band has an upper end, never a lower one"),
    ] {
        check(
            &format!("a: {{{sign} 0.5 V}}\n"),
            &format!(
                "x.yaml:1:5: error: empty-value: a sign that compares: a word stands in its place here\n  help: {help}"
            ),
        );
    }
}
