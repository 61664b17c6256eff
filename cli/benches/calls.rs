//! How fast rules are read and calls are walked, with nothing on disk while the clock runs.
//!
//! `cargo bench --bench calls`. The throughput of `replay_all_cases` is in questions that a step asked.
#![expect(clippy::unwrap_used, reason = "a benchmark that cannot start has failed")]

#[path = "../../tests/it/below.rs"]
mod below;

use below::below;
use divan::counter::{BytesCount, ItemsCount};
use engine::case::{Case, replay};
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::path::Path;
use std::sync::Arc;

fn main() {
    divan::main();
}

fn texts(folder: &str) -> Vec<(String, String)> {
    let found = below(&Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(folder), "yaml");
    found.iter().map(|path| (path.display().to_string(), std::fs::read_to_string(path).unwrap())).collect()
}

fn book(texts: &[(String, String)]) -> Rulebook {
    engine::read_rules(texts.iter().map(|(name, text)| Source::new(name, text).unwrap())).unwrap()
}

#[divan::bench]
fn read_the_shipped_rules(bencher: divan::Bencher<'_, '_>) {
    let texts = texts("rules");
    let bytes: usize = texts.iter().map(|(_, text)| text.len()).sum();
    bencher.counter(BytesCount::new(bytes)).bench(|| book(&texts));
}

/// What the prescribed YAML library alone takes for the same text: the yardstick beside which the above is read.
#[divan::bench]
fn the_yaml_library_alone(bencher: divan::Bencher<'_, '_>) {
    let texts = texts("rules");
    let bytes: usize = texts.iter().map(|(_, text)| text.len()).sum();
    bencher.counter(BytesCount::new(bytes)).bench(|| {
        texts
            .iter()
            .map(|(_, text)| serde_yaml::from_str::<serde_yaml::Value>(text).unwrap())
            .collect::<Vec<_>>()
    });
}

#[divan::bench]
fn replay_all_cases(bencher: divan::Bencher<'_, '_>) {
    let book = Arc::new(book(&texts("rules")));
    let cases: Vec<Case> = texts("cases")
        .iter()
        .map(|(name, text)| Case::read(&book, Source::new(name, text).unwrap()).unwrap())
        .collect();
    let questions: u32 = cases.iter().map(|case| replay(&book, case).unwrap().asked).sum();
    bencher
        .counter(ItemsCount::new(questions))
        .bench(|| cases.iter().map(|case| replay(&book, case).unwrap().asked).sum::<u32>());
}
