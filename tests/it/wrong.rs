//! Wrong rule files and wrong case files, and exactly what a trainer is told of each.
//!
//! The rules are those of a pond pump. A fixture marks every line that is to be told of; the whole of what is said of
//! it is a snapshot.

use crate::pond::{File, base, base_with, book_with, files, found, shown};
use engine::case::Case;
use engine::finding::{Code, Finding, Place};
use engine::rulebook::Rulebook;
use std::collections::BTreeSet;

/// Everything that is said of a fixture's rules.
fn said_of_rules(fixture: &File) -> Vec<Finding> {
    let found = found(&base_with(std::slice::from_ref(fixture)));
    assert!(!found.is_empty(), "{} is read without a word", fixture.name);
    found
}

/// Everything that is said of a fixture's case.
fn said_of_case(book: &Rulebook, fixture: &File) -> Vec<Finding> {
    let read = fixture.source().and_then(|source| Case::read(book, source));
    assert!(read.is_err(), "{} is read without a word", fixture.name);
    read.unwrap_err().findings().to_vec()
}

fn pin(kind: &str, fixture: &str, found: &[Finding]) {
    let name = fixture.trim_end_matches(".yaml");
    let mut settings = insta::Settings::clone_current();
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(format!("wrong_{kind}__{name}"), shown(found)));
}

/// The fixture's line that a finding tells of: its own place, or the first other place in the fixture.
fn line_in(fixture: &File, finding: &Finding) -> Option<usize> {
    std::iter::once(finding.place())
        .chain(finding.more().iter().map(|(place, _)| place))
        .find(|place| place.source().name() == fixture.name)
        .map(Place::line)
}

/// Pins what is said of a fixture; gives it back where it is not what the marks say.
fn check(kind: &str, fixture: &File, found: &[Finding]) -> Option<String> {
    let told: Vec<_> =
        found.iter().map(|finding| (line_in(fixture, finding), finding.code().to_string())).collect();
    let marks = fixture.marks();
    let marked = marks.into_iter().map(|(line, code)| (Some(line), code));
    pin(kind, &fixture.name, found);
    (!told.iter().cloned().eq(marked)).then(|| format!("{}: {told:?}\n{}", fixture.name, shown(found)))
}

/// A tree that leans on what was asked before it, and a line of another that comes by without having asked.
const COMES_BY: [(&str, &str); 2] = [
    (
        "water.yaml",
        "tree: water
name: the pump draws no water
start: impeller
steps:
  impeller:
    ask: impeller_turns
    because: Stones are common.
    answers:
      - {is: free, means: it is in order, end: pump-in-order}
    cannot: {end: too-little}
",
    ),
    (
        "fault.yaml",
        "# in place of pump.yaml
tree: pump
name: the pump does not pump
start: danger
steps:
  danger:
    ask: danger_at_pump
    because: Nobody goes near what can hurt.
    answers:
      - {is: none, means: it is safe to go on, go: fault}
      - {is: [shock, flood], means: it can hurt, end: keep-away}
    cannot: {end: keep-away}
  fault:
    ask: fault
    because: Everything starts from the complaint.
    answers:
      - {is: no_water, means: it may draw air, go: turns}
      - {is: [hums, trips], means: it may be stuck, visit: water, then: trap}
    cannot: {end: too-little}
  turns:
    ask: impeller_turns
    because: Stones are common.
    answers:
      - {is: free, means: it is in order, continue in: water}
      - {is: stuck, means: stones hold it, end: clear-impeller}
    cannot: {continue in: water}
  trap:
    ask: water_in_trap
    because: A dry pump draws air.
    answers:
      - {is: full, means: the trap is in order, end: too-little}
      - {is: empty, means: it draws air, end: fill-trap}
    cannot: {end: too-little}
",
    ),
];

