//! The number that everything has on paper.

use engine::rulebook::{EndingId, FactId, Rulebook, Step, StepId, Way};
use std::collections::{BTreeMap, BTreeSet};

/// Every number, in order of first need.
pub(super) struct Numbers {
    /// The questions, in order; the first is number 1.
    pub(super) steps: Vec<StepId>,
    questions: BTreeMap<StepId, usize>,
    /// What is written down: `W1` is the first.
    pub(super) record: Vec<FactId>,
    /// Edges that go by facts which come with others, and their shares: `P1` is the first.
    pub(super) edges: Vec<(FactId, f64)>,
    /// What is worked out of others, always or where it cannot be told: `F1` is the first.
    pub(super) figures: Vec<FactId>,
    /// The endings: `E1` is the first. Those of danger stand first.
    pub(super) endings: Vec<EndingId>,
    asked_first: BTreeMap<FactId, Place>,
}

/// Where all that is needed to take a reading, or to work it out, is printed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// At the question with this number.
    Question(usize),
    /// Where this figure is worked out: 1 is `F1`.
    Figure(usize),
}

impl std::fmt::Display for Place {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Question(number) => write!(formatter, "question {number}"),
            Self::Figure(number) => write!(formatter, "F{number}"),
        }
    }
}

impl Numbers {
    pub(super) fn of(book: &Rulebook, steps: Vec<StepId>) -> Self {
        let questions: BTreeMap<StepId, usize> =
            steps.iter().enumerate().map(|(at, step)| (*step, at + 1)).collect();
        let mut numbers = Self {
            steps,
            questions,
            record: Vec::new(),
            edges: Vec::new(),
            figures: Vec::new(),
            endings: Vec::new(),
            asked_first: BTreeMap::new(),
        };
        numbers.number_endings(book);
        numbers.number_facts(book);
        numbers.place_questions(book);
        numbers
    }

    /// What a question asks for is printed in full where it is first asked for; parts of a figure that no question
    /// asks for, where the first figure needs them.
    fn place_questions(&mut self, book: &Rulebook) {
        let mut needed = Vec::new();
        for (at, step) in self.steps.iter().enumerate() {
            let step = book.step(*step);
            let edges = step.shares().into_iter().map(|(of, _)| of);
            for fact in [step.fact].into_iter().chain(edges).filter(|_| step.asks) {
                needed.push(fact);
                if !is_worked_out(book, fact) && !comes_only_with_others(book, fact) {
                    self.asked_first.entry(fact).or_insert(Place::Question(at + 1));
                }
            }
        }
        let needed: BTreeSet<FactId> = needed.into_iter().flat_map(|fact| book.made_of(fact)).collect();
        for (at, figure) in self.figures.iter().enumerate() {
            let own = is_worked_out(book, *figure).then_some(*figure);
            let parts = book.fact(*figure).working.iter().flat_map(|working| &working.of).copied();
            let parts = parts.filter(|part| needed.contains(part) && !is_worked_out(book, *part));
            for fact in parts.filter(|part| !comes_only_with_others(book, *part)).chain(own) {
                self.asked_first.entry(fact).or_insert(Place::Figure(at + 1));
            }
        }
    }

    fn number_endings(&mut self, book: &Rulebook) {
        let mut endings: Vec<EndingId> = Vec::new();
        if let Some(step) = danger_step(book) {
            endings.extend(ends(step).filter(|ending| book.ending(*ending).urgent));
        }
        let steps = self.steps.iter().map(|step| book.step(*step));
        endings.extend(steps.flat_map(|step| ends(step).collect::<Vec<_>>()));
        let roles = book.roles();
        endings.extend([
            roles.cannot_prove_dead,
            roles.same_fault_again,
            roles.not_enough_readings,
            roles.left,
        ]);
        let again: Vec<EndingId> = endings.iter().filter_map(|ending| book.ending(*ending).again).collect();
        endings.extend(again);
        for ending in endings {
            if !self.endings.contains(&ending) {
                self.endings.push(ending);
            }
        }
    }

