//! The choices that a sentence comes nearest to, by the words that it shares with them: offered, never taken.

use super::described::{bare, claimed, denied, is_denial, is_telling};
use engine::rulebook::Fact;

/// A line of fewer words is a word mistyped, or one with another end, and no sentence.
const SENTENCE: usize = 2;
/// So many are offered at the most.
const MOST: usize = 3;

/// The positions of the nearest choices, the nearest first. A word that few choices have counts for more, and one that all
/// of them have for nothing; none where no word is shared. No choice is near that claims what the line denies.
pub(super) fn choices(fact: &Fact, text: &str) -> Vec<usize> {
    let line = bare(text);
    let sentence = line.split(' ').count() >= SENTENCE;
    if fact.choices().len() < 3 {
        return Vec::new();
    }
    let told: Vec<String> =
        fact.choices().iter().map(|choice| format!("{}, {}", choice.id, choice.means)).collect();
    let has = |words: &str, word: &str| words.split(' ').any(|own| stem(own) == stem(word));
    let described: Vec<String> = told.iter().map(|told| bare(told)).collect();
    let denied = denied(text);
    let claims = |at: usize| {
        let claimed = claimed(&told[at]);
        denied.split(' ').filter(|word| is_telling(word)).any(|word| has(&claimed, word))
    };
    let mut said: Vec<&str> = line.split(' ').filter(|word| is_telling(word) && !is_denial(word)).collect();
    said.sort_unstable_by_key(|word| stem(word));
    said.dedup_by_key(|word| stem(word));
    // A word by itself that stands in a choice as it is picks that choice, or too many of them.
    said.retain(|word| sentence || !described.iter().any(|own| own.split(' ').any(|own| own == *word)));
    let mut shares = vec![0.0; described.len()];
    for word in said {
        let with: Vec<usize> = (0..described.len()).filter(|at| has(&described[*at], word)).collect();
        if with.len() == described.len() {
            continue;
        }
        let share = f64::from(u32::try_from(with.len()).unwrap_or(u32::MAX)).recip();
        for at in with.into_iter().filter(|at| !claims(*at)) {
            shares[at] += share;
        }
    }
    let best = shares.iter().copied().fold(0.0, f64::max);
    let mut found: Vec<usize> =
        (0..shares.len()).filter(|at| best > 0.0 && shares[*at] * 2.0 >= best).collect();
    found.sort_by(|one, other| shares[*other].total_cmp(&shares[*one]));
    found.truncate(MOST);
    found
}

/// A word without its usual end, and without the letter that is doubled before one.
fn stem(word: &str) -> &str {
    let long = |stem: &&str| stem.len() > 2;
    let ends = ["ing", "ed", "es", "s"];
    let stem = ends.iter().find_map(|end| word.strip_suffix(end).filter(long)).unwrap_or(word);
    let mut last = stem.char_indices().rev();
    match (last.next(), last.next()) {
        (Some((at, one)), Some((_, other))) if one == other && at > 2 => &stem[..at],
        _ => stem,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::choices;
    use crate::rules;

    fn nearest(id: &str, text: &str) -> Vec<String> {
        let book = rules::load(None).unwrap();
        let fact = book.facts().iter().find(|fact| fact.id == id).unwrap();
        choices(fact, text).into_iter().map(|at| fact.choices()[at].id.clone()).collect()
    }

    #[test]
    fn a_sentence_comes_nearest_to_the_choice_that_shares_its_rare_words() {
        for (text, first) in [
            ("the blower runs but hardly any air comes out", "low_airflow"),
            ("the wheel is turning the wrong way round", "wrong_rotation"),
            ("something cuts out after a while", "trips"),
            ("it is way too noisy since yesterday", "too_noisy"),
            ("weak air", "low_airflow"),
        ] {
            assert_eq!(nearest("complaint", text).first().map(String::as_str), Some(first), "{text}");
        }
    }

    #[test]
    fn a_word_with_another_end_comes_near_to_the_choice_that_has_it() {
        for (text, choice) in [("scraping", "scrapes"), ("grinding", "scrapes"), ("humming", "hums")] {
            assert_eq!(nearest("noise_heard", text), [choice], "{text}");
        }
    }

    #[test]
    fn what_is_denied_comes_near_to_no_choice_that_claims_it() {
        for text in ["theres no disconect", "there's no disconnect", "not on", "isnt on", "no handle is on"] {
            assert!(!nearest("disconnect_position", text).contains(&"on".to_owned()), "{text}");
        }
        // A choice that denies it as well is near.
        assert_eq!(nearest("complaint", "it does not run"), ["no_run"]);
        assert_eq!(nearest("disconnect_position", "no fuse is blown"), ["on"]);
    }

    #[test]
    fn a_word_or_a_sentence_about_something_else_comes_near_to_nothing() {
        for text in ["blwoer", "air", "my cat sleeps upstairs"] {
            assert!(nearest("complaint", text).is_empty(), "{text}");
        }
    }
}
