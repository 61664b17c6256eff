//! `motorwright forget`: a call is erased for good.

use crate::args::ForgetArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::store::Fault;
use std::io::{IsTerminal as _, Write as _};

pub(crate) fn run(arguments: &ForgetArguments) -> Result<u8, Failure> {
    let number = arguments.number;
    let mut store = arguments.log.open()?;
    let listed = store.call(number)?.listed;
    if let Some(holder) = listed.holder.filter(|holder| !holder.seat.is_gone()) {
        return Err(Fault::Held { number, holder }.into());
    }
    let mut out = anstream::stdout().lock();
    if !arguments.yes {
        if !std::io::stdin().is_terminal() {
            return Err(Failure::Unconfirmed(number));
        }
        let events = listed.events;
        write!(
            out,
            "Call {number}, begun {}, {events} entries: it cannot be had back. Type {number} again to erase it: ",
            listed.opening.at
        )?;
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
