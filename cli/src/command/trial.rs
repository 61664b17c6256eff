//! `motorwright trial`: the rules on simulated units, with faults put into them.

mod figures;
mod list;
mod made;
mod page;
mod put_in;
mod row;
mod table;
mod watch;
mod wording;

use crate::args::TrialArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::files::write_whole;
use engine::rulebook::Rulebook;
use figures::Figures;
use put_in::Plan;
use std::io::Write as _;
use std::path::Path;
use std::sync::Arc;

pub(crate) fn run(
    book: &Arc<Rulebook>,
    arguments: &TrialArguments,
    rules: Option<&Path>,
) -> Result<u8, Failure> {
    let layout = super::call::layout(&arguments.talk);
    if arguments.put_in.faults == ["list"] {
        return list::run(book, arguments.json, layout);
    }
    let plan = Plan::of(arguments)?;
    if let Some(call) = arguments.show {
        return watch::run(book, &plan, call, arguments);
    }
    let trials = made::all(book, &plan, arguments)?;
    let figures = Figures::of(book, &trials);
    let mut out = anstream::stdout().lock();
    if let Some(file) = &arguments.html {
        let page = page::of(book, &plan, &figures);
        write_whole(file, &page)?;
    }
    if arguments.json {
        row::all(&mut out, book, &plan, &trials)?;
    } else if arguments.html.is_some() {
        writeln!(out, "{}", wording::scope(&plan, &figures))?;
        writeln!(out, "{}", wording::headline(&plan, &figures))?;
    } else {
        table::show(&mut out, book, &plan, &figures, layout)?;
        table::worst(&mut out, book, &trials, (&wording::again(arguments, rules), layout))?;
    }
    Ok(if figures.is_sound() { OK } else { DISAGREES })
}
