//! What comes next in a call: pure, over what the events add up to.
//!
//! In order: danger, a lock-out that failed, leaving, what was closed, readings that cannot all be true, a repair
//! under way and its proof, and only then the walk.

mod contradiction;
mod reach;

use super::Call;
use super::event::Purpose;
use super::prompt::{Ended, Next, Outcome, Prompt, Reached, Towards};
use super::state::{Leaving, Proof};
use super::walk::{Got, Stop, Walked};
use crate::rulebook::{Answer, Condition, EndingId, EndingKind, Value, Way, Ways};

impl Call {
    /// What comes now.
    #[must_use]
    pub fn next(&self) -> Next {
        let walked = self.walk();
        if self.state.danger(&self.book).is_some()
            && let Stop::End(ending) = walked.stop
        {
            return self.end(ending, Outcome::HandedOver);
        }
        let roles = self.book.roles();
        if self.state.power.lockout_failed() {
            return self.end(roles.cannot_prove_dead, Outcome::HandedOver);
        }
        if self.state.leaving != Leaving::No {
            return self.end(roles.left, Outcome::Left);
        }
        if let Some(Reached { ending, outcome }) = self.state.closed {
            return self.end(ending, outcome);
        }
        if let Some(prompt) = self.live_work_withdrawn() {
            // Who comes back to an open unit says first whether there is danger: then nobody touches it.
            let (danger, _) = roles.danger;
            return match self.state.get(&self.book, danger) {
                Got::Ask(fact) => self.fact(fact, Purpose::Step),
                Got::Known(_) | Got::Cannot => Next::Prompt(prompt),
            };
        }
        if let Some(next) = self.contradiction() {
            return next;
        }
        if let Some(next) = self.repair_under_way() {
            return next;
        }
        if let Some(ending) = self.planned() {
            return self.repair(ending);
        }
        self.along(&walked)
    }

    /// The repair that an earlier call left for this one, once it is told that there is no danger.
    fn planned(&self) -> Option<EndingId> {
        let (danger, safe) = self.book.roles().danger;
        let told = self.state.get(&self.book, danger);
        let none = matches!(told, Got::Known(value) if Condition::Is(safe).holds(&value));
        self.state.planned.filter(|_| none)
    }

    /// The next step of making safe a unit that stands open for live work which is not allowed after all.
    fn live_work_withdrawn(&self) -> Option<Prompt> {
        let power = &self.state.power;
        let open = power.interlock_defeated() || power.is_closing_up();
        let withdrawn = open && power.proved_dead().is_none() && !self.state.live_work_allowed(&self.book);
        let step = power.step_to_close_up().filter(|_| withdrawn)?;
        Some(Prompt::towards_off(step, Towards::CloseUp))
    }

    /// A repair of which something is done: the rest of it, then its proof.
    fn repair_under_way(&self) -> Option<Next> {
        let repair = self.state.repair.as_ref().filter(|repair| repair.done > 0)?;
        let ending = repair.ending;
        match self.book.ending(ending).deeds.get(repair.done) {
            Some(deed) => Some(self.deed(ending, *deed)),
            None => Some(match self.state.proof_so_far(&self.book, ending) {
                Proof::Open => self.prove(ending),
                Proof::Held => self.end(ending, Outcome::Proved),
                Proof::Failed => self.end(ending, Outcome::Failed),
                Proof::Unreadable => self.end(ending, Outcome::NotProved),
            }),
        }
    }

    fn prove(&self, ending: EndingId) -> Next {
        let missing = self.state.proof(&self.book, ending).find_map(|(fact, _)| {
            match self.state.get(&self.book, fact) {
                Got::Ask(fact) => Some(fact),
                Got::Known(_) | Got::Cannot => None,
            }
        });
        match missing {
            Some(fact) => self.fact(fact, Purpose::Proof),
            None => self.end(ending, Outcome::NotProved),
        }
    }

    /// Where the walk leads.
    fn along(&self, walked: &Walked) -> Next {
        let ending = match walked.stop {
            Stop::Need { fact, purpose, .. } => return self.fact(fact, purpose),
            Stop::End(ending) => ending,
        };
        let rule = self.book.ending(ending);
        match rule.kind {
            EndingKind::Repair | EndingKind::Reset => self.repair(ending),
            EndingKind::HandOver | EndingKind::Open => self.end(ending, Outcome::HandedOver),
            EndingKind::InOrder => self.in_order(ending),
        }
    }

