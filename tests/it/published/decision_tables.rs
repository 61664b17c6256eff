//! Gaps and overlaps of rules against published tables.

use crate::pond::{self, File};
use engine::rulebook::{Rulebook, StepId};
use std::fmt::Write as _;

/// The upper edges of the cells that the edges of the rules cut the domain into.
const ACROSS: [u32; 7] = [250, 500, 750, 1000, 1500, 2000, 2500];
const UP: [u32; 6] = [500, 1000, 2000, 3000, 4000, 5000];

/// The rules, each from where to where in both inputs.
const RULES: [[(u32, u32); 2]; 4] = [
    [(0, 1000), (0, 1000)],
    [(250, 750), (4000, 5000)],
    [(500, 1500), (500, 3000)],
    [(2000, 2500), (0, 2000)],
];

/// A call goes through all rules at each cell and counts how many of them hold, up to two.
fn table() -> Rulebook {
    let mut steps = String::new();
    split(&mut steps, "cells", "x", &ACROSS, |across| format!("column-{across}"));
    for across in ACROSS {
        split(&mut steps, &format!("column-{across}"), "y", &UP, |up| format!("{across}-{up}-0-0"));
        for up in UP {
            let step = |rule: usize, held: usize| format!("{across}-{up}-{rule}-{held}");
            for (rule, [x, y]) in RULES.iter().enumerate() {
                for held in 0..=rule.min(2) {
                    let (held_too, not) = (step(rule + 1, 2.min(held + 1)), step(rule + 1, held));
                    let second = format!("{}-y", step(rule, held));
                    within(&mut steps, &step(rule, held), "x", *x, (&second, &not));
                    within(&mut steps, &second, "y", *y, (&held_too, &not));
                }
            }
            for held in 0..=2 {
                let _ = writeln!(
                    steps,
                    "  {}:\n    if known: x\n    bands:\n      - {{above: the last, means: counted, end: pump-in-order}}\n    \
                     not known: {{end: pump-in-order}}",
                    step(RULES.len(), held)
                );
            }
        }
    }
    let readings = [("x", 2500), ("y", 5000)].map(|(name, most)| {
        format!(
            "  {name}:\n    name: {name}\n    say: What is it?\n    how: Read.\n    measures: voltage\n    unit: V\n    \
             range: 0 V to {most} V\n    meter: exact\n    power: any\n    panel: any\n    lasts: now\n"
        )
    });
    pond::with_tree("cells", &steps, &format!("readings:\n{}", readings.concat()))
}

/// A question whose bands lead on by their upper edges.
fn split(steps: &mut String, id: &str, fact: &str, edges: &[u32], to: impl Fn(u32) -> String) {
    let _ = writeln!(steps, "  {id}:\n    ask: {fact}\n    because: It tells.\n    bands:");
    let Some((last, edges)) = edges.split_last() else { return };
    for edge in edges {
        let _ = writeln!(
            steps,
            "      - {{up to: {edge} V, means: here, from: common practice, go: {}}}",
            to(*edge)
        );
    }
    let _ = writeln!(steps, "      - {{above: the last, means: here, go: {}}}", to(*last));
    let _ = writeln!(steps, "    cannot: {{end: too-little}}");
}

/// A step that goes one way above the one edge and up to the other, and another way elsewhere.
fn within(
    steps: &mut String,
    id: &str,
    fact: &str,
    (low, high): (u32, u32),
    (inside, outside): (&str, &str),
) {
    let end = if fact == "x" { ACROSS.last() } else { UP.last() };
    // Where the rule ends with the domain, nothing lies beyond.
    let beyond = if Some(&high) == end { inside } else { outside };
    let edges = [(low, outside), (high, inside)];
    let _ = writeln!(steps, "  {id}:\n    if known: {fact}\n    bands:");
    for (edge, to) in edges.into_iter().filter(|(edge, _)| *edge > 0 && Some(edge) != end) {
        let _ = writeln!(steps, "      - {{up to: {edge} V, means: here, from: common practice, go: {to}}}");
    }
    let _ = writeln!(steps, "      - {{above: the last, means: beyond, go: {beyond}}}");
    let _ = writeln!(steps, "    not known: {{go: {outside}}}");
}

