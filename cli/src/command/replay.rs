//! `motorwright replay`: recorded cases against the rules.

mod by_ending;
mod calls;

use super::to_the_right;
use crate::args::ReplayArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::harmless::harmless;
use crate::wording;
use crate::{files, findings};
use comfy_table::{Table, presets};
use engine::call::{Halt, Passed};
use engine::case::{Case, Unanswered, Unproved, Verdict, replay};
use engine::cases_left_unread;
use engine::finding::Findings;
use engine::rulebook::{Answer, EndingId, FactId, RelationId, Rulebook};
use serde::Serialize;
use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// One case, as `--json` shows it.
#[derive(Serialize)]
struct Row<'r> {
    case: &'r str,
    expected: Vec<&'r str>,
    reached: Vec<&'r str>,
    ok: bool,
    asked: u32,
    lockouts: u32,
    minutes: f64,
    /// The relations that its readings break, so that they cannot all be true.
    breaks: Vec<&'r str>,
    /// What it states and nothing asked for.
    never_asked: Vec<&'r str>,
    /// What it states after a deed, and nothing came of it, with the ending of the deed.
    never_asked_after: Vec<(&'r str, &'r str)>,
}

pub(crate) fn run(
    book: &Arc<Rulebook>,
    arguments: &ReplayArguments,
    rules: Option<&Path>,
) -> Result<u8, Failure> {
    if arguments.calls {
        return calls::run(book, arguments);
    }
    let unread = unread(&arguments.paths)?;
    let cases = cases(book, &arguments.paths)?;
    let mut verdicts = Vec::with_capacity(cases.len());
    for (path, case) in &cases {
        let verdict = replay(book, case).map_err(|halt| Halt(format!("{}: {halt}", path.display())))?;
        verdicts.push((path, case, verdict));
    }
    let rows: Vec<Row<'_>> = verdicts.iter().map(|(_, case, verdict)| row(book, case, verdict)).collect();
    let mut out = anstream::stdout().lock();
    if arguments.json {
        if arguments.by_ending {
            as_json(&mut out, &by_ending::costs(&rows))?;
        } else {
            as_json(&mut out, &rows)?;
        }
    } else {
        if arguments.by_ending {
            show(&mut out, &by_ending::table(&by_ending::costs(&rows)))?;
        } else {
            show(&mut out, &table(&rows))?;
        }
        for (path, case, verdict) in verdicts.iter().filter(|(_, _, verdict)| !verdict.ok) {
            writeln!(out, "\n{}", differs(book, path, rules, case, verdict))?;
        }
        for (path, _, verdict) in &verdicts {
            for relation in &verdict.broken {
                writeln!(out, "\n{}", broken(book, path, *relation))?;
            }
        }
        for (path, _, verdict) in &verdicts {
            if let Some(remark) = never_asked(book, path, verdict) {
                writeln!(out, "\n{remark}")?;
            }
        }
        writeln!(out, "\n{}", tally(&rows))?;
    }
    Ok(if rows.iter().all(|row| row.ok) && !unread { OK } else { DISAGREES })
}

/// Tells of the cases that lie unread for their names; whether there are any.
pub(crate) fn unread(paths: &[PathBuf]) -> Result<bool, Failure> {
    let mut any = false;
    let mut err = anstream::stderr().lock();
    for path in paths {
        for finding in cases_left_unread(&files::heads_as_sources(&files::heads_of_others(path)?)) {
            findings::write(&mut err, &finding)?;
            any = true;
        }
    }
    Ok(any)
}

/// Every case of every path, with its file; the findings of all of them are reported together.
pub(crate) fn cases(book: &Rulebook, paths: &[PathBuf]) -> Result<Vec<(PathBuf, Case)>, Failure> {
    let mut findings = Findings::new();
    let mut cases = Vec::new();
    for path in paths {
        for file in files::yaml_below(path)? {
            let read = files::source(&file)?.and_then(|source| Case::read(book, source));
            cases.extend(findings.keep(read).map(|case| (file, case)));
        }
    }
    findings.finish()?;
    Ok(cases)
}

