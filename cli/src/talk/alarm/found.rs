//! Where a sign of danger stands in a line, and whether it is denied there.

use super::signs::{Denial, Sign};

/// Words that say that something is not so.
pub(super) const DENIALS: &str = "no|not|never|without|nobody|none|nothing|neither|cannot|unable|cant|dont|doesnt|isnt|\
     didnt|arent|wasnt|wont|hasnt|can't|don't|doesn't|isn't|didn't|aren't|wasn't|won't|hasn't|haven't|weren't|\
     couldn't|ain't";
/// How many telling words a denial reaches ahead.
const REACH: usize = 2;
/// Words that a denial reaches past.
const PASSED: &str = "any|a|an|the|more|sign|signs|is|are|was|feels|been|of|or|nor";
/// How far apart the words of one sign may stand.
const NEAR: usize = 9;

/// How a sign was found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Found {
    /// It is said.
    Said,
    /// It is said not to be so.
    Denied,
}

/// Every place where a sign stands.
pub(super) fn found<'w>(sign: &'w Sign, words: &'w [String]) -> impl Iterator<Item = Found> + 'w {
    (0..words.len()).filter_map(move |at| {
        let end = stands(sign.any, words, at)?;
        let near = breath(words, at);
        let said = |patterns: &str, from: usize, to: usize| {
            (from..to).any(|at| stands(patterns, &words[..to], at).is_some())
        };
        if !sign.before.is_empty() && stands(sign.before, words, end).is_none() {
            return None;
        }
        if stands(sign.not_before, words, end).is_some() || said(sign.unless, near.start, near.end) {
            return None;
        }
        let (from, to) = (near.start.max(at.saturating_sub(NEAR)), near.end.min(end + NEAR));
        // What a sign stands beside is another word than its own.
        let beside = |patterns: &&str| said(patterns, from, at) || said(patterns, end, to);
        if !sign.with.iter().all(beside) {
            return None;
        }
        let denied = sign.denial == Denial::TakesBack && is_denied(words, at);
        Some(if denied { Found::Denied } else { Found::Said })
    })
}

/// The words said in one breath with this one: up to a `but`, or a comma with `and`.
fn breath(words: &[String], at: usize) -> std::ops::Range<usize> {
    let parts = |at: usize| {
        words[at] == "but"
            || words[at] == "and" && at.checked_sub(1).is_some_and(|before| words[before] == ",")
    };
    let start = (0..at).rev().find(|at| parts(*at)).map_or(0, |at| at + 1);
    let end = (at..words.len()).find(|at| parts(*at)).unwrap_or(words.len());
    start..end
}

/// Where the longest of these patterns that begins at this word ends.
pub(super) fn stands(patterns: &str, words: &[String], at: usize) -> Option<usize> {
    patterns.split('|').filter_map(|pattern| ends(pattern, words, at)).max()
}

fn ends(pattern: &str, words: &[String], at: usize) -> Option<usize> {
    pattern.split(' ').try_fold(at, |end, wanted| {
        let word = words.get(end)?;
        let fits = match wanted.strip_suffix('*') {
            Some(start) => word.starts_with(start),
            None => word == wanted,
        };
        fits.then_some(end + 1)
    })
}

/// Whether a word is one of these.
fn is_one_of(word: &str, words: &str) -> bool {
    words.split('|').any(|other| other == word)
}

/// Whether one of the words before it, with nothing in between that parts them, denies it.
fn is_denied(words: &[String], at: usize) -> bool {
    let parts = |word: &&String| matches!(word.as_str(), "," | "but" | "and" | "i" | "there");
    let mut before = words[..at].iter().rev().take_while(|word| !parts(word)).peekable();
    let mut reach = REACH;
    while let Some(word) = before.next() {
        if is_one_of(word, DENIALS) {
            return true;
        }
        // `No smell of gas`, `no gas or smoke`: what is joined so is denied in one.
        if matches!(word.as_str(), "of" | "or" | "nor") {
            before.next_if(|joined| !is_one_of(joined, DENIALS));
        } else if !is_one_of(word, PASSED) {
            reach -= 1;
        }
        if reach == 0 {
            return false;
        }
    }
    false
}
