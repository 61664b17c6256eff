//! Where in a case each thing stands that was told in a call.
//!
//! A case is read by its player: of a fact that is asked for, the newest layer that has it, by how often it was read
//! before. So each telling is put where the player looks for it at that prompt. What was known at the prompt is seen by
//! making the call once more, without what was taken back.

use super::times::{Times, When};
use super::unsaid::Unsaid;
use crate::call::{Call, DeedResult, Event, EventId, PowerStep, Purpose, Routine, StepResult};
use crate::case::Layer;
use crate::rulebook::{Answer, ChoiceSet, DeedId, EndingId, FactId, PowerStepKind, Rulebook, Value};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Everything that was told, sorted.
pub(super) struct Found {
    /// The call once more, without what was taken back.
    standing: Call,
    now: When,
    /// How often the work for each ending was begun.
    begun: BTreeMap<EndingId, usize>,
    times: Times,
    /// Where the newest version of each fact stands.
    home: BTreeMap<FactId, When>,
    /// The facts whose telling was taken back, with where it stood: what is told in its place belongs there.
    vacant: BTreeMap<FactId, (When, EventId)>,
    /// How many lock-outs there were when the present time began.
    lockouts: u32,
}

impl Found {
    /// Goes through a call.
    pub(super) fn of(call: &Call, unsaid: &mut Unsaid) -> Self {
        let mut found = Self {
            standing: Call::with_meter(Arc::clone(call.book()), call.ledger().meter().cloned()),
            now: None,
            begun: BTreeMap::new(),
            times: Times::default(),
            home: BTreeMap::new(),
            vacant: BTreeMap::new(),
            lockouts: 0,
        };
        let taken_back: BTreeSet<usize> = call.events().iter().filter_map(taken_back).collect();
        let mut marks = Vec::new();
        for (index, event) in call.events().iter().enumerate() {
            marks.push((found.now, found.standing.next_event()));
            let stands = !taken_back.contains(&index);
            if let Event::Retract { event } = event {
                found.take_back(call, &marks, event.index(), unsaid);
                continue;
            }
            if stands {
                found.hear(event, unsaid);
            } else if event.is_a_word() {
                continue;
            }
            found.standing.apply(event.clone());
        }
        found
    }

    /// Something was taken back: what is told in its place belongs where it stood.
    fn take_back(&mut self, call: &Call, marks: &[(When, EventId)], taken: usize, unsaid: &mut Unsaid) {
        let (Some(event), Some(mark)) = (call.events().get(taken), marks.get(taken)) else {
            return;
        };
        let Some(fact) = told(call.book(), event) else {
            return;
        };
        self.vacant.insert(fact, *mark);
        let since = call.events().iter().take(marks.len()).skip(taken);
        for deed in since.filter_map(deed_done) {
            unsaid.taken_back(call.book(), fact, deed);
        }
    }

    fn hear(&mut self, event: &Event, unsaid: &mut Unsaid) {
        match event {
            Event::Told { fact, answer, purpose } => self.told(*fact, *answer, *purpose, unsaid),
            Event::Danger { what } => {
                let (danger, _) = self.standing.book().roles().danger;
                self.told(danger, Answer::Value(Value::Choices(*what)), Purpose::Unasked, unsaid);
            }
            Event::Again { fact, answer } => self.read_again(*fact, *answer, unsaid),
            Event::Power { step, result } if *result != StepResult::Done => {
                self.failed(step, *result, unsaid);
            }
            Event::Deed { ending, deed, result } => match result {
                DeedResult::Now => {}
                DeedResult::Done => self.done(*ending, *deed),
                DeedResult::Later | DeedResult::NotPossible => {
                    unsaid.deed(self.standing.book(), *deed, *result);
                }
            },
            _ => {}
        }
    }

