//! Rules looked through again at every save.
//!
//! The folder is read every so often; nothing of the operating system's own notices is leant on, so that it works over
//! any share. What was read is what is checked. A file that is being saved may be gone or half written for a moment: a
//! change is looked through once it has stood for one more look.

use super::{look_through, show};
use crate::failure::Failure;
use crate::files;
use engine::finding::Findings;
use engine::source::Source;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How often the folder is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(200);

/// Files with their bytes.
type Files = Vec<(PathBuf, Vec<u8>)>;

/// What a folder holds at a look: the rules, and how its other files begin; or what the disk does not give.
type Look = Result<(Files, Files), String>;

/// Shows what is found now, and again whenever it has changed. Ends only with the program, or with who reads it.
pub(super) fn run(folder: &Path) -> Result<u8, Failure> {
    // What is not there at the start is a slip in the name, not a save.
    let mut shown: Look = Ok(read(folder)?);
    once(&shown)?;
    let mut before = shown.clone();
    loop {
        std::thread::sleep(LOOK_EVERY);
        let now: Look = read(folder).map_err(|failure| failure.to_string());
        if now == before && now != shown {
            writeln!(anstream::stdout(), "\n---\n")?;
            once(&now)?;
            shown.clone_from(&now);
        }
        before = now;
    }
}

fn read(folder: &Path) -> Result<(Files, Files), Failure> {
    let read = |path: PathBuf| match std::fs::read(&path) {
        Ok(bytes) => Ok((path, bytes)),
        Err(error) => Err(Failure::read(&path, error)),
    };
    let rules = files::yaml_below(folder)?.into_iter().map(read).collect::<Result<_, _>>()?;
    Ok((rules, files::heads_of_others(folder)?))
}

fn once(look: &Look) -> Result<(), Failure> {
    let mut out = anstream::stdout().lock();
    match look {
        Ok((files, others)) => show(&mut out, &look_through(sources(files), others)?)?,
        Err(unreadable) => {
            writeln!(out, "{}", crate::harmless::harmless(unreadable))?;
            out.flush()?;
        }
    }
    Ok(())
}

fn sources(files: &[(PathBuf, Vec<u8>)]) -> Result<Vec<Source>, Failure> {
    let mut findings = Findings::new();
    let sources = files
        .iter()
        .filter_map(|(path, bytes)| findings.keep(Source::new(path.display().to_string(), bytes)))
        .collect();
    findings.finish()?;
    Ok(sources)
}
