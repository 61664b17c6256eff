//! Every call that a small rulebook allows.

use engine::call::{Call, Event, Purpose, Stop};
use engine::quantity::Quantity;
use engine::rulebook::{
    Answer, BandWay, ChoiceSet, Edge, FactId, Kind, Line, Rulebook, StepId, Upper, Value, Ways,
};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Where a rulebook allows more calls than this, the rest is not made.
pub(super) const MOST_CALLS: usize = 5_000;

/// What the calls of a rulebook do.
pub(super) struct Walked {
    /// The lines taken.
    pub(super) taken: BTreeSet<(StepId, Line)>,
    /// The steps at which their own fact was asked for.
    pub(super) asked: BTreeSet<String>,
    /// The steps that a choice without a line came to.
    pub(super) uncovered: Vec<String>,
    pub(super) calls: usize,
    options: BTreeMap<FactId, Vec<Answer>>,
}

impl Walked {
    pub(super) fn of(book: &Arc<Rulebook>) -> Self {
        let options = book.fact_ids().map(|fact| (fact, options(book, fact))).collect();
        let mut walked =
            Self { taken: BTreeSet::new(), asked: BTreeSet::new(), uncovered: Vec::new(), calls: 0, options };
        walked.on(book, &Call::new(Arc::clone(book)), &BTreeSet::new());
        walked
    }

    /// Every call that begins as this one, in which nothing more is told of these facts unasked.
    fn on(&mut self, book: &Rulebook, call: &Call, untold: &BTreeSet<FactId>) {
        if self.calls >= MOST_CALLS {
            return;
        }
        let walk = call.walk();
        for passed in &walk.trail {
            self.taken.insert((passed.step, passed.line));
            let step = book.step(passed.step);
            let known = matches!(call.known(step.fact), Some(Answer::Value(Value::Choices(_))));
            if passed.line == Line::Otherwise && known {
                self.uncovered.push(step.id.clone());
            }
            // A step that only looks up goes one way where a fact was told before, and another where it was not.
            if !step.asks
                && let Some(fact) = looked_up(book, passed.step).into_iter().find(|fact| {
                    call.known(*fact).is_none() && book.fact(*fact).asking.is_some() && !untold.contains(fact)
                })
            {
                let mut not_told = untold.clone();
                not_told.insert(fact);
                self.on(book, call, &not_told);
                for answer in self.options[&fact].clone() {
                    self.told(book, call, untold, Event::Told { fact, answer, purpose: Purpose::Unasked });
                }
                return;
            }
        }
        match walk.stop {
            Stop::End(_) => self.calls += 1,
            Stop::Need { fact, purpose: Purpose::Second, .. } => {
                // The same again; what scatters more than its meter says is not followed by the walk either.
                let answer = call.known(fact).unwrap();
                self.told(book, call, untold, Event::Again { fact, answer });
            }
            Stop::Need { step, fact, purpose } => {
                // What is said to be untold here is told by another branch of the search.
                if book.step(step).fact == fact {
                    self.asked.insert(book.step(step).id.clone());
                }
                for answer in self.options[&fact].clone() {
                    self.told(book, call, untold, Event::Told { fact, answer, purpose });
                }
            }
        }
    }

    fn told(&mut self, book: &Rulebook, call: &Call, untold: &BTreeSet<FactId>, event: Event) {
        let mut call = call.clone();
        call.apply(event);
        self.on(book, &call, untold);
    }
}

/// The facts that decide at a step which only looks up.
fn looked_up(book: &Rulebook, step: StepId) -> BTreeSet<FactId> {
    let step = book.step(step);
    let edges = step.shares().into_iter().map(|(fact, _)| fact);
    let made = std::iter::once(step.fact).chain(edges).flat_map(|fact| book.made_of(fact));
    let with = |fact: FactId| {
        book.fact(fact).given.iter().flat_map(|given| &given.when).map(|(by, _)| *by).collect::<Vec<_>>()
    };
    made.flat_map(|fact| with(fact).into_iter().chain([fact])).collect()
}

/// All that may be said of a fact.
fn options(book: &Rulebook, fact: FactId) -> Vec<Answer> {
    let rule = book.fact(fact);
    let values: Vec<Value> = match &rule.kind {
        Kind::Choice { several: true, .. } => sets(rule.every_choice()).map(Value::Choices).collect(),
        Kind::Choice { .. } => {
            rule.every_choice().positions().map(|at| Value::Choices(ChoiceSet::only(at))).collect()
        }
        Kind::Quantity { expected, .. } => {
            let unit = expected.unit();
            numbers(book, fact)
                .into_iter()
                .filter_map(|number| Quantity::new(number, unit))
                .map(Value::Quantity)
                .collect()
        }
    };
    values.into_iter().map(Answer::Value).chain([Answer::Cannot]).collect()
}

fn sets(all: ChoiceSet) -> impl Iterator<Item = ChoiceSet> {
    let single: Vec<ChoiceSet> = all.positions().map(ChoiceSet::only).collect();
    (1_u32..1 << single.len()).map(move |bits| {
        let held = single.iter().enumerate().filter(|(at, _)| bits & (1 << at) != 0);
        held.fold(ChoiceSet::default(), |set, (_, one)| set.with(*one))
    })
}

/// Values on, close to and between the edges that a measured fact may meet, within what is plausible of it.
fn numbers(book: &Rulebook, fact: FactId) -> Vec<f64> {
    let Some((low, high)) = book.fact(fact).expected().and_then(engine::quantity::Expected::range) else {
        return Vec::new();
    };
    let (low, high) = (low.number(), high.number());
    let mut values: Vec<f64> = vec![low, f64::midpoint(low, high), high];
    for step in book.steps() {
        let Ways::Bands(lines) = &step.ways else { continue };
        for edge in lines.iter().filter_map(edge) {
            match edge {
                Edge::Plain(quantity) if book.made_of(step.fact).contains(&fact) => {
                    let edge = quantity.number();
                    values.extend([edge - 0.6, edge - 0.1, edge, edge + 0.1, edge + 0.6]);
                }
                Edge::Share { of, share } if step.fact == fact => {
                    values
                        .extend(wholes(book, *of).into_iter().flat_map(|of| [of * share, of * share + 0.4]));
                }
                _ => {}
            }
        }
    }
    values.retain(|value| (low..=high).contains(value));
    values.sort_by(f64::total_cmp);
    values.dedup_by(|one, other| (*one - *other).abs() < 1e-6);
    values
}

/// A few values of a fact that edges are shares of.
fn wholes(book: &Rulebook, fact: FactId) -> Vec<f64> {
    let rule = book.fact(fact);
    let given: Vec<f64> = rule.given.iter().filter_map(|given| Some(given.is.quantity()?.number())).collect();
    match rule.expected().and_then(engine::quantity::Expected::range) {
        Some((low, high)) if given.is_empty() => {
            vec![low.number(), f64::midpoint(low.number(), high.number()), high.number()]
        }
        _ => given,
    }
}

const fn edge(line: &BandWay) -> Option<&Edge> {
    match &line.upper {
        Upper::Below(edge) | Upper::UpTo(edge) => Some(edge),
        Upper::Last => None,
    }
}
