//! The rulebook that a command works with: the one built in, or a trainer's folder.

use crate::failure::Failure;
use crate::files;
use engine::finding::Finding;
use engine::rulebook::Rulebook;
use engine::source::Source;
use engine::{left_unread, unknown_still};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Name and text of every file of the folder that was built in.
const BUILT_IN: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/rules.rs"));

/// Reads the rules of a folder, or the ones built in.
pub(crate) fn load(folder: Option<&Path>) -> Result<Arc<Rulebook>, Failure> {
    let sources = sources(folder)?;
    engine::read_rules(sources.clone()).map(Arc::new).map_err(|reported| {
        let others = folder.and_then(|folder| files::heads_of_others(folder).ok()).unwrap_or_default();
        let found = beside_unread(reported.findings().to_vec(), sources, &others);
        reported.instead(found).into()
    })
}

/// What is found in rules beside which files lie unread: these stand first, and the names that they give are no finding.
pub(crate) fn beside_unread(
    found: Vec<Finding>,
    sources: Vec<Source>,
    others: &[(PathBuf, Vec<u8>)],
) -> Vec<Finding> {
    let mut unread = left_unread(&files::heads_as_sources(others));
    let whole = |finding: &Finding| files::source(Path::new(finding.place().source().name())).ok()?.ok();
    let read: Vec<Source> = unread.iter().filter_map(whole).collect();
    unread.extend(unknown_still(found, sources, read));
    unread
}

/// The rule files of a folder, or the ones built in.
pub(crate) fn sources(folder: Option<&Path>) -> Result<Vec<Source>, Failure> {
    match folder {
        Some(folder) => files::read(&files::yaml_below(folder)?),
        None => Ok(BUILT_IN.iter().map(|(name, text)| Source::new(*name, text)).collect::<Result<_, _>>()?),
    }
}