/// Two repairs behind one sign, of which one leaves what was read of it.
const LEFT_SIGN: [(&str, &str); 2] = [
    (
        "deeds.yaml",
        "# in place of deeds.yaml
deeds:
  clear-impeller:
    name: clear the impeller
    power: dead
    panel: off
    minutes: 10
    steps: [Pull the stones out., Turn it by hand.]
    makes stale: [impeller_turns, pump_amps, pump_runs]
  fill-trap:
    name: fill the trap
    power: any
    panel: any
    minutes: 5
    steps: [Pour water in.]
    sets: {water_in_trap: full}
    makes stale: [pump_runs]
  switch-pump-on:
    name: switch the pump on
    power: any
    panel: any
    energises: yes
    steps: [Turn the switch.]
    sets: {switch_position: on}
    makes stale: [pump_runs]
",
    ),
    (
        "water.yaml",
        "# in place of water.yaml
tree: water
name: the pump draws no water
start: amps
steps:
  amps:
    ask: pump_amps
    because: A pump that is held draws more.
    bands:
      - {up to: 6 A, means: nothing holds it, from: common practice, end: pump-in-order}
      - {above: the last, means: something holds it, go: impeller}
    cannot: {end: too-little}
  impeller:
    ask: impeller_turns
    because: Stones are common.
    answers:
      - {is: free, means: it is in order, go: trap}
      - {is: stuck, means: stones hold it, end: clear-impeller}
    cannot: {end: too-little}
  trap:
    ask: water_in_trap
    because: A dry pump runs hot and stiff.
    answers:
      - {is: full, means: the trap is in order, end: too-little}
      - {is: empty, means: it runs dry, end: fill-trap}
    cannot: {end: too-little}
",
    ),
];

/// A reading that is new, and a step that leads from it to work that is not.
const NEW_LOOK: [(&str, &str); 2] = [
    (
        "look.yaml",
        "readings:
  inlet_screen:
    name: screen at the inlet
    say: Is the screen at the inlet free of leaves?
    how: Look at it through the water.
    choices: {free: no leaves on it, covered: leaves cover it}
    power: any
    panel: any
    lasts: until touched
",
    ),
    (
        "water.yaml",
        "# in place of water.yaml
tree: water
name: the pump draws no water
start: impeller
steps:
  impeller:
    ask: impeller_turns
    because: Stones are common.
    answers:
      - {is: free, means: it is in order, go: screen}
      - {is: stuck, means: stones hold it, end: clear-impeller}
    cannot: {go: trap}
  screen:
    ask: inlet_screen
    because: Leaves hold the water back.
    answers:
      - {is: free, means: water comes in, go: trap}
      - {is: covered, means: leaves are drawn into it, end: clear-impeller}
    cannot: {go: trap}
  trap:
    ask: water_in_trap
    because: A dry pump draws air.
    answers:
      - {is: full, means: the trap is in order, end: pump-in-order}
      - {is: empty, means: it draws air, end: fill-trap}
    cannot: {end: too-little}
",
    ),
];

/// Faults that no fixture can hold: bytes that are no text, sizes, files that are not there, two trees between them.
/// A file of the base under another name.
fn renamed(file: &str, name: &str) -> File {
    let base = files("base").into_iter().find(|other| other.name == file).unwrap();
    File::new(name, format!("# in place of {file}\n{}", base.text()))
}

/// To fill the trap is said to leave it empty, which is what led to it.
fn sets_what_it_was_come_to_by() -> Vec<Finding> {
    found(&base_with(&LEFT_SIGN.map(|(name, text)| {
        let text = text.replace("water_in_trap: full}", "water_in_trap: empty}");
        File::new(
            name,
            text.replace(
                "makes stale: [pump_runs]\n  switch",
                "makes stale: [pump_runs, pump_amps]\n  switch",
            ),
        )
    })))
}

/// A step with an ending on each line that is not there.
fn lost_endings() -> String {
    let endings: Vec<String> =
        (1..=300).map(|n| format!("      - {{is: full, means: m{n}, end: e{n}}}\n")).collect();
    format!(
        "# in place of water.yaml\ntree: water\nname: water\nstart: trap\nsteps:\n  trap:\n    ask: water_in_trap\n    \
         because: Air.\n    answers:\n{}    cannot: {{end: too-little}}\n",
        endings.concat()
    )
}

