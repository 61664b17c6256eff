//! `motorwright export`: calls as JSON lines.

use super::kept;
use crate::args::ExportArguments;
use crate::failure::{Failure, OK};
use crate::store::{Number, Opening, Record, Wanted, Written};
use engine::record::Summary;
use serde::{Deserialize, Serialize};
use std::io::Write;

/// What a line says it is; a newer form gets a new name.
const FORM: &str = "motorwright-call-1";

/// A call in one line.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Line {
    form: String,
    /// The number that it had; it gets a new one where it is taken in.
    number: Number,
    pub(super) opening: Opening,
    pub(super) events: Vec<Written>,
    pub(super) summary: Option<Summary>,
}

impl Line {
    /// Whether this program knows the form of the line.
    pub(super) fn is_known(&self) -> bool {
        self.form == FORM
    }
}

pub(crate) fn run(arguments: &ExportArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let mut numbers = arguments.numbers.clone();
    if numbers.is_empty() {
        let wanted = Wanted { since: kept::day(arguments.since.as_ref())?, ..Wanted::default() };
        store.each(&wanted, &mut |listed| {
            numbers.push(listed.number);
            Ok(true)
        })?;
        // The oldest first, so that they are taken in in their order.
        numbers.reverse();
    }
    let mut out = std::io::BufWriter::new(anstream::stdout().lock());
    for number in numbers {
        line(&mut out, &store.call(number)?)?;
    }
    out.flush()?;
    Ok(OK)
}

/// Writes a call as one line.
pub(super) fn line(out: &mut impl Write, record: &Record) -> Result<(), Failure> {
    let listed = &record.listed;
    let line = Line {
        form: FORM.to_owned(),
        number: listed.number,
        opening: listed.opening.clone(),
        events: record.events.clone(),
        summary: listed.summary.clone(),
    };
    serde_json::to_writer(&mut *out, &line).map_err(std::io::Error::from)?;
    Ok(writeln!(out)?)
}
