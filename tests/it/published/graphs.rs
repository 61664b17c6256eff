//! What a call has answered on every way to a step, against dominators published and computed elsewhere.
//!
//! Each graph is written as a tree: a node is a question with a line for every edge, and before it stand steps that only
//! look up what the other nodes ask. A fact is known at a node on every way to it exactly where its own node dominates
//! that one, so that nobody can come to the line for what is not known.

use crate::pond;
use engine::rulebook::{Line, Rulebook, StepId};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// Made by `graphs.py`, which says what stands in which column.
const NETWORKX: &str = include_str!("graphs.tsv");

/// Where each node leads to; what `a` does not lead to is left out.
type Edges = BTreeMap<char, BTreeSet<char>>;

fn edges(text: &str) -> Edges {
    let all: Vec<Vec<char>> =
        text.split(' ').filter(|edge| *edge != ".").map(|edge| edge.chars().collect()).collect();
    let (mut found, mut open) = (Edges::new(), vec!['a']);
    while let Some(node) = open.pop() {
        let next: BTreeSet<char> = all.iter().filter(|edge| edge[0] == node).map(|edge| edge[1]).collect();
        if found.insert(node, next.clone()).is_none() {
            open.extend(next);
        }
    }
    found
}

/// A rulebook of the pond with this graph in place of its trees.
fn book(edges: &Edges) -> Rulebook {
    let (mut readings, mut steps) = ("readings:\n".to_owned(), String::new());
    let nodes: Vec<char> = edges.keys().copied().collect();
    // A node without an edge ends the call, whatever is answered.
    let choices = |node: char| (0..edges[&node].len().max(1)).map(|at| format!("x{at}")).collect::<Vec<_>>();
    for (&node, next) in edges {
        let all: Vec<String> =
            choices(node).iter().map(|choice| format!("{choice}: it is {choice}")).collect();
        let _ = write!(
            readings,
            "  f{node}:\n    name: f{node}\n    say: What is it?\n    how: Look.\n    choices: {{{}}}\n    \
             cannot means: x0\n    power: any\n    panel: any\n    lasts: now\n",
            all.join(", ")
        );
        let looks = nodes.iter().map(|other| format!("{node}-{other}"));
        let behind = looks.clone().skip(1).chain([format!("{node}-asked")]);
        for ((look, behind), other) in looks.zip(behind).zip(&nodes) {
            let _ = writeln!(
                steps,
                "  {look}:\n    if known: f{other}\n    answers:\n      - {{is: [{}], means: it is known, go: {behind}}}\n    \
                 not known: {{go: {behind}}}",
                choices(*other).join(", ")
            );
        }
        let ways: Vec<String> = match next.len() {
            0 => vec!["end: pump-in-order".to_owned()],
            _ => next.iter().map(|to| format!("go: {to}-{}", nodes[0])).collect(),
        };
        let _ = writeln!(steps, "  {node}-asked:\n    ask: f{node}\n    because: It tells.\n    answers:");
        for (at, way) in ways.iter().enumerate() {
            let _ = writeln!(steps, "      - {{is: x{at}, means: so it is, {way}}}");
        }
        let _ = writeln!(steps, "    cannot: {{{}}}", ways[0]);
    }
    pond::with_tree("a-a", &steps, &readings)
}

/// Of each node the others that are on every way to it, as the walk over all calls sees it.
fn always_known(edges: &Edges) -> BTreeMap<char, BTreeSet<char>> {
    let book = book(edges);
    let paths = book.paths();
    let id = |name: String| -> StepId { book.step_ids().find(|id| book.step(*id).id == name).unwrap() };
    let known = |node: char| {
        let others = edges.keys().copied();
        others.filter(|other| !paths.takes(id(format!("{node}-{other}")), Line::Otherwise)).collect()
    };
    edges.keys().map(|node| (*node, known(*node))).collect()
}

/// The same out of the nearest dominators of `a`, `b` and so on, `.` for none.
fn dominators(edges: &Edges, nearest: &str) -> BTreeMap<char, BTreeSet<char>> {
    let above = |node: char| {
        nearest.chars().nth((u32::from(node) - u32::from('a')) as usize).filter(|above| *above != '.')
    };
    edges
        .keys()
        .map(|node| (*node, std::iter::successors(above(*node), |above_it| above(*above_it)).collect()))
        .collect()
}

/// T12.4 of our list of trade facts: a is the start, b the safe step, c the first question, d and e its two sides, f the
/// stop, g where the sides meet, h the end.
#[test]
fn the_safe_step_is_answered_on_every_way() {
    let tree = edges("ab bc cd ce cf dg eg gh");
    assert_eq!(always_known(&tree), dominators(&tree, ".abccccg"));
}

#[test]
fn what_is_always_known_is_what_networkx_says_is_on_every_way() {
    let (mut graphs, mut pairs) = (0, 0);
    for row in NETWORKX.lines().filter(|line| !line.starts_with('#')) {
        let columns: Vec<&str> = row.split('\t').collect();
        // Rules in which steps lead round are refused.
        let tree = edges(columns[1]);
        if columns[3] != "." || tree.len() < 4 {
            continue;
        }
        let expected = dominators(&tree, columns[4]);
        assert_eq!(always_known(&tree), expected, "{row}");
        graphs += 1;
        pairs += expected.values().map(BTreeSet::len).sum::<usize>();
    }
    assert!(graphs > 150 && pairs > 1_000, "{graphs} graphs, {pairs} pairs");
}
