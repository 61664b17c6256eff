//! What the targets start from: the files that are shipped, read once.

use engine::case::Case;
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

/// Every YAML file below a folder of the project, by its path from the root, in order.
pub fn files(folder: &str) -> Vec<(String, Vec<u8>)> {
    fn collect(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                collect(&path, found);
            } else if path.extension().is_some_and(|ending| ending == "yaml") {
                found.push(path);
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut found = Vec::new();
    collect(&root.join(folder), &mut found);
    found.sort();
    let named = |path: PathBuf| {
        let name = path.strip_prefix(&root).unwrap().display().to_string();
        (name, fs::read(path).unwrap())
    };
    found.into_iter().map(named).collect()
}

/// The rules that are shipped.
pub static BOOK: LazyLock<Arc<Rulebook>> = LazyLock::new(|| {
    let sources = files("rules").into_iter().map(|(name, text)| Source::new(name, text).unwrap());
    Arc::new(engine::read_rules(sources.collect::<Vec<_>>()).unwrap())
});

/// The cases that are shipped.
pub static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
    let read = |(name, text)| Case::read(&BOOK, Source::new(name, text).unwrap()).unwrap();
    files("cases").into_iter().map(read).collect()
});
