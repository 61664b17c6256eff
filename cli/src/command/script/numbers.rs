//! The number that everything has on paper.

use engine::rulebook::{EndingId, FactId, Rulebook, Step, StepId, Way};
use std::collections::BTreeMap;

/// Every number, in order of first need.
pub(super) struct Numbers {
    /// The questions, in order; the first is number 1.
    pub(super) steps: Vec<StepId>,
    questions: BTreeMap<StepId, usize>,
    /// What is written down: `W1` is the first.
    pub(super) record: Vec<FactId>,
    /// Edges that go by facts which come with others, and their shares: `P1` is the first.
    pub(super) edges: Vec<(FactId, f64)>,
    /// The endings: `E1` is the first. Those of danger stand first.
    pub(super) endings: Vec<EndingId>,
    asked_first: BTreeMap<FactId, usize>,
}

impl Numbers {
    pub(super) fn of(book: &Rulebook, steps: Vec<StepId>) -> Self {
        let questions: BTreeMap<StepId, usize> =
            steps.iter().enumerate().map(|(at, step)| (*step, at + 1)).collect();
        let mut asked_first = BTreeMap::new();
        for (at, step) in steps.iter().enumerate() {
            if book.step(*step).asks {
                asked_first.entry(book.step(*step).fact).or_insert(at + 1);
            }
        }
        let mut numbers = Self {
            steps,
            questions,
            record: Vec::new(),
            edges: Vec::new(),
            endings: Vec::new(),
            asked_first,
        };
        numbers.number_endings(book);
        numbers.number_facts(book);
        numbers
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
                if comes_only_with_others(book, fact) {
                    if !self.edges.contains(&(fact, share)) {
                        self.edges.push((fact, share));
                    }
                    let given = &book.fact(fact).given;
                    for (by, _) in given.iter().flat_map(|given| &given.when) {
                        self.write_down(book, *by);
                    }
                } else {
                    self.write_down(book, fact);
                }
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

    fn write_down(&mut self, book: &Rulebook, fact: FactId) {
        if !comes_only_with_others(book, fact) && !self.record.contains(&fact) {
            self.record.push(fact);
        }
    }

    /// The number of a question.
    pub(super) fn question(&self, step: StepId) -> usize {
        self.questions.get(&step).copied().unwrap_or_default()
    }

    /// The first question that asks for a fact; none if it is only asked for elsewhere.
    pub(super) fn asked_first(&self, fact: FactId) -> Option<usize> {
        self.asked_first.get(&fact).copied()
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
    fact.asking.is_none() && !fact.given.is_empty()
}
