//! What is walked: steps, apart by the step that the innermost visit comes back to, in walking order.
//!
//! Further out, visits are not told apart; so a way may seem to lead round that no call goes.

use crate::rulebook::{EndingKind, Line, Rules, StepId, Way};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{DfsPostOrder, EdgeRef as _};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// The step that the innermost visit comes back to; `None` outside of all visits.
type Back = Option<StepId>;

/// A step, apart by the visit that it stands in.
pub(super) struct Node {
    pub(super) back: Back,
    pub(super) step: StepId,
    /// The lines that lead on, each with the place of the node that it leads to.
    on: Vec<(Line, usize)>,
}

impl Node {
    /// The places of the nodes that a line leads to.
    pub(super) fn behind(&self, line: Line) -> impl Iterator<Item = usize> {
        self.on.iter().filter(move |(other, _)| *other == line).map(|(_, next)| *next)
    }
}

/// The nodes in walking order: each behind all that lead to it, but for ways that seem to lead round.
pub(super) struct Nodes {
    pub(super) list: Vec<Node>,
    /// Whether some way seems to lead round.
    pub(super) round: bool,
}

impl Nodes {
    /// Every node that a call may come to; the first is where calls start.
    pub(super) fn of(rules: &Rules) -> Self {
        let mut found = Found { rules, graph: DiGraph::new(), ids: HashMap::new(), visits: BTreeMap::new() };
        let first = found.node((None, rules.tree(rules.roles.start).start));
        let mut next = 0;
        while next < found.graph.node_count() {
            found.lead_on(NodeIndex::new(next));
            next += 1;
        }
        in_walking_order(&found.graph, first)
    }
}

/// What is found of the nodes so far.
struct Found<'r> {
    rules: &'r Rules,
    graph: DiGraph<(Back, StepId), Line>,
    ids: HashMap<(Back, StepId), NodeIndex>,
    visits: BTreeMap<StepId, Visits>,
}

/// The visits that come back to one step.
#[derive(Default)]
struct Visits {
    /// From where they were made.
    callers: BTreeSet<Back>,
    /// The lines that end them.
    ends: Vec<(NodeIndex, Line)>,
}

impl Found<'_> {
    fn node(&mut self, node: (Back, StepId)) -> NodeIndex {
        *self.ids.entry(node).or_insert_with(|| self.graph.add_node(node))
    }

    fn edge(&mut self, from: NodeIndex, line: Line, to: (Back, StepId)) {
        let to = self.node(to);
        self.graph.add_edge(from, to, line);
    }

    /// Joins a node to all that it leads to. What ends a visit is joined to where it comes back, for every place that
    /// the visit was made from: for those known now here, for the others as they are found.
    fn lead_on(&mut self, id: NodeIndex) {
        let rules = self.rules;
        let (back, step) = self.graph[id];
        for (line, way) in rules.step(step).ways_out() {
            match way {
                Way::Go(next) => self.edge(id, line, (back, next)),
                Way::ContinueIn(tree) => self.edge(id, line, (back, rules.tree(tree).start)),
                Way::Visit { tree, then } => {
                    self.edge(id, line, (Some(then), rules.tree(tree).start));
                    let visits = self.visits.entry(then).or_default();
                    if visits.callers.insert(back) {
                        for (end, line) in visits.ends.clone() {
                            self.edge(end, line, (back, then));
                        }
                    }
                }
                Way::End(ending) => {
                    let in_order = rules.endings[ending.index()].kind == EndingKind::InOrder;
                    let Some(then) = back.filter(|_| in_order) else { continue };
                    let visits = self.visits.entry(then).or_default();
                    visits.ends.push((id, line));
                    for caller in visits.callers.clone() {
                        self.edge(id, line, (caller, then));
                    }
                }
            }
        }
    }
}

fn in_walking_order(graph: &DiGraph<(Back, StepId), Line>, first: NodeIndex) -> Nodes {
    let mut search = DfsPostOrder::new(graph, first);
    let mut order: Vec<NodeIndex> = std::iter::from_fn(|| search.next(graph)).collect();
    order.reverse();
    let mut places = vec![0; graph.node_count()];
    for (place, node) in order.iter().enumerate() {
        places[node.index()] = place;
    }
    let mut nodes = Nodes { list: Vec::with_capacity(order.len()), round: false };
    for (place, node) in order.into_iter().enumerate() {
        let on: Vec<_> =
            graph.edges(node).map(|edge| (*edge.weight(), places[edge.target().index()])).collect();
        nodes.round |= on.iter().any(|(_, next)| *next <= place);
        let (back, step) = graph[node];
        nodes.list.push(Node { back, step, on });
    }
    nodes
}
