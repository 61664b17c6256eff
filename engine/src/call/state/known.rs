//! What is known of a fact, and from where: told, come with other facts, or still to be asked for.

use super::State;
use super::doubt::same;
use crate::call::hold_off::{self, Held};
use crate::call::power::{Basis, Cover, Sources};
use crate::call::walk::{Facts, Got, Side};
use crate::quantity::Quantity;
use crate::rulebook::{
    Answer, ChoiceSet, Edge, FactId, Given as GivenRule, PowerNeed, Rulebook, Value, Working,
};

const SECONDS_A_MINUTE: f64 = 60.0;

impl State {
    /// What the power routines are planned on.
    pub(in crate::call) fn basis(&self, book: &Rulebook) -> Basis {
        Basis { cover: self.cover(book), reset: hold_off::is_reset_due(book, &self.ledger) }
    }

    /// What a lock-out has to cover, by what was told.
    pub(super) fn cover(&self, book: &Rulebook) -> Cover {
        Cover { sources: self.sources(book), wait: self.wait(book) }
    }

    fn sources(&self, book: &Rulebook) -> Sources {
        match self.get(book, book.power().sources) {
            Got::Known(Value::Quantity(count)) => Sources::Counted(whole(count.base())),
            _ => Sources::Unknown,
        }
    }

    fn wait(&self, book: &Rulebook) -> f64 {
        match self.get(book, book.power().stored_charge) {
            Got::Known(Value::Quantity(wait)) => wait.base() / SECONDS_A_MINUTE,
            _ => book.power().longest_wait,
        }
    }

    /// What is known of a fact: told, or with other facts, or to be asked for.
    pub(in crate::call) fn get(&self, book: &Rulebook, fact: FactId) -> Got {
        let rule = book.fact(fact);
        if let Some(version) = self.ledger.current(fact) {
            return match (version.value(), rule.cannot_means) {
                (Answer::Value(value), _) | (Answer::Cannot, Some(value)) => Got::Known(value),
                (Answer::Cannot, None) => self.worked_out(book, fact),
            };
        }
        for given in &rule.given {
            match self.given(book, &given.when) {
                Given::Holds => return Got::Known(given.is),
                Given::Not => {}
                Given::Ask(fact) => return Got::Ask(fact),
            }
        }
        match (self.worked_out(book, fact), &rule.asking) {
            (known @ Got::Known(_), _) => known,
            // What can be told itself is asked for before what it would be worked out of.
            (_, Some(_)) if !self.out_of_reach(book, fact) => Got::Ask(fact),
            (worked_out, _) => worked_out,
        }
    }

    /// What a fact is worked out to, or the input to ask for first.
    fn worked_out(&self, book: &Rulebook, fact: FactId) -> Got {
        let rule = book.fact(fact);
        let (Some(working), Some(expected)) = (&rule.working, rule.expected()) else {
            return Got::Cannot;
        };
        let known: Vec<Got> = working.of.iter().map(|input| self.get(book, *input)).collect();
        // Where one input cannot be had, none of the others is asked for in vain.
        if known.iter().any(|input| matches!(input, Got::Cannot | Got::Known(Value::Choices(_)))) {
            return Got::Cannot;
        }
        let mut inputs = Vec::with_capacity(known.len());
        for input in known {
            match input {
                Got::Known(Value::Quantity(quantity)) => inputs.push(quantity.base()),
                other => return other,
            }
        }
        let unit = expected.unit();
        let worked =
            working.formula.compute(&inputs).and_then(|base| Quantity::new(unit.from_base(base), unit));
        worked.map_or(Got::Cannot, |quantity| Got::Known(Value::Quantity(quantity)))
    }

    /// The working that a fact goes by now: none where it was told, or comes with others.
    pub(in crate::call) fn working<'b>(&self, book: &'b Rulebook, fact: FactId) -> Option<&'b Working> {
        let told = self.ledger.current(fact).is_some_and(|version| version.answer != Answer::Cannot);
        if told || self.comes_with(book, fact).is_some() {
            return None;
        }
        book.fact(fact).working.as_ref()
    }

    /// The rule by which a fact comes with others, where it does and was not told.
    pub(in crate::call) fn comes_with<'b>(&self, book: &'b Rulebook, fact: FactId) -> Option<&'b GivenRule> {
        if self.ledger.current(fact).is_some() {
            return None;
        }
        for given in &book.fact(fact).given {
            match self.given(book, &given.when) {
                Given::Holds => return Some(given),
                Given::Not => {}
                Given::Ask(_) => return None,
            }
        }
        None
    }

    fn given(&self, book: &Rulebook, when: &[(FactId, Value)]) -> Given {
        for (fact, wanted) in when {
            match self.get(book, *fact) {
                Got::Known(value) if same_value(&value, wanted) => {}
                Got::Known(_) | Got::Cannot => return Given::Not,
                Got::Ask(fact) => return Given::Ask(fact),
            }
        }
        Given::Holds
    }

    /// Whether a live reading cannot be had as the unit stands.
    pub(in crate::call) fn out_of_reach(&self, book: &Rulebook, fact: FactId) -> bool {
        let rule = book.fact(fact);
        rule.power == PowerNeed::Live
            && (self.power.restore_failed()
                || matches!(hold_off::held(book, &self.power, &self.ledger), Held::Yes(_))
                || rule.live_work && self.live_work_refused(book)
                || rule.can_be_led_out()
                    && self.power.no_leads_for(fact)
                    && (rule.is_led_out() || !self.live_work_allowed(book)))
    }

    /// Whether it was asked, and live work is not allowed.
    fn live_work_refused(&self, book: &Rulebook) -> bool {
        !matches!(self.get(book, book.power().live_work.0), Got::Ask(_)) && !self.live_work_allowed(book)
    }

    pub(in crate::call) fn live_work_allowed(&self, book: &Rulebook) -> bool {
        let (fact, yes) = book.power().live_work;
        matches!(self.get(book, fact), Got::Known(Value::Choices(set)) if set.within(yes))
    }

    /// What was seen of danger, if anything was.
    pub(in crate::call) fn danger(&self, book: &Rulebook) -> Option<Answer> {
        let (fact, safe) = book.roles().danger;
        self.ledger
            .current(fact)
            .map(|version| version.answer)
            .filter(|answer| !matches!(answer, Answer::Value(Value::Choices(set)) if set.within(safe) && *set != ChoiceSet::default()))
    }
}

enum Given {
    Holds,
    Not,
    Ask(FactId),
}

/// A state together with the rules it is about: what a walk asks.
#[derive(Clone, Copy)]
pub(in crate::call) struct Known<'c> {
    pub(in crate::call) book: &'c Rulebook,
    pub(in crate::call) state: &'c State,
}

impl Facts for Known<'_> {
    fn get(&self, fact: FactId) -> Got {
        self.state.get(self.book, fact)
    }

    fn side(&self, fact: FactId, edge: &Edge) -> Result<Side, Got> {
        self.state.side(self.book, fact, edge)
    }

    fn read_again(&self, fact: FactId, edge: &Edge) -> Option<FactId> {
        self.state.read_again(self.book, fact, edge)
    }
}

fn same_value(left: &Value, right: &Value) -> bool {
    match (left, right) {
        (Value::Choices(left), Value::Choices(right)) => left == right,
        (Value::Quantity(left), Value::Quantity(right)) => same(left.base(), right.base()),
        _ => false,
    }
}

/// A count as a number of supplies: at least one, at most what a person would lock.
fn whole(count: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1..=9 first")]
    let whole = count.clamp(1.0, 9.0) as u32;
    whole
}
