//! What the events of a call add up to.

mod doubt;
mod known;
mod proof;
#[cfg(test)]
mod tests;

pub(super) use doubt::{COVERAGE, expanded};
pub(super) use known::Known;
pub(super) use proof::Proof;

use super::event::{DeedResult, Event, EventId, Purpose, StepResult};
use super::hold_off;
use super::ledger::{Ledger, Version};
use super::power::{Power, PowerStep};
use super::prompt::{Outcome, Reached};
use crate::meter::OwnMeter;
use crate::rulebook::{
    Answer, DeedId, Ending, EndingId, FactId, Lasts, PowerStepKind, Relation, RelationId, Rulebook, Value,
};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A repair that is under way.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Repair {
    /// Its ending.
    pub(super) ending: EndingId,
    /// How many of its deeds are done.
    pub(super) done: usize,
}

/// How far a deed has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Work {
    pub(super) ending: EndingId,
    pub(super) deed: DeedId,
    /// How many of its steps are done, from the first.
    pub(super) steps: usize,
}

/// Whether the person left.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Leaving {
    /// Not at all.
    No,
    /// Yes, once the unit is left as it must be left.
    Closing,
    /// Yes, at once.
    AtOnce,
}

/// What a call cost.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Tally {
    /// Answers that a person gave because a step asked; routines and proofs apart.
    pub asked: u32,
    /// Minutes for everything.
    pub minutes: f64,
}

/// The sum of a call's events.
#[derive(Clone, PartialEq, Debug)]
pub struct State {
    pub(super) ledger: Ledger,
    pub(super) power: Power,
    pub(super) repair: Option<Repair>,
    /// The deed of which some steps are done, and not all.
    pub(super) work: Option<Work>,
    pub(super) closed: Option<Reached>,
    /// The repairs that the call went on after.
    pub(super) before: Vec<Reached>,
    pub(super) deed_sets: Vec<Vec<DeedId>>,
    /// A repair that comes before any search: one that an earlier call left for this visit, or that was agreed to when
    /// the call was cut off.
    pub(super) planned: Option<EndingId>,
    pub(super) deeds: Vec<(EventId, EndingId, DeedId)>,
    pub(super) insisted: Vec<(RelationId, Vec<EventId>)>,
    pub(super) notes: Vec<String>,
    pub(super) leaving: Leaving,
    pub(super) tally: Tally,
}

impl State {
    pub(super) fn at_start(book: &Rulebook, meter: Option<Arc<OwnMeter>>) -> Self {
        Self {
            ledger: Ledger::new(book.facts().len(), meter),
            power: Power::at_start(),
            repair: None,
            work: None,
            closed: None,
            before: Vec::new(),
            deed_sets: Vec::new(),
            planned: None,
            deeds: Vec::new(),
            insisted: Vec::new(),
            notes: Vec::new(),
            leaving: Leaving::No,
            tally: Tally::default(),
        }
    }

    /// Takes in one event. `stands` is false for an answer that was taken back later.
    pub(super) fn apply(&mut self, book: &Rulebook, id: EventId, event: &Event, stands: bool) {
        match event {
            Event::Told { fact, answer, purpose } if stands => self.told(book, id, *fact, *answer, *purpose),
            Event::Danger { what } if stands => {
                let answer = Answer::Value(Value::Choices(*what));
                self.told(book, id, book.roles().danger.0, answer, Purpose::Unasked);
            }
            Event::Again { fact, answer } if stands => {
                self.ledger.again(*fact, *answer);
                self.tally.asked += 1;
                self.tally.minutes += book.fact(*fact).minutes;
            }
            Event::Told { .. } | Event::Danger { .. } | Event::Again { .. } => {}
            Event::Retract { .. } => {
                self.closed = None;
                self.leaving = Leaving::No;
            }
            Event::Insist { relation } => self.insist(book, *relation),
            Event::Power { step, result } => self.powered(book, step, *result, stands),
            Event::Deed { result: DeedResult::NotPossible | DeedResult::Later, .. } if !stands => {}
            Event::Deed { ending, deed, result } => self.deed(book, id, *ending, *deed, *result),
            Event::Worked { ending, deed, steps } => {
                self.work = Some(Work { ending: *ending, deed: *deed, steps: *steps });
            }
            Event::Note(text) => self.notes.push(text.clone()),
            Event::Left => {
                self.leaving = match self.leaving {
                    Leaving::No => Leaving::Closing,
                    Leaving::Closing | Leaving::AtOnce => Leaving::AtOnce,
                }
            }
            Event::Resumed => self.resumed(book),
            Event::Earlier { ending, result, .. } => self.earlier(book, id, *ending, *result),
        }
        self.settle(book);
    }

