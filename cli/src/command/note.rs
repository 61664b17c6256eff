//! `motorwright note`: the note of a call that is kept.

use super::{call, kept};
use crate::args::NoteArguments;
use crate::failure::{Failure, OK};
use crate::harmless::harmless;
use crate::talk::{in_short, note_of};
use engine::call::{Event, Next};
use engine::rulebook::Rulebook;
use std::io::Write as _;
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &NoteArguments) -> Result<u8, Failure> {
    let record = arguments.log.open_to_read()?.call(arguments.number)?;
    let mut kept = kept::call(book, &record)?;
    let mut out = anstream::stdout().lock();
    let is_open = matches!(kept.next(), Next::Prompt(_));
    if is_open && record.listed.holder.as_ref().is_none_or(|holder| holder.seat.is_gone()) {
        // Nobody is on the call, so nobody vouches for what was true at its last word.
        let last = record.listed.last;
        writeln!(out, "Left open, last word {last}. The unit counts as LIVE until it is proved dead anew.")?;
        if let Some(ending) = kept.agreed() {
            writeln!(out, "Work agreed to, not known how far: {}.", harmless(&book.ending(ending).name))?;
        }
        writeln!(out, "Then: {}.", in_short(&kept))?;
        kept.apply(Event::Resumed);
    }
    let note = note_of(&kept, call::units(&arguments.talk));
    for line in note.lines() {
        writeln!(out, "{}", harmless(line))?;
    }
    Ok(OK)
}
