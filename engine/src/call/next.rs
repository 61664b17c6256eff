//! What comes next in a call: pure, over what the events add up to.
//!
//! In order: danger, a lock-out that failed, leaving, what was closed, readings that cannot all be true, a repair
//! under way and its proof, and only then the walk.

use super::Call;
use super::event::Purpose;
use super::hold_off::{self, Held, MayEnergise};
use super::power::{Energised, Leads, PowerState, ProvedDead, Target};
use super::prompt::{DeedNeeded, Ended, LiveFact, Needed, Next, Outcome, Prompt, Reached};
use super::state::{self, Leaving, Proof};
use super::walk::{Got, Stop, Walked};
use crate::rulebook::{Answer, Condition, DeedId, EndingId, EndingKind, FactId, PanelNeed, StepId, Value};

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
        // Here the readings that cannot all be true are asked for again. No rulebook declares such relations yet.
        if let Some(next) = self.repair_under_way() {
            return next;
        }
        self.along(&walked)
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
        let missing =
            state::proof(&self.book, ending).find_map(|(fact, _)| match self.state.get(&self.book, fact) {
                Got::Ask(fact) => Some(fact),
                Got::Known(_) | Got::Cannot => None,
            });
        match missing {
            Some(fact) => self.fact(fact, Purpose::Proof),
            None => self.end(ending, Outcome::NotProved),
        }
    }

    /// Where the walk leads.
    fn along(&self, walked: &Walked) -> Next {
        let ending = match walked.stop {
            Stop::Need { fact, .. } => return self.fact(fact, Purpose::Step),
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
        let mut deeds = self.book.ending(ending).deeds.clone();
        let Some(&first) = deeds.first() else {
            return self.end(self.book.roles().not_enough_readings, Outcome::HandedOver);
        };
        deeds.sort_unstable();
        if self.state.deed_sets.contains(&deeds) {
            return self.end(self.book.roles().same_fault_again, Outcome::HandedOver);
        }
        match &self.state.repair {
            Some(repair) if repair.ending == ending => self.deed(ending, first),
            _ => Next::Prompt(Prompt::consent(ending)),
        }
    }

    fn deed(&self, ending: EndingId, deed: DeedId) -> Next {
        match DeedNeeded::of(&self.book, ending, deed) {
            DeedNeeded::Any(deed) => Next::Prompt(Prompt::deed(deed)),
            DeedNeeded::Dead(deed) => self.dead(|token| Prompt::dead_deed(deed, token)),
            DeedNeeded::Live(live) => match self.energise(ending) {
                Ok(may) => {
                    let target = match self.book.deed(deed).panel {
                        PanelNeed::Off => Target::Inside,
                        PanelNeed::On | PanelNeed::Any => Target::Outside,
                    };
                    self.live(target, may, |energised| Prompt::live_deed(live, energised))
                }
                Err(next) => next,
            },
            DeedNeeded::Energising(deed) => match self.energise(ending) {
                Ok(may) => match self.state.power.state() {
                    PowerState::Dead { .. } | PowerState::LockingOut { .. } => {
                        self.live(Target::Outside, may, |_| Prompt::energising_deed(deed, may))
                    }
                    _ => Next::Prompt(Prompt::energising_deed(deed, may)),
                },
                Err(next) => next,
            },
        }
    }

    /// The word of the hold-offs for a repair that needs power.
    fn energise(&self, ending: EndingId) -> Result<MayEnergise<'_>, Next> {
        match hold_off::held(&self.book, &self.state.ledger) {
            Held::No(may) if self.state.power.restore_failed() => {
                let _ = may;
                Err(self.end(ending, Outcome::NotPossible))
            }
            Held::No(may) => Ok(may),
            Held::ReadFirst(fact) => Err(self.fact(fact, Purpose::Routine)),
            Held::Yes(id) => Err(self.end(ending, Outcome::HeldOff(id))),
        }
    }

    /// A fact, in the state of power that it needs.
    fn fact(&self, fact: FactId, purpose: Purpose) -> Next {
        match Needed::of(&self.book, fact) {
            Needed::Any(fact) => Next::Prompt(Prompt::ask(fact, purpose)),
            Needed::Dead(fact) => self.dead(|token| Prompt::ask_dead(fact, purpose, token)),
            Needed::Live(fact) => match hold_off::held(&self.book, &self.state.ledger) {
                Held::ReadFirst(first) => self.fact(first, Purpose::Routine),
                Held::No(may) => self.live_fact(fact, purpose, may),
                // The walk and the proof take a live fact behind a hold-off as one that cannot be had.
                Held::Yes(_) => self.end(self.book.roles().not_enough_readings, Outcome::HandedOver),
            },
        }
    }

    fn live_fact(&self, fact: LiveFact, purpose: Purpose, may: MayEnergise<'_>) -> Next {
        let rule = self.book.fact(fact.id());
        if !rule.is_inside_live() {
            return self.live(Target::Outside, may, |energised| Prompt::ask_live(fact, purpose, energised));
        }
        let (live_work, yes) = self.book.power().live_work;
        match self.state.get(&self.book, live_work) {
            Got::Ask(first) => self.fact(first, Purpose::Routine),
            Got::Known(Value::Choices(set)) if set.within(yes) => {
                self.live(Target::Inside, may, |energised| Prompt::ask_live(fact, purpose, energised))
            }
            _ if self.state.power.leads().is_some_and(|leads| leads.facts.contains(&fact.id())) => {
                self.live(Target::Outside, may, |energised| Prompt::ask_live(fact, purpose, energised))
            }
            _ => self.stage(fact.id()),
        }
    }

    /// Leads for this reading and for those of its station that lie ahead.
    fn stage(&self, fact: FactId) -> Next {
        let Some(station) = self.book.fact(fact).station else {
            return self.end(self.book.roles().not_enough_readings, Outcome::HandedOver);
        };
        let mut facts = vec![fact];
        if let Stop::Need { step, .. } = self.walk().stop {
            facts.extend(self.ahead(step, fact));
        }
        self.dead(|token| Prompt::fit_leads(Leads { station, facts }, token))
    }

    /// The other live readings of the same station that the steps ahead may ask for.
    fn ahead(&self, from: StepId, than: FactId) -> Vec<FactId> {
        let station = self.book.fact(than).station;
        let mut facts: Vec<FactId> = self
            .book
            .graph()
            .ahead(from)
            .map(|step| self.book.step(step).fact)
            .filter(|&fact| {
                let rule = self.book.fact(fact);
                fact != than && rule.is_inside_live() && rule.station == station
            })
            .filter(|&fact| matches!(self.state.get(&self.book, fact), Got::Ask(_)))
            .collect();
        facts.sort_unstable();
        facts.dedup();
        facts
    }

    /// A prompt that needs the unit proved dead, or the way there. Leads that are out come off first.
    fn dead(&self, prompt: impl FnOnce(ProvedDead<'_>) -> Prompt) -> Next {
        self.routine_fact().unwrap_or_else(|| {
            let power = &self.state.power;
            Next::Prompt(match (power.way_to_dead(self.state.basis(&self.book)), power.leads()) {
                (Ok(token), Some(leads)) => Prompt::take_leads_off(leads.clone(), token),
                (Ok(token), None) => prompt(token),
                (Err(step), _) => Prompt::towards_off(step),
            })
        })
    }

    /// A fact that the lock-out is planned on and that has to be asked for first.
    fn routine_fact(&self) -> Option<Next> {
        if self.state.power.proved_dead().is_some() {
            return None;
        }
        let power = self.book.power();
        [power.sources, power.stored_charge].into_iter().find_map(|fact| {
            match self.state.get(&self.book, fact) {
                Got::Ask(fact) => Some(self.fact(fact, Purpose::Routine)),
                Got::Known(_) | Got::Cannot => None,
            }
        })
    }

    /// A prompt that needs the unit live, or the way there.
    fn live(
        &self,
        target: Target,
        may: MayEnergise<'_>,
        prompt: impl FnOnce(Energised<'_>) -> Prompt,
    ) -> Next {
        let basis = self.state.basis(&self.book);
        Next::Prompt(match self.state.power.way_to_live(target, may, basis) {
            Ok(energised) => prompt(energised),
            Err(step) => Prompt::towards_live(step, may),
        })
    }

    /// The end, once the unit is left as it must be left. Nothing delays an urgent one.
    fn end(&self, ending: EndingId, outcome: Outcome) -> Next {
        let at_once = self.book.ending(ending).urgent || self.state.leaving == Leaving::AtOnce;
        if !at_once && let Some(prompt) = self.close_up() {
            return Next::Prompt(prompt);
        }
        let mut before = self.state.failed.clone();
        // A repair under way that something else puts an end to was done in part or whole, and is not proved.
        if let Some(repair) =
            self.state.repair.as_ref().filter(|repair| repair.done > 0 && repair.ending != ending)
        {
            before.push(Reached { ending: repair.ending, outcome: Outcome::NotProved });
        }
        Next::Ended(Ended { before, last: Reached { ending, outcome } })
    }

    /// What is still to do so that the unit is left as it must be: leads off, the interlock working, the panel on.
    fn close_up(&self) -> Option<Prompt> {
        let power = &self.state.power;
        if let Some(leads) = power.leads()
            && !power.lockout_failed()
            && let Next::Prompt(prompt) = self.dead(|token| Prompt::take_leads_off(leads.clone(), token))
        {
            return Some(prompt);
        }
        power.step_to_close_up().map(Prompt::towards_off)
    }

    /// Whether danger has been told in this call, and what.
    #[must_use]
    pub fn danger(&self) -> Option<Answer> {
        self.state.danger(&self.book)
    }
}
