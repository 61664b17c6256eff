//! Hold-offs: facts that forbid putting power back until a repair is done and they are read again.

use super::ledger::Ledger;
use super::power::Power;
use super::state::expanded;
use crate::rulebook::{Answer, Condition, FactId, HoldOff, HoldOffId, Rulebook, Value};
use std::marker::PhantomData;

/// Lent by hold-offs none of which stands: power may be put back, or be read with.
#[derive(Clone, Copy, Debug)]
pub struct MayEnergise<'l>(PhantomData<&'l Ledger>);

/// What the hold-offs say.
#[derive(Clone, Copy, Debug)]
pub(super) enum Held<'l> {
    /// Power may be put back.
    No(MayEnergise<'l>),
    /// An earlier call could not prove the unit dead: that comes first.
    ProveDeadFirst,
    /// This fact, which needs no power, must be read first.
    ReadFirst(FactId),
    /// Power stays off.
    Yes(HoldOffId),
}

/// How one hold-off stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Standing {
    Clear,
    ReadFirst(FactId),
    Held,
}

/// Asks every hold-off. One that stands outweighs one that waits for a reading, or for a unit to be proved dead.
pub(super) fn held<'l>(book: &Rulebook, power: &Power, ledger: &'l Ledger) -> Held<'l> {
    let mut read_first = None;
    for (index, hold_off) in book.power().hold_offs.iter().enumerate() {
        match standing(book, hold_off, ledger) {
            Standing::Clear => {}
            Standing::ReadFirst(fact) => {
                read_first.get_or_insert(fact);
            }
            Standing::Held => return Held::Yes(HoldOffId::at(index)),
        }
    }
    match read_first {
        _ if power.is_left_unproved() => Held::ProveDeadFirst,
        Some(fact) => Held::ReadFirst(fact),
        None => Held::No(MayEnergise(PhantomData)),
    }
}

/// Whether a device has tripped whose dead tests are all in order, so that it is to be reset once.
pub(super) fn is_reset_due(book: &Rulebook, ledger: &Ledger) -> bool {
    let due = |hold_off: &HoldOff| {
        set_off(hold_off, ledger).next().is_some() && standing(book, hold_off, ledger) == Standing::Clear
    };
    book.power().hold_offs.iter().any(due)
}

/// The facts that told of a tripped device: once it has been reset, they have to be looked at anew.
///
/// Whether the dead tests were in order is not asked here: taking a test's words back does not undo the reset.
pub(super) fn tripped<'r>(book: &'r Rulebook, ledger: &'r Ledger) -> impl Iterator<Item = FactId> + 'r {
    book.power().hold_offs.iter().flat_map(|hold_off| set_off(hold_off, ledger))
}

/// The facts, as they were told last, for which power is held off, or may not come back before they are read again.
pub(super) fn holding<'r>(
    book: &'r Rulebook,
    ledger: &'r Ledger,
) -> impl Iterator<Item = (FactId, Value)> + 'r {
    let when = book.power().hold_offs.iter().flat_map(|hold_off| &hold_off.when);
    when.filter_map(|(fact, bad)| {
        let (version, value) = ledger.newest_value(*fact)?;
        let stale = ledger.newest(*fact).is_none_or(|newest| newest.stale);
        let holds = bad.may_hold(&value, expanded(book, ledger, *fact, version));
        (holds && !stale && !ledger.was_reset(*fact)).then_some((*fact, value))
    })
}

/// The facts that set off a hold-off which dead tests lift.
fn set_off<'r>(hold_off: &'r HoldOff, ledger: &'r Ledger) -> impl Iterator<Item = FactId> + 'r {
    hold_off
        .when
        .iter()
        .filter(|_| !hold_off.until.is_empty())
        .filter(|(fact, bad)| {
            ledger
                .current(*fact)
                .is_some_and(|version| matches!(version.answer, Answer::Value(value) if bad.holds(&value)))
        })
        .map(|(fact, _)| *fact)
}

fn standing(book: &Rulebook, hold_off: &HoldOff, ledger: &Ledger) -> Standing {
    let mut read_first = None;
    for (fact, bad) in &hold_off.when {
        // The newest value counts even when it is stale: only reading again, and finding otherwise, lets go of it.
        if !ledger
            .newest_value(*fact)
            .is_some_and(|(version, value)| bad.may_hold(&value, expanded(book, ledger, *fact, version)))
        {
            continue;
        }
        let waits = if hold_off.until.is_empty() {
            match ledger.newest(*fact) {
                Some(newest) if newest.stale => Standing::ReadFirst(*fact),
                _ => Standing::Held,
            }
        } else if ledger.was_reset(*fact) && ledger.current(*fact).is_some() {
            // A device that opens again after its one reset has found a fault still there.
            Standing::Held
        } else {
            dead_tests(book, &hold_off.until, ledger)
        };
        match waits {
            Standing::Clear => {}
            Standing::Held => return Standing::Held,
            Standing::ReadFirst(fact) => {
                read_first.get_or_insert(fact);
            }
        }
    }
    read_first.map_or(Standing::Clear, Standing::ReadFirst)
}

/// Whether all dead tests are in order, or which is still to be read.
fn dead_tests(book: &Rulebook, tests: &[(FactId, Condition)], ledger: &Ledger) -> Standing {
    let mut read_first = None;
    for (fact, wanted) in tests {
        match ledger.current(*fact).map(|version| (version, version.value())) {
            Some((version, Answer::Value(value)))
                if wanted.surely_holds(&value, expanded(book, ledger, *fact, version)) => {}
            Some(_) => return Standing::Held,
            None => {
                read_first.get_or_insert(*fact);
            }
        }
    }
    read_first.map_or(Standing::Clear, Standing::ReadFirst)
}
