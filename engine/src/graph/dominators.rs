//! What every way from the start to a node passes: its dominators.
//!
//! The algorithm of Lengauer and Tarjan (A fast algorithm for finding dominators in a flowgraph, ACM TOPLAS 1, 1979), in
//! its simple form: edges × log nodes. petgraph has that of Cooper, Harvey and Kennedy, which takes the square of the
//! nodes where many steps lead to one, as `cannot` often does.

use petgraph::graph::{DiGraph, NodeIndex};
use std::cmp::min;

/// Of each node the nearest one that every way to it passes; `None` for the start, and for what is not come to.
pub(super) fn immediate<N, E>(graph: &DiGraph<N, E>, start: NodeIndex) -> Vec<Option<NodeIndex>> {
    let search = Search::of(graph, start);
    let many = search.order.len();
    let mut forest = Forest::of(many);
    let mut nearest = vec![0; many];
    // The nodes whose semidominator is each node.
    let mut waiting = vec![Vec::new(); many];
    for node in (1..many).rev() {
        let before = graph.neighbors_directed(search.order[node], petgraph::Incoming);
        for before in before.filter_map(|before| search.numbers[before.index()]) {
            let best = forest.best(before);
            forest.semi[node] = min(forest.semi[node], forest.semi[best]);
        }
        waiting[forest.semi[node]].push(node);
        let parent = search.parents[node];
        forest.above[node] = Some(parent);
        for waits in std::mem::take(&mut waiting[parent]) {
            let best = forest.best(waits);
            nearest[waits] = if forest.semi[best] < forest.semi[waits] { best } else { parent };
        }
    }
    let mut found = vec![None; graph.node_count()];
    for node in 1..many {
        if nearest[node] != forest.semi[node] {
            nearest[node] = nearest[nearest[node]];
        }
        found[search.order[node].index()] = Some(search.order[nearest[node]]);
    }
    found
}

/// A search in depth: what is come to, in the order in which it is come to, numbered from the start.
struct Search {
    order: Vec<NodeIndex>,
    /// The number of each node of the graph.
    numbers: Vec<Option<usize>>,
    /// The number of the node from which each was come to.
    parents: Vec<usize>,
}

impl Search {
    fn of<N, E>(graph: &DiGraph<N, E>, start: NodeIndex) -> Self {
        let mut search =
            Self { order: Vec::new(), numbers: vec![None; graph.node_count()], parents: Vec::new() };
        let mut open = vec![(start, 0)];
        while let Some((node, parent)) = open.pop() {
            if search.numbers[node.index()].is_some() {
                continue;
            }
            let number = search.order.len();
            search.numbers[node.index()] = Some(number);
            search.order.push(node);
            search.parents.push(parent);
            open.extend(graph.neighbors(node).map(|next| (next, number)));
        }
        search
    }
}

/// The part of the search tree that is gone through, as trees whose ways up are made ever shorter.
struct Forest {
    /// The semidominator of each node: the first from which a way leads to it through later nodes only.
    semi: Vec<usize>,
    above: Vec<Option<usize>>,
    /// Of the nodes on the way up that were left out, the one with the least semidominator.
    label: Vec<usize>,
}

impl Forest {
    fn of(many: usize) -> Self {
        Self { semi: (0..many).collect(), above: vec![None; many], label: (0..many).collect() }
    }

    /// The node with the least semidominator on the way up from a node, the root of its tree left out.
    fn best(&mut self, node: usize) -> usize {
        let mut way = Vec::new();
        let mut at = node;
        while let Some(above) = self.above[at]
            && self.above[above].is_some()
        {
            way.push(at);
            at = above;
        }
        for at in way.into_iter().rev() {
            let Some(above) = self.above[at] else { continue };
            if self.semi[self.label[above]] < self.semi[self.label[at]] {
                self.label[at] = self.label[above];
            }
            self.above[at] = self.above[above];
        }
        self.label[node]
    }
}
