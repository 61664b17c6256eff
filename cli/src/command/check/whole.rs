//! The whole of the rules around a path that is only a part of them.

use crate::failure::Failure;
use crate::files;
use engine::finding::near;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// The file that stands in the folder of the rules itself.
const AT_THE_TOP: &str = "power.yaml";

/// The folder of the rules that a path is a part of, and the path as its files are named: the nearest folder above it
/// that holds the power steps. `None` for a path that holds them itself, or that none is above.
pub(super) fn around(path: &Path) -> Option<(PathBuf, PathBuf)> {
    if path.join(AT_THE_TOP).is_file() || path.file_name() == Some(OsStr::new(AT_THE_TOP)) {
        return None;
    }
    let above = |path: &Path| {
        let mut folders = path.ancestors().skip(1).filter(|folder| !folder.as_os_str().is_empty());
        let found = folders.find(|folder| folder.join(AT_THE_TOP).is_file())?;
        Some((found.to_owned(), path.to_owned()))
    };
    // What is named from within the rules has the folder above it only by its whole name.
    above(path).or_else(|| above(&std::path::absolute(path).ok()?))
}

/// Tells of a path below the rules that is not there, with the name that is most like it.
pub(super) fn has(folder: &Path, path: &Path) -> Result<(), Failure> {
    // A link that leads nowhere is told of when it is read.
    if path.symlink_metadata().is_ok() {
        return Ok(());
    }
    let files = files::yaml_below(folder)?;
    let asked = path.file_name().and_then(OsStr::to_str).unwrap_or_default();
    let like = |files: &[&PathBuf]| {
        let meant = near(asked, files.iter().filter_map(|file| file.file_name()?.to_str()))?;
        files.iter().find(|file| file.file_name() == Some(OsStr::new(meant))).map(|file| (*file).clone())
    };
    let (beside, others): (Vec<_>, Vec<_>) = files.iter().partition(|file| file.parent() == path.parent());
    let near = like(&beside).or_else(|| like(&others));
    Err(Failure::NoRules { path: path.to_owned(), folder: folder.to_owned(), near })
}
