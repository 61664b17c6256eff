//! The choices that a sentence comes nearest to, by the words that it shares with them: offered, never taken.

use super::described::{bare, is_telling};
use engine::rulebook::Fact;

/// A line of fewer words is a word mistyped, and no sentence.
const SENTENCE: usize = 2;
/// So many are offered at the most.
const MOST: usize = 3;

/// The positions of the nearest choices, the nearest first. A word that few choices have counts for more; none where no
/// word is shared.
pub(super) fn choices(fact: &Fact, text: &str) -> Vec<usize> {
    let line = bare(text);
    if line.split(' ').count() < SENTENCE || fact.choices().len() < 3 {
        return Vec::new();
    }
    let mut said: Vec<&str> = line.split(' ').filter(|word| is_telling(word)).map(stem).collect();
    said.sort_unstable();
    said.dedup();
    let described: Vec<String> =
        fact.choices().iter().map(|choice| bare(&format!("{}, {}", choice.id, choice.means))).collect();
    let has = |means: &String, word: &str| means.split(' ').any(|own| stem(own) == word);
    let mut shares = vec![0.0; described.len()];
    for word in said {
        let with: Vec<usize> = (0..described.len()).filter(|at| has(&described[*at], word)).collect();
        let share = f64::from(u32::try_from(with.len()).unwrap_or(u32::MAX)).recip();
        for at in with {
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

/// A word without its usual end.
fn stem(word: &str) -> &str {
    let long = |stem: &&str| stem.len() > 2;
    let ends = ["ing", "ed", "es", "s"];
    ends.iter().find_map(|end| word.strip_suffix(end).filter(long)).unwrap_or(word)
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
    fn a_word_or_a_sentence_about_something_else_comes_near_to_nothing() {
        for text in ["blwoer", "air", "my cat sleeps upstairs"] {
            assert!(nearest("complaint", text).is_empty(), "{text}");
        }
    }
}
