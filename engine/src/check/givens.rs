//! What comes with other facts, or is worked out of them, does not in the end stand on itself.

use crate::finding::{Code, Findings};
use crate::graph::{StepGraph, loops};
use crate::resolve::Resolved;
use petgraph::graph::{DiGraph, NodeIndex};

/// How a fact comes from another.
#[derive(Clone, Copy)]
enum From {
    /// As an input of its working, counted from 0.
    Input(usize),
    /// It comes with it.
    Given,
}

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let facts = &resolved.rules.facts;
    let mut graph = DiGraph::<(), From>::with_capacity(facts.len(), facts.len());
    for _ in facts {
        graph.add_node(());
    }
    for (index, fact) in facts.iter().enumerate() {
        let keys = fact.given.iter().flat_map(|given| &given.when).map(|(key, _)| (*key, From::Given));
        let inputs = fact.working.iter().flat_map(|working| &working.of).enumerate();
        let inputs = inputs.map(|(input, other)| (*other, From::Input(input)));
        for (other, from) in keys.chain(inputs) {
            graph.add_edge(NodeIndex::new(index), NodeIndex::new(other.index()), from);
        }
    }
    for edges in loops(&graph) {
        let round: Vec<usize> = edges.iter().chain(edges.first()).map(|(node, _)| node.index()).collect();
        let names: Vec<String> = round.iter().map(|&fact| format!("`{}`", facts[fact].id)).collect();
        let mut places = edges.iter().zip(round.iter().skip(1)).map(|((node, from), &other)| {
            let (fact, spots) = (node.index(), &resolved.spots.facts);
            match from {
                From::Input(input) => spots[fact].input(*input),
                From::Given => spots[other].gives(&facts[fact].id),
            }
        });
        let Some(first) = places.next() else { continue };
        let title = format!("facts that come from each other in a circle: {}", names.join(" from "));
        let draft = crate::finding::Draft::at(Code::Loop, first, title).help("let one of them be asked for");
        findings.push(places.fold(draft, |draft, place| draft.also_at(place, "and that from this")));
    }
}
