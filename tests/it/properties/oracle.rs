//! A second opinion on power, kept from the words alone: it knows nothing of the engine's own state or tokens.

use crate::house::BOOK;
use engine::call::{Call, Event, EventId, Prompt, Routine, StepResult, Target, Wants};
use engine::rulebook::{Answer, FactId, PanelNeed, PowerNeed, PowerStepKind, Value};
use std::collections::BTreeSet;

fn live_work_allowed(call: &Call) -> bool {
    let (live_work, yes) = BOOK.power().live_work;
    matches!(call.known(live_work), Some(Answer::Value(Value::Choices(set))) if set.within(yes))
}

/// What a careful bystander believes.
#[derive(Default)]
pub(crate) struct Oracle {
    /// Steps of the lock-out done since anything else happened to the power.
    locking: Vec<(PowerStepKind, Option<u32>)>,
    dead: bool,
    live: bool,
    panel_on: Option<bool>,
    interlock_defeated: bool,
    leads_for: BTreeSet<FactId>,
}

impl Oracle {
    /// Panics when a prompt may not be shown as things stand.
    pub(crate) fn check(&self, call: &Call, prompt: &Prompt) {
        match prompt.wants() {
            Wants::Fact { fact, .. } => self.check_fact(call, *fact),
            Wants::Deed { deed, .. } => {
                let rule = BOOK.deed(*deed);
                if rule.power == PowerNeed::Any && self.interlock_defeated {
                    assert!(self.dead, "`{}` beside a unit open to its moving parts", rule.id);
                }
                match rule.power {
                    PowerNeed::Dead => {
                        assert!(self.dead, "a dead-only deed on a unit that is not proved dead");
                    }
                    PowerNeed::Live => {
                        assert!(self.live, "a live deed on a unit that is not live");
                        no_hold_off(call, "a live deed");
                    }
                    PowerNeed::Any if rule.energises => {
                        no_hold_off(call, "a deed that lets the supply through");
                    }
                    PowerNeed::Any => {}
                }
            }
            Wants::Power { step, .. } => match step.routine {
                Routine::Staging => assert!(self.dead, "leads handled on a unit that is not proved dead"),
                Routine::Restore(_) => no_hold_off(call, "a step of restoring"),
                Routine::LockOut | Routine::CloseUp => {}
            },
            Wants::Consent { .. } | Wants::Conflict { .. } => {}
        }
    }

    fn check_fact(&self, call: &Call, fact: FactId) {
        let rule = BOOK.fact(fact);
        match rule.power {
            PowerNeed::Any => {}
            PowerNeed::Dead => assert!(self.dead, "`{}` asked of a unit that is not proved dead", rule.id),
            PowerNeed::Live => {
                assert!(self.live, "`{}` asked of a unit that is not live", rule.id);
                no_hold_off(call, &rule.id);
                assert!(
                    !rule.live_work || live_work_allowed(call),
                    "`{}` is live work, and is not allowed",
                    rule.id
                );
                match rule.panel {
                    PanelNeed::On => {
                        assert_eq!(self.panel_on, Some(true), "`{}` with the panel off", rule.id);
                        let led_out = rule.station.is_none() || self.leads_for.contains(&fact);
                        assert!(led_out, "`{}` read on nothing that was led out", rule.id);
                    }
                    PanelNeed::Off => {
                        let open = self.panel_on == Some(false);
                        let live_work = open && (self.interlock_defeated || rule.ahead_of_interlock);
                        let staged = self.panel_on == Some(true) && self.leads_for.contains(&fact);
                        assert!(live_work || staged, "`{}` read behind the panel, neither way", rule.id);
                    }
                    PanelNeed::Any => {}
                }
            }
        }
    }

    /// Panics when the engine claims more than the words bear out.
    pub(crate) fn agrees(&self, call: &Call) {
        if call.power().proved_dead().is_some() {
            assert!(self.dead, "the engine says dead, and the words do not bear it out");
        }
    }

    pub(crate) fn hears(&mut self, call: &Call, event: &Event) {
        match event {
            Event::Power { step, result } => self.step(call, step, *result),
            Event::Resumed => {
                self.unknown();
                // One that was off is not put on by a cut.
                self.panel_on = self.panel_on.filter(|on| !on);
            }
            Event::Retract { event } => {
                match &call.events()[event.index()] {
                    Event::Power { .. } => self.unknown(),
                    Event::Told { fact, .. } if BOOK.power().plans_by(*fact) => self.unknown(),
                    _ => {}
                }
                // Panel and leads are deeds of the hand: words taken back do not move them.
            }
            Event::Told { fact, answer, .. } => {
                if *fact == BOOK.power().sources
                    && (self.dead || !self.locking.is_empty())
                    && call.known(*fact) != Some(*answer)
                {
                    self.unknown();
                }
                if let Some(feeds) = BOOK.fact(*fact).feeds {
                    let on = matches!(answer, Answer::Value(Value::Choices(set)) if *set == feeds);
                    if !on || self.dead {
                        self.unknown();
                    }
                }
            }
            Event::Deed { deed, result: engine::call::DeedResult::Done, .. }
                if BOOK.deed(*deed).energises =>
            {
                self.unknown();
                self.panel_on = Some(true);
            }
            _ => {}
        }
    }

    fn unknown(&mut self) {
        self.locking.clear();
        self.dead = false;
        self.live = false;
    }

