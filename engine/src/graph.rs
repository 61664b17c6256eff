//! The graph of steps over all trees: what can be walked after what.

mod dominators;

#[cfg(test)]
mod tests;

use crate::rulebook::{Line, Rules, StepId};
use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, EdgeReference, NodeIndex};
use petgraph::visit::{Dfs, EdgeFiltered, EdgeRef, NodeFiltered, Reversed};
use std::collections::{HashMap, HashSet, VecDeque};

/// Every step of every tree, joined by the lines that lead from one to another.
///
/// A visit is two edges: into the tree that is visited, and to the step that it comes back to.
#[derive(Clone, Debug)]
pub struct StepGraph {
    graph: DiGraph<StepId, Line>,
    start: NodeIndex,
}

impl StepGraph {
    pub(crate) fn of(rules: &Rules) -> Self {
        let edges = rules.steps.iter().map(|step| step.ways_out().count()).sum();
        let mut graph = DiGraph::with_capacity(rules.steps.len(), edges);
        for index in 0..rules.steps.len() {
            graph.add_node(StepId::at(index));
        }
        for (index, step) in rules.steps.iter().enumerate() {
            for (line, way) in step.ways_out() {
                for target in rules.targets(way) {
                    graph.add_edge(NodeIndex::new(index), NodeIndex::new(target.index()), line);
                }
            }
        }
        let start = NodeIndex::new(rules.tree(rules.roles.start).start.index());
        Self { graph, start }
    }

    /// The steps that can be walked from this one, itself included.
    pub fn ahead(&self, from: StepId) -> impl Iterator<Item = StepId> + '_ {
        let mut search = Dfs::new(&self.graph, NodeIndex::new(from.index()));
        std::iter::from_fn(move || search.next(&self.graph)).map(|node| self.graph[node])
    }

    /// The steps from which this one can be walked to, itself included.
    pub(crate) fn behind(&self, to: StepId) -> HashSet<StepId> {
        let graph = Reversed(&self.graph);
        let mut search = Dfs::new(&graph, NodeIndex::new(to.index()));
        std::iter::from_fn(|| search.next(&graph)).map(|node| self.graph[node]).collect()
    }

    /// The steps that can be walked from this one, on ways that pass none but these steps.
    pub(crate) fn ahead_within(&self, from: StepId, within: impl Fn(StepId) -> bool) -> Vec<StepId> {
        let graph = NodeFiltered::from_fn(&self.graph, |node| within(self.graph[node]));
        let mut search = Dfs::new(&graph, NodeIndex::new(from.index()));
        std::iter::from_fn(|| search.next(&graph)).map(|node| self.graph[node]).collect()
    }

    /// The steps that can be walked from the start by these lines alone.
    pub(crate) fn reachable_by(&self, takes: impl Fn(StepId, Line) -> bool) -> HashSet<StepId> {
        let by = |edge: EdgeReference<'_, Line>| takes(self.graph[edge.source()], *edge.weight());
        let graph = EdgeFiltered::from_fn(&self.graph, by);
        let mut search = Dfs::new(&graph, self.start);
        std::iter::from_fn(|| search.next(&graph)).map(|node| self.graph[node]).collect()
    }

    /// The steps that a call can reach at all.
    pub(crate) fn reachable(&self) -> impl Iterator<Item = StepId> + '_ {
        self.ahead(self.graph[self.start])
    }

    /// What every call has passed when it comes to a step.
    pub(crate) fn always_before(&self) -> Before {
        let nearest = dominators::immediate(&self.graph, self.start);
        let nearest = nearest.into_iter().map(|node| node.map(|node| self.graph[node])).collect();
        Before { start: self.graph[self.start], nearest }
    }

    /// Every loop, as the lines that make it up, in walking order.
    pub(crate) fn loops(&self) -> Vec<Vec<(StepId, Line)>> {
        let named = |found: Vec<(NodeIndex, Line)>| {
            found.into_iter().map(|(node, line)| (self.graph[node], line)).collect()
        };
        loops(&self.graph).map(named).collect()
    }
}

/// Of each part of a graph that leads round, a shortest loop through its first node, as the edges that make it up.
pub(crate) fn loops<N, E: Copy>(graph: &DiGraph<N, E>) -> impl Iterator<Item = Vec<(NodeIndex, E)>> {
    // Tarjan's algorithm in the same library calls itself for every node of a chain, and a long one overflows it.
    kosaraju_scc(graph).into_iter().filter_map(|component| one_loop(graph, &component))
}

fn one_loop<N, E: Copy>(graph: &DiGraph<N, E>, component: &[NodeIndex]) -> Option<Vec<(NodeIndex, E)>> {
    let home = *component.iter().min()?;
    let members: HashSet<NodeIndex> = component.iter().copied().collect();
    let mut came: HashMap<NodeIndex, (NodeIndex, E)> = HashMap::new();
    let mut queue = VecDeque::from([home]);
    while let Some(node) = queue.pop_front() {
        for edge in graph.edges(node).filter(|edge| members.contains(&edge.target())) {
            if edge.target() == home {
                return Some(way_back(home, node, *edge.weight(), &came));
            }
            came.entry(edge.target()).or_insert_with(|| {
                queue.push_back(edge.target());
                (node, *edge.weight())
            });
        }
    }
    None
}

fn way_back<E: Copy>(
    home: NodeIndex,
    last: NodeIndex,
    edge: E,
    came: &HashMap<NodeIndex, (NodeIndex, E)>,
) -> Vec<(NodeIndex, E)> {
    let mut edges = vec![(last, edge)];
    let mut node = last;
    while node != home
        && let Some(&(before, edge)) = came.get(&node)
    {
        edges.push((before, edge));
        node = before;
    }
    edges.reverse();
    edges
}

/// What every call has passed when it comes to a step.
#[derive(Debug)]
pub(crate) struct Before {
    start: StepId,
    /// Of each step the nearest other one that every call to it passes.
    nearest: Vec<Option<StepId>>,
}

/// One turn of a walk through [`Before`].
#[derive(Clone, Copy, Debug)]
pub(crate) enum Passing {
    /// The steps that are come to and not left are those that every call to this one passes, itself the last.
    To(StepId),
    /// All that lies behind this step is done.
    From(StepId),
}

impl Before {
    /// Comes to every step that a call can reach, and leaves it, each behind all that every call to it passes.
    pub(crate) fn walk(&self) -> impl Iterator<Item = Passing> {
        let mut behind = vec![Vec::new(); self.nearest.len()];
        for (index, nearest) in self.nearest.iter().enumerate() {
            if let Some(nearest) = nearest {
                behind[nearest.index()].push(StepId::at(index));
            }
        }
        let mut open = vec![Passing::To(self.start)];
        std::iter::from_fn(move || {
            let next = open.pop()?;
            if let Passing::To(step) = next {
                open.push(Passing::From(step));
                open.extend(behind[step.index()].iter().map(|step| Passing::To(*step)));
            }
            Some(next)
        })
    }
}
