//! Why something could not be written down, or read back; each says how to mend it.

use super::Number;
use super::command_line::{typed, typed_of};
use super::seat::Holder;
use engine::record::Unknown;

/// What is wrong with the call log.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Fault {
    /// There is no such call.
    #[error("there is no call {}; `{}` lists them", .0, typed("calls"))]
    NoCall(Number),
    /// Another seat has the call.
    #[error(
        "call {number} is held by {holder}. If nobody is there any more: {}",
        typed(&format!("resume {number} --take-over"))
    )]
    Held { number: Number, holder: Holder },
    /// Another seat took the call over.
    #[error(
        "call {number} was taken over by {holder}: your last answer is not on record. \
         Talk to them, or see it with: {}",
        typed_of("show", *.number)
    )]
    TakenOver { number: Number, holder: Holder },
    /// The call was let go, or came to be held by nobody.
    #[error("call {} is not held by this seat any more; take it up again with: {}", .0, typed_of("resume", *.0))]
    NotHeld(Number),
    /// The disk is full.
    #[error(
        "the disk of {place} is full: what is not written yet is not on record, all before it is. Free some space, then go \
         on with: {}; or lead a call that is not kept: motorwright call --log-to none",
        typed("resume")
    )]
    Full { place: String },
    /// Nothing can be written there.
    #[error(
        "the call log {place} cannot be written: {why}. Mend the rights of the file and its folder, or name another \
         with --log-to"
    )]
    ReadOnly { place: String, why: String },
    /// It can be read, and is of an older version.
    #[error(
        "the call log {place} is of an older version of the program, and cannot be brought up to date where nothing can \
         be written. Copy it to a folder of yours, and name the copy with --log-to"
    )]
    Older { place: String },
    /// Its newest words cannot be read where nothing can be written.
    #[error(
        "the newest words of the call log {place} stand in the `-wal` file beside it, and can only be read where its \
         folder can be written. Copy both to a folder of yours, and name the copy with --log-to"
    )]
    Ahead { place: String },
    /// The tables of a server could not be made anew without a call.
    #[error(
        "call {number} is gone from the call log {place}, but copies of what was said in it may remain in the files of \
         its tables: only their owner can have them written anew. Ask the owner to run: VACUUM (FULL) events; \
         VACUUM (FULL) calls"
    )]
    CopiesRemain { place: String, number: Number },
    /// The file is no log of calls.
    #[error(
        "{place} is no call log of this program{what}. Name another file with --log-to; this one was left as it is"
    )]
    Foreign { place: String, what: String },
    /// The file is cut short or damaged.
    #[error(
        "the call log {place} is damaged: {why}. Save what can still be read with: {} > FILE; then move the log aside, and \
         put back your last copy, or take the file in with: {}",
        typed("export"),
        typed("import FILE")
    )]
    Damaged { place: String, why: String },
    /// A newer program wrote it.
    #[error(
        "the call log {place} has schema {found}, and this is version {program} of the program, which reads up to \
         {known}. Use version {needs} or newer; nothing was changed"
    )]
    Newer { place: String, found: i64, known: i64, program: &'static str, needs: String },
    /// Another program is busy with it.
    #[error(
        "the call log {place} is busy: another program held it for {seconds} seconds. Try again in a moment"
    )]
    Busy { place: String, seconds: u64 },
    /// The server is not there, or went away.
    #[error("no connection to the call log {place}: {why}. Check that the server runs and can be reached")]
    Unreachable { place: String, why: String },
    /// The address cannot be read, or asks for what there is not.
    #[error("the address of the call log cannot be used: {why}")]
    Address { why: String },
    /// The server makes no encrypted connection, and the address asks for one.
    #[error(
        "no connection to the call log {place}: the address asks for an encrypted one (sslmode), and the server makes \
         none. Have it turned on there (`ssl = on` and a certificate, as the README shows); or take it through a tunnel to \
         the server, such as: ssh -N -L 5433:localhost:5432 SERVER; then name postgres://USER@localhost:5433/DATABASE"
    )]
    NoEncryption { place: String },
    /// Who answers is not proved to be the server that was asked for.
    #[error("no connection to the call log {place}: {why}. {how}")]
    Unproved { place: String, why: String, how: String },
    /// Anything else.
    #[error("the call log {place}: {why}")]
    Other { place: String, why: String },
    /// No place to keep it.
    #[error(
        "there is no home folder to keep the call log in: name a file with --log-to, or write --log-to none"
    )]
    NoHome,
    /// An empty name.
    #[error("--log-to names no place: give a file, a server, or none")]
    NoName,
    /// There is no log yet.
    #[error("there is no call log at {0} yet; the first call makes it")]
    NoLog(String),
    /// Nothing is kept there.
    #[error("with --log-to none nothing is kept, and there is nothing to look up")]
    Nowhere,
    /// The beginning of a call is none; nothing else of it can be made sense of.
    #[error(
        "the beginning of call {number} cannot be read: {why}. The program that wrote it may be newer, or the log was \
         changed by hand. It is passed over; {} erases it",
        typed_of("forget", *.number)
    )]
    NoBeginning { number: Number, why: String },
    /// An entry is no entry.
    #[error("call {number}, event {place}, cannot be read: {why}. The program that wrote it may be newer")]
    Garbled { number: Number, place: u32, why: String },
    /// Entries of a call are gone.
    #[error(
        "call {number} should have {should} events, and only {found} can be read: the log is damaged there. Put back \
         your last copy, or go on without this call: {}",
        typed_of("forget", *.number)
    )]
    Short { number: Number, should: usize, found: usize },
    /// The rules are not those that it went by.
    #[error(
        "call {number}, event {place}: {why}. The rules have changed since; name those it went by with --rules, or \
         start from it with: {}",
        typed_of("again", *.number)
    )]
    Rules { number: Number, place: u32, why: Unknown },
}

impl Fault {
    /// Whether one call cannot be read, and others can.
    pub(crate) const fn is_of_one_call(&self) -> bool {
        matches!(self, Self::NoBeginning { .. } | Self::Garbled { .. } | Self::Short { .. })
    }
}
