//! A call: the fold of its events, and what comes next.
//!
//! No position is stored. Each time, `next` walks from the start over the facts as they are now; so taking back,
//! correcting, resuming and replaying need nothing of their own.

mod account;
mod ahead;
mod drive;
mod event;
mod hold_off;
mod ledger;
mod next;
mod power;
mod prompt;
mod reply;
mod state;
mod walk;

pub use account::Origin;
pub use ahead::{Ahead, Band, EdgeNow};
pub use drive::{Answerer, Halt, Patience, drive};
pub use event::{DeedResult, Event, EventId, Purpose, StepResult};
pub use ledger::{Ledger, Version};
pub use power::{Cover, Leads, Panel, Power, PowerState, PowerStep, Routine, Sources, Target};
pub use prompt::{Ended, Next, Outcome, Prompt, Reached, Towards, Wants};
pub use reply::{Refusal, Reply};
pub use state::{Leaving, State, Tally};
pub use walk::{Facts, Got, Passed, Stop, Walked, walk};

use crate::meter::OwnMeter;
use crate::quantity::Quantity;
use crate::rulebook::{Answer, Caution, Condition, DeedId, EndingId, FactId, RelationId, Rulebook, Value};
use state::Known;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A call under way, or at its end.
#[derive(Clone, Debug)]
pub struct Call {
    book: Arc<Rulebook>,
    events: Vec<Event>,
    state: State,
    corrected: BTreeSet<EventId>,
}

impl Call {
    /// A call in which nothing has been said yet.
    #[must_use]
    pub fn new(book: Arc<Rulebook>) -> Self {
        Self::with_meter(book, None)
    }

    /// A call whose readings are taken with the caller's own meter, instead of ordinary ones.
    #[must_use]
    pub fn with_meter(book: Arc<Rulebook>, meter: Option<Arc<OwnMeter>>) -> Self {
        let state = State::at_start(&book, meter);
        Self { book, events: Vec::new(), state, corrected: BTreeSet::new() }
    }

    /// The call that these events add up to.
    #[must_use]
    pub fn fold(book: Arc<Rulebook>, events: impl IntoIterator<Item = Event>) -> Self {
        let mut call = Self::new(book);
        for event in events {
            call.apply(event);
        }
        call
    }

    /// Takes in one event.
    pub fn apply(&mut self, event: Event) {
        let id = EventId::at(self.events.len());
        if let Event::Retract { event: target } = event {
            self.mark_deeds_decided_by(target);
            self.events.push(event);
            self.refold(target);
        } else {
            self.state.apply(&self.book, id, &event, true);
            self.events.push(event);
        }
    }

    /// Folds the log anew without what has been taken back.
    ///
    /// What is known of power is not folded anew: words taken back move no switch and put no panel on, so taking
    /// back may only ever make less of it known.
    fn refold(&mut self, target: EventId) {
        let retracted = self.retracted();
        let power = self.state.power.clone();
        self.state = State::at_start(&self.book, self.state.ledger.meter().cloned());
        for (index, event) in self.events.iter().enumerate() {
            let id = EventId::at(index);
            self.state.apply(&self.book, id, event, !retracted.contains(&id));
        }
        self.state.power = power;
        match self.events.get(target.index()) {
            Some(Event::Power { step, result }) => self.state.power.take_back(step, *result),
            Some(Event::Told { fact, .. }) if self.book.power().plans_by(*fact) => self.state.power.forget(),
            _ => {}
        }
        self.state.settle(&self.book);
    }

    fn retracted(&self) -> BTreeSet<EventId> {
        self.events
            .iter()
            .filter_map(|event| match event {
                Event::Retract { event } => Some(*event),
                _ => None,
            })
            .collect()
    }

    /// Deeds that were done after a fact was told, and that change this fact, stand on a reading since corrected.
    fn mark_deeds_decided_by(&mut self, target: EventId) {
        let Some(Event::Told { fact, .. }) = self.events.get(target.index()) else {
            return;
        };
        let later = self
            .state
            .deeds
            .iter()
            .filter(|(done, _, deed)| *done > target && self.book.deed(*deed).changes(*fact))
            .map(|(done, _, _)| *done);
        self.corrected.extend(later);
    }

    /// The rulebook it goes by.
    #[must_use]
    pub fn book(&self) -> &Arc<Rulebook> {
        &self.book
    }

    /// Everything that happened, oldest first.
    #[must_use]
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// What the events add up to.
    #[must_use]
    pub const fn state(&self) -> &State {
        &self.state
    }

    /// The facts with their versions.
    #[must_use]
    pub const fn ledger(&self) -> &Ledger {
        &self.state.ledger
    }

    /// Power, panel, interlock and leads.
    #[must_use]
    pub const fn power(&self) -> &Power {
        &self.state.power
    }