    fn told(&mut self, book: &Rulebook, id: EventId, fact: FactId, answer: Answer, purpose: Purpose) {
        let rule = book.fact(fact);
        if let Some(feeds) = rule.feeds {
            // Any word that a switch or breaker is not letting the supply through undoes what was known of power;
            // in a locked-out unit, so does the word that it is.
            let lets_through = matches!(answer, Answer::Value(Value::Choices(set)) if set.within(feeds));
            if !lets_through || self.power.proved_dead().is_some() {
                self.power.forget();
            }
        }
        // Who was shocked has found the unit live, whatever was tested.
        if fact == book.roles().danger.0
            && matches!(answer, Answer::Value(Value::Choices(what)) if what.meets(book.roles().undoes_dead))
        {
            self.power.forget();
        }
        if fact == book.power().sources {
            self.power.counted_anew();
        }
        match self.closed.take() {
            // Danger seen behind a repair that is proved does not undo it.
            Some(proved) if fact == book.roles().danger.0 && proved.outcome == Outcome::Proved => {
                self.before.push(proved);
            }
            _ => {}
        }
        self.ledger.tell(
            fact,
            Version { event: id, answer, again: Vec::new(), purpose: Some(purpose), stale: false },
        );
        if matches!(purpose, Purpose::Step | Purpose::Doubted) {
            self.tally.asked += 1;
        }
        if purpose != Purpose::Unasked {
            self.tally.minutes += rule.minutes;
        }
    }

    /// Mutes a relation for the readings that it is about now, and for no later ones.
    fn insist(&mut self, book: &Rulebook, relation: RelationId) {
        let versions = self.versions(book, book.relation(relation));
        self.insisted.push((relation, versions));
    }

    /// The versions that the facts of a relation have now.
    pub(super) fn versions(&self, book: &Rulebook, relation: &Relation) -> Vec<EventId> {
        let mut facts = BTreeSet::new();
        for fact in relation.facts() {
            self.bases(book, fact, &mut facts);
        }
        facts.into_iter().filter_map(|fact| self.ledger.current(fact)).map(|version| version.event).collect()
    }

    fn powered(&mut self, book: &Rulebook, step: &PowerStep, result: StepResult, stands: bool) {
        // As an answer that is taken back, a step whose word is took no time: it comes once more.
        if stands {
            self.tally.minutes += book.power().words(step.kind).minutes + step.wait.unwrap_or(0.0);
        }
        let basis = self.basis(book);
        let resets: Vec<FactId> = match step.kind {
            PowerStepKind::ResetTrippedDevice => hold_off::tripped(book, &self.ledger).collect(),
            _ => Vec::new(),
        };
        self.power.apply(step, result, basis);
        if result == StepResult::Done {
            for fact in resets {
                self.ledger.reset(fact);
            }
        }
    }

    fn deed(&mut self, book: &Rulebook, id: EventId, ending: EndingId, deed: DeedId, result: DeedResult) {
        // It begins, or is over: no step of it stands for any later work.
        self.work = None;
        // Agreed to, it stays ahead of the search until something is done.
        let planned = self.planned.take_if(|planned| match result {
            DeedResult::Now => *planned != ending,
            DeedResult::Done => true,
            DeedResult::Later | DeedResult::NotPossible => *planned == ending,
        });
        match result {
            // What was planned cannot be done, or is not it: what is wrong is looked for.
            DeedResult::NotPossible if planned.is_some() && self.repair.is_none() => {}
            DeedResult::Now => self.repair = Some(Repair { ending, done: 0 }),
            DeedResult::Later | DeedResult::NotPossible => {
                let outcome = if result == DeedResult::Later { Outcome::Later } else { Outcome::NotPossible };
                self.repair = None;
                self.closed = Some(Reached { ending, outcome });
            }
            DeedResult::Done => self.deed_done(book, id, ending, deed),
        }
    }

    /// Whether all that a repair does was done before, under whatever name.
    pub(super) fn was_done(&self, repair: &Ending) -> bool {
        self.deed_sets.contains(&sorted(&repair.deeds))
    }

