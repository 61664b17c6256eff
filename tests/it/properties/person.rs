//! A random person: mostly answers out of a recorded case, now and then anything at all.

use crate::house::{BOOK, CASES};
use engine::call::{Call, DeedResult, Event, Prompt, Purpose, Reply, StepResult, Wants};
use engine::case::Case;
use engine::quantity::Quantity;
use engine::rulebook::{Answer, ChoiceSet, EndingId, FactId, Kind, Value};
use proptest::prelude::Rng as _;
use proptest::test_runner::{RngAlgorithm, TestRng};

pub(crate) struct Person {
    chance: TestRng,
    unruly: u8,
    case: Option<&'static Case>,
}

impl Person {
    /// A person by number. `unruly` is how often they say something else than was asked: 0 never, 3 often.
    pub(crate) fn new(seed: u64, unruly: u8) -> Self {
        let mut bytes = [0; 32];
        bytes[..8].copy_from_slice(&seed.to_le_bytes());
        let mut chance = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
        let pick = chance.next_u32() as usize;
        let case = (!CASES.is_empty()).then(|| &CASES[pick % CASES.len()]);
        Self { chance, unruly, case }
    }

    fn below(&mut self, end: usize) -> usize {
        self.chance.next_u32() as usize % end.max(1)
    }

    fn one_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }

    /// What the person says at a prompt, as events; `None` when they are content with the end.
    pub(crate) fn says(&mut self, call: &Call, prompt: Option<&Prompt>) -> Option<Vec<Event>> {
        if self.unruly > 0 && self.one_in(24 / usize::from(self.unruly)) {
            let said = self.unruly_words(call, prompt);
            if said.is_some() {
                return said;
            }
        }
        let prompt = prompt?;
        let reply = match prompt.wants() {
            // Asked because it cannot be true, many a person says the same again.
            Wants::Fact { fact, purpose: Purpose::Doubted } if !self.one_in(3) => {
                Reply::Answer(call.known(*fact).unwrap_or(Answer::Cannot))
            }
            Wants::Fact { fact, .. } => Reply::Answer(self.answer(*fact)),
            Wants::Power { .. } => Reply::Step(self.step_result()),
            Wants::Conflict { .. } => Reply::Insist,
            Wants::Consent { .. } => Reply::Deed(self.consent()),
            Wants::Deed { deed, .. } if self.one_in(3) => {
                Reply::Worked(self.below(BOOK.deed(*deed).steps.len()))
            }
            Wants::Deed { .. } => {
                Reply::Deed(if self.one_in(30) { DeedResult::NotPossible } else { DeedResult::Done })
            }
        };
        Some(call.hear(Some(prompt), reply).expect("a fitting answer is heard"))
    }

    fn step_result(&mut self) -> StepResult {
        match self.below(40 + 60 * usize::from(self.unruly == 0)) {
            0 => StepResult::Failed,
            1 | 2 => StepResult::Partly,
            _ => StepResult::Done,
        }
    }

    fn consent(&mut self) -> DeedResult {
        if self.one_in(25) { DeedResult::Later } else { DeedResult::Now }
    }

    fn unruly_words(&mut self, call: &Call, prompt: Option<&Prompt>) -> Option<Vec<Event>> {
        let reply = match self.below(9) {
            0 | 1 => Reply::Back,
            2 | 3 => {
                let fact = self.any_fact();
                Reply::Correct(fact, self.random(fact))
            }
            4 => {
                let fact = self.any_fact();
                Reply::Tell(fact, self.random(fact))
            }
            5 => {
                let fact = self.hold_off_fact();
                Reply::Tell(fact, self.random(fact))
            }
            6 => return Some(vec![Event::Resumed]),
            7 => return self.take_back_a_power_step(call),
            _ if self.one_in(12) => Reply::Danger(ChoiceSet::only(1 + self.below(5))),
            _ if self.one_in(12) => Reply::Leave,
            _ if self.one_in(4) => return Some(vec![self.earlier()]),
            _ => Reply::Note("the caller drops the phone".to_owned()),
        };
        call.hear(prompt, reply).ok()
    }

    /// What an earlier call on the unit did, or left for this one.
    fn earlier(&mut self) -> Event {
        let repairs: Vec<EndingId> = BOOK
            .endings()
            .iter()
            .filter(|ending| ending.is_repair())
            .filter_map(|ending| BOOK.ending_named(&ending.id))
            .collect();
        let ending = repairs[self.below(repairs.len())];
        Event::Earlier {
            ending,
            result: if self.one_in(2) { DeedResult::Done } else { DeedResult::Later },
            of: None,
        }
    }

    fn take_back_a_power_step(&mut self, call: &Call) -> Option<Vec<Event>> {
        let steps: Vec<usize> = call
            .events()
            .iter()
            .enumerate()
            .filter(|(_, event)| matches!(event, Event::Power { .. }))
            .map(|(index, _)| index)
            .collect();
        let pick = *steps.get(self.below(steps.len()))?;
        call.event_id(pick).map(|event| vec![Event::Retract { event }])
    }

    fn any_fact(&mut self) -> FactId {
        let pick = self.below(BOOK.facts().len());
        BOOK.fact_ids().nth(pick).expect("a fact of the book")
    }

    fn hold_off_fact(&mut self) -> FactId {
        let facts: Vec<FactId> = BOOK
            .power()
            .hold_offs
            .iter()
            .flat_map(|hold_off| hold_off.when.iter().chain(&hold_off.until))
            .map(|(fact, _)| *fact)
            .chain([BOOK.power().sources, BOOK.power().live_work.0])
            .collect();
        facts[self.below(facts.len())]
    }

    /// Mostly what a recorded case says, so that calls get far; else anything the fact can be.
    fn answer(&mut self, fact: FactId) -> Answer {
        let recorded = self.case.and_then(|case| case.answers.reading(fact, 0));
        match recorded {
            Some(answer) if !self.one_in(6) => answer,
            _ => self.random(fact),
        }
    }

    fn random(&mut self, fact: FactId) -> Answer {
        if self.one_in(8) {
            return Answer::Cannot;
        }
        let rule = BOOK.fact(fact);
        match &rule.kind {
            Kind::Choice { choices, .. } => {
                // Danger, asked first of every call, is mostly not there: or no call would get far.
                let danger = fact == BOOK.roles().danger.0;
                let pick = if danger && !self.one_in(20) { 0 } else { self.below(choices.len()) };
                Answer::Value(Value::Choices(ChoiceSet::only(pick)))
            }
            Kind::Quantity { expected, .. } => {
                let (low, high) =
                    expected.range().map_or((0.0, 10.0), |(low, high)| (low.number(), high.number()));
                let unit = expected.range().map_or(expected.unit(), |(low, _)| low.unit());
                let share = [0.0, 0.001, 0.1, 0.35, 0.5, 0.7, 0.9, 1.0][self.below(8)];
                let number = (low + share * (high - low)).round();
                Answer::Value(Value::Quantity(if expected.over_range() && self.one_in(3) {
                    Quantity::over_range(unit)
                } else {
                    Quantity::new(number, unit).expect("a finite number")
                }))
            }
        }
    }
}