    /// What the call has cost so far.
    #[must_use]
    pub const fn tally(&self) -> Tally {
        self.state.tally
    }

    /// The deeds done, oldest first: for which ending, and whether on a reading that was corrected since.
    pub fn deeds_done(&self) -> impl Iterator<Item = (EndingId, DeedId, bool)> + '_ {
        self.state.deeds.iter().map(|(id, ending, deed)| (*ending, *deed, self.corrected.contains(id)))
    }

    /// The ending that a deed was done for, by the event of it.
    pub(crate) fn ending_of(&self, deed: EventId) -> Option<EndingId> {
        self.state.deeds.iter().find_map(|(id, ending, _)| (*id == deed).then_some(*ending))
    }

    /// The repairs that the call went on after, oldest first: done and not proved, or proved in a check.
    #[must_use]
    pub fn repairs_before(&self) -> &[Reached] {
        &self.state.before
    }

    /// The facts that stayed too close to a limit to tell on the way that the call went, each once.
    #[must_use]
    pub fn too_close(&self) -> Vec<FactId> {
        let mut facts = Vec::new();
        for passed in self.walk().trail.iter().filter(|passed| !passed.sure) {
            let fact = self.book.step(passed.step).fact;
            if !facts.contains(&fact) {
                facts.push(fact);
            }
        }
        facts
    }

    /// The relations between readings that a person stood by though they cannot all be true.
    pub fn stood_by(&self) -> impl Iterator<Item = RelationId> + '_ {
        self.state.insisted.iter().map(|(relation, _)| *relation)
    }

    /// The remarks for the record.
    #[must_use]
    pub fn notes(&self) -> &[String] {
        &self.state.notes
    }

    /// The walk over the facts as they are now.
    #[must_use]
    pub fn walk(&self) -> Walked {
        walk(&self.book, &Known { book: &self.book, state: &self.state })
    }

    /// What a fact is now: told, or come with other facts; `None` while it has to be asked for.
    #[must_use]
    pub fn known(&self, fact: FactId) -> Option<Answer> {
        match self.state.get(&self.book, fact) {
            Got::Known(value) => Some(Answer::Value(value)),
            Got::Cannot => Some(Answer::Cannot),
            Got::Ask(_) => None,
        }
    }

    /// The newest telling that has not been taken back: what `back` takes back.
    #[must_use]
    pub fn newest_telling(&self) -> Option<EventId> {
        let retracted = self.retracted();
        (0..self.events.len())
            .rev()
            .map(EventId::at)
            .find(|id| self.events[id.index()].is_a_word() && !retracted.contains(id))
    }

    /// The call as it stood when the work for an ending was agreed to, the last time; `None` where it never was.
    #[must_use]
    pub fn when_agreed(&self, ending: EndingId) -> Option<Self> {
        let agreed = |event: &Event| matches!(event, Event::Deed { ending: of, result: DeedResult::Now, .. } if *of == ending);
        let at = self.events.iter().rposition(agreed)?;
        Some(self.up_to(at))
    }

    /// The call as it stood when the person said that they leave; `None` where they did not.
    #[must_use]
    pub fn when_left(&self) -> Option<Self> {
        let resumed = self.events.iter().rposition(|event| *event == Event::Resumed).unwrap_or_default();
        let left = self.events[resumed..].iter().position(|event| *event == Event::Left)?;
        Some(self.up_to(resumed + left))
    }

    /// The call as it stood before it was taken up again, the last time; `None` where it never was, or where anything was
    /// done to its power since.
    pub(crate) fn when_last_taken_up(&self) -> Option<Self> {
        let at = self.events.iter().rposition(|event| *event == Event::Resumed)?;
        let does = |event: &Event| match event {
            Event::Power { .. } => true,
            Event::Deed { deed, result: DeedResult::Done, .. } => self.book.deed(*deed).lets_supply_through(),
            _ => false,
        };
        (!self.events[at..].iter().any(does)).then(|| self.up_to(at))
    }

    /// The call as it stood before the event at this position.
    fn up_to(&self, at: usize) -> Self {
        let mut call = Self::with_meter(Arc::clone(&self.book), self.state.ledger.meter().cloned());
        self.events[..at].iter().cloned().for_each(|event| call.apply(event));
        call
    }

    /// Values that a deed of this ending settles, for a fact.
    #[must_use]
    pub fn settled_by(&self, deed: EventId, fact: FactId) -> Option<Value> {
        let Some(Event::Deed { deed, .. }) = self.events.get(deed.index()) else {
            return None;
        };
        self.book.deed(*deed).sets.iter().find(|(set, _)| *set == fact).map(|(_, value)| *value)
    }

    /// The cautions of a fact that hold now: those that depend on others are left out only where these are known to be
    /// otherwise.
    #[must_use]
    pub fn cautions_of(&self, fact: FactId) -> &[Caution] {
        let rule = self.book.fact(fact);
        let otherwise = |(other, condition): &(FactId, Condition)| matches!(self.state.get(&self.book, *other), Got::Known(value) if !condition.holds(&value));
        if rule.cautions_when.iter().any(otherwise) { &[] } else { &rule.cautions }
    }

    /// The id of the event at a position of the log.
    #[must_use]
    pub fn event_id(&self, index: usize) -> Option<EventId> {
        (index < self.events.len()).then(|| EventId::at(index))
    }

    /// The id that the next event will have.
    #[must_use]
    pub fn next_event(&self) -> EventId {
        EventId::at(self.events.len())
    }

    /// What the proof of an ending expects of a fact, if it says anything of it.
    #[must_use]
    pub fn expected_in_proof(&self, ending: EndingId, fact: FactId) -> Option<Condition> {
        self.state
            .proof(&self.book, ending)
            .find(|(proved, _)| *proved == fact)
            .map(|(_, condition)| condition)
    }

    /// A measured or worked-out fact in its usual unit, and its expanded uncertainty U = 2u in the same unit.
    #[must_use]
    pub fn measured(&self, fact: FactId) -> Option<(Quantity, Quantity)> {
        let unit = self.book.fact(fact).expected()?.unit();
        let (value, reach) = self.state.measured(&self.book, fact)?;
        let shown = Quantity::new(unit.from_base(value), unit)?;
        let reach = (unit.from_base(value + reach) - shown.number()).abs();
        Some((shown, Quantity::new(reach, unit)?))
    }

    /// The arithmetic of a fact that is worked out, in trade units; `None` for any other, or while an input is missing.
    #[must_use]
    pub fn arithmetic(&self, fact: FactId) -> Option<String> {
        let working = self.state.working(&self.book, fact)?;
        let inputs: Option<Vec<Quantity>> = working
            .of
            .iter()
            .map(|input| match self.state.get(&self.book, *input) {
                Got::Known(Value::Quantity(quantity)) => Some(quantity),
                _ => None,
            })
            .collect();
        working.formula.explain(&inputs?).ok()
    }

    /// The repair that was agreed to and of which not everything is done.
    #[must_use]
    pub fn agreed(&self) -> Option<EndingId> {
        let repair = self.state.repair.as_ref()?;
        (repair.done < self.book.ending(repair.ending).deeds.len()).then_some(repair.ending)
    }

    /// How many steps of a deed are done, from the first, where it is under way.
    #[must_use]
    pub fn steps_done(&self, ending: EndingId, deed: DeedId) -> usize {
        let work = self.state.work.filter(|work| work.ending == ending && work.deed == deed);
        work.map_or(0, |work| work.steps)
    }

    /// The deed of which some steps are done, and not all.
    #[must_use]
    pub fn work_under_way(&self) -> Option<DeedId> {
        self.state.work.filter(|work| work.steps > 0).map(|work| work.deed)
    }

    /// Deeds of which some steps were done and not all, whatever became of the repair: what was loosened there is loose.
    #[must_use]
    pub fn work_left(&self) -> Vec<(DeedId, usize)> {
        let mut left: Vec<(DeedId, usize)> = Vec::new();
        for event in &self.events {
            let (deed, steps) = match event {
                Event::Worked { deed, steps, .. } => (*deed, *steps),
                Event::Deed { deed, result: DeedResult::Done, .. } => (*deed, 0),
                _ => continue,
            };
            left.retain(|(of, _)| *of != deed);
            if steps > 0 {
                left.push((deed, steps));
            }
        }
        left
    }

    /// Whether the call was taken up again since a step of the work under way was last said to be done.
    #[must_use]
    pub fn is_taken_up_in_work(&self) -> bool {
        let newest = |is: fn(&Event) -> bool| self.events.iter().rposition(is);
        newest(|event| *event == Event::Resumed) > newest(|event| matches!(event, Event::Worked { .. }))
    }

    /// Whether the person has said that they leave, and the unit is being left as it must be.
    #[must_use]
    pub fn is_closing_to_leave(&self) -> bool {
        self.state.leaving != Leaving::No
    }

    /// Whether an earlier call on the unit left this repair for this one, and nothing was said of it yet.
    #[must_use]
    pub fn is_planned(&self, ending: EndingId) -> bool {
        self.state.planned == Some(ending)
    }

    /// What was told that holds power off still, each fact with its value: nothing was done about it, and it was not
    /// read again since.
    pub fn holding_power_off(&self) -> impl Iterator<Item = (FactId, Value)> + '_ {
        hold_off::holding(&self.book, &self.state.ledger)
    }

    /// The ending whose proof is open, if one is.
    #[must_use]
    pub fn being_proved(&self) -> Option<EndingId> {
        self.state.being_proved(&self.book)
    }
}
