//! `motorwright check`: rules looked through before any call is made with them.

mod coverage;
mod machine;
mod sarif;

use crate::args::CheckArguments;
use crate::failure::{DISAGREES, Failure, OK};
use crate::{files, rules};
use engine::finding::{Finding, Severity};
use engine::source::Source;
use engine::{Checked, check_rules};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

/// How often a watched folder is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(300);

pub(crate) fn run(arguments: &CheckArguments, rules: Option<&Path>) -> Result<u8, Failure> {
    let folder = arguments.path.as_deref().or(rules);
    if arguments.watch {
        return watch(arguments, folder);
    }
    let checked = look_through(folder)?;
    let mut out = anstream::stdout().lock();
    show(&mut out, arguments, &checked)?;
    if let (Some(cases), Some(book)) = (&arguments.coverage, checked.book) {
        coverage::show(&mut out, &Arc::new(book), cases)?;
    }
    Ok(exit_code(&checked.findings))
}

/// Text that is no text is a finding as any other; a file that the disk does not give is a failure.
fn look_through(folder: Option<&Path>) -> Result<Checked, Failure> {
    match rules::sources(folder) {
        Ok(sources) => Ok(check_rules(sources)),
        Err(Failure::Reported(reported)) => {
            Ok(Checked { findings: reported.into_findings(), book: None })
        }
        Err(other) => Err(other),
    }
}

fn exit_code(findings: &[Finding]) -> u8 {
    let worst = findings.iter().map(|finding| finding.code().severity()).max();
    if worst.is_some_and(|worst| worst > Severity::Note) { DISAGREES } else { OK }
}

fn show(out: &mut impl Write, arguments: &CheckArguments, checked: &Checked) -> Result<(), Failure> {
    if arguments.sarif {
        return sarif::show(out, &checked.findings);
    }
    if arguments.json {
        return machine::show(out, &checked.findings);
    }
    for finding in &checked.findings {
        writeln!(out, "{}", finding.with_source())?;
    }
    writeln!(out, "{}", tally(checked))?;
    Ok(())
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
    let looked = checked.book.as_ref().map_or(String::new(), |book| {
        format!(
            "{} trees, {} steps, {} readings, {} endings: ",
            book.trees().len(),
            book.steps().len(),
            book.facts().len(),
            book.endings().len()
        )
    });
    match (counts.is_empty(), &checked.book) {
        (true, _) => format!("{looked}nothing found"),
        (false, Some(_)) => format!("{looked}{}", counts.join(", ")),
        (false, None) => format!("{}; no call can be made with these rules", counts.join(", ")),
    }
}

/// Looks through again whenever a file has changed, until it is stopped.
fn watch(arguments: &CheckArguments, folder: Option<&Path>) -> Result<u8, Failure> {
    let Some(folder) = folder else {
        return Err(Failure::NothingToWatch);
    };
    let mut before: Option<Vec<Vec<u8>>> = None;
    loop {
        let now = texts(folder)?;
        if before.as_ref() != Some(&now) {
            let checked = look_through(Some(folder))?;
            let mut out = anstream::stdout().lock();
            if before.is_some() && !arguments.json && !arguments.sarif {
                writeln!(out, "\n---\n")?;
            }
            show(&mut out, arguments, &checked)?;
            out.flush()?;
            before = Some(now);
        }
        std::thread::sleep(LOOK_EVERY);
    }
}

/// What the files hold now. A file that is being saved may be gone for a moment: it is read at the next look.
fn texts(folder: &Path) -> Result<Vec<Vec<u8>>, Failure> {
    let paths = files::yaml_below(folder)?;
    Ok(paths
        .iter()
        .filter_map(|path| {
            let mut text = path.display().to_string().into_bytes();
            text.extend(std::fs::read(path).ok()?);
            Some(text)
        })
        .collect())
}

/// The name of the file that a source was read from, as it is shown.
fn file_of(source: &Source) -> &str {
    source.name()
}