fn made() -> Vec<(&'static str, Code, Vec<Finding>)> {
    let of = |file: &File| said_of_rules(file);
    let base_without = |name: &str| {
        let mut files = files("base");
        files.retain(|file| file.name != name);
        found(&files)
    };
    let lost = lost_endings();
    let all = files("base");
    let readings = all.iter().find(|file| file.name == "readings.yaml").unwrap().text();
    let profiles = all.iter().find(|file| file.name == "profiles.yaml").unwrap().text();
    let without_wait = profiles.replace("    gives: {charge_wait: 1 min}\n", "");
    assert_ne!(without_wait, profiles, "the base's profile gives its wait on a line");
    let long = format!("readings:\n  pond: {}\n", "deep ".repeat(5000));
    vec![
        (
            "bytes_of_another_encoding",
            Code::NotText,
            of(&File::new("old.yaml", *b"tree: pond\nname: 70 \xb0F\n")),
        ),
        ("a_line_without_end", Code::TooLarge, of(&File::new("long.yaml", long))),
        // Of the hundred that are shown, the last two and what is said of the others.
        ("endings_that_are_all_not_there", Code::UnknownId, of(&File::new("lost.yaml", lost)).split_off(98)),
        (
            "a_tree_without_any_other_rules",
            Code::MissingFile,
            found(&files("base").into_iter().filter(|file| file.name == "pump.yaml").collect::<Vec<_>>()),
        ),
        (
            "a_charge_that_nobody_knows_how_long_to_wait_for",
            Code::MissingKey,
            of(&File::new("profiles.yaml", without_wait)),
        ),
        ("no_power_file", Code::MissingFile, base_without("power.yaml")),
        (
            "a_tree_that_another_comes_to_without_having_asked",
            Code::ChoiceNotCovered,
            found(&base_with(&COMES_BY.map(|(name, text)| File::new(name, text)))),
        ),
        (
            "a_new_look_that_no_work_touches",
            Code::NeverStale,
            found(&base_with(&NEW_LOOK.map(|(name, text)| File::new(name, text)))),
        ),
        (
            "a_sign_that_one_work_leaves_and_another_is_proved_by",
            Code::LeftAsFound,
            found(&base_with(&LEFT_SIGN.map(|(name, text)| File::new(name, text)))),
        ),
        ("work_that_sets_what_it_was_come_to_by", Code::SetAsFound, sets_what_it_was_come_to_by()),
        (
            "a_complaint_given_to_two_trees",
            Code::DuplicateId,
            found(&base_with(&["drain", "leak"].map(|tree| {
                let steps = "start: lid\nsteps:\n  lid:\n    ask: under_lid\n    because: It costs a look.\n    answers:\n      \
                             - {is: [wet, dry], means: it leaks, end: too-little}\n    cannot: {end: too-little}\n";
                let text = format!("tree: {tree}\nname: water is lost\ncomplaint: hums\n{steps}");
                File::new(&format!("{tree}.yaml"), text)
            }))),
        ),
        (
            "a_file_with_an_ending_behind_its_own",
            Code::FileNotRead,
            of(&File::new("notes.yaml.txt", "# of the pond\n\nreadings:\n  pond_depth: 3 ft\n")),
        ),
        (
            "a_tree_in_a_file_that_is_not_read",
            Code::FileNotRead,
            of(&renamed("water.yaml", "water.yaml.txt")),
        ),
        (
            "a_tree_in_a_file_that_is_not_read_beside_a_name_that_is_not_there",
            Code::FileNotRead,
            found(&base_with(&[
                renamed("water.yaml", "water.yaml.txt"),
                File::new(
                    "weed.yaml",
                    "deeds:\n  weed:\n    name: weed\n    power: any\n    panel: any\n    steps: [Weed.]\n    \
                     makes stale: [weeds]\n",
                ),
            ])),
        ),
        (
            "a_new_complaint_with_a_name_like_one_that_is_served",
            Code::UnknownChoice,
            found(&base_with(&[("drain", "hums"), ("buzz", "humms")].map(|(tree, complaint)| {
                let steps = "start: lid\nsteps:\n  lid:\n    ask: under_lid\n    because: It costs a look.\n    answers:\n      \
                             - {is: [wet, dry], means: it leaks, end: too-little}\n    cannot: {end: too-little}\n";
                let text = format!("tree: {tree}\nname: water is lost\ncomplaint: {complaint}\n{steps}");
                File::new(&format!("{tree}.yaml"), text)
            }))),
        ),
        ("an_empty_folder", Code::MissingFile, found(&[])),
        (
            "a_number_sign_in_the_words_of_a_choice",
            Code::TextCut,
            of(&File::new("readings.yaml", readings.replace("nothing dangerous is seen", "nothing is seen at pond # 1"))),
        ),
    ]
}

