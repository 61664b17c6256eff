//! `motorwright note`: the note of a call that is kept.

use super::{call, kept};
use crate::args::NoteArguments;
use crate::failure::{Failure, OK};
use crate::harmless::harmless;
use crate::talk::note_of;
use engine::rulebook::Rulebook;
use std::io::Write as _;
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &NoteArguments) -> Result<u8, Failure> {
    let record = arguments.log.open()?.call(arguments.number)?;
    let note = note_of(&kept::call(book, &record)?, call::units(&arguments.talk));
    let mut out = anstream::stdout().lock();
    for line in note.lines() {
        writeln!(out, "{}", harmless(line))?;
    }
    Ok(OK)
}
