//! `motorwright trial --faults list`: what can be put into a unit.

use super::table::write;
use crate::failure::{Failure, OK};
use crate::talk::Layout;
use bench::Fault;
use comfy_table::{Table, presets};
use engine::rulebook::Rulebook;
use serde::Serialize;
use std::io::Write as _;

/// One fault, as `--json` shows it.
#[derive(Serialize)]
struct Row {
    fault: &'static str,
    right: Vec<Right>,
}

/// An ending that is right for it.
#[derive(Serialize)]
struct Right {
    ending: &'static str,
    because: &'static str,
    /// Whether these rules have it.
    known: bool,
}

pub(super) fn run(book: &Rulebook, json: bool, layout: Layout) -> Result<u8, Failure> {
    let mut out = anstream::stdout().lock();
    let known = |ending: &str| book.ending_named(ending).is_some();
    if json {
        for fault in Fault::all() {
            let right =
                fault.right().map(|(ending, because)| Right { ending, because, known: known(ending) });
            let row = Row { fault: fault.id(), right: right.collect() };
            serde_json::to_writer(&mut out, &row).map_err(std::io::Error::from)?;
            writeln!(out)?;
        }
        return Ok(OK);
    }
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header(["fault", "which is", "ends right in", "because"]);
    for fault in Fault::all() {
        for (place, (ending, because)) in fault.right().enumerate() {
            let because =
                if known(ending) { because.to_owned() } else { format!("{because} (not in these rules)") };
            let [id, name] = if place == 0 { [fault.id(), fault.name()] } else { [""; 2] };
            table.add_row([id, name, ending, &because]);
        }
    }
    write(&mut out, &table, layout)?;
    Ok(OK)
}