    fn number_facts(&mut self, book: &Rulebook) {
        for step in self.steps.clone() {
            let step = book.step(step);
            self.write_down(book, step.fact);
            for (fact, share) in step.shares() {
                self.tabulate(book, fact, share);
                self.write_down(book, fact);
            }
        }
        let power = book.power();
        let held = power.hold_offs.iter().flat_map(|rule| rule.when.iter().chain(&rule.until));
        let routine = [power.live_work.0, power.sources, power.stored_charge];
        let carried = book.fact(power.stored_charge).given.iter().flat_map(|given| &given.when);
        let proofs = self.endings.clone();
        let proofs = proofs.iter().flat_map(|ending| &book.ending(*ending).proof);
        let more = routine.into_iter().chain(held.map(|(fact, _)| *fact));
        let more = more.chain(carried.map(|(fact, _)| *fact)).chain(proofs.map(|(fact, _)| *fact));
        let roles = book.roles();
        for fact in more.chain([roles.danger.0, roles.complaint, roles.gone.0]) {
            self.write_down(book, fact);
        }
    }

    /// Takes an edge that comes off a plate into the table of edges.
    fn tabulate(&mut self, book: &Rulebook, fact: FactId, share: f64) {
        if comes_only_with_others(book, fact) && self.edge(fact, share).is_none() {
            self.edges.push((fact, share));
        }
    }

    /// Takes a fact onto the record, and all that it comes from.
    fn write_down(&mut self, book: &Rulebook, fact: FactId) {
        if self.record.contains(&fact) {
            return;
        }
        if !comes_only_with_others(book, fact) {
            self.record.push(fact);
        }
        if let Some(working) = &book.fact(fact).working {
            self.figures.push(fact);
            for part in &working.of {
                self.tabulate(book, *part, 1.0);
            }
        }
        for from in book.comes_from(fact) {
            self.write_down(book, from);
        }
    }

    /// The number of a question.
    pub(super) fn question(&self, step: StepId) -> usize {
        self.questions.get(&step).copied().unwrap_or_default()
    }

    /// Where it is first asked for, or worked out; none if that stands under other readings.
    pub(super) fn asked_first(&self, fact: FactId) -> Option<Place> {
        self.asked_first.get(&fact).copied()
    }

    /// Where a fact is worked out, such as `F2`.
    pub(super) fn figure(&self, fact: FactId) -> Option<String> {
        self.figures.iter().position(|other| *other == fact).map(|at| format!("F{}", at + 1))
    }

    /// Where a fact is written down, such as `W4`.
    pub(super) fn written(&self, fact: FactId) -> Option<String> {
        self.record.iter().position(|other| *other == fact).map(|at| format!("W{}", at + 1))
    }

    /// The place of an edge in the table, such as `P2`.
    pub(super) fn edge(&self, fact: FactId, share: f64) -> Option<String> {
        let same = |other: &(FactId, f64)| other.0 == fact && other.1.total_cmp(&share).is_eq();
        self.edges.iter().position(same).map(|at| format!("P{}", at + 1))
    }

    /// The number of an ending, such as `E5`.
    pub(super) fn ending(&self, ending: EndingId) -> String {
        format!("E{}", self.endings.iter().position(|other| *other == ending).unwrap_or_default() + 1)
    }

    pub(super) const fn has_edges(&self) -> bool {
        !self.edges.is_empty()
    }
}

/// The step that asks for danger: the first of the rulebook.
pub(super) fn danger_step(book: &Rulebook) -> Option<&Step> {
    book.steps().iter().find(|step| step.asks && step.fact == book.roles().danger.0)
}

fn ends(step: &Step) -> impl Iterator<Item = EndingId> + '_ {
    step.ways_out().filter_map(|(_, way)| match way {
        Way::End(ending) => Some(ending),
        _ => None,
    })
}

/// Nobody is asked for it: it comes off a plate or a profile that is asked for.
pub(super) fn comes_only_with_others(book: &Rulebook, fact: FactId) -> bool {
    let fact = book.fact(fact);
    fact.asking.is_none() && fact.working.is_none() && !fact.given.is_empty()
}

/// Nobody is asked for it: it is always worked out.
pub(super) fn is_worked_out(book: &Rulebook, fact: FactId) -> bool {
    let fact = book.fact(fact);
    fact.asking.is_none() && fact.working.is_some()
}
