//! What comes with other facts, or is worked out of them, does not in the end stand on itself.

use crate::finding::{Code, Draft, Findings, On};
use crate::graph::{StepGraph, rings};
use crate::resolve::Resolved;
use petgraph::graph::{DiGraph, NodeIndex};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let facts = &resolved.rules.facts;
    let mut graph = DiGraph::<(), ()>::with_capacity(facts.len(), facts.len());
    for _ in facts {
        graph.add_node(());
    }
    for (index, fact) in facts.iter().enumerate() {
        let keys = fact.given.iter().flat_map(|given| &given.when).map(|(key, _)| key);
        let inputs = fact.working.iter().flat_map(|working| &working.of);
        for other in keys.chain(inputs) {
            graph.add_edge(NodeIndex::new(index), NodeIndex::new(other.index()), ());
        }
    }
    for nodes in rings(&graph) {
        let Some(first) = nodes.iter().min() else {
            continue;
        };
        let mut names: Vec<String> =
            nodes.iter().map(|node| format!("`{}`", facts[node.index()].id)).collect();
        names.sort_unstable();
        let spot = &resolved.spots.facts[first.index()];
        findings.push(
            Draft::new(
                Code::Loop,
                &spot.file,
                &spot.pointer,
                On::Key,
                format!("facts that come with each other in a circle: {}", names.join(", ")),
            )
            .help("let one of them be asked for"),
        );
    }
}
