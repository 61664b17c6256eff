//! How long a unit can have been off: never for longer than since it was last live.

use super::between::Question;
use super::passed::Passed;
use super::{Stopped, Talk, clock, power};
use engine::call::{Call, Event, PowerState, Prompt, Purpose, Wants};
use engine::rulebook::PowerStepKind;
use std::time::{Duration, Instant};

/// By what a unit is taken to have been live.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum By {
    /// The call took it as live in this conversation.
    Here,
    /// The record of this call, or of another on the unit, says so.
    Record,
    /// A live reading was told unasked: when it was taken, nobody said.
    Word,
    /// Nothing says so: nobody has said that it was off either, before its lock-out was asked for.
    Nothing,
}

impl By {
    const fn words(self) -> &'static str {
        match self {
            Self::Here | Self::Word | Self::Nothing => "in this call",
            Self::Record => "by the record of its calls",
        }
    }
}

/// When a unit was last live, as far as it is known.
#[derive(Clone, Copy, Debug)]
pub(super) struct LastLive {
    /// When this was known here.
    known: Instant,
    /// How long ago that was by then.
    before: Duration,
    by: By,
}

impl LastLive {
    pub(super) const fn recorded(known: Instant, before: Duration) -> Self {
        Self { known, before, by: By::Record }
    }

    fn now(by: By) -> Self {
        Self { known: Instant::now(), before: Duration::ZERO, by }
    }

    fn since(self) -> Duration {
        self.known.elapsed().saturating_add(self.before)
    }

    /// What is about to be asked shows that the unit is live, or may have been until now.
    fn when_asked(last: Option<Self>, call: &Call, prompt: &Prompt) -> Option<Self> {
        let kind = match prompt.wants() {
            Wants::Power { step, .. } => Some(step.kind),
            _ => None,
        };
        let may_be = match kind {
            Some(PowerStepKind::RestorePower | PowerStepKind::ResetTrippedDevice) => true,
            // With several supplies, it is live until the last one is off.
            Some(PowerStepKind::SwitchOffAndLock) => last.is_some_and(|live| live.by == By::Here),
            _ => false,
        };
        if may_be || call.power().state() == &PowerState::Live {
            return Some(Self::now(By::Here));
        }
        let begins = kind == Some(PowerStepKind::SwitchOffAndLock);
        last.or_else(|| begins.then(|| Self::now(By::Nothing)))
    }

    /// What happens shows that the unit is live.
    fn by(last: Option<Self>, call: &Call, event: &Event) -> Option<Self> {
        let live = call.power().state() == &PowerState::Live && !power::switches_off(event);
        let tells = power::tells_live(call.book(), event);
        // What was asked for is so now; what is told unasked was so at some time.
        let asked = matches!(event, Event::Told { purpose, .. } if *purpose != Purpose::Unasked);
        if live || power::lets_through(call.book(), event) || tells && asked {
            Some(Self::now(By::Here))
        } else if tells {
            let by = last.map_or(By::Nothing, |last| last.by);
            Some(Self::now(if by == By::Nothing { By::Word } else { by }))
        } else {
            last
        }
    }

    /// Whether no word makes the unit off for longer than since then. What a record or a remark tells may be asked about,
    /// where the wait can have passed at all.
    fn is_sure(self, wait: Duration) -> bool {
        match self.by {
            By::Here => true,
            By::Record => self.since() < wait,
            By::Word | By::Nothing => false,
        }
    }
}

