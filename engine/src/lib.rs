//! The diagnostic rules engine: from rule files to a rulebook, and from a complaint to a proved repair.
//!
//! Data runs one way: text, gated, parsed, resolved, bound into a rulebook, walked as a call, ended. Each stage is a
//! type that only its stage can make. The engine reads no files, prints nothing, has no clock; it is handed text and
//! asked what comes next.

pub mod source;

pub mod finding;

pub mod gate;

pub mod places;

pub mod quantity;

pub mod formula;

mod mend;

mod parsed;

mod resolve;

mod graph;

pub mod paths;

mod check;

pub mod rulebook;

pub mod call;

pub mod case;

pub mod hitting;

pub mod meter;

pub mod record;

pub use graph::StepGraph;
pub use parsed::{Parsed, cases_left_unread, left_unread};
pub use resolve::Resolved;

use finding::{Code, Finding, Reported};
use rulebook::Rulebook;
use source::Source;

/// Reads rule files into a rulebook: every stage in turn, stopping behind the first that finds an error.
///
/// # Errors
/// All findings of the first stage that has an error among them.
pub fn read_rules(sources: impl IntoIterator<Item = Source>) -> Result<Rulebook, Reported> {
    let resolved = resolve(sources)?;
    let book = Rulebook::bind(resolved)?;
    tracing::debug!(
        facts = book.facts().len(),
        steps = book.steps().len(),
        endings = book.endings().len(),
        "rulebook bound"
    );
    Ok(book)
}

/// Rules that were looked through: all that was found, and the rulebook where no error is among it.
#[derive(Debug)]
pub struct Checked {
    /// What was found: errors first, then warnings, then notes, each in file order.
    pub findings: Vec<Finding>,
    /// The rulebook, if a call can be made with it.
    pub book: Option<Rulebook>,
}

/// Looks rule files through: as [`read_rules`], and where nothing hinders a call, for what is still to be mended.
pub fn check_rules(sources: impl IntoIterator<Item = Source>) -> Checked {
    match resolve(sources).and_then(Rulebook::prove) {
        Ok((book, mut findings)) => {
            // A trainer's own slip is not to be looked for behind notes on rules that were there before.
            findings.sort_by_key(|finding| std::cmp::Reverse(finding.code().severity()));
            Checked { findings, book: Some(book) }
        }
        Err(reported) => Checked { findings: reported.into_findings(), book: None },
    }
}

/// Of what was found in rules, what is left once more files are read: a name that one of these gives is no finding, nor is
/// what only comes of its not being known.
///
/// All is left where no name is missing, and where the files cannot be read so far that names are looked up.
pub fn unknown_still(mut found: Vec<Finding>, rules: Vec<Source>, more: Vec<Source>) -> Vec<Finding> {
    // Names are looked up in one stage; what was found in another stands.
    if more.is_empty()
        || !found.iter().any(|finding| matches!(finding.code(), Code::UnknownId | Code::MissingFile))
    {
        return found;
    }
    let still = match Parsed::read(rules.into_iter().chain(more)).map(Resolved::from_parsed) {
        Ok(Ok(_)) => Vec::new(),
        Ok(Err(reported)) => reported.into_findings(),
        Err(_) => return found,
    };
    let stands = |finding: &Finding| {
        let same = |other: &Finding| other.code() == finding.code() && other.place().is_in(finding.place());
        still.iter().any(same)
    };
    found.retain(stands);
    found
}

/// The stages up to the one in which every name is known. Names are looked up only where every file could be read: those
/// of a file that could not are not known.
fn resolve(sources: impl IntoIterator<Item = Source>) -> Result<Resolved, Reported> {
    Resolved::from_parsed(Parsed::read(sources)?)
}
