//! The name that was probably meant.

/// Characters a word may have to be compared: a longer one is no slip of the pen, and the
/// comparison's time grows with the square.
const MOST_CHARACTERS: usize = 64;

/// The candidate that a mistyped word most probably stands for; the first one on a draw.
///
/// Capitals and the difference between `-`, `_` and a space do not count. One slip in three
/// characters is taken as a slip, more as another word.
pub fn near<'c, C>(word: &str, candidates: impl IntoIterator<Item = &'c C>) -> Option<&'c str>
where
    C: AsRef<str> + ?Sized + 'c,
{
    let word = folded(word)?;
    let allowed = (word.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .filter_map(|candidate| {
            let candidate = candidate.as_ref();
            let distance = strsim::osa_distance(&word, &folded(candidate)?);
            (distance <= allowed && distance < candidate.chars().count()).then_some((distance, candidate))
        })
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, candidate)| candidate)
}

fn folded(word: &str) -> Option<String> {
    let short = word.chars().nth(MOST_CHARACTERS).is_none();
    short.then(|| word.trim().to_lowercase().replace(['_', ' '], "-"))
}

#[cfg(test)]
mod tests {
    use super::near;

    const WORDS: [&str; 4] = ["line_voltage", "line_current", "on", "answers"];

    #[test]
    fn a_slip_is_mended_and_another_word_is_not() {
        assert_eq!(near("line-voltge", &WORDS), Some("line_voltage"));
        assert_eq!(near("Answer", &WORDS), Some("answers"));
        assert_eq!(near("onn", &WORDS), Some("on"));
        assert_eq!(near("pressure", &WORDS), None);
        assert_eq!(near("x", &["y"]), None);
    }

    #[test]
    fn an_endless_word_costs_nothing() {
        assert_eq!(near(&"line".repeat(1_000_000), &WORDS), None);
        assert_eq!(near("on", &["o".repeat(1_000_000)]), None);
    }

    #[test]
    fn owned_and_borrowed_candidates_do() {
        let owned = vec!["breaker".to_owned()];
        assert_eq!(near("braker", &owned), Some("breaker"));
        assert_eq!(near("braker", ["breaker"]), Some("breaker"));
    }
}