    /// What was done before is not done a second time in vain; what was left for later is taken up first, and proved
    /// where it has been done since. A unit that could not be proved dead gets no power before that is seen to.
    fn earlier(&mut self, book: &Rulebook, id: EventId, ending: EndingId, result: DeedResult) {
        if ending == book.roles().cannot_prove_dead {
            return self.power.left_unproved(result == DeedResult::Later);
        }
        let begun = self.repair.as_ref().is_some_and(|repair| repair.done > 0);
        match result {
            DeedResult::Done if self.planned == Some(ending) && !begun => self.done_since(book, id, ending),
            DeedResult::Done => self.deed_sets.push(sorted(&book.ending(ending).deeds)),
            DeedResult::Later if book.ending(ending).is_repair() => self.planned = Some(ending),
            DeedResult::Later | DeedResult::Now | DeedResult::NotPossible => {}
        }
    }

    /// What was left for this visit has been done since, as somebody says: it is proved now. Nobody here has seen it, so
    /// nothing is settled by it, and nothing is known of power.
    fn done_since(&mut self, book: &Rulebook, id: EventId, ending: EndingId) {
        let deeds = &book.ending(ending).deeds;
        self.planned = None;
        self.work = None;
        for deed in deeds {
            for fact in book.deed(*deed).changed() {
                self.ledger.stale_by_deed(fact, id);
            }
        }
        self.proved_after(book, id, ending);
        self.power.after_deed();
        self.power.forget();
        self.ledger.may_reset();
        self.repair = Some(Repair { ending, done: deeds.len() });
        self.deed_sets.push(sorted(deeds));
    }

    fn deed_done(&mut self, book: &Rulebook, id: EventId, ending: EndingId, deed: DeedId) {
        let rule = book.deed(deed);
        self.tally.minutes += rule.minutes;
        self.deeds.push((id, ending, deed));
        for &fact in &rule.stales {
            self.ledger.stale_by_deed(fact, id);
        }
        for &(fact, value) in &rule.sets {
            self.ledger.stale_by_deed(fact, id);
            self.ledger.tell(
                fact,
                Version {
                    event: id,
                    answer: Answer::Value(value),
                    again: Vec::new(),
                    purpose: None,
                    stale: false,
                },
            );
        }
        self.proved_after(book, id, ending);
        self.power.after_deed();
        self.ledger.may_reset();
        if rule.lets_supply_through() {
            self.power.after_energising_deed();
        }
        let done = match &self.repair {
            Some(repair) if repair.ending == ending => repair.done + 1,
            _ => 1,
        };
        self.repair = Some(Repair { ending, done });
        let deeds = &book.ending(ending).deeds;
        if done == deeds.len() {
            self.deed_sets.push(sorted(deeds));
        }
    }

    /// What proves a repair has to be read after it.
    fn proved_after(&mut self, book: &Rulebook, id: EventId, ending: EndingId) {
        for fact in self.proof(book, ending).map(|(fact, _)| fact).collect::<Vec<_>>() {
            self.ledger.stale_by_deed(fact, id);
        }
    }

    fn resumed(&mut self, book: &Rulebook) {
        self.leaving = Leaving::No;
        // Work that was agreed to may have been begun: nothing is powered for a search before it is settled.
        if let Some(repair) = self.repair.as_ref().filter(|repair| repair.done == 0) {
            self.planned = Some(repair.ending);
        }
        self.power.resume();
        for fact in book.fact_ids().filter(|fact| book.fact(*fact).lasts == Lasts::Now) {
            self.ledger.stale(fact);
        }
    }

    /// What follows from an event by itself: a lock-out on other supplies than were told, a proof that came out.
    pub(super) fn settle(&mut self, book: &Rulebook) {
        self.power.hold_to(self.cover(book));
        if let Some(ending) = self.being_proved(book) {
            match self.proof_so_far(book, ending) {
                Proof::Open | Proof::Unreadable => {}
                // A check goes on, now that this is in order.
                Proof::Held if self.is_check(book) => {
                    self.repair = None;
                    self.before.push(Reached { ending, outcome: Outcome::Proved });
                }
                Proof::Held => self.close(ending, Outcome::Proved),
                Proof::Failed => self.fail(book, ending),
            }
        }
    }

    fn close(&mut self, ending: EndingId, outcome: Outcome) {
        self.repair = None;
        self.closed = Some(Reached { ending, outcome });
    }

    /// The repair did not mend it: what is wrong now is asked anew, from the intake.
    fn fail(&mut self, book: &Rulebook, ending: EndingId) {
        self.repair = None;
        self.before.push(Reached { ending, outcome: Outcome::Failed });
        self.ledger.stale(book.roles().complaint);
        self.ledger.stale(book.roles().gone.0);
    }
}

fn sorted(deeds: &[DeedId]) -> Vec<DeedId> {
    let mut deeds = deeds.to_vec();
    deeds.sort_unstable();
    deeds
}
