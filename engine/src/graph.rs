//! The graph of steps over all trees: what can be walked after what.

mod dominators;
mod rings;

#[cfg(test)]
mod tests;

use crate::rulebook::{Line, Rules, StepId};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, EdgeRef};
pub(crate) use rings::rings;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

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
        rings(&self.graph).into_iter().filter_map(|ring| self.one_loop(&ring.into_iter().collect())).collect()
    }

    /// A shortest loop through the first step of a strongly connected component.
    fn one_loop(&self, component: &BTreeSet<NodeIndex>) -> Option<Vec<(StepId, Line)>> {
        let home = *component.first()?;
        let inside = |node: &NodeIndex| component.contains(node);
        let mut came: BTreeMap<NodeIndex, (NodeIndex, Line)> = BTreeMap::new();
        let mut queue = VecDeque::from([home]);
        while let Some(node) = queue.pop_front() {
            for edge in self.graph.edges(node).filter(|edge| inside(&edge.target())) {
                if edge.target() == home {
                    return Some(self.way_back(home, node, *edge.weight(), &came));
                }
                came.entry(edge.target()).or_insert_with(|| {
                    queue.push_back(edge.target());
                    (node, *edge.weight())
                });
            }
        }
        None
    }

    fn way_back(
        &self,
        home: NodeIndex,
        last: NodeIndex,
        line: Line,
        came: &BTreeMap<NodeIndex, (NodeIndex, Line)>,
    ) -> Vec<(StepId, Line)> {
        let mut lines = vec![(self.graph[last], line)];
        let mut node = last;
        while node != home
            && let Some(&(before, line)) = came.get(&node)
        {
            lines.push((self.graph[before], line));
            node = before;
        }
        lines.reverse();
        lines
    }
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
