//! A choice told by the words of what it means.

use super::plain;
use super::sentence::EVERYDAY;
use engine::rulebook::{ChoiceSet, Fact};

/// Words that say nothing of which choice is meant.
const FILLERS: [&str; 28] = [
    "it's", "that's", "they're", "says", "the", "is", "are", "was", "it", "its", "an", "of", "at", "to",
    "in", "and", "or", "for", "we", "he", "she", "they", "that", "this", "have", "has", "volts", "volt",
];
/// A line with one of these is not taken by single words: it may mean the other choice.
const DENIALS: [&str; 14] = [
    "no", "not", "never", "none", "nothing", "without", "isnt", "wont", "doesnt", "dont", "cant", "cannot",
    "didnt", "neither",
];

/// Whether a word denies, with its apostrophe or without.
pub(super) fn is_denial(word: &str) -> bool {
    DENIALS.contains(&word.replace('\'', "").as_str())
}

/// What the words of a line pick.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Described {
    /// One choice.
    One(ChoiceSet),
    /// Any of these, by their positions.
    Several(Vec<usize>),
    /// None.
    Nothing,
}

/// The choice in whose id and meaning every telling word of the line stands; an id that is an everyday word is not looked
/// at. Where several may hold at once, words alone pick nothing.
pub(super) fn choice(fact: &Fact, text: &str) -> Described {
    let line = bare(text);
    let words: Vec<&str> = line.split(' ').filter(|word| is_telling(word)).collect();
    let denied = line.split(' ').any(is_denial);
    if words.is_empty() || denied || fact.allows_several() {
        return Described::Nothing;
    }
    let fits = |means: &str| words.iter().all(|word| means.split(' ').any(|own| own == *word));
    let described = fact.choices().iter().map(|choice| {
        let id = if EVERYDAY.contains(&choice.id.as_str()) { "" } else { &choice.id };
        claimed(&format!("{id}, {}", choice.means))
    });
    let found: Vec<usize> =
        described.enumerate().filter(|(_, means)| fits(means)).map(|(position, _)| position).collect();
    match found[..] {
        [] => Described::Nothing,
        [position] => Described::One(ChoiceSet::only(position)),
        _ => Described::Several(found),
    }
}

/// The words of a description that it claims: of each clause, only what stands before a denial.
pub(super) fn claimed(means: &str) -> String {
    let clauses = means.split([',', ';', ':']).map(bare);
    let claimed = clauses.map(|clause| {
        let words = clause.split(' ').take_while(|word| !is_denial(word));
        words.collect::<Vec<_>>().join(" ")
    });
    claimed.collect::<Vec<_>>().join(" ")
}

/// The words that a line denies: of each clause, what stands behind a denial, up to a `but`.
pub(super) fn denied(line: &str) -> String {
    let clauses = line.split([',', ';', ':']).map(bare);
    let denied = clauses.map(|clause| {
        let words =
            clause.split(' ').skip_while(|word| !is_denial(word)).skip(1).take_while(|word| *word != "but");
        words.collect::<Vec<_>>().join(" ")
    });
    denied.collect::<Vec<_>>().join(" ")
}

/// Plain words without their marks.
pub(super) fn bare(text: &str) -> String {
    let text = text.replace('\u{2019}', "'");
    let words = plain(&text);
    let words = words.split(' ').map(|word| word.trim_matches(|sign: char| !sign.is_alphanumeric()));
    words.filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

pub(super) fn is_telling(word: &str) -> bool {
    let number = word.bytes().all(|byte| byte.is_ascii_digit());
    (word.len() >= 2 || number) && !word.is_empty() && !FILLERS.contains(&word)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{Described, choice};
    use crate::rules;

    fn of(id: &str, text: &str) -> Described {
        let book = rules::load(None).unwrap();
        choice(book.facts().iter().find(|fact| fact.id == id).unwrap(), text)
    }

    #[test]
    fn a_word_that_stands_in_one_description_picks_that_choice() {
        let one = |position| Described::One(engine::rulebook::ChoiceSet::only(position));
        for (text, position) in [("120", 0), ("120V", 0), ("it's 120 volts", 0), ("240", 2)] {
            assert_eq!(of("unit_rated_supply", text), one(position), "{text}");
        }
        assert_eq!(of("access_panel_switch", "panel off"), one(1));
        assert_eq!(of("complaint", "the blower motor is dead"), one(0));
    }

    #[test]
    fn what_fits_two_or_is_denied_picks_nothing() {
        assert_eq!(of("complaint", "it runs"), Described::Several(vec![1, 3, 6]));
        // To turn to the right is not to turn right.
        assert_eq!(of("rotation_seen", "turns to the right"), Described::Nothing);
        for text in ["not off", "it does press its switch", "o", "", "of the", "panel gone fishing"] {
            assert_eq!(of("access_panel_switch", text), Described::Nothing, "{text}");
        }
        assert_eq!(of("danger_seen", "out"), Described::Nothing);
    }
}
