//! How a prompt comes to the state of power that it needs: the prompt itself, or the next step on the way there.

use crate::call::Call;
use crate::call::event::Purpose;
use crate::call::hold_off::{self, Held, MayEnergise};
use crate::call::power::{Energised, Leads, Panel, PowerState, ProvedDead, Target};
use crate::call::prompt::{DeedNeeded, LiveFact, Needed, Next, Outcome, Prompt, Towards};
use crate::call::walk::{Got, Stop};
use crate::rulebook::{DeedId, EndingId, FactId, PanelNeed, StepId, Value};
use std::collections::BTreeSet;

impl Call {
    pub(super) fn deed(&self, ending: EndingId, deed: DeedId) -> Next {
        let towards = Towards::Deed { ending, deed };
        match DeedNeeded::of(&self.book, ending, deed) {
            DeedNeeded::Any(deed) => {
                self.closed_first(ending, towards).unwrap_or_else(|| Next::Prompt(Prompt::deed(deed)))
            }
            DeedNeeded::Dead(deed) => self.dead(towards, |token| Prompt::dead_deed(deed, token)),
            DeedNeeded::Live(live) => self.energise(ending, towards).map_or_else(Next::from, |may| {
                let target = match self.book.deed(deed).panel {
                    PanelNeed::Off => Target::Inside,
                    PanelNeed::On | PanelNeed::Any => Target::Outside,
                };
                self.live(target, towards, may, |energised| Prompt::live_deed(live, energised))
            }),
            DeedNeeded::Energising(deed) => self.energise(ending, towards).map_or_else(Next::from, |may| {
                let locked = matches!(
                    self.state.power.state(),
                    PowerState::Dead { .. } | PowerState::LockingOut { .. }
                );
                if locked {
                    self.live(Target::Outside, towards, may, |_| Prompt::energising_deed(deed, may))
                } else {
                    self.closed_first(ending, towards)
                        .unwrap_or_else(|| Next::Prompt(Prompt::energising_deed(deed, may)))
                }
            }),
        }
    }

    /// What comes before a deed away from the panel: the blower of a unit that stands open with its interlock
    /// defeated may start while it is done, so the unit is closed first.
    fn closed_first(&self, ending: EndingId, towards: Towards) -> Option<Next> {
        let power = &self.state.power;
        if power.proved_dead().is_some() || !(power.interlock_defeated() || power.is_closing_up()) {
            return None;
        }
        if power.close_up_failed() {
            return Some(self.end(ending, Outcome::NotPossible));
        }
        power.step_to_close_up().map(|step| Next::Prompt(Prompt::towards_off(step, towards)))
    }

