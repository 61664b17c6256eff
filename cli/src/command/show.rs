//! `motorwright show`: a call that is kept, as it went.

use super::{call as calls, export, kept};
use crate::args::ShowArguments;
use crate::failure::{Failure, OK};
use crate::store::{Record, Store};
use crate::talk::Account;
use engine::case::Case;
use engine::rulebook::Rulebook;
use std::io::Write as _;
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &ShowArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open_to_read()?;
    let record = store.call(arguments.number)?;
    if arguments.json {
        export::line(&mut anstream::stdout().lock(), &record)?;
        return Ok(OK);
    }
    let call = kept::call(book, &record)?;
    if arguments.as_case {
        let about = format!("Recorded on {}.", record.listed.opening.at);
        let case = Case::of_call(&call, &format!("call-{}", arguments.number), Some(&about));
        write!(anstream::stdout().lock(), "{}", case.to_yaml(book))?;
        return Ok(OK);
    }
    let head = head(store.as_mut(), &record)?;
    let (units, layout) = (calls::units(&arguments.talk), calls::layout(&arguments.talk));
    let times: Vec<String> = record.events.iter().map(|written| written.at.to_string()).collect();
    Account::new(Box::new(anstream::stdout()), units, layout).show(&call, &head, &times)?;
    Ok(OK)
}

/// Which call it is, where it comes from, and who has it.
fn head(store: &mut dyn Store, record: &Record) -> Result<Vec<String>, Failure> {
    let listed = &record.listed;
    let opening = &listed.opening;
    let on = opening.unit.as_ref().map_or(String::new(), |unit| format!(" on {unit}"));
    let mut lines = vec![format!("Call {}{on}, begun {}.", listed.number, opening.at)];
    if let Some(id) = &opening.again_of {
        lines.push(match store.number_of(id)? {
            Some(number) => format!("It began with what call {number} on the same unit left."),
            None => {
                "It began with what an earlier call on the same unit left; that one is not here.".to_owned()
            }
        });
    }
    if let Some(holder) = listed.holder.as_ref().filter(|holder| !holder.seat.is_gone()) {
        lines.push(format!("It is under way: {holder}."));
    }
    Ok(lines)
}
