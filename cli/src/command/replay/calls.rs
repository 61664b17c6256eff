//! `motorwright replay --calls`: recorded calls against today's rules.

use super::{as_json, show};
use crate::args::ReplayArguments;
use crate::command::kept;
use crate::failure::{DISAGREES, Failure, OK};
use crate::harmless::harmless;
use crate::store::{Fault, Number, Record, RulesUsed, Store, Wanted};
use comfy_table::{Table, presets};
use engine::call::{Call, Next};
use engine::case::{Case, replay};
use engine::record::{Fingerprint, Summary};
use engine::rulebook::Rulebook;
use indicatif::ProgressBar;
use rayon::prelude::*;
use serde::Serialize;
use std::io::Write;
use std::sync::Arc;

/// How many calls are held in memory at a time.
const AT_A_TIME: usize = 512;

/// One call, as `--json` shows it.
#[derive(Serialize)]
struct Row {
    call: Number,
    /// What it came to by the rules of then.
    came_to: Vec<String>,
    /// What it comes to by those of today; none where they do not know what is in it.
    comes_to: Option<Vec<String>>,
    agrees: bool,
    /// Whether the rules that decide are still the same.
    same_rules: bool,
    /// What is asked today and is not in it.
    not_in_it: Vec<String>,
    /// Why nothing can be said of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<String>,
}

pub(super) fn run(book: &Arc<Rulebook>, arguments: &ReplayArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let today = Fingerprint::of(book).rules;
    let wanted = Wanted { since: kept::day(arguments.since.as_ref())?, ..Wanted::default() };
    let mut ended: Vec<(Number, RulesUsed, Summary)> = Vec::new();
    let mut all = 0_usize;
    kept::listed(store.as_mut(), book, &wanted, &mut |listed| {
        all += 1;
        if let Some(summary) = listed.summary.filter(|summary| !summary.is_open()) {
            ended.push((listed.number, listed.opening.rules, summary));
        }
        true
    })?;
    let bar = ProgressBar::new(ended.len() as u64);
    let mut out = anstream::stdout().lock();
    let mut found = Found::default();
    for some in ended.chunks(AT_A_TIME) {
        let rows = rows(store.as_mut(), book, &today, some)?;
        bar.inc(rows.len() as u64);
        if arguments.json {
            as_json(&mut out, &rows)?;
        }
        rows.into_iter().for_each(|row| found.add(row));
    }
    bar.finish_and_clear();
    if !arguments.json {
        found.show(&mut out, book, all - ended.len())?;
    }
    Ok(if found.other.is_empty() { OK } else { DISAGREES })
}

/// What some calls come to; read one after the other, played on all cores, told in their order.
fn rows(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    today: &str,
    some: &[(Number, RulesUsed, Summary)],
) -> Result<Vec<Row>, Failure> {
    let mut records = Vec::with_capacity(some.len());
    for (number, rules, summary) in some {
        match store.call(*number) {
            Ok(record) => records.push((record, rules, summary)),
            // Forgotten since it was listed.
            Err(Fault::NoCall(_)) => {}
            Err(fault) => return Err(fault.into()),
        }
    }
    let row = |(record, rules, summary): (Record, &RulesUsed, &Summary)| {
        row(book, record, rules.decide == today, summary)
    };
    records.into_par_iter().map(row).collect()
}

fn row(book: &Arc<Rulebook>, record: Record, same_rules: bool, summary: &Summary) -> Result<Row, Failure> {
    let came_to: Vec<String> = summary.ends.iter().map(|end| end.ending.clone()).collect();
    let mut row = Row {
        call: record.listed.number,
        came_to,
        comes_to: None,
        agrees: false,
        same_rules,
        not_in_it: Vec::new(),
        why: None,
    };
    let call = match kept::call(book, &record) {
        Ok(call) => call,
        Err(Failure::Log(Fault::Rules { why, .. })) => {
            row.why = Some(why.to_string());
            return Ok(row);
        }
        Err(failure) => return Err(failure),
    };
    // Word for word it comes to the same: nothing more is to be known. Else what was found is told to today's rules
    // as they ask for it.
    let mut comes_to = word_for_word(&call);
    if comes_to.as_ref() != Some(&row.came_to) {
        let verdict = replay(book, &Case::found_in(&call))?;
        comes_to = Some(verdict.ended.all().map(|reached| book.ending(reached.ending).id.clone()).collect());
        row.not_in_it = verdict.unanswered.iter().map(|fact| book.fact(*fact).id.clone()).collect();
    }
    row.agrees = comes_to.as_ref() == Some(&row.came_to);
    row.comes_to = comes_to;
    Ok(row)
}

/// The endings that a call comes to by its own words, if they are enough for today's rules.
fn word_for_word(call: &Call) -> Option<Vec<String>> {
    match call.next() {
        Next::Ended(ended) => {
            Some(ended.all().map(|reached| call.book().ending(reached.ending).id.clone()).collect())
        }
        Next::Prompt(_) => None,
    }
}

/// What was found of all of them.
#[derive(Default)]
struct Found {
    agree: usize,
    other: Vec<Row>,
}

impl Found {
    fn add(&mut self, row: Row) {
        if row.agrees {
            self.agree += 1;
        } else {
            self.other.push(row);
        }
    }

    fn show(&self, out: &mut impl Write, book: &Rulebook, open: usize) -> Result<(), Failure> {
        if !self.other.is_empty() {
            let mut table = Table::new();
            table.load_preset(presets::NOTHING).set_header([
                "call",
                "came to",
                "comes to",
                "asked, and not in it",
            ]);
            for row in &self.other {
                let named = |ids: &[String]| {
                    ids.iter().map(|id| kept::name(book, id)).collect::<Vec<_>>().join("; then ")
                };
                let today = match (&row.comes_to, &row.why) {
                    (Some(ids), _) => named(ids),
                    (None, why) => format!("not known: {}", why.as_deref().unwrap_or_default()),
                };
                table.add_row([
                    row.call.to_string(),
                    harmless(&named(&row.came_to)),
                    harmless(&today),
                    row.not_in_it.join(", "),
                ]);
            }
            crate::command::to_the_right(&mut table, [0]);
            show(out, &table)?;
            writeln!(out)?;
        }
        let (agree, other) = (self.agree, self.other.len());
        let calls = if agree + other == 1 { "call" } else { "calls" };
        writeln!(
            out,
            "{} {calls} that ended: {agree} would end where they did, {other} elsewhere; {open} left open are not \
             played",
            agree + other
        )?;
        Ok(())
    }
}