fn row<'r>(book: &'r Rulebook, case: &'r Case, verdict: &Verdict) -> Row<'r> {
    let name = |id: EndingId| book.ending(id).id.as_str();
    Row {
        case: &case.name,
        expected: case.ends.iter().map(|id| name(*id)).collect(),
        reached: verdict.ended.all().map(|reached| name(reached.ending)).collect(),
        ok: verdict.ok,
        asked: verdict.asked,
        lockouts: verdict.lockouts,
        minutes: verdict.minutes,
        breaks: verdict.broken.iter().map(|id| book.relation(*id).id.as_str()).collect(),
        never_asked: verdict.never_asked.iter().map(|fact| book.fact(*fact).id.as_str()).collect(),
        never_asked_after: verdict
            .never_asked_after
            .iter()
            .map(|(fact, ending)| (book.fact(*fact).id.as_str(), name(*ending)))
            .collect(),
    }
}

/// One JSON object a line.
fn as_json(out: &mut impl Write, rows: &[impl Serialize]) -> Result<(), Failure> {
    for row in rows {
        serde_json::to_writer(&mut *out, row).map_err(std::io::Error::from)?;
        writeln!(out)?;
    }
    Ok(())
}

fn show(out: &mut impl Write, table: &Table) -> Result<(), Failure> {
    for line in table.lines() {
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}

fn table(rows: &[Row<'_>]) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header([
        "",
        "case",
        "expected",
        "reached",
        "questions",
        "lock-outs",
        "minutes",
    ]);
    for row in rows {
        table.add_row([
            if row.ok { "agrees" } else { "DIFFERS" }.to_owned(),
            row.case.to_owned(),
            row.expected.join(", "),
            if row.ok { String::new() } else { row.reached.join(", ") },
            row.asked.to_string(),
            row.lockouts.to_string(),
            format!("{:.0}", row.minutes),
        ]);
    }
    to_the_right(&mut table, 4..7);
    table
}

/// Steps before an ending that are shown of a case that differs.
const MOST_LED: usize = 3;

/// Where a case that differs stands, what it leaves open, and how to watch it.
fn differs(book: &Rulebook, path: &Path, rules: Option<&Path>, case: &Case, verdict: &Verdict) -> String {
    let path = harmless(&path.display().to_string());
    let led = verdict.led.as_ref().map_or(String::new(), |(ending, trail)| led(book, &path, *ending, trail));
    let failed: Vec<String> = verdict.unproved.iter().map(|failed| not_proved(book, &path, failed)).collect();
    let missing: Vec<String> = verdict.unanswered.iter().map(|missing| unsaid(book, *missing)).collect();
    let missing = if missing.is_empty() {
        "everything that was asked is in it".to_owned()
    } else {
        format!("asked, and not in it: {}", missing.join(", "))
    };
    let rules =
        rules.map_or(String::new(), |rules| format!(" --rules {}", harmless(&rules.display().to_string())));
    let no_answer =
        verdict.not_an_answer.map(|ending| format!("\n{path}: {}", no_answer(book, case, ending)));
    let no_answer = no_answer.unwrap_or_default();
    format!(
        "{led}{}{path}: {missing}{no_answer}\nwatch it: motorwright call --answers {path}{rules}",
        failed.concat()
    )
}

/// What was read after a repair, and what of it would have proved it.
fn not_proved(book: &Rulebook, path: &str, failed: &Unproved) -> String {
    let fact = book.fact(failed.fact);
    let (ending, found) = (&book.ending(failed.ending).id, fact.show(&failed.found));
    let wanted = wording::wanted(fact, &failed.wanted);
    format!("{path}: `{ending}` was not proved: {} is {found}, and its proof expects {wanted}\n", fact.id)
}

