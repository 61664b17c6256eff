//! `motorwright replay --calls`: recorded calls against today's rules.

use super::{as_json, show};
use crate::args::ReplayArguments;
use crate::command::kept;
use crate::failure::{DISAGREES, Failure};
use crate::harmless::harmless;
use crate::store::{Fault, Number, Record, RulesUsed, Store, Wanted};
use comfy_table::{Table, presets};
use engine::case::{Case, Recorded, replay};
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
    /// What happened in it and cannot be told again, so that the difference may lie there.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cannot_say: Vec<String>,
    /// Why nothing can be said of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<String>,
}

pub(super) fn run(book: &Arc<Rulebook>, arguments: &ReplayArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open_to_read()?;
    let today = Fingerprint::of(book).rules;
    let wanted = Wanted { since: kept::day(arguments.since.as_ref())?, ..Wanted::default() };
    let mut ended: Vec<(Number, RulesUsed, Summary)> = Vec::new();
    let mut all = 0_usize;
    let passed = kept::listed(store.as_mut(), book, &wanted, &mut |listed| {
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
        for row in rows {
            found.add(row);
        }
    }
    bar.finish_and_clear();
    if !arguments.json {
        found.show(&mut out, book, all - ended.len())?;
    }
    let code = kept::passed_over(&passed);
    Ok(if found.other.is_empty() { code } else { DISAGREES })
}

/// What some calls come to; read one after the other, played on all cores, told in their order.
fn rows(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    today: &str,
    some: &[(Number, RulesUsed, Summary)],
) -> Result<Vec<Row>, Failure> {
    let mut rows = Vec::with_capacity(some.len());
    for (number, rules, summary) in some {
        let row = Row::of(*number, summary, rules.decide == today);
        if row.same_rules {
            // A call is the fold of its words: by the rules that it went by it comes to what it came to.
            rows.push((row.unchanged(), None));
            continue;
        }
        match store.call(*number) {
            Ok(record) => rows.push((row, Some(record))),
            // Forgotten since it was listed.
            Err(Fault::NoCall(_)) => {}
            Err(fault) if fault.is_of_one_call() => {
                rows.push((Row { why: Some(fault.to_string()), ..row }, None));
            }
            Err(fault) => return Err(fault.into()),
        }
    }
    rows.into_par_iter().map(|(row, record)| row.today(book, record.as_ref())).collect()
}

impl Row {
    fn of(call: Number, summary: &Summary, same_rules: bool) -> Self {
        Self {
            call,
            came_to: summary.ends.iter().map(|end| end.ending.clone()).collect(),
            comes_to: None,
            agrees: false,
            same_rules,
            not_in_it: Vec::new(),
            cannot_say: Vec::new(),
            why: None,
        }
    }

    fn unchanged(self) -> Self {
        Self { comes_to: Some(self.came_to.clone()), agrees: true, ..self }
    }

    /// What was found is told to today's rules as they ask for it.
    fn today(mut self, book: &Arc<Rulebook>, record: Option<&Record>) -> Result<Self, Failure> {
        let Some(record) = record else {
            return Ok(self);
        };
        let call = match kept::call(book, record) {
            Ok(call) => call,
            Err(Failure::Log(Fault::Rules { why, .. })) => {
                self.why = Some(why.to_string());
                return Ok(self);
            }
            Err(failure) => return Err(failure),
        };
        let Recorded { case, unsaid } = Case::found_in(&call);
        let verdict = replay(book, &case)?;
        let comes_to: Vec<String> =
            verdict.ended.all().map(|reached| book.ending(reached.ending).id.clone()).collect();
        self.agrees = comes_to == self.came_to;
        self.comes_to = Some(comes_to);
        for unsaid in &verdict.unanswered {
            let fact = &book.fact(unsaid.fact).id;
            if !self.not_in_it.contains(fact) {
                self.not_in_it.push(fact.clone());
            }
        }
        self.cannot_say = unsaid;
        Ok(self)
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
                    harmless(&row.cannot_say.join("; ")),
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
