//! Graphs by their nodes' letters, `a` where calls start, against published figures and against networkx.

use super::{Passing, StepGraph};
use crate::hitting::minimal;
use crate::rulebook::{Line, StepId};
use petgraph::graph::{DiGraph, NodeIndex};
use std::collections::BTreeSet;

/// Made by `graphs.py` beside it, which says what stands in which column.
const NETWORKX: &str = include_str!("../../../tests/it/published/graphs.tsv");

fn at(letter: char) -> NodeIndex {
    NodeIndex::new((u32::from(letter) - u32::from('a')) as usize)
}

fn letter(index: usize) -> char {
    ('a'..='z').nth(index).unwrap_or('?')
}

/// A graph by its edges, `ab` from `a` to `b`.
fn graph(nodes: usize, edges: &str) -> StepGraph {
    let mut graph = DiGraph::new();
    for index in 0..nodes {
        graph.add_node(StepId::at(index));
    }
    for edge in edges.split_whitespace().filter(|edge| *edge != ".") {
        let mut ends = edge.chars().map(at);
        if let (Some(from), Some(to)) = (ends.next(), ends.next()) {
            graph.add_edge(from, to, Line::Otherwise);
        }
    }
    StepGraph { graph, start: NodeIndex::new(0) }
}

fn letters(of: impl IntoIterator<Item = usize>) -> String {
    let sorted: BTreeSet<char> = of.into_iter().map(letter).collect();
    if sorted.is_empty() { ".".to_owned() } else { sorted.into_iter().collect() }
}

fn in_order(lists: impl IntoIterator<Item = String>) -> String {
    let sorted: BTreeSet<String> = lists.into_iter().collect();
    if sorted.is_empty() { ".".to_owned() } else { sorted.into_iter().collect::<Vec<_>>().join(",") }
}

/// What each node leads to.
fn ahead(graph: &StepGraph) -> String {
    let each = graph.graph.node_weights().map(|from| letters(graph.ahead(*from).map(StepId::index)));
    each.collect::<Vec<_>>().join(",")
}

/// Of each node the nearest that every way to it passes, as the walk of what is always before shows it.
fn nearest(graph: &StepGraph) -> String {
    let mut found = vec!['.'; graph.graph.node_count()];
    let mut passed: Vec<StepId> = Vec::new();
    for passing in graph.always_before().walk() {
        match passing {
            Passing::To(step) => {
                if let Some(before) = passed.last() {
                    found[step.index()] = letter(before.index());
                }
                passed.push(step);
            }
            Passing::From(step) => assert_eq!(passed.pop(), Some(step)),
        }
    }
    found.into_iter().collect()
}

/// The minimal vertex covers, as hitting sets of conflicts of two.
fn covers(graph: &StepGraph) -> String {
    let edges = graph.graph.raw_edges().iter();
    let conflicts: Vec<BTreeSet<usize>> =
        edges.map(|edge| [edge.source().index(), edge.target().index()].into()).collect();
    in_order(minimal(&conflicts).into_iter().map(letters))
}

/// Every loop that is told of leads along edges round to where it began, the first node of one ring, and stays in it.
fn loops_hold(graph: &StepGraph, rings: &str) {
    let loops = graph.loops();
    let rings: Vec<&str> = rings.split(',').filter(|ring| *ring != ".").collect();
    assert_eq!(loops.len(), rings.len());
    for steps in loops {
        let steps: Vec<usize> = steps.into_iter().map(|(step, _)| step.index()).collect();
        for (from, to) in steps.iter().zip(steps.iter().cycle().skip(1)) {
            assert!(graph.graph.contains_edge(NodeIndex::new(*from), NodeIndex::new(*to)), "{steps:?}");
        }
        let first = letter(steps[0]);
        let ring = rings.iter().find(|ring| ring.starts_with(first));
        assert!(ring.is_some_and(|ring| steps.iter().all(|step| ring.contains(letter(*step)))), "{steps:?}");
    }
}

