//! A call as both kinds of database keep it.

use super::fault::Fault;
use super::plain::plainly;
use super::{Holder, Listed, Number, Opening, Record, Seat, Summary, When, Written};
use engine::record::Entry;

/// The columns of a call, in the order of [`COLUMNS`].
pub(super) struct Row {
    pub(super) number: Number,
    pub(super) opening: String,
    pub(super) last: i64,
    pub(super) events: i64,
    pub(super) summary: Option<String>,
    pub(super) seat: Option<String>,
    pub(super) token: Option<String>,
    pub(super) since: Option<i64>,
}

/// The columns of a call.
pub(super) const COLUMNS: &str = "number, opening, last, calls.events, summary, seat, token, since";

impl Row {
    pub(super) fn listed(self) -> Result<Listed, Fault> {
        let garbled =
            |error: serde_json::Error| Fault::NoBeginning { number: self.number, why: plainly(&error) };
        let opening: Opening = serde_json::from_str(&self.opening).map_err(garbled)?;
        let events = u32::try_from(self.events).unwrap_or(u32::MAX);
        // One that cannot be read, or that stands on fewer events, is made anew.
        let summary = self.summary.as_deref().and_then(|text| serde_json::from_str::<Summary>(text).ok());
        Ok(Listed {
            number: self.number,
            opening,
            last: When::from_millis(self.last),
            events,
            summary: summary.filter(|summary| summary.events == events),
            holder: holder(self.seat, self.token, self.since),
        })
    }
}

/// Tells the ear of a call, or notes why its beginning cannot be read. `false` where the ear has heard enough.
pub(super) fn tell(
    row: Row,
    ear: &mut dyn FnMut(Listed) -> Result<bool, Fault>,
    passed: &mut Vec<Fault>,
) -> Result<bool, Fault> {
    match row.listed() {
        Ok(listed) => ear(listed),
        Err(fault @ Fault::NoBeginning { .. }) => {
            passed.push(fault);
            Ok(true)
        }
        Err(fault) => Err(fault),
    }
}

/// Who holds a call, from its columns.
pub(super) fn holder(seat: Option<String>, token: Option<String>, since: Option<i64>) -> Option<Holder> {
    let seat = Seat { name: seat?, token: token? };
    Some(Holder { seat, since: When::from_millis(since?) })
}

/// An event from its columns.
pub(super) fn written(number: Number, place: i64, at: i64, event: &str) -> Result<Written, Fault> {
    let event: Entry = serde_json::from_str(event).map_err(|error| Fault::Garbled {
        number,
        place: u32::try_from(place).unwrap_or(u32::MAX),
        why: plainly(&error),
    })?;
    Ok(Written { at: When::from_millis(at), event })
}

/// A call with its events, which were read after it: another seat may have written more since, and none fewer.
pub(super) fn record(listed: Listed, mut events: Vec<Written>) -> Result<Record, Fault> {
    let (number, should) = (listed.number, usize::try_from(listed.events).unwrap_or(usize::MAX));
    let found = events.len();
    if found < should {
        return Err(Fault::Short { number, should, found });
    }
    events.truncate(should);
    Ok(Record { listed, events })
}

/// Anything of ours as JSON; our own types always can be.
pub(super) fn json(what: &impl serde::Serialize, place: &str) -> Result<String, Fault> {
    serde_json::to_string(what)
        .map_err(|error| Fault::Other { place: place.to_owned(), why: error.to_string() })
}

/// A whole call as text, to be taken in.
pub(super) struct Words {
    pub(super) opening: String,
    pub(super) summary: Option<String>,
    /// Whether there is something to go on with, as far as it says.
    pub(super) is_open: bool,
    /// When each event was written.
    pub(super) ats: Vec<i64>,
    pub(super) events: Vec<String>,
}

impl Words {
    pub(super) fn of(record: &Record, place: &str) -> Result<Self, Fault> {
        let Listed { opening, summary, .. } = &record.listed;
        Ok(Self {
            opening: json(opening, place)?,
            summary: summary.as_ref().map(|summary| json(summary, place)).transpose()?,
            is_open: summary.as_ref().is_none_or(Summary::is_open),
            ats: record.events.iter().map(|written| written.at.millis()).collect(),
            events: record
                .events
                .iter()
                .map(|written| json(&written.event, place))
                .collect::<Result<_, _>>()?,
        })
    }

    pub(super) fn count(&self) -> i64 {
        i64::try_from(self.events.len()).unwrap_or(i64::MAX)
    }
}
