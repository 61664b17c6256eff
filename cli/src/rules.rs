//! The rulebook that a command works with: the one built in, or a trainer's folder.

use crate::failure::Failure;
use crate::files;
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::path::Path;
use std::sync::Arc;

/// Name and text of every file of the folder that was built in.
const BUILT_IN: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/rules.rs"));

/// Reads the rules of a folder, or the ones built in.
pub(crate) fn load(folder: Option<&Path>) -> Result<Arc<Rulebook>, Failure> {
    Ok(Arc::new(engine::read_rules(sources(folder)?)?))
}

/// The rule files of a folder, or the ones built in.
pub(crate) fn sources(folder: Option<&Path>) -> Result<Vec<Source>, Failure> {
    match folder {
        Some(folder) => files::read(&files::yaml_below(folder)?),
        None => Ok(BUILT_IN.iter().map(|(name, text)| Source::new(*name, text)).collect::<Result<_, _>>()?),
    }
}
