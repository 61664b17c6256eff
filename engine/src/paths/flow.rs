//! One pass over the nodes, in walking order.
//!
//! Where a way seems to lead round, what is round it is walked until nothing new is found. It comes to an end: every
//! end of an interval is an edge of the rules.

use super::Paths;
use super::cell::Cell;
use super::env::{Env, Over, Pair};
use super::nodes::Nodes;
use super::parts::{Apart, Part, parts, start};
use super::refine::refine;
use crate::graph::StepGraph;
use crate::rulebook::{Line, Rules, Step, StepId};
use std::collections::{BTreeSet, HashMap};

/// What the facts may be at a node, for each part; `None` where no call of that part comes.
pub(super) type State = Vec<Option<Env>>;

/// Walks all calls at once; `None` where steps lead round.
pub(super) fn walk(rules: &Rules, graph: &StepGraph, apart: Apart) -> Option<Paths> {
    graph.loops().is_empty().then(|| over(rules, &Nodes::of(rules), apart, |_, _, _, _| {}))
}

/// Walks all calls at once, and shows what may be on each way from a place to the next.
pub(super) fn over(
    rules: &Rules,
    nodes: &Nodes,
    apart: Apart,
    mut see: impl FnMut(usize, Line, usize, &State),
) -> Paths {
    let last = LastUse::of(rules, nodes);
    let parts = parts(rules, apart);
    let mut paths = Paths::default();
    let mut states: Vec<Option<State>> = vec![None; nodes.list.len()];
    states[0] = Some(parts.iter().map(|part| start(rules, part)).collect());
    let mut open = BTreeSet::from([0]);
    while let Some(place) = open.pop_first() {
        let node = &nodes.list[place];
        // Kept only where it may still grow.
        let Some(state) = (if nodes.round { states[place].clone() } else { states[place].take() }) else {
            continue;
        };
        let step = rules.step(node.step);
        note(rules, &mut paths, node.step, &state);
        let over = last.over(step, place);
        for (line, _) in step.ways_out() {
            let after = behind(rules, &parts, step, line, &state, &over);
            if after.iter().all(Option::is_none) {
                continue;
            }
            paths.taken.insert((node.step, line));
            for next in node.behind(line) {
                see(place, line, next, &after);
                if join(&mut states[next], &after) {
                    open.insert(next);
                }
            }
        }
    }
    paths
}

/// What the fact of a step may be when it is come to, in any part.
fn note(rules: &Rules, paths: &mut Paths, id: StepId, state: &State) {
    let fact = rules.step(id).fact;
    for env in state.iter().flatten() {
        let cell: Cell = env.get(rules, fact);
        paths.at.entry(id).and_modify(|before| *before = before.or(cell)).or_insert(cell);
    }
}

fn behind(rules: &Rules, parts: &[Part], step: &Step, line: Line, state: &State, over: &Over) -> State {
    let each = parts.iter().zip(state).map(|(part, env)| {
        let mut env = refine(rules, part, step, line, env.as_ref()?)?;
        env.forget(over);
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
        more |= match (&mut *one, two) {
            (_, None) => false,
            (Some(env), Some(also)) => env.widen(also),
            (None, Some(also)) => {
                *one = Some(also.clone());
                true
            }
        };
    }
    more
}

/// The last place at which a step goes by each fact, and by each two in one edge.
struct LastUse {
    facts: Vec<usize>,
    pairs: HashMap<Pair, usize>,
}

impl LastUse {
    fn of(rules: &Rules, nodes: &Nodes) -> Self {
        let mut last = Self { facts: vec![0; rules.facts.len()], pairs: HashMap::new() };
        for (place, node) in nodes.list.iter().enumerate() {
            let step = rules.step(node.step);
            last.facts[step.fact.index()] = place;
            for (of, _) in step.shares() {
                last.facts[of.index()] = place;
                last.pairs.insert((step.fact, of), place);
            }
        }
        last
    }

    /// What this step is the last to go by.
    fn over(&self, step: &Step, place: usize) -> Over {
        let shares = step.shares();
        let edges = || shares.iter().map(|(of, _)| *of);
        let facts = std::iter::once(step.fact).chain(edges());
        let pairs = edges().map(|of| (step.fact, of));
        Over {
            facts: facts.filter(|fact| self.facts[fact.index()] == place).collect(),
            pairs: pairs.filter(|pair| self.pairs.get(pair) == Some(&place)).collect(),
        }
    }
}
