//! `motorwright import`: calls from JSON lines.

mod line;

use super::table::broken;
use crate::args::ImportArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::harmless::harmless;
use crate::store::{Fault, Number, Record, Store};
use line::{LONGEST, record};
use std::fs::File;
use std::io::{BufRead, BufReader, Read as _, Write};

pub(crate) fn run(arguments: &ImportArguments) -> Result<u8, Failure> {
    let mut input: Box<dyn BufRead> = if arguments.file.as_os_str() == "-" {
        Box::new(std::io::stdin().lock())
    } else {
        let file = File::open(&arguments.file).map_err(|error| Failure::read(&arguments.file, error))?;
        Box::new(BufReader::new(file))
    };
    let mut store = arguments.log.open_or_make()?;
    let mut out = anstream::stdout().lock();
    let mut count = Count::default();
    let mut bytes = Vec::new();
    for place in 1_u64.. {
        bytes.clear();
        let read = input.by_ref().take(LONGEST).read_until(b'\n', &mut bytes);
        if read.map_err(|error| Failure::read(&arguments.file, error))? == 0 {
            break;
        }
        // An editor may have marked the file as text in UTF-8.
        let line = bytes.strip_prefix(b"\xEF\xBB\xBF").filter(|_| place == 1).unwrap_or(&bytes);
        if line.trim_ascii().is_empty() {
            continue;
        }
        let came = match record(line) {
            Ok(record) => taken(store.as_mut(), &record, arguments.forgotten_too)?,
            Err(why) => Came::Refused(why),
        };
        count.add(&mut out, place, came)?;
    }
    count.show(&mut out)?;
    Ok(if count.refused + count.differ + count.busy == 0 { OK } else { DISAGREES })
}

/// What became of a line.
enum Came {
    /// It is a new call here.
    In,
    /// It went on where the call here ended.
    On,
    /// All of it is here.
    Here,
    /// It was forgotten here.
    Forgotten,
    /// It and the call here say something else from this event on, counted from 1.
    Differs(Number, usize),
    /// It goes on from the call here, which somebody is on.
    Busy(Fault),
    /// It is no call.
    Refused(String),
}

/// Takes a call in, or what it has beyond the one that is here.
fn taken(store: &mut dyn Store, record: &Record, forgotten_too: bool) -> Result<Came, Failure> {
    let id = &record.listed.opening.id;
    let Some(number) = store.number_of(id)? else {
        if !forgotten_too && store.is_forgotten(id)? {
            return Ok(Came::Forgotten);
        }
        store.import(record)?;
        return Ok(Came::In);
    };
    let here = match store.call(number) {
        Ok(here) => here,
        // What cannot be read here cannot be compared.
        Err(fault) if fault.is_of_one_call() => return Ok(Came::Differs(number, 1)),
        Err(fault) => return Err(fault.into()),
    };
    if here.listed.opening != record.listed.opening {
        return Ok(Came::Differs(number, 1));
    }
    let same = here.events.iter().zip(&record.events).take_while(|(here, there)| here == there).count();
    if same == record.events.len() {
        return Ok(Came::Here);
    }
    if same < here.events.len() {
        return Ok(Came::Differs(number, same + 1));
    }
    if let Some(holder) = here.listed.holder.clone().filter(|holder| !holder.seat.is_gone()) {
        return Ok(Came::Busy(Fault::Held { number, holder }));
    }
    if store.lengthen(&here.listed, record)? {
        return Ok(Came::On);
    }
    // Somebody was faster, and has it now.
    match store.holder(number)? {
        Some(holder) => Ok(Came::Busy(Fault::Held { number, holder })),
        None => taken(store, record, forgotten_too),
    }
}

/// How many lines came to what.
#[derive(Default)]
struct Count {
    taken: u64,
    on: u64,
    here: u64,
    forgotten: u64,
    differ: u64,
    busy: u64,
    refused: u64,
}

impl Count {
    /// Counts a line, and tells of one that was not taken in.
    fn add(&mut self, out: &mut impl Write, place: u64, came: Came) -> std::io::Result<()> {
        let told: Option<String> = match came {
            Came::In => {
                self.taken += 1;
                None
            }
            Came::On => {
                self.on += 1;
                None
            }
            Came::Here => {
                self.here += 1;
                None
            }
            Came::Forgotten => {
                self.forgotten += 1;
                None
            }
            Came::Differs(number, event) => {
                self.differ += 1;
                Some(format!(
                    "line {place}: differs from call {number} here from entry {event} on; call {number} was left as it is"
                ))
            }
            Came::Busy(fault) => {
                self.busy += 1;
                Some(format!("line {place}: goes on from a call here, and was left out: {fault}"))
            }
            Came::Refused(why) => {
                self.refused += 1;
                Some(format!("line {place} is no call: {why}"))
            }
        };
        told.map_or(Ok(()), |told| broken(out, &harmless(&told)))
    }

    fn show(&self, out: &mut impl Write) -> std::io::Result<()> {
        let always = [(self.taken, "taken in"), (self.here, "here already"), (self.refused, "refused")];
        let seldom = [
            (self.on, "here already and longer now"),
            (self.differ, "left out as they differ from the call here"),
            (self.busy, "left out as somebody is on the call here"),
            (self.forgotten, "left out as they were forgotten here (--forgotten-too takes them in)"),
        ];
        let seldom = seldom.into_iter().filter(|(count, _)| *count > 0);
        let parts = always.into_iter().chain(seldom).map(|(count, what)| format!("{count} {what}"));
        broken(out, &parts.collect::<Vec<_>>().join(", "))
    }
}
