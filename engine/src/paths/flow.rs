//! One pass over the graph, in walking order.
//!
//! A tree that is visited from several places is walked apart for each place that it comes back to: a node is a step
//! and the step that the innermost visit comes back to. Further out, visits are not told apart; so a way may seem to
//! lead round that no call goes, and what is round it is walked until nothing new is found. It comes to an end: every
//! end of an interval is an edge of the rules.

use super::Paths;
use super::cell::Cell;
use super::env::Env;
use super::parts::{Apart, Part, parts, start};
use super::refine::refine;
use crate::graph::StepGraph;
use crate::rulebook::{EndingKind, FactId, Line, Rules, StepId, Way};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::DfsPostOrder;
use std::collections::{BTreeMap, BTreeSet};

/// The step that the innermost visit comes back to; `None` outside of all visits.
type Back = Option<StepId>;
pub(super) type Node = (Back, StepId);

/// What the facts may be at a node, for each part; `None` where no call of that part comes.
type State = Vec<Option<Env>>;

/// Every node, with the lines that lead on from it.
#[derive(Default)]
pub(super) struct Nodes {
    pub(super) on: BTreeMap<Node, Vec<(Line, Node)>>,
    /// From where each visit that comes back to a step was made.
    callers: BTreeMap<StepId, BTreeSet<Back>>,
    /// The lines that end a visit.
    returns: Vec<(Node, Line)>,
}

impl Nodes {
    pub(super) fn of(rules: &Rules, first: Node) -> Self {
        let mut nodes = Self::default();
        let mut open: Vec<Node> = vec![first];
        while let Some(node) = open.pop() {
            if nodes.on.contains_key(&node) {
                continue;
            }
            let (back, step) = node;
            let mut on = Vec::new();
            for (line, way) in rules.step(step).ways_out() {
                match way {
                    Way::Go(next) => on.push((line, (back, next))),
                    Way::ContinueIn(tree) => on.push((line, (back, rules.tree(tree).start))),
                    Way::Visit { tree, then } => {
                        on.push((line, (Some(then), rules.tree(tree).start)));
                        nodes.callers.entry(then).or_default().insert(back);
                    }
                    Way::End(ending) if rules.endings[ending.index()].kind == EndingKind::InOrder => {
                        nodes.returns.push((node, line));
                    }
                    Way::End(_) => {}
                }
            }
            open.extend(on.iter().map(|(_, next)| *next));
            nodes.on.insert(node, on);
            // A visit is come back from once it is known from where it was made.
            open.extend(nodes.come_back());
        }
        nodes
    }

    /// Joins the lines that end a visit to the steps that they come back to; the nodes among them that are new.
    fn come_back(&mut self) -> Vec<Node> {
        let mut new = Vec::new();
        for (node, line) in &self.returns {
            let Some(then) = node.0 else { continue };
            for back in self.callers.get(&then).into_iter().flatten() {
                let target = (*back, then);
                let on = self.on.entry(*node).or_default();
                if !on.contains(&(*line, target)) {
                    on.push((*line, target));
                    new.push(target);
                }
            }
        }
        new
    }

    /// The nodes, each behind all that lead to it, but for ways that seem to lead round.
    pub(super) fn in_walking_order(&self, first: Node) -> Vec<Node> {
        let mut graph = DiGraph::<Node, ()>::new();
        let index: BTreeMap<Node, NodeIndex> =
            self.on.keys().map(|node| (*node, graph.add_node(*node))).collect();
        for (node, on) in &self.on {
            for (_, next) in on {
                graph.add_edge(index[node], index[next], ());
            }
        }
        let mut search = DfsPostOrder::new(&graph, index[&first]);
        let mut order: Vec<Node> =
            std::iter::from_fn(|| search.next(&graph)).map(|node| graph[node]).collect();
        order.reverse();
        order
    }

    /// Whether a way seems to lead back in the walking order.
    pub(super) fn lead_round(&self, places: &BTreeMap<Node, usize>) -> bool {
        let back =
            |(node, on): (&Node, &Vec<(Line, Node)>)| on.iter().any(|(_, next)| places[next] <= places[node]);
        self.on.iter().any(back)
    }
}

/// Walks all calls at once; `None` where steps lead round.
pub(super) fn walk(rules: &Rules, graph: &StepGraph, apart: Apart) -> Option<Paths> {
    if !graph.loops().is_empty() {
        return None;
    }
    let first = (None, rules.tree(rules.roles.start).start);
    let nodes = Nodes::of(rules, first);
    let order = nodes.in_walking_order(first);
    let places: BTreeMap<Node, usize> =
        order.iter().enumerate().map(|(place, node)| (*node, place)).collect();
    let round = nodes.lead_round(&places);
    let last_use = last_uses(rules, &order);
    let parts = parts(rules, apart);
    let mut paths = Paths::default();
    let mut states: Vec<Option<State>> = vec![None; order.len()];
    states[places[&first]] = Some(parts.iter().map(|part| start(rules, part)).collect());
    let mut open = BTreeSet::from([places[&first]]);
    while let Some(place) = open.pop_first() {
        let node = order[place];
        // Kept only where it may still grow.
        let Some(state) = (if round { states[place].clone() } else { states[place].take() }) else {
            continue;
        };
        let step = rules.step(node.1);
        note(rules, &mut paths, node.1, &state);
        let over = |fact: FactId| last_use.get(&fact).is_none_or(|last| *last <= place);
        for (line, _) in step.ways_out() {
            let after = behind(rules, &parts, step, line, &state, over);
            if after.iter().all(Option::is_none) {
                continue;
            }
            paths.taken.insert((node.1, line));
            for (_, next) in nodes.on[&node].iter().filter(|(other, _)| *other == line) {
                let next = places[next];
                if join(&mut states[next], &after) {
                    open.insert(next);
                }
            }
        }
    }
    Some(paths)
}

/// What the fact of a step may be when it is come to, in any part.
fn note(rules: &Rules, paths: &mut Paths, id: StepId, state: &State) {
    let fact = rules.step(id).fact;
    for env in state.iter().flatten() {
        let cell: Cell = env.get(rules, fact);
        paths.at.entry(id).and_modify(|before| *before = before.or(cell)).or_insert(cell);
    }
}

fn behind(
    rules: &Rules,
    parts: &[Part],
    step: &crate::rulebook::Step,
    line: Line,
    state: &State,
    over: impl Fn(FactId) -> bool,
) -> State {
    let each = parts.iter().zip(state).map(|(part, env)| {
        let mut env = refine(rules, part, step, line, env.as_ref()?)?;
        env.forget(&over);
        Some(env)
    });
    each.collect()
}

/// What may be on either way; whether that is more than before.
fn join(state: &mut Option<State>, other: &State) -> bool {
    let Some(before) = state else {
        *state = Some(other.clone());
        return true;
    };
    let mut more = false;
    for (one, two) in before.iter_mut().zip(other) {
        let both = match (&one, two) {
            (_, None) => continue,
            (Some(env), Some(also)) => env.or(also),
            (None, Some(also)) => also.clone(),
        };
        if one.as_ref() != Some(&both) {
            *one = Some(both);
            more = true;
        }
    }
    more
}

/// The last place in the order at which a step goes by each fact.
fn last_uses(rules: &Rules, order: &[Node]) -> BTreeMap<FactId, usize> {
    let mut last = BTreeMap::new();
    for (position, (_, step)) in order.iter().enumerate() {
        let step = rules.step(*step);
        let edges = step.shares().into_iter().map(|(fact, _)| fact);
        for fact in std::iter::once(step.fact).chain(edges) {
            last.insert(fact, position);
        }
    }
    last
}
