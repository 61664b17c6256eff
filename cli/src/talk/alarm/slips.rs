//! Words of danger with a slip in them: `carbon monoxde`. Nobody in danger looks at what they typed.

use super::signs::{SIGNS, Sign};
use super::words;
use engine::finding::near;
use engine::rulebook::Rulebook;
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// Letters that a word of a sign has to have: a shorter one is one slip away from too many others.
const LEAST: usize = 7;

/// The words that signs are looked for by, with a star where only the start is told.
static OF_SIGNS: LazyLock<BTreeSet<&str>> = LazyLock::new(|| {
    let of = |sign: &'static Sign| {
        [sign.any, sign.before, sign.unless, sign.not_before].into_iter().chain(sign.with.iter().copied())
    };
    SIGNS.iter().flat_map(of).flat_map(|patterns| patterns.split(['|', ' '])).collect()
});

/// Puts those words right that are one slip away from a word of a sign. What stands in the rules as it is typed is
/// no slip, and neither is another word of a sign.
pub(super) fn put_right(book: &Rulebook, line: &mut [String]) {
    let meant: Vec<(usize, String)> =
        (0..line.len()).filter_map(|at| Some((at, meant(&line[at])?))).collect();
    if meant.is_empty() {
        return;
    }
    let of_trade = of_trade(book);
    for (at, word) in meant {
        if !of_trade.contains(&line[at]) {
            line[at] = word;
        }
    }
}

/// The word of a sign that a word with a slip in it was meant for.
fn meant(word: &str) -> Option<String> {
    let is_known = OF_SIGNS.iter().any(|own| match own.strip_suffix('*') {
        Some(start) => word.starts_with(start),
        None => *own == word,
    });
    if is_known || word.len() + 1 < LEAST {
        return None;
    }
    let long = OF_SIGNS.iter().map(|own| own.trim_end_matches('*')).filter(|own| own.len() >= LEAST);
    let found = near(word, long)?;
    // Whoever slips, slips within a word.
    let one_slip = strsim::osa_distance(word, found) == 1 && word.chars().next() == found.chars().next();
    one_slip.then(|| found.to_owned())
}

/// The words of the rules that people read: names, questions and choices.
fn of_trade(book: &Rulebook) -> BTreeSet<String> {
    let facts = book.facts().iter().flat_map(|fact| {
        let asked = fact.asking.iter().flat_map(|asking| [&asking.say, &asking.how]);
        let choices = fact.choices().iter().flat_map(|choice| [&choice.id, &choice.means]);
        asked.chain(choices).chain([&fact.name])
    });
    let endings =
        book.endings().iter().flat_map(|ending| ending.does.iter().chain([&ending.name, &ending.because]));
    let deeds = book.deeds().iter().flat_map(|deed| deed.steps.iter().chain([&deed.name]));
    facts.chain(endings).chain(deeds).flat_map(|text| words(text)).collect()
}
