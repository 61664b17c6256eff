//! What leads round, in any graph.

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

/// The strongly connected components in which a way leads round: several nodes, or one that leads to itself.
pub(crate) fn rings<N, E>(graph: &DiGraph<N, E>) -> Vec<Vec<NodeIndex>> {
    let round =
        |nodes: &[NodeIndex]| nodes.len() > 1 || nodes.iter().any(|node| graph.contains_edge(*node, *node));
    // Tarjan's algorithm in the same library calls itself for every node of a chain, and a long chain overflows it.
    kosaraju_scc(graph).into_iter().filter(|nodes| round(nodes)).collect()
}
