//! The files below a folder: for tests and benchmarks alike.

use std::fs;
use std::path::{Path, PathBuf};

/// Every file with this ending below a folder, in order.
pub(crate) fn below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    fn collect(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                collect(&path, ending, found);
            } else if path.extension().is_some_and(|other| other == ending) {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    collect(folder, ending, &mut found);
    found.sort();
    found
}
