//! `motorwright export`: calls as JSON lines.

use super::kept;
use crate::args::ExportArguments;
use crate::failure::Failure;
use crate::store::{Fault, Number, Opening, Record, Wanted, Written};
use engine::record::Summary;
use serde::{Deserialize, Serialize};
use std::io::Write;

/// What a line says it is; a newer form gets a new name.
pub(super) const FORM: &str = "motorwright-call-1";

/// A call in one line.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Line {
    pub(super) form: String,
    /// The number that it had; it gets a new one where it is taken in.
    number: Number,
    pub(super) opening: Opening,
    pub(super) events: Vec<Written>,
    pub(super) summary: Option<Summary>,
}

pub(crate) fn run(arguments: &ExportArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open_to_read()?;
    let mut out = std::io::BufWriter::new(anstream::stdout().lock());
    for number in &arguments.numbers {
        line(&mut out, &store.call(*number)?)?;
    }
    let mut passed = Vec::new();
    if arguments.numbers.is_empty() {
        let wanted = Wanted { since: kept::day(arguments.since.as_ref())?, ..Wanted::default() };
        let mut numbers = Vec::new();
        passed = store.each(&wanted, &mut |listed| {
            numbers.push(listed.number);
            Ok(true)
        })?;
        // The oldest first, so that they are taken in in their order.
        for number in numbers.into_iter().rev() {
            match store.call(number) {
                Ok(record) => line(&mut out, &record)?,
                // Of a log that is damaged, all that can be read is taken out.
                Err(fault) if fault.is_of_one_call() || matches!(fault, Fault::Damaged { .. }) => {
                    passed.push(fault);
                }
                // Forgotten since it was listed.
                Err(Fault::NoCall(_)) => {}
                Err(fault) => return Err(fault.into()),
            }
        }
    }
    out.flush()?;
    Ok(kept::passed_over(&passed))
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