    /// Nothing wrong found: the end, if that was the question or the complaint is gone.
    fn in_order(&self, ending: EndingId) -> Next {
        let roles = self.book.roles();
        let complaint = self.state.get(&self.book, roles.complaint);
        let answered = matches!(complaint, Got::Known(Value::Choices(set)) if self.book.ending(ending).answers.meets(set));
        if answered {
            return self.end(ending, Outcome::InOrder);
        }
        let (gone, yes) = roles.gone;
        match self.state.get(&self.book, gone) {
            Got::Ask(fact) => self.fact(fact, Purpose::Proof),
            Got::Known(value) if Condition::Is(yes).holds(&value) => self.end(ending, Outcome::InOrder),
            Got::Known(_) | Got::Cannot => self.end(roles.not_enough_readings, Outcome::HandedOver),
        }
    }

    fn repair(&self, ending: EndingId) -> Next {
        let Some(&first) = self.book.ending(ending).deeds.first() else {
            return self.end(self.book.roles().not_enough_readings, Outcome::HandedOver);
        };
        if self.state.was_done(self.book.ending(ending)) {
            return self.end(self.book.ends_again(ending), Outcome::HandedOver);
        }
        match &self.state.repair {
            Some(repair) if repair.ending == ending => self.deed(ending, first),
            _ => Next::Prompt(Prompt::consent(ending)),
        }
    }

    /// The end, once the unit is left as it must be left. Nothing delays an urgent one.
    fn end(&self, ending: EndingId, outcome: Outcome) -> Next {
        let at_once = self.book.ending(ending).urgent
            || self.state.leaving == Leaving::AtOnce
            || self.state.danger(&self.book).is_some();
        if !at_once && let Some(next) = self.left_in_order(ending, outcome) {
            return next;
        }
        let mut before = self.state.before.clone();
        // A repair under way that something else puts an end to was done in part or whole, and is not proved.
        if let Some(repair) =
            self.state.repair.as_ref().filter(|repair| repair.done > 0 && repair.ending != ending)
        {
            before.push(Reached { ending: repair.ending, outcome: Outcome::NotProved });
        }
        Next::Ended(Ended { before, last: Reached { ending, outcome } })
    }

    /// What is still to do so that the unit is left as it must be: leads off, the interlock working, the panel on; and
    /// where it is in order, power back. An ending that says so has the supply switched off.
    fn left_in_order(&self, ending: EndingId, outcome: Outcome) -> Option<Next> {
        let power = &self.state.power;
        // Nobody reaches into a unit that could not be proved dead; what stays in it is said at the end.
        if power.lockout_failed() {
            return None;
        }
        if let Some(leads) = power.leads()
            && let Next::Prompt(prompt) = self.dead(Towards::CloseUp, |token| {
                Prompt::take_leads_off(leads.clone(), Towards::CloseUp, token)
            })
        {
            return Some(Next::Prompt(prompt));
        }
        if matches!(outcome, Outcome::Proved | Outcome::InOrder)
            && let Some(next) = self.back_in_service()
        {
            return Some(next);
        }
        let off = || power.step_to_leave_off().filter(|_| self.book.ending(ending).left_off);
        let step = power.step_to_close_up().or_else(off)?;
        Some(Next::Prompt(Prompt::towards_off(step, Towards::CloseUp)))
    }

    /// The repair that came round a second time, where that has ended the call.
    #[must_use]
    pub fn came_back(&self) -> Option<EndingId> {
        let Next::Ended(ended) = self.next() else { return None };
        let repair = self.planned().or(match self.walk().stop {
            Stop::End(ending) => Some(ending),
            Stop::Need { .. } => None,
        })?;
        let came_back = self.state.was_done(self.book.ending(repair));
        (came_back && ended.last.ending == self.book.ends_again(repair)).then_some(repair)
    }

    /// Whether danger has been told in this call, and what.
    #[must_use]
    pub fn danger(&self) -> Option<Answer> {
        self.state.danger(&self.book)
    }

    /// The endings that the dangers told lead to, each by itself, the most urgent first: the call comes to the first, and
    /// the others are as true.
    #[must_use]
    pub fn endings_in_danger(&self) -> Vec<EndingId> {
        let (danger, safe) = self.book.roles().danger;
        let Some(Answer::Value(Value::Choices(told))) = self.danger() else { return Vec::new() };
        let trail = self.walk().trail;
        let asks = trail.iter().map(|passed| self.book.step(passed.step)).find(|step| step.fact == danger);
        let Some(Ways::Answers(lines)) = asks.map(|step| &step.ways) else { return Vec::new() };
        let mut endings = Vec::new();
        for line in lines.iter().filter(|line| line.is.meets(told.without(safe))) {
            if let Way::End(ending) = line.way
                && !endings.contains(&ending)
            {
                endings.push(ending);
            }
        }
        endings
    }
}