#[test]
fn a_thousand_random_graphs_are_to_the_engine_what_they_are_to_networkx() {
    let mut counted = (0, 0, 0, 0);
    for row in NETWORKX.lines().filter(|line| !line.starts_with('#')) {
        let columns: Vec<&str> = row.split('\t').collect();
        let [nodes, edges, leads_to, round, before, covered] = columns[..] else { continue };
        let graph = graph(nodes.parse().unwrap_or_default(), edges);
        assert_eq!(ahead(&graph), leads_to, "{row}");
        assert_eq!(
            letters(graph.reachable().map(StepId::index)),
            leads_to.split(',').next().unwrap_or("?"),
            "{row}"
        );
        assert_eq!(nearest(&graph), before, "{row}");
        loops_hold(&graph, round);
        if covered != "-" {
            assert_eq!(covers(&graph), covered, "{row}");
            counted.3 += 1;
        }
        counted.0 += 1;
        counted.1 += usize::from(round != ".");
        counted.2 += usize::from(before.chars().any(|node| !matches!(node, '.' | 'a')));
    }
    // The table is there, and of every kind there are enough.
    assert_eq!(counted.0, 1_000);
    assert!(counted.1 > 300 && counted.2 > 300 && counted.3 > 300, "{counted:?}");
}

/// T12.1 and T12.2 of our list of trade facts: the two irreducible graphs of Cooper, Harvey and Kennedy (A simple, fast
/// dominance algorithm), nodes 5 and 6 first. There every node is dominated by the first alone.
#[test]
fn where_ways_lead_round_in_both_directions_only_the_start_is_on_all_of_them() {
    // a = 5, b = 4, c = 3, d = 2, e = 1.
    let five = graph(5, "ab ac be cd ed de");
    assert_eq!(nearest(&five), ".aaaa");
    loops_hold(&five, "de");
    // a = 6, b = 5, c = 4, d = 3, e = 2, f = 1.
    let six = graph(6, "ab ac bf ce cd fe ef ed de");
    assert_eq!(nearest(&six), ".aaaaa");
    loops_hold(&six, "def");
}

/// T12.3: the figure of Lengauer and Tarjan (A fast algorithm for finding dominators in a flowgraph, 1979).
#[test]
fn the_figure_of_lengauer_and_tarjan() {
    // The nodes of the figure keep their letters A to L as b to m; its R is a.
    let figure = graph(13, "ab ac ad be cb ce cf dg dh em fi gj hj hk if il jl kj la lj mi");
    // A B C D E H I K hang on R, F and G on C, J on G, L on D.
    assert_eq!(nearest(&figure), ".aaaaaddaahae");
    // One component: that of R.
    loops_hold(&figure, "abcdefghijklm");
}

/// T12.4, and that a chain of any length is no matter.
#[test]
fn what_is_on_every_way_is_found() {
    // a start, b safe, c the first question, d e its two sides, f the stop, g where they meet, h the end.
    let tree = graph(8, "ab bc cd ce cf dg eg gh");
    assert_eq!(nearest(&tree), ".abccccg");
    let many = 200_000;
    let mut chain = DiGraph::new();
    let nodes: Vec<NodeIndex> = (0..many).map(|index| chain.add_node(StepId::at(index))).collect();
    // Every node leads to the next, and to the last.
    for (node, next) in nodes.iter().zip(&nodes[1..]) {
        chain.add_edge(*node, *next, Line::Value(0));
        chain.add_edge(*node, nodes[many - 1], Line::Otherwise);
    }
    let chain = StepGraph { graph: chain, start: NodeIndex::new(0) };
    let before = chain.always_before();
    assert_eq!(before.nearest[many - 1], Some(StepId::at(0)));
    assert_eq!(before.nearest[many - 2], Some(StepId::at(many - 3)));
    assert!(chain.loops().is_empty());
}