impl Talk<'_> {
    pub(super) fn live_when_asked(&mut self, call: &Call, prompt: &Prompt) {
        self.last_live = LastLive::when_asked(self.last_live, call, prompt);
    }

    pub(super) fn live_by(&mut self, call: &Call, event: &Event) {
        self.last_live = LastLive::by(self.last_live, call, event);
    }

    /// When it was last live, where that is not as long ago as it is said to be off.
    fn live_within(&self, told: Duration) -> Option<LastLive> {
        self.last_live.filter(|last| self.has_a_clock() && told > last.since())
    }

    /// Why the unit cannot have been off for so long.
    pub(super) fn cannot_be(&self, told: Duration, wait: Duration) -> Option<String> {
        let last = self.live_within(told)?;
        let left = wait.saturating_sub(self.waited());
        last.is_sure(wait).then(|| clock::was_on(told, last.since(), last.by.words(), left))
    }

    /// Asks once more where somebody's word, or the record, has it live since: for how long it was off then.
    pub(super) fn off_since(&mut self, call: &Call, told: Duration) -> Result<(Passed, Duration), Stopped> {
        let Some(last) = self.live_within(told) else {
            return Ok((Passed::Yes, told));
        };
        let (ago, when) = (last.since(), clock::ago(last.since()));
        let (say, counts) = if matches!(last.by, By::Word | By::Nothing) {
            let what = if last.by == By::Word { "A live reading was told" } else { "The lock-out was begun" };
            let say = format!(
                "{what} in this call at {when}. Was the unit off and locked for {} all the same?",
                clock::passed(told)
            );
            (say, told)
        } else {
            (format!("It was on {} at {when}. Is it off and locked since then?", last.by.words()), ago)
        };
        let question = Question {
            why: "the motor's stored charge falls only from when the last supply was switched off",
            how: "by a watch, from when the last supply was off and locked",
            wanted: "yes, if it was off for so long; no, to wait",
        };
        Ok((self.plain_yes(call, &say, question)?, counts))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{By, LastLive};
    use crate::rules;
    use engine::call::{Call, Event, Next, PowerState, Prompt, Purpose, Reply, StepResult, Wants};
    use engine::rulebook::{Answer, PowerStepKind, Value};
    use std::time::Duration;

    const MINUTES_20: Duration = Duration::from_mins(20);
    /// What is known in a call that reads live first and then locks out.
    const TOLD: [(&str, &str); 9] = [
        ("danger_seen", "none"),
        ("complaint", "no_run"),
        ("unit_rated_supply", "115-volt"),
        ("breaker_position", "on"),
        ("disconnect_position", "on"),
        ("access_panel_switch", "made"),
        ("thermostat_calling", "fan"),
        ("motor_runs", "no"),
        ("live_work_allowed", "no"),
    ];

    fn old(by: By) -> LastLive {
        LastLive { before: MINUTES_20, ..LastLive::now(by) }
    }

    fn next(call: &Call) -> Prompt {
        match call.next() {
            Next::Prompt(prompt) => prompt,
            Next::Ended(_) => panic!("it ended"),
        }
    }

    fn say(call: &mut Call, prompt: &Prompt) {
        let reply = match prompt.wants() {
            Wants::Fact { fact, .. } => {
                let rule = call.book().fact(*fact);
                let told =
                    TOLD.iter().find(|(id, _)| *id == rule.id).and_then(|(_, choice)| rule.choice(choice));
                Reply::Answer(told.map_or(Answer::Cannot, |set| Answer::Value(Value::Choices(set))))
            }
            Wants::Power { .. } => Reply::Step(StepResult::Done),
            other => panic!("{other:?}"),
        };
        for event in call.hear(Some(prompt), reply).unwrap() {
            call.apply(event);
        }
    }

    #[test]
    fn the_time_off_runs_from_when_the_first_lock_out_step_was_asked_for_and_not_from_power_on() {
        let mut call = Call::new(rules::load(None).unwrap());
        while call.power().state() != &PowerState::Live {
            let prompt = next(&call);
            say(&mut call, &prompt);
        }
        // Twenty minutes of live readings go by, whatever was known of power before.
        for last in [None, Some(old(By::Here)), Some(old(By::Record)), Some(old(By::Word))] {
            let reading = LastLive::when_asked(last, &call, &next(&call)).unwrap();
            assert!(reading.by == By::Here && reading.since() < MINUTES_20);
        }
        let mut prompt = next(&call);
        while !matches!(prompt.wants(), Wants::Power { step, .. } if step.kind == PowerStepKind::SwitchOffAndLock)
        {
            say(&mut call, &prompt);
            prompt = next(&call);
        }
        let asked = LastLive::when_asked(Some(old(By::Here)), &call, &prompt);
        assert!(asked.unwrap().since() < MINUTES_20);
        // That it is switched off is said some time after it was: the time runs from the asking.
        let asked = Some(old(By::Here));
        let event = call.hear(Some(&prompt), Reply::Step(StepResult::Done)).unwrap().remove(0);
        assert!(LastLive::by(asked, &call, &event).unwrap().since() >= MINUTES_20);
        call.apply(event);
        assert!(LastLive::when_asked(asked, &call, &next(&call)).unwrap().since() >= MINUTES_20);
    }

    #[test]
    fn what_is_switched_off_when_it_is_asked_for_was_live_until_then() {
        let call = Call::new(rules::load(None).unwrap());
        let fact = call.book().fact_named("blower_stopped").unwrap();
        let told = |choice: Option<&str>, purpose| {
            let set = choice.map(|choice| call.book().fact(fact).choice(choice).unwrap());
            let answer = set.map_or(Answer::Cannot, |set| Answer::Value(Value::Choices(set)));
            LastLive::by(None, &call, &Event::Told { fact, answer, purpose }).map(|last| last.by)
        };
        assert_eq!(told(Some("stopped"), Purpose::Step), Some(By::Here));
        assert_eq!(told(Some("runs_on"), Purpose::Step), Some(By::Here));
        // When it stood still, nobody said.
        assert_eq!(told(Some("stopped"), Purpose::Unasked), Some(By::Word));
        assert_eq!(told(None, Purpose::Step), None);
    }

    #[test]
    fn what_the_record_says_is_asked_about_only_where_the_wait_can_have_passed() {
        let long = MINUTES_20 + Duration::from_mins(1);
        assert!(old(By::Record).is_sure(long) && !old(By::Record).is_sure(Duration::from_mins(5)));
        assert!(old(By::Here).is_sure(Duration::from_mins(5)) && !old(By::Word).is_sure(long));
    }
}