    fn told(&mut self, fact: FactId, answer: Answer, purpose: Purpose, unsaid: &mut Unsaid) {
        let book = Arc::clone(self.standing.book());
        if fact == book.power().proved_dead {
            return;
        }
        let ledger = self.standing.ledger();
        let untouched = |since: EventId| ledger.stale_since(fact).is_none_or(|deed| deed < since);
        let vacant = self.vacant.remove(&fact).filter(|(_, since)| untouched(*since)).map(|(when, _)| when);
        let (when, slot) = match (purpose, ledger.current(fact), self.home.get(&fact)) {
            _ if book.fact(fact).allows_several() => (vacant.unwrap_or(self.now), 0),
            (Purpose::Doubted, Some(version), Some(home)) => (*home, 1 + version.again.len()),
            (_, None, Some(home)) if ledger.was_reset(fact) => (*home, 1),
            _ => (vacant.unwrap_or(self.now), 0),
        };
        if fact == book.roles().danger.0 {
            self.danger(when, answer, purpose, unsaid);
        }
        self.times.told(&book, (when, fact), slot, answer, unsaid);
        self.home.insert(fact, when);
    }

    /// In a case danger is there at once: from the start, or when the first deed of an ending is done.
    fn danger(&mut self, when: When, answer: Answer, purpose: Purpose, unsaid: &mut Unsaid) {
        let (danger, safe) = self.standing.book().roles().danger;
        if matches!(answer, Answer::Value(Value::Choices(what)) if what.within(safe)) {
            return;
        }
        if purpose == Purpose::Unasked && self.times.has_more_than(when, danger) {
            unsaid.say("danger was told in the course of the call: in a case it is there at once");
        }
        // That there was none so far is said already.
        self.times.forget((when, danger));
    }

    fn read_again(&mut self, fact: FactId, answer: Answer, unsaid: &mut Unsaid) {
        let Some(version) = self.standing.ledger().current(fact) else {
            return;
        };
        let own: Vec<Answer> = std::iter::once(version.answer).chain(version.again.iter().copied()).collect();
        let when = self.home.get(&fact).copied().unwrap_or(self.now);
        self.times.again(self.standing.book(), (when, fact), own, answer, unsaid);
    }

    fn failed(&mut self, step: &PowerStep, result: StepResult, unsaid: &mut Unsaid) {
        let book = Arc::clone(self.standing.book());
        let proved_dead = book.power().proved_dead;
        let rule = book.fact(proved_dead);
        let tested = step.kind == PowerStepKind::TestDead;
        if step.routine != Routine::LockOut {
            return unsaid.power(step, result);
        }
        if !tested {
            unsaid.power(step, result);
        }
        if self.standing.power().lockouts() > self.lockouts {
            unsaid
                .say("the unit was proved dead once before the lock-out that failed: in a case it never is");
        }
        let not = rule.choice("yes").map(|yes| rule.every_choice().without(yes));
        let no = not.and_then(|not| not.positions().next()).map(ChoiceSet::only);
        let answer = no.filter(|_| tested).map_or(Answer::Cannot, |no| Answer::Value(Value::Choices(no)));
        self.times.forget((self.now, proved_dead));
        self.times.told(&book, (self.now, proved_dead), 0, answer, unsaid);
    }

    fn done(&mut self, ending: EndingId, deed: DeedId) {
        let rule = self.standing.book().ending(ending);
        if !rule.is_repair() {
            return;
        }
        let times = self.begun.entry(ending).or_default();
        if rule.deeds.first() == Some(&deed) {
            *times += 1;
        }
        let now = Some((ending, times.saturating_sub(1)));
        if self.now != now {
            self.lockouts = self.standing.power().lockouts();
            self.now = now;
        }
        for (fact, _) in &self.standing.book().deed(deed).sets {
            self.home.insert(*fact, now);
        }
    }

    /// What is found at first, and once the work for each ending was begun.
    pub(super) fn into_layers(self, unsaid: &mut Unsaid) -> (Layer, BTreeMap<EndingId, Vec<Layer>>) {
        self.times.into_layers(self.standing.book(), unsaid)
    }
}

/// The event that an event takes back.
fn taken_back(event: &Event) -> Option<usize> {
    match event {
        Event::Retract { event } => Some(event.index()),
        _ => None,
    }
}

/// The deed that is done.
fn deed_done(event: &Event) -> Option<DeedId> {
    match event {
        Event::Deed { deed, result: DeedResult::Done, .. } => Some(*deed),
        _ => None,
    }
}

/// The fact that an event tells.
fn told(book: &Rulebook, event: &Event) -> Option<FactId> {
    match event {
        Event::Told { fact, .. } => Some(*fact),
        Event::Danger { .. } => Some(book.roles().danger.0),
        _ => None,
    }
}
