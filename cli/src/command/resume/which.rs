//! Which call is gone on with where none was named.

use super::asked;
use crate::command::{calls, kept, table};
use crate::failure::Failure;
use crate::store::{Fault, Listed, Number, Store, Wanted};
use engine::record::Summary;
use engine::rulebook::Rulebook;
use std::io::IsTerminal as _;
use std::sync::Arc;

/// The call that stands open and that no living seat has; where there are several, or others were begun since, it is
/// shown and asked for. `yes`: the newest, without asking. None where none was picked.
pub(super) fn open(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    yes: bool,
) -> Result<Option<Number>, Failure> {
    let wanted = Wanted { open: true, ..Wanted::default() };
    let (mut open, mut held) = (Vec::new(), None);
    // What cannot be read here, or means nothing to these rules, hides no other.
    kept::listed(store, book, &wanted, &mut |listed| {
        match listed.holder.as_ref().filter(|holder| !holder.seat.is_gone()) {
            Some(holder) => held = held.take().or_else(|| Some((listed.number, holder.clone()))),
            None if listed.summary.as_ref().is_some_and(Summary::is_open) => open.push(listed),
            None => {}
        }
        true
    })?;
    let Some(newest) = open.first().map(|listed| listed.number) else {
        // After a machine was started anew, its own seat may look alive: whoever resumes is told how it is taken over.
        return Err(match held {
            Some((number, holder)) => Failure::NoneFree(Fault::Held { number, holder }),
            None => Failure::NoneOpen,
        });
    };
    let alone = open.len() == 1;
    if yes || alone && is_newest(store, newest)? {
        return Ok(Some(newest));
    }
    if !std::io::stdin().is_terminal() {
        return if alone { Ok(Some(newest)) } else { Err(Failure::SeveralOpen(open.len())) };
    }
    picked(book, &open)
}

/// Whether no call was begun since.
fn is_newest(store: &mut dyn Store, number: Number) -> Result<bool, Fault> {
    let mut newest = true;
    store.each(&Wanted { most: Some(1), ..Wanted::default() }, &mut |listed| {
        newest = listed.number <= number;
        Ok(false)
    })?;
    Ok(newest)
}

/// The one of these that is typed.
fn picked(book: &Rulebook, open: &[Listed]) -> Result<Option<Number>, Failure> {
    let mut out = anstream::stdout();
    for listed in open {
        table::broken(&mut out, &calls::plainly(book, listed))?;
    }
    loop {
        let typed = asked("Which call is to be gone on with? Type its number; or Enter, for none:")?;
        let number = typed.parse().ok().filter(|number| open.iter().any(|listed| listed.number == *number));
        if typed.is_empty() || number.is_some() {
            return Ok(number);
        }
    }
}
