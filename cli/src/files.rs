//! Finding and reading rule and case files.

use crate::failure::Failure;
use engine::finding::Findings;
use engine::source::Source;
use std::fs;
use std::path::{Path, PathBuf};

/// Every `.yaml` file below a folder, in order; a file stands for itself.
pub(crate) fn yaml_below(path: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut found = Vec::new();
    if fs::metadata(path).map_err(|error| Failure::read(path, error))?.is_dir() {
        collect(path, &mut found)?;
        found.sort();
        if found.is_empty() {
            return Err(Failure::NoYaml(path.to_owned()));
        }
    } else {
        found.push(path.to_owned());
    }
    Ok(found)
}

fn collect(folder: &Path, found: &mut Vec<PathBuf>) -> Result<(), Failure> {
    for entry in fs::read_dir(folder).map_err(|error| Failure::read(folder, error))? {
        let entry = entry.map_err(|error| Failure::read(folder, error))?;
        let path = entry.path();
        // A link is not followed into a folder: it could lead round in a circle.
        if entry.file_type().map_err(|error| Failure::read(&path, error))?.is_dir() {
            collect(&path, found)?;
        } else if path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml") {
            found.push(path);
        }
    }
    Ok(())
}

/// Reads files as text, and reports every one that is not.
pub(crate) fn read(paths: &[PathBuf]) -> Result<Vec<Source>, Failure> {
    let mut findings = Findings::new();
    let mut sources = Vec::with_capacity(paths.len());
    for path in paths {
        sources.extend(findings.keep(source(path)?));
    }
    findings.finish()?;
    Ok(sources)
}

/// Reads one file. The outer error is the disk's, the inner one the text's.
pub(crate) fn source(path: &Path) -> Result<Result<Source, engine::finding::Reported>, Failure> {
    let bytes = fs::read(path).map_err(|error| Failure::read(path, error))?;
    Ok(Source::new(path.display().to_string(), bytes))
}
