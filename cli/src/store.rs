//! The call log: every event of every call, on disk before the next prompt is shown.
//!
//! One small interface, [`Store`], over an embedded database file or a server for a desk of several machines. A call is
//! held by one [`Seat`] at a time: each word that is written down says by whom, and is refused where the call was
//! taken over since.

mod command_line;
mod fault;
mod place;
mod plain;
mod postgres;
mod row;
mod schema;
mod seat;
mod sqlite;
#[cfg(test)]
mod tests;
mod when;

pub(crate) use command_line::{log_is, typed, typed_of};
pub(crate) use fault::Fault;
pub(crate) use place::Place;
pub(crate) use plain::plainly;
pub(crate) use seat::{Holder, Seat};
pub(crate) use when::When;

use engine::record::{Entry, Summary};
use serde::{Deserialize, Serialize};

/// For how many days a call on the same unit counts as a callback.
pub(crate) const CALLBACK_DAYS: i64 = 30;

/// What a unit's name is known by: without its blanks and, in ASCII, its capitals. `Job 47` is `job47`.
pub(crate) fn unit_key(name: &str) -> String {
    name.split_whitespace().collect::<String>().to_ascii_lowercase()
}

/// The newest of the calls, by the key of their units, that are on a unit whose name is another only by signs that are
/// neither letters nor digits: `Job 12a` is like `Job 12-A`.
fn newest_alike(unit: &str, newest_on: impl IntoIterator<Item = (String, Number)>) -> Option<Number> {
    let bare = |name: &str| {
        name.chars().filter(|sign| sign.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>()
    };
    let (key, wanted) = (unit_key(unit), bare(unit));
    let is_alike = |other: &str| !wanted.is_empty() && other != key && bare(other) == wanted;
    newest_on.into_iter().filter(|(other, _)| is_alike(other)).map(|(_, number)| number).max()
}

/// The number of a call, from 1; never given twice.
pub(crate) type Number = i64;

/// What a call is begun with.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Opening {
    /// What it is known by in every log that it comes to; made up, and never shown.
    pub(crate) id: String,
    /// When it was begun.
    pub(crate) at: When,
    /// What the desk calls the unit; never asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) unit: Option<String>,
    /// The `id` of the call on the same unit that it starts from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) again_of: Option<String>,
    /// The rules it goes by.
    pub(crate) rules: RulesUsed,
    /// The text of the caller's own meter file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) meter: Option<String>,
}

/// Which rules a call went by.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RulesUsed {
    /// The folder they came from; none for those built in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) folder: Option<String>,
    /// Their fingerprint without prose.
    pub(crate) decide: String,
    /// Their fingerprint with prose.
    pub(crate) prose: String,
    /// The version of the program.
    pub(crate) program: String,
}

/// A call as a list shows it.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Listed {
    pub(crate) number: Number,
    pub(crate) opening: Opening,
    /// When its newest event was written.
    pub(crate) last: When,
    /// How many events it has.
    pub(crate) events: u32,
    /// What it comes to; none while it is under way, or after its process was killed.
    pub(crate) summary: Option<Summary>,
    /// Who holds it.
    pub(crate) holder: Option<Holder>,
}

/// A call with everything that happened in it.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Record {
    pub(crate) listed: Listed,
    pub(crate) events: Vec<Written>,
}

/// An event as it was written down.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Written {
    /// When, by the clock of the machine it was typed at. A clock may go backwards: order is by place, never by time.
    pub(crate) at: When,
    /// What happened.
    pub(crate) event: Entry,
}

/// Which calls are wanted. Newest first.
#[derive(Clone, Debug, Default)]
pub(crate) struct Wanted {
    /// Only those on this unit, by its [`unit_key`].
    pub(crate) unit: Option<String>,
    /// Only those begun at this time or later.
    pub(crate) since: Option<When>,
    /// Only those begun before this time.
    pub(crate) before: Option<When>,
    /// Only those that may be gone on with: that came to no ending yet, or that nobody has summed up.
    pub(crate) open: bool,
    /// At most so many.
    pub(crate) most: Option<u32>,
}

/// A log of calls. Whatever a method has written when it returns is on disk.
pub(crate) trait Store {
    /// Begins a call and holds it.
    fn open(&mut self, opening: &Opening, seat: &Seat) -> Result<Number, Fault>;

    /// Takes a call that stands open, to go on with it.
    ///
    /// Where another seat has it, [`Fault::Held`], unless that seat is known to be dead, or `take_over`.
    fn hold(&mut self, number: Number, seat: &Seat, at: When, take_over: bool) -> Result<(), Fault>;

    /// Writes down an event at its place; the call must be held by this seat.
    fn append(&mut self, number: Number, place: u32, written: &Written, seat: &Seat) -> Result<(), Fault>;

    /// Lets a call go, with what it comes to.
    fn release(&mut self, number: Number, summary: &Summary, seat: &Seat) -> Result<(), Fault>;

    /// Keeps what a call comes to, if it still has as many events as the summary stands on.
    fn sum_up(&mut self, number: Number, summary: &Summary) -> Result<(), Fault>;

    /// Who holds a call.
    fn holder(&mut self, number: Number) -> Result<Option<Holder>, Fault>;

    /// A call.
    fn call(&mut self, number: Number) -> Result<Record, Fault>;

    /// Tells of each call that is wanted, until the ear has heard enough (`false`). Those whose beginning cannot be
    /// read are passed over; why stands in what is returned.
    fn each(
        &mut self,
        wanted: &Wanted,
        ear: &mut dyn FnMut(Listed) -> Result<bool, Fault>,
    ) -> Result<Vec<Fault>, Fault>;

    /// The number of the call that goes by this id.
    fn number_of(&mut self, id: &str) -> Result<Option<Number>, Fault>;

    /// The newest call on a unit whose name is another only by signs that are neither letters nor digits.
    fn on_unit_like(&mut self, unit: &str) -> Result<Option<Number>, Fault>;

    /// Everything that happened in a call; none where there is no such call.
    fn events_of(&mut self, number: Number) -> Result<Vec<Written>, Fault>;

    /// Takes in a call from elsewhere, under a number of its own; all or nothing. It is not forgotten any more.
    fn import(&mut self, record: &Record) -> Result<Number, Fault>;

    /// Writes down what the same call elsewhere has beyond the one here; all or nothing. `false`, and nothing, where
    /// somebody took up or wrote to the one here since it was looked at.
    fn lengthen(&mut self, here: &Listed, record: &Record) -> Result<bool, Fault>;

    /// Whether the call that goes by this id was forgotten here.
    fn is_forgotten(&mut self, id: &str) -> Result<bool, Fault>;

    /// Erases a call from the disk. Only its id is remembered, so that it does not come back by an import.
    fn forget(&mut self, number: Number) -> Result<(), Fault>;
}
