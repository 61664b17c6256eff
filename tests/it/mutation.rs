//! Slips that a person makes in the shipped rules: how many of them the checks or the cases find.
//!
//! Each is one edit of the text of one file, at every place that it fits. What it does is decided in this order: a
//! check tells of it; else it says the same as before; else a case turns red; else it breaks a promise that keeps people
//! safe (a power state, a caution, a proof, a hold-off, what is locked out and how), which `promises` lists; else it
//! escaped, if it sends a call elsewhere that no case records; else no harm was found.

mod judge;
mod kinds;
mod probe;
mod promises;
mod report;
mod sense;
mod text;

use judge::{Judge, Verdict};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use text::Edit;

/// One in so many edits is looked at in every run of the tests.
const SAMPLED: u64 = 2_003;

/// What came of edits, in their order, worked out on every core.
fn judged(judge: &Judge, edits: &[Edit]) -> Vec<(Edit, Verdict)> {
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let work = || {
        while let Some(edit) = edits.get(next.fetch_add(1, Ordering::Relaxed)) {
            let verdict = judge.verdict(edit);
            done.lock().unwrap().push((edit.clone(), verdict));
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(work);
        }
    });
    let mut done = done.into_inner().unwrap();
    done.sort_by_key(|(edit, _)| (edit.file, edit.out.start, edit.kind));
    done
}

/// One in so many edits, by what they do and not by where they stand: a line added elsewhere moves none of them.
fn one_in(edits: Vec<Edit>, texts: &[text::Text], many: u64) -> Vec<Edit> {
    let drawn = |edit: &Edit| {
        let old = &texts[edit.file].raw[edit.out.clone()];
        let says = format!("{} {} {old:?} {:?}", edit.kind, texts[edit.file].name, edit.new);
        // FNV-1a, which is the same on every machine.
        let mix = |hash: u64, byte: u8| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        says.bytes().fold(0xcbf2_9ce4_8422_2325, mix) % many == 0
    };
    edits.into_iter().filter(drawn).collect()
}

/// A sample of all slips, the same each time: whatever a change to the checks or the cases lets through shows here.
/// `MUTATION_ONE_IN` widens it, `MUTATION_KIND` keeps to kinds with that word, `MUTATION_REPORT` names a file.
#[test]
fn of_the_slips_drawn_nearly_all_that_do_harm_are_found() {
    let judge = Judge::new(text::shipped());
    let all = kinds::all(&judge.texts);
    assert!(all.len() > 20_000, "only {}", all.len());
    let kinds: std::collections::BTreeSet<&str> = all.iter().map(|edit| edit.kind).collect();
    assert!(kinds.len() >= 15, "only {kinds:?}");
    let asked = |name: &str| std::env::var(name).ok();
    let many = asked("MUTATION_ONE_IN").map_or(SAMPLED, |many| many.parse().unwrap());
    let kind = asked("MUTATION_KIND").unwrap_or_default();
    let of_kind = all.into_iter().filter(|edit| edit.kind.contains(&kind)).collect();
    let judged = judged(&judge, &one_in(of_kind, &judge.texts, many));
    let count = report::Count::of(judged.iter().map(|(_, verdict)| verdict));
    let report = report::of(&judge.texts, &judged);
    if let Some(path) = asked("MUTATION_REPORT") {
        std::fs::write(path, &report).unwrap();
    }
    // Some kinds are hard to find by themselves.
    assert!(!kind.is_empty() || count.all() >= 20 && count.told_of_harmful() >= 85.0, "{report}");
}
