//! What earlier calls on a unit leave to the next.

use crate::call::{Call, DeedResult, Event, Next, Outcome, Purpose, Reached, Version};
use crate::rulebook::{Answer, EndingId, FactId, Lasts, Rulebook, Value};
use std::collections::BTreeMap;

/// What the plates of a unit say, and what was done last, or left: taken from its earlier calls, the newest first.
#[derive(Clone, Debug, Default)]
pub struct Carried {
    plates: BTreeMap<FactId, Answer>,
    /// Repairs done, newest first, and whether they still count as done once.
    done: Vec<Done>,
    /// What held power off when the newest call ended. It still does, until it is told otherwise.
    held: Option<Vec<(FactId, Value)>>,
    /// The repair that was left last, and the complaint of then.
    left: Option<(EndingId, Option<Answer>)>,
    /// The call it was left in, as people find it.
    left_in: String,
    /// What came of proving the unit dead when that was last tried.
    tried: Option<Tried>,
}

/// What came of proving a unit dead.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Tried {
    /// It was proved dead, or seen to by somebody.
    Settled,
    /// It could not be proved dead, in this call, as people find it; and whether that was seen to since, as somebody
    /// says.
    InVain { call: String, seen_to: bool },
}

/// A repair that was done in an earlier call.
#[derive(Clone, Debug)]
struct Done {
    ending: EndingId,
    /// Whether it still counts as done once.
    recent: bool,
    /// The call, as people find it; `None` where somebody else did it.
    call: Option<String>,
}

impl Carried {
    /// Takes over what the plates say. What a lock-out is planned on is asked anew.
    pub fn plates(&mut self, call: &Call) {
        let book = call.book();
        for fact in book.fact_ids().filter(|fact| book.fact(*fact).lasts == Lasts::Unit) {
            if let Some(answer @ Answer::Value(_)) = told(call, fact).filter(|_| !book.power().plans_by(fact))
            {
                self.plates.entry(fact).or_insert(answer);
            }
        }
    }

    /// Takes over what a call that ended did, and what it left for later. `recent`: what was done then still counts as
    /// done once. `found_as`: the call, as people find it.
    pub fn repairs(&mut self, call: &Call, recent: bool, found_as: &str) {
        let Next::Ended(ended) = call.next() else { return };
        let book = call.book();
        if self.held.is_none() {
            let held = if recent { call.holding_power_off().collect() } else { Vec::new() };
            self.held = Some(held);
        }
        let repairs: Vec<Reached> =
            ended.all().filter(|reached| book.ending(reached.ending).is_repair()).collect();
        for Reached { ending, outcome } in repairs.into_iter().rev() {
            let since = self.done.iter().any(|done| done.ending == ending);
            match outcome {
                Outcome::Later if self.left.is_none() && !since => {
                    self.left = Some((ending, told(call, book.roles().complaint)));
                    found_as.clone_into(&mut self.left_in);
                }
                Outcome::Proved | Outcome::NotProved | Outcome::Failed => {
                    self.done.push(Done { ending, recent, call: Some(found_as.to_owned()) });
                }
                _ => {}
            }
        }
    }

    /// Takes over whether the unit could be proved dead: the newest call says it in which that was tried, or seen to.
    /// `found_as`: the call, as people find it.
    pub fn proving_dead(&mut self, call: &Call, found_as: &str) {
        if self.tried.is_some() {
            return;
        }
        let (power, cannot) = (call.power(), call.book().roles().cannot_prove_dead);
        let seen_to = |event: &Event| matches!(event, Event::Earlier { ending, result: DeedResult::Done, .. } if *ending == cannot);
        if power.is_unproved() {
            self.tried = Some(Tried::InVain { call: found_as.to_owned(), seen_to: false });
        } else if power.lockouts() > 0 || call.events().iter().any(seen_to) {
            self.tried = Some(Tried::Settled);
        }
    }

    /// The call in which the unit could not be proved dead, as people find it; `None` where nobody has to see to that.
    #[must_use]
    pub fn not_proved_dead_in(&self) -> Option<&str> {
        match &self.tried {
            Some(Tried::InVain { call, seen_to: false }) => Some(call),
            Some(Tried::InVain { .. } | Tried::Settled) | None => None,
        }
    }

    /// Takes over that what kept the unit from being proved dead was seen to since, as somebody says. Told behind the
    /// calls.
    pub fn seen_to(&mut self) {
        if let Some(Tried::InVain { seen_to, .. }) = &mut self.tried {
            *seen_to = true;
        }
    }

    /// Takes over that a repair was done since by somebody else, so that an earlier call no longer leaves it. Told
    /// before the calls.
    pub fn done_since(&mut self, ending: EndingId) {
        self.done.push(Done { ending, recent: true, call: None });
    }

    /// Takes over that somebody saw to the unit and put power back since, so that nothing holds it off any more. Told
    /// before the calls.
    pub fn powered_since(&mut self) {
        self.held = Some(Vec::new());
        self.tried = Some(Tried::Settled);
    }

    /// As the first events of a call.
    #[must_use]
    pub fn into_events(self, book: &Rulebook) -> Vec<Event> {
        let told = |(fact, answer)| Event::Told { fact, answer, purpose: Purpose::Unasked };
        let mut events: Vec<Event> = self.plates.into_iter().map(told).collect();
        let held = self.held.into_iter().flatten();
        events.extend(held.map(|(fact, value)| told((fact, Answer::Value(value)))));
        // The newest call of each repair is the one that is named.
        let mut done: BTreeMap<EndingId, Option<String>> = BTreeMap::new();
        for each in self.done.into_iter().filter(|done| done.recent) {
            done.entry(each.ending).or_insert(each.call);
        }
        // What was left has not been done since, and may be done now whatever was done before it.
        done.retain(|ending, _| self.left.as_ref().is_none_or(|(left, _)| left != ending));
        let earlier = |(ending, of)| Event::Earlier { ending, result: DeedResult::Done, of };
        events.extend(done.into_iter().map(earlier));
        if let Some(Tried::InVain { call, seen_to }) = self.tried {
            let ending = book.roles().cannot_prove_dead;
            events.push(Event::Earlier { ending, result: DeedResult::Later, of: Some(call) });
            if seen_to {
                events.push(Event::Earlier { ending, result: DeedResult::Done, of: None });
            }
        }
        if let Some((ending, complaint)) = self.left {
            events.extend(complaint.map(|answer| told((book.roles().complaint, answer))));
            events.push(Event::Earlier { ending, result: DeedResult::Later, of: Some(self.left_in) });
        }
        events
    }
}

/// What a call was told of a fact, if it still holds.
fn told(call: &Call, fact: FactId) -> Option<Answer> {
    call.ledger().current(fact).map(Version::value).filter(|answer| matches!(answer, Answer::Value(_)))
}
