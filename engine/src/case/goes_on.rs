//! Whether a call can go on after a repair, by what a case says is found once it is done.

use super::{Case, Layer};
use crate::rulebook::{Answer, Condition, EndingId, FactId, Rulebook, Value};

/// Whether a call goes on after the ending at this position of the case's list: after a repair whose proof the readings
/// behind it do not bear out, or for which the unit cannot be proved dead, and in a check after any repair.
pub(super) fn goes_on(book: &Rulebook, case: &Case, position: usize) -> bool {
    let Some(&ending) = case.ends.get(position) else {
        return false;
    };
    let next = case.ends.get(position + 1);
    // A person may leave at any time.
    if next == Some(&book.roles().left) {
        return true;
    }
    let laid = laid(case, position);
    let fails = laid.is_some_and(|layer| {
        fails(book, ending, layer)
            || next == Some(&book.roles().cannot_prove_dead) && is_locked_out_in_vain(book, layer)
    });
    fails || book.ending(ending).is_repair() && (is_check(book, case) || is_held_off(book, case, position))
}

/// What is found once the work of the ending at this position is done.
pub(super) fn laid(case: &Case, position: usize) -> Option<&Layer> {
    let ending = case.ends.get(position)?;
    let times = case.ends.iter().take(position).filter(|other| *other == ending).count();
    let layers = case.after.get(ending)?;
    layers.get(times).or(layers.last())
}

/// Whether the call that a case tells of is a check: it goes on after a repair that holds.
fn is_check(book: &Rulebook, case: &Case) -> bool {
    let roles = book.roles();
    let layers = std::iter::once(&case.answers).chain(case.after.values().flatten());
    layers
        .filter_map(|layer| layer.reading(roles.complaint, 0))
        .any(|answer| matches!(answer, Answer::Value(Value::Choices(set)) if set.within(roles.checks)))
}

/// Whether what is found after a repair fails its proof.
fn fails(book: &Rulebook, ending: EndingId, layer: &Layer) -> bool {
    let (gone, yes) = book.roles().gone;
    let (danger, safe) = book.roles().danger;
    let proof = book.ending(ending).proof.iter().copied();
    let mut expected = proof.chain([(gone, Condition::Is(yes)), (danger, Condition::Is(safe))]);
    let mut held_off = book.power().hold_offs.iter().flat_map(|hold_off| hold_off.when.iter().copied());
    let found = |fact: FactId, condition: Condition, wanted: bool| {
        let reading = layer.reading(fact, 0);
        matches!(reading, Some(Answer::Value(value)) if condition.holds(&value) == wanted)
    };
    expected.any(|(fact, condition)| found(fact, condition, false))
        || held_off.any(|(fact, condition)| found(fact, condition, true))
}

/// Whether the test for dead fails in a layer.
fn is_locked_out_in_vain(book: &Rulebook, layer: &Layer) -> bool {
    let proved_dead = book.power().proved_dead;
    let yes = book.fact(proved_dead).choice("yes").map(|yes| Answer::Value(Value::Choices(yes)));
    layer.reading(proved_dead, 0).is_some_and(|said| Some(said) != yes)
}

/// Whether power stays off after a repair, because of something read before: no work has changed it since, it could not
/// be read again, or one of the tests that would let power back is not in order.
fn is_held_off(book: &Rulebook, case: &Case, position: usize) -> bool {
    let known = |fact: &FactId| Known::after(book, case, position, *fact);
    book.power().hold_offs.iter().any(|hold_off| {
        let in_vain = hold_off.until.iter().any(|(fact, wanted)| known(fact).is_otherwise(wanted));
        hold_off.when.iter().any(|(fact, bad)| {
            let Known { value, now } = known(fact);
            let in_force = if hold_off.until.is_empty() { now.is_some() } else { in_vain };
            in_force && value.is_some_and(|value| bad.holds(&value))
        })
    })
}

/// What is known of a fact in the course of a case.
#[derive(Clone, Copy)]
struct Known {
    /// The newest value that was read, whatever was done since.
    value: Option<Value>,
    /// What was told last; `None` while it is to be read again.
    now: Option<Answer>,
}

impl Known {
    /// Once the work of the ending at this position is done.
    fn after(book: &Rulebook, case: &Case, position: usize, fact: FactId) -> Self {
        let first = Self { value: None, now: None }.with(case.answers.reading(fact, 0));
        (0..=position).fold(first, |known, at| {
            let changed = case.ends.get(at).is_some_and(|ending| changes(book, *ending, fact));
            let since = if changed { Self { now: None, ..known } } else { known };
            since.with(laid(case, at).and_then(|layer| layer.reading(fact, 0)))
        })
    }

    fn with(self, told: Option<Answer>) -> Self {
        match told {
            Some(Answer::Value(value)) => Self { value: Some(value), now: told },
            Some(Answer::Cannot) => Self { now: told, ..self },
            None => self,
        }
    }

    /// Whether it was told, and is not as it must be.
    fn is_otherwise(self, wanted: &Condition) -> bool {
        self.now.is_some_and(|told| !matches!(told, Answer::Value(value) if wanted.holds(&value)))
    }
}

/// Whether a fact is read anew after a repair: its work changes it, or its proof needs it.
fn changes(book: &Rulebook, ending: EndingId, fact: FactId) -> bool {
    let rule = book.ending(ending);
    rule.deeds.iter().any(|deed| book.deed(*deed).changes(fact))
        || rule.proof.iter().any(|(proved, _)| *proved == fact)
}