/// The lines that led to another ending than a case has, the last ones: one of them, or the case, is wrong.
fn led(book: &Rulebook, path: &str, ending: EndingId, trail: &[Passed]) -> String {
    let steps: Vec<String> = trail
        .iter()
        .skip(trail.len().saturating_sub(MOST_LED))
        .map(|passed| {
            let step = book.step(passed.step);
            let tree = &book.tree(step.tree).id;
            let doubt = if passed.sure { "" } else { " (within the meter's doubt of an edge)" };
            format!("\n  {tree}: {}: {}{doubt}", step.id, harmless(&wording::branch(book, step, passed.line)))
        })
        .collect();
    let to = &book.ending(ending).id;
    if steps.is_empty() { String::new() } else { format!("{path}: led to `{to}` by{}\n", steps.concat()) }
}

/// What was asked and is not in a case, or the other way round, and behind which repair it has to be.
fn unsaid(book: &Rulebook, unsaid: Unanswered) -> String {
    let fact = &book.fact(unsaid.fact).id;
    unsaid.after.map_or_else(|| fact.clone(), |ending| format!("{fact} after `{}`", book.ending(ending).id))
}

/// Why an in-order ending did not stand, and how it can.
fn no_answer(book: &Rulebook, case: &Case, ending: EndingId) -> String {
    let roles = book.roles();
    let (ending, gone) = (&book.ending(ending).id, &book.fact(roles.gone.0).id);
    let complaint = match case.answers.reading(roles.complaint, 0) {
        Some(Answer::Value(value)) => format!("`{}`", book.fact(roles.complaint).show(&value)),
        Some(Answer::Cannot) | None => "the complaint".to_owned(),
    };
    format!(
        "the ending `{ending}` does not answer {complaint}: add it under `answers complaint`, or give `{gone}`"
    )
}

/// Which readings of a case cannot all be true, and what to do about it.
fn broken(book: &Rulebook, path: &Path, relation: RelationId) -> String {
    let relation = book.relation(relation);
    let path = harmless(&path.display().to_string());
    let facts: BTreeSet<FactId> = relation.facts().flat_map(|fact| book.made_of(fact)).collect();
    let facts: Vec<&str> = facts.iter().map(|fact| book.fact(*fact).id.as_str()).collect();
    format!(
        "{path}: note: its readings break `{}`: {}\nmend one of them, or give it a second reading: {}",
        relation.id,
        harmless(&relation.means),
        facts.join(", ")
    )
}

/// Readings that are named where nothing asked for them. A case that states all that the trade knows has many more, and
/// none of them says anything.
const MOST_NEVER_ASKED: usize = 8;

/// What a case states and nothing asked for: it may agree only for that.
fn never_asked(book: &Rulebook, path: &Path, verdict: &Verdict) -> Option<String> {
    let first = verdict.never_asked.iter().map(|fact| Unanswered { fact: *fact, after: None });
    let after =
        verdict.never_asked_after.iter().map(|(fact, after)| Unanswered { fact: *fact, after: Some(*after) });
    let few = |facts: Vec<Unanswered>| if facts.len() > MOST_NEVER_ASKED { Vec::new() } else { facts };
    let facts = [few(first.collect()), few(after.collect())].concat();
    let named: Vec<String> = facts.into_iter().map(|fact| unsaid(book, fact)).collect();
    let path = harmless(&path.display().to_string());
    (!named.is_empty())
        .then(|| format!("{path}: note: stated in it, and never asked for: {}", named.join(", ")))
}

fn tally(rows: &[Row<'_>]) -> String {
    let agree = rows.iter().filter(|row| row.ok).count();
    let differ = rows.len() - agree;
    let (plural, agrees, differs) = (
        if rows.len() == 1 { "" } else { "s" },
        if agree == 1 { "agrees" } else { "agree" },
        if differ == 1 { "differs" } else { "differ" },
    );
    format!("{} case{plural}: {agree} {agrees}, {differ} {differs}", rows.len())
}
