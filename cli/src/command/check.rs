//! `motorwright check`: rules looked through before any call is made with them.

mod coverage;
mod lockouts;
mod machine;
mod sarif;
mod watch;
mod whole;

use crate::args::CheckArguments;
use crate::command::outline;
use crate::failure::{DISAGREES, Failure, OK};
use crate::{files, findings, rules};
use engine::finding::{Finding, Place, Severity};
use engine::rulebook::{Rulebook, Tree};
use engine::source::Source;
use engine::{Checked, check_rules};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub(crate) fn run(arguments: &CheckArguments, rules: Option<&Path>) -> Result<u8, Failure> {
    // A path below the folder of the rules narrows what is shown: names are looked up in all of them.
    let above = arguments.path.as_deref().and_then(whole::around);
    let (folder, within) = match (arguments.path.as_deref(), rules) {
        (Some(path), Some(rules)) if path != rules && path.starts_with(rules) => (Some(rules), Some(path)),
        (path, rules) => above
            .as_ref()
            .map_or((path.or(rules), None), |(folder, path)| (Some(folder.as_path()), Some(path.as_path()))),
    };
    if let (Some(folder), Some(path)) = (folder, within) {
        whole::has(folder, path)?;
    }
    if arguments.watch {
        return watch::run(folder.ok_or(Failure::NothingToWatch)?);
    }
    let others = folder.map_or(Ok(Vec::new()), files::heads_of_others)?;
    let mut checked = look_through(rules::sources(folder), &others)?;
    if let Some(within) = within {
        let is_within = |place: &Place| Path::new(place.source().name()).starts_with(within);
        let has_part = |finding: &Finding| finding.more().iter().any(|(place, _)| is_within(place));
        checked.findings.retain(|finding| is_within(finding.place()) || has_part(finding));
    }
    // An error hinders the whole of the rules, wherever it is.
    let only = checked.book.as_ref().map(|book| tree(arguments, book)).transpose()?.flatten();
    if let Some(tree) = only {
        checked.findings.retain(|finding| finding.place().source().name() == tree.file);
    }
    let mut out = anstream::stdout().lock();
    if arguments.machine.sarif {
        sarif::show(&mut out, &checked.findings)?;
    } else if arguments.machine.json {
        machine::show(&mut out, &checked.findings)?;
    } else {
        show(&mut out, &checked)?;
    }
    if let Some(book) = checked.book.as_ref().filter(|_| arguments.lockouts) {
        if arguments.machine.json {
            lockouts::as_json(&mut out, book, only)?;
        } else {
            lockouts::show(&mut out, book, only)?;
        }
    }
    let only = only.map(|tree| tree.id.clone());
    if let (Some(cases), Some(book)) = (&arguments.coverage, checked.book)
        && coverage::show(&mut out, &Arc::new(book), cases, only.as_deref())?
    {
        return Ok(DISAGREES);
    }
    Ok(exit_code(&checked.findings))
}

/// The tree that is asked for alone.
fn tree<'b>(arguments: &CheckArguments, book: &'b Rulebook) -> Result<Option<&'b Tree>, Failure> {
    arguments.tree.as_deref().map(|id| outline::tree_named(book, id)).transpose()
}

/// Text that is no text is a finding as any other; a file that the disk does not give is a failure.
///
/// What lies unread stands first, and what is not known only for that is not told.
fn look_through(
    sources: Result<Vec<Source>, Failure>,
    others: &[(PathBuf, Vec<u8>)],
) -> Result<Checked, Failure> {
    match sources {
        Ok(sources) => {
            let mut checked = check_rules(sources.clone());
            checked.findings = rules::beside_unread(checked.findings, sources, others);
            Ok(checked)
        }
        Err(Failure::Reported(reported)) => {
            let findings = rules::beside_unread(reported.into_findings(), Vec::new(), others);
            Ok(Checked { findings, book: None })
        }
        Err(other) => Err(other),
    }
}

fn exit_code(found: &[Finding]) -> u8 {
    let worst = found.iter().map(|finding| finding.code().severity()).max();
    if worst.is_some_and(|worst| worst > Severity::Note) { DISAGREES } else { OK }
}

/// All findings, how many there are, and where more is said of them.
fn show(out: &mut impl Write, checked: &Checked) -> std::io::Result<()> {
    for finding in &checked.findings {
        findings::write(out, finding)?;
    }
    writeln!(out, "{}", tally(checked))?;
    if !checked.findings.is_empty() {
        writeln!(out, "{}", findings::MORE)?;
    }
    out.flush()
}

/// How many of each, and whether a call could be made.
fn tally(checked: &Checked) -> String {
    let count = |severity: Severity| {
        let many = checked.findings.iter().filter(|finding| finding.code().severity() == severity).count();
        let plural = if many == 1 { "" } else { "s" };
        (many > 0).then(|| format!("{many} {}{plural}", severity.word()))
    };
    let counts: Vec<String> =
        [Severity::Error, Severity::Warning, Severity::Note].into_iter().filter_map(count).collect();
    let found = if counts.is_empty() { "nothing found".to_owned() } else { counts.join(", ") };
    match &checked.book {
        Some(book) => format!(
            "{} trees, {} steps, {} readings, {} endings: {found}",
            book.trees().len(),
            book.steps().len(),
            book.facts().len(),
            book.endings().len()
        ),
        None if checked.findings.is_empty() => format!("{found}; no call can be made with these rules"),
        // What errors hinder is not looked for: names where a file cannot be read, branches where a name is not known.
        None => format!(
            "{found}; no call can be made with these rules, and more may be found once they are mended"
        ),
    }
}

/// The name of the file that a source was read from, as it is shown.
fn file_of(source: &Source) -> &str {
    source.name()
}
