//! `motorwright import`: calls from JSON lines.

use super::export::Line;
use crate::args::ImportArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::store::{Listed, Record};
use std::fs::File;
use std::io::{BufRead, BufReader, Read as _, Write as _};

/// The longest line: a call has some hundreds of events of some hundred bytes.
const LONGEST: u64 = 16 << 20;

pub(crate) fn run(arguments: &ImportArguments) -> Result<u8, Failure> {
    let mut input: Box<dyn BufRead> = if arguments.file.as_os_str() == "-" {
        Box::new(std::io::stdin().lock())
    } else {
        let file = File::open(&arguments.file).map_err(|error| Failure::read(&arguments.file, error))?;
        Box::new(BufReader::new(file))
    };
    let mut store = arguments.log.open_or_make()?;
    let mut out = anstream::stdout().lock();
    let (mut taken, mut known, mut refused) = (0_u64, 0_u64, 0_u64);
    let mut bytes = Vec::new();
    for place in 1_u64.. {
        bytes.clear();
        let read = input.by_ref().take(LONGEST).read_until(b'\n', &mut bytes);
        if read.map_err(|error| Failure::read(&arguments.file, error))? == 0 {
            break;
        }
        if bytes.trim_ascii().is_empty() {
            continue;
        }
        let line = match record(&bytes) {
            Ok(line) => line,
            Err(why) => {
                refused += 1;
                writeln!(out, "line {place} is no call: {why}")?;
                continue;
            }
        };
        if store.number_of(&line.listed.opening.id)?.is_some() {
            known += 1;
            continue;
        }
        store.import(&line)?;
        taken += 1;
    }
    writeln!(out, "{taken} taken in, {known} here already, {refused} refused")?;
    Ok(if refused == 0 { OK } else { DISAGREES })
}

/// The call that a line tells of, or why it tells of none.
fn record(bytes: &[u8]) -> Result<Record, String> {
    if bytes.len() as u64 == LONGEST {
        return Err(format!("it is longer than {LONGEST} bytes"));
    }
    let line: Line = serde_json::from_slice(bytes).map_err(|error| error.to_string())?;
    if !line.is_known() {
        return Err("it has the form of another version of the program".to_owned());
    }
    if line.opening.unit.as_ref().is_some_and(|unit| unit.contains(char::is_control)) {
        return Err("the name of its unit has characters that cannot be seen".to_owned());
    }
    let events = u32::try_from(line.events.len()).map_err(|error| error.to_string())?;
    let last = line.events.last().map_or(line.opening.at, |written| written.at);
    let listed =
        Listed { number: 0, opening: line.opening, last, events, summary: line.summary, holder: None };
    Ok(Record { listed, events: line.events })
}
