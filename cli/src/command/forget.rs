//! `motorwright forget`: a call is erased for good.

use super::kept;
use crate::args::ForgetArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::harmless::harmless;
use crate::store::{Fault, Listed, Number, Store};
use crate::talk::{columns, wrapped};
use engine::record::Summary;
use engine::rulebook::Rulebook;
use std::io::{IsTerminal as _, Write as _};
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &ForgetArguments) -> Result<u8, Failure> {
    let number = arguments.number;
    let mut store = arguments.log.open()?;
    if let Some(holder) = store.holder(number)?.filter(|holder| !holder.seat.is_gone()) {
        return Err(Fault::Held { number, holder }.into());
    }
    let mut out = anstream::stdout().lock();
    if !arguments.yes {
        if !std::io::stdin().is_terminal() {
            return Err(Failure::Unconfirmed(number));
        }
        let question = format!(
            "{} It cannot be had back. Type {number} again to erase it: ",
            harmless(&which(store.as_mut(), book, number)?)
        );
        let lines = wrapped(&question, columns().unwrap_or(80).max(40) - 10);
        write!(out, "{} ", lines.join("\n"))?;
        out.flush()?;
        let mut typed = String::new();
        std::io::stdin().read_line(&mut typed)?;
        if typed.trim() != number.to_string() {
            writeln!(out, "It was left as it is.")?;
            return Ok(DISAGREES);
        }
    }
    store.forget(number)?;
    writeln!(out, "Call {number} is erased.")?;
    Ok(OK)
}

/// Which call it is, so that nobody erases another.
fn which(store: &mut dyn Store, book: &Arc<Rulebook>, number: Number) -> Result<String, Failure> {
    let record = match store.call(number) {
        Ok(record) => record,
        Err(fault) if fault.is_of_one_call() || matches!(fault, Fault::Damaged { .. }) => {
            return Ok(format!("Call {number}, which cannot be read."));
        }
        Err(fault) => return Err(fault.into()),
    };
    let summary = kept::call(book, &record).map(|call| Summary::of(&call));
    let Listed { opening, events, summary: kept_summary, .. } = record.listed;
    let unit = opening.unit.map_or("no unit named".to_owned(), |unit| format!("unit {unit}"));
    let came_to = match summary.ok().or(kept_summary) {
        Some(summary) if summary.ends.is_empty() => "left open".to_owned(),
        Some(summary) => format!("came to: {}", kept::ends(book, &summary)),
        None => "by rules that are not these".to_owned(),
    };
    let entries = if events == 1 { "1 entry".to_owned() } else { format!("{events} entries") };
    Ok(format!("Call {number}, {unit}, begun {}, {came_to}; {entries}.", opening.at))
}