/// T12.6 of our list of trade facts (a table of four rules over two inputs, from memory of Calvanese and others, Semantics
/// and analysis of DMN decision tables, 2016; the areas are calculated): rules 1 and 3 overlap on 500 to 1000 in both,
/// and of the 42 cells 22 have no rule.
#[test]
fn the_walk_finds_the_overlap_and_the_gaps_of_a_published_table() {
    let book = table();
    let paths = book.paths();
    let id = |name: String| -> StepId { book.step_ids().find(|id| book.step(*id).id == name).unwrap() };
    let below =
        |edges: &[u32], edge: u32| edges.iter().copied().filter(|other| *other < edge).max().unwrap_or(0);
    // How many cells and how much of the domain have no rule, one, more.
    let (mut cells, mut areas) = ([0; 3], [0; 3]);
    for across in ACROSS {
        for up in UP {
            let come_to: Vec<usize> =
                (0..=2).filter(|held| paths.comes_to(id(format!("{across}-{up}-4-{held}")))).collect();
            // A cell lies whole within a rule or whole beside it.
            let [held] = come_to[..] else { panic!("{across} {up}: {come_to:?}") };
            cells[held] += 1;
            areas[held] += (across - below(&ACROSS, across)) * (up - below(&UP, up));
        }
    }
    assert_eq!(cells, [22, 18, 2]);
    assert_eq!((areas[0], areas[2]), (7_750_000, 250_000));
    assert_eq!(areas.iter().sum::<u32>(), 2500 * 5000);
}

/// What is found in the pond's pump with these bands on its volts, each as its code and its text.
fn found(bands: &str) -> Vec<(String, String)> {
    let pump = pond::files("base").into_iter().find(|file| file.name == "pump.yaml").unwrap();
    let text = pump.text();
    let from = text.find("      - {below: 80 %").unwrap();
    let behind = text.rfind("    cannot:").unwrap();
    let text = format!("{}{bands}{}", &text[..from], &text[behind..]);
    pond::found(&pond::base_with(&[File::new("pump.yaml", text)]))
        .iter()
        .filter(|finding| finding.place().source().name() == "pump.yaml")
        .map(|finding| (finding.code().to_string(), finding.title().to_owned()))
        .collect()
}

const LOW: &str = "      - {below: 103.5 V, means: low, from: common practice, end: low-supply}\n";
const MIDDLE: &str = "      - {up to: 126.5 V, means: in order, from: common practice, end: pump-in-order}\n";
const HIGH: &str = "      - {above: the last, means: high, end: low-supply}\n";

/// T12.7: below 103.5, from there to 126.5, above: complete and disjoint. Written as upper edges the overlap ("from
/// 126.5 on") and the gap ("above 127") are no bands at all, nor is a table without its last band.
#[test]
fn an_overlap_or_a_gap_between_bands_cannot_be_written() {
    assert_eq!(found(&[LOW, MIDDLE, HIGH].concat()), []);
    let codes = |bands: &[&str]| found(&bands.concat()).into_iter().map(|(code, _)| code).collect::<Vec<_>>();
    let from_126_5 = HIGH.replace("above: the last", "at least: 126.5 V");
    assert_eq!(codes(&[LOW, MIDDLE, &from_126_5]), ["unknown-key"]);
    let above_127 = HIGH.replace("the last", "127 V");
    assert!(codes(&[LOW, MIDDLE, &above_127]).contains(&"missing-key".to_owned()));
    assert_eq!(codes(&[LOW, MIDDLE]), ["edges-not-ascending"]);
    // The same edge twice leaves nothing between, but for the edge itself.
    let middle_again = MIDDLE.replace("up to", "below");
    assert_eq!(codes(&[LOW, MIDDLE, &middle_again, HIGH]), ["edges-not-ascending"]);
    assert_eq!(codes(&[LOW, &middle_again, MIDDLE, HIGH]), [] as [String; 0]);
}