#[test]
fn rules_of_another_machine_are_read() {
    assert!(found(&files("base")).is_empty(), "{}", shown(&found(&files("base"))));
    let book = base();
    assert!(book.fact_named("volts_at_pump").is_some());
    assert!(book.ending_named("clear-impeller").is_some());
}

/// Of a motor whose wait nobody can tell the longest is waited that any may need, never none.
#[test]
fn a_wait_that_nobody_can_tell_is_the_longest_there_may_be() {
    assert!((base().power().longest_wait - 1.0).abs() < 1e-9, "the one profile gives a minute");
    let changed = |name: &str, from: &str, to: &str| {
        let all = files("base");
        let text = all.iter().find(|file| file.name == name).unwrap().text();
        assert!(text.contains(from), "{name} has that line");
        File::new(name, text.replace(from, to))
    };
    let ranged = "measures: time\n    unit: min\n    range: 2 min to 45 min\n";
    let book = book_with(&[
        changed("profiles.yaml", "    gives: {charge_wait: 1 min}\n", ""),
        changed("readings.yaml", "measures: time\n    unit: min\n", ranged),
    ]);
    assert!((book.power().longest_wait - 45.0).abs() < 1e-9, "{}", book.power().longest_wait);
}

#[test]
fn every_wrong_rule_file_is_told_of_in_the_words_pinned() {
    let fixtures = files("rules");
    assert!(fixtures.len() >= 30, "only {}", fixtures.len());
    let other: Vec<_> =
        fixtures.iter().filter_map(|fixture| check("rules", fixture, &said_of_rules(fixture))).collect();
    assert!(other.is_empty(), "{}", other.join("\n"));
}

#[test]
fn every_wrong_case_file_is_told_of_in_the_words_pinned() {
    let (book, fixtures) = (base(), files("cases"));
    assert!(fixtures.len() >= 18, "only {}", fixtures.len());
    let other: Vec<_> = fixtures
        .iter()
        .filter_map(|fixture| check("cases", fixture, &said_of_case(&book, fixture)))
        .collect();
    assert!(other.is_empty(), "{}", other.join("\n"));
}

#[test]
fn what_no_fixture_can_hold_is_told_of_in_the_words_pinned() {
    for (name, code, found) in made() {
        assert_eq!(found[0].code(), code, "{name}\n{}", shown(&found));
        pin("made", name, &found);
    }
}

#[test]
fn every_code_is_met_by_a_fixture() {
    let marks = ["rules", "cases"].into_iter().flat_map(files).flat_map(|file| file.marks());
    let made = made().into_iter().flat_map(|(_, _, found)| found).map(|finding| finding.code().to_string());
    let met: BTreeSet<String> = marks.map(|(_, code)| code).chain(made).collect();
    let missing: Vec<_> = Code::ALL.iter().filter(|code| !met.contains(code.as_str())).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// A trainer reads them: small letters, no full stop, every backtick closed, and what to do about it.
#[test]
fn every_message_keeps_the_house_rules() {
    let book = base();
    let rules = files("rules").into_iter().map(|file| said_of_rules(&file));
    let cases = files("cases").into_iter().map(|file| said_of_case(&book, &file));
    let made = made().into_iter().map(|(_, _, found)| found);
    for finding in rules.chain(cases).chain(made).flatten() {
        let text = finding.plain();
        let help = finding.help().map(str::to_owned);
        assert!(help.is_some(), "nothing says how to mend it: {text}");
        for said in [finding.title().to_owned(), help.unwrap()] {
            assert!(!said.ends_with('.'), "{text}");
            assert!(!said.starts_with(char::is_uppercase), "{text}");
            assert_eq!(said.matches('`').count() % 2, 0, "{text}");
        }
    }
}