    /// The word of the hold-offs for a repair that needs power; else what comes instead.
    fn energise(&self, ending: EndingId, towards: Towards) -> Result<MayEnergise<'_>, Box<Next>> {
        let instead = match self.held() {
            Held::No(may) if !self.state.power.restore_failed() => return Ok(may),
            Held::No(_) => self.end(ending, Outcome::NotPossible),
            Held::ProveDeadFirst => self.proved_dead_first(towards),
            Held::ReadFirst(fact) => self.fact(fact, Purpose::Routine),
            Held::Yes(id) => self.end(ending, Outcome::HeldOff(id)),
        };
        Err(Box::new(instead))
    }

    /// What the hold-offs say of power.
    fn held(&self) -> Held<'_> {
        hold_off::held(&self.book, &self.state.power, &self.state.ledger)
    }

    /// The lock-out of a unit that an earlier call could not prove dead.
    fn proved_dead_first(&self, towards: Towards) -> Next {
        let way = self.routine_fact().or_else(|| {
            let step = self.state.power.way_to_dead(self.state.basis(&self.book)).err()?;
            Some(Next::Prompt(Prompt::towards_off(step, towards)))
        });
        way.unwrap_or_else(|| self.end(self.book.roles().cannot_prove_dead, Outcome::HandedOver))
    }

    /// A fact, in the state of power that it needs.
    pub(super) fn fact(&self, fact: FactId, purpose: Purpose) -> Next {
        match Needed::of(&self.book, fact) {
            Needed::Any(fact) => Next::Prompt(Prompt::ask(fact, purpose)),
            Needed::Dead(dead) => {
                let towards = Towards::Fact { fact, purpose };
                self.dead(towards, |token| Prompt::ask_dead(dead, purpose, token))
            }
            Needed::Live(live) => match self.held() {
                Held::ProveDeadFirst => self.proved_dead_first(Towards::Fact { fact, purpose }),
                Held::ReadFirst(first) => self.fact(first, Purpose::Routine),
                Held::No(may) => self.live_fact(live, purpose, may),
                // The walk and the proof take a live fact behind a hold-off as one that cannot be had.
                Held::Yes(_) => self.end(self.book.roles().not_enough_readings, Outcome::HandedOver),
            },
        }
    }

    fn live_fact(&self, live: LiveFact, purpose: Purpose, may: MayEnergise<'_>) -> Next {
        let fact = live.id();
        let rule = self.book.fact(fact);
        let ask = |target| {
            let towards = Towards::Fact { fact, purpose };
            self.live(target, towards, may, |energised| Prompt::ask_live(live, purpose, energised))
        };
        let (live_work, yes) = self.book.power().live_work;
        if rule.live_work
            && let Got::Ask(first) = self.state.get(&self.book, live_work)
        {
            return self.fact(first, Purpose::Routine);
        }
        // What is led out already is read there, whoever may work live.
        let led_out = self.state.power.leads().is_some_and(|leads| leads.facts.contains(&fact));
        if led_out || !rule.can_be_led_out() {
            return self.fitted_while_dead(purpose).unwrap_or_else(|| ask(Target::Outside));
        }
        if rule.is_led_out() {
            return self.stage(fact, purpose);
        }
        match self.state.get(&self.book, live_work) {
            Got::Ask(first) => self.fact(first, Purpose::Routine),
            Got::Known(Value::Choices(set)) if set.within(yes) => {
                // Nothing behind the interlock is powered for a reading ahead of it, unless it is already.
                let entry = rule.ahead_of_interlock && !self.state.power.interlock_defeated();
                ask(if entry { Target::Entry } else { Target::Inside })
            }
            _ => self.stage(fact, purpose),
        }
    }

    /// What this tree will read on things led out: fitted before power comes back to a unit that is proved dead, so
    /// that it costs no lock-out of its own.
    fn fitted_while_dead(&self, purpose: Purpose) -> Option<Next> {
        let power = &self.state.power;
        let Stop::Need { step, .. } = self.walk().stop else { return None };
        if purpose != Purpose::Step || power.proved_dead().is_none() || power.leads().is_some() {
            return None;
        }
        let soon = self.read_soon(step);
        let fact = self.facts_ahead().into_iter().find(|fact| {
            self.book.fact(*fact).is_led_out() && soon.contains(fact) && !power.no_leads_for(*fact)
        })?;
        Some(self.stage(fact, purpose))
    }

    /// The facts that the rest of a tree goes by, down to what they are worked out of.
    fn read_soon(&self, from: StepId) -> BTreeSet<FactId> {
        let tree = self.book.step(from).tree;
        let steps = self.book.graph().ahead(from).map(|step| self.book.step(step));
        steps.filter(|step| step.tree == tree).flat_map(|step| self.book.made_of(step.fact)).collect()
    }

    /// Leads for this reading and for those of its station that lie ahead.
    fn stage(&self, fact: FactId, purpose: Purpose) -> Next {
        let Some(station) = self.book.fact(fact).station else {
            return self.end(self.book.roles().not_enough_readings, Outcome::HandedOver);
        };
        let mut facts = vec![fact];
        facts.extend(self.ahead(fact));
        let towards = Towards::Fact { fact, purpose };
        self.dead(towards, |token| Prompt::fit_leads(Leads { station, facts }, towards, token))
    }

    /// The other live readings of the same station that the steps ahead may ask for.
    fn ahead(&self, than: FactId) -> Vec<FactId> {
        let station = self.book.fact(than).station;
        let soon = match self.walk().stop {
            Stop::Need { step, .. } => self.read_soon(step),
            Stop::End(_) => BTreeSet::new(),
        };
        let at_station = |fact: &FactId| {
            let rule = self.book.fact(*fact);
            let here = *fact != than && rule.can_be_led_out() && rule.station == station;
            // A clamp is more trouble than a lead: only where this tree will read it.
            here && (!rule.is_led_out() || soon.contains(fact))
        };
        self.facts_ahead().into_iter().filter(at_station).collect()
    }

    /// A prompt that needs the unit proved dead, or the way there. Leads that are out come off first.
    pub(super) fn dead(&self, towards: Towards, prompt: impl FnOnce(ProvedDead<'_>) -> Prompt) -> Next {
        self.routine_fact().unwrap_or_else(|| {
            let power = &self.state.power;
            Next::Prompt(match (power.way_to_dead(self.state.basis(&self.book)), power.leads()) {
                (Ok(token), Some(leads)) => Prompt::take_leads_off(leads.clone(), towards, token),
                (Ok(token), None) => prompt(token),
                (Err(step), _) => Prompt::towards_off(step, towards),
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

    /// The way back to power for a unit that was switched off or opened in this call and is in order now.
    pub(super) fn back_in_service(&self) -> Option<Next> {
        let power = &self.state.power;
        let touched = power.locked() || power.interlock_defeated() || power.panel() == Panel::Off;
        if !touched || power.restore_failed() {
            return None;
        }
        let Held::No(may) = self.held() else { return None };
        let step = power.way_to_live(Target::Outside, may, self.state.basis(&self.book)).err()?;
        Some(Next::Prompt(Prompt::towards_live(step, Towards::CloseUp, may)))
    }

    /// A prompt that needs the unit live, or the way there.
    fn live(
        &self,
        target: Target,
        towards: Towards,
        may: MayEnergise<'_>,
        prompt: impl FnOnce(Energised<'_>) -> Prompt,
    ) -> Next {
        let basis = self.state.basis(&self.book);
        // A tripped device is reset with the panel on, whatever is read afterwards.
        let reset_first = basis.reset && !self.state.power.is_at(Target::Outside);
        let target = if reset_first { Target::Outside } else { target };
        let step = match self.state.power.way_to_live(target, may, basis) {
            Ok(energised) => return Next::Prompt(prompt(energised)),
            Err(step) => step,
        };
        // Before anybody is told to switch off every supply, it is known how many there are.
        match self.state.get(&self.book, self.book.power().sources) {
            Got::Ask(sources) if step.switches_off() => self.fact(sources, Purpose::Routine),
            _ => Next::Prompt(Prompt::towards_live(step, towards, may)),
        }
    }
}

impl From<Box<Next>> for Next {
    fn from(next: Box<Self>) -> Self {
        *next
    }
}