    fn step(&mut self, call: &Call, step: &engine::call::PowerStep, result: StepResult) {
        if step.routine == Routine::Staging {
            self.staging(step, result);
            return;
        }
        if result != StepResult::Done {
            self.unknown();
            return;
        }
        match step.routine {
            Routine::LockOut => {
                self.live = false;
                if step.kind == PowerStepKind::TakePanelOff {
                    self.panel_on = Some(false);
                }
                let source = step.source.map(|(source, _)| source);
                if step.kind == PowerStepKind::SwitchOffAndLock && source == Some(1) {
                    // From its beginning: what was done before it no longer counts.
                    self.locking.clear();
                    self.dead = false;
                }
                self.locking.push((step.kind, source));
                if step.kind == PowerStepKind::ProveTesterAgain {
                    self.dead = self.whole_routine(call);
                }
            }
            Routine::Restore(target) => {
                self.unknown();
                self.place(step.kind);
                self.live = step.kind == PowerStepKind::RestorePower
                    && match target {
                        Target::Outside => self.panel_on == Some(true),
                        Target::Inside => self.panel_on == Some(false) && self.interlock_defeated,
                        Target::Entry => self.panel_on == Some(false) && !self.interlock_defeated,
                    };
            }
            Routine::CloseUp => {
                self.unknown();
                self.place(step.kind);
            }
            Routine::Staging => {}
        }
    }

    fn place(&mut self, kind: PowerStepKind) {
        match kind {
            PowerStepKind::PutPanelOn => self.panel_on = Some(true),
            PowerStepKind::TakePanelOff => self.panel_on = Some(false),
            PowerStepKind::DefeatInterlock => self.interlock_defeated = true,
            PowerStepKind::RestoreInterlock => self.interlock_defeated = false,
            _ => {}
        }
    }

    fn staging(&mut self, step: &engine::call::PowerStep, result: StepResult) {
        let facts = step.leads.iter().flat_map(|leads| leads.facts.iter().copied());
        match (step.kind, result) {
            (PowerStepKind::TakeLeadsOff, StepResult::Done) => self.leads_for.clear(),
            (PowerStepKind::FitLeads, StepResult::Done) => self.leads_for = facts.collect(),
            (PowerStepKind::FitLeads, StepResult::Partly) => self.leads_for = facts.take(1).collect(),
            _ => {}
        }
    }

    /// Whether the steps heard are the routine from its beginning, every source in it, nothing left out.
    fn whole_routine(&self, call: &Call) -> bool {
        let sources = match call.known(BOOK.power().sources) {
            Some(Answer::Value(Value::Quantity(count))) => count.base().clamp(1.0, 9.0).round(),
            _ => 1.0,
        };
        let of = |kind| {
            let mut done: Vec<u32> =
                self.locking.iter().filter(|step| step.0 == kind).filter_map(|step| step.1).collect();
            done.dedup();
            done
        };
        let whole = |kind| {
            let done = of(kind);
            f64::from(u32::try_from(done.len()).unwrap()) >= sources
                && done.windows(2).all(|pair| pair[0] < pair[1])
        };
        let first = |kind| self.locking.iter().position(|step| step.0 == kind);
        let last = |kind| self.locking.iter().rposition(|step| step.0 == kind);
        let order = [
            last(PowerStepKind::SwitchOffAndLock),
            first(PowerStepKind::WaitOutCharge),
            first(PowerStepKind::ProveTester),
            first(PowerStepKind::TestDead),
            last(PowerStepKind::TestDead),
            first(PowerStepKind::ProveTesterAgain),
        ];
        whole(PowerStepKind::SwitchOffAndLock)
            && whole(PowerStepKind::TestDead)
            && order.iter().all(Option::is_some)
            && order.windows(2).all(|pair| pair[0] <= pair[1])
    }
}

/// Panics when a fact that forbids power was read, and has not been read otherwise since.
fn no_hold_off(call: &Call, what: &str) {
    for hold_off in &BOOK.power().hold_offs {
        for (fact, bad) in &hold_off.when {
            let set_off = last_value(call, *fact).is_some_and(|(_, value)| bad.holds(&value));
            if !set_off {
                continue;
            }
            let in_order = !hold_off.until.is_empty()
                && hold_off.until.iter().all(|(test, wanted)| {
                    last_value(call, *test).is_some_and(|(read, value)| {
                        wanted.holds(&value) && !touched_since(call, *test, read)
                    })
                });
            assert!(in_order, "{what} behind the hold-off `{}`", hold_off.id);
        }
    }
}

/// The last value told of a fact that was not taken back.
fn last_value(call: &Call, fact: FactId) -> Option<(EventId, Value)> {
    let retracted: BTreeSet<EventId> = call
        .events()
        .iter()
        .filter_map(|event| match event {
            Event::Retract { event } => Some(*event),
            _ => None,
        })
        .collect();
    call.events().iter().enumerate().rev().find_map(|(index, event)| {
        let id = call.event_id(index)?;
        match event {
            Event::Told { fact: told, answer: Answer::Value(value), .. }
                if *told == fact && !retracted.contains(&id) =>
            {
                Some((id, *value))
            }
            _ => None,
        }
    })
}

/// Whether a deed done after a reading changes what was read.
fn touched_since(call: &Call, fact: FactId, read: EventId) -> bool {
    call.events().iter().enumerate().any(|(index, event)| {
        matches!(event, Event::Deed { deed, result: engine::call::DeedResult::Done, .. }
            if index > read.index() && BOOK.deed(*deed).changes(fact))
    })
}
