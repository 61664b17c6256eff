//! The name that was probably meant.

use super::wording::listed;

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

/// Letters a word has to have to be a likeness: `at`, `of` and `no` stand in any name.
const LEAST_LETTERS: usize = 3;

/// Names that are offered where none is near.
const MOST_OFFERED: usize = 3;

/// Names in one text that are told apart.
const MOST_SEVERAL: usize = 12;

/// The question whether a name was meant: the nearest one, or those that have the rarest words in common with it. Of
/// several names in one text it is said that they are. `None` where nothing is like it.
pub fn did_you_mean<'c, C>(word: &str, candidates: impl IntoIterator<Item = &'c C>) -> Option<String>
where
    C: AsRef<str> + ?Sized + 'c,
{
    let candidates: Vec<&str> = candidates.into_iter().map(AsRef::as_ref).collect();
    by_spelling(word, &candidates)
        .or_else(|| Some(format!("did you mean {}?", listed(&alike(word, &candidates)?))))
}

/// The same question, of names that a word in common says nothing of: one repair is not another of the same part.
pub fn did_you_spell<'c, C>(word: &str, candidates: impl IntoIterator<Item = &'c C>) -> Option<String>
where
    C: AsRef<str> + ?Sized + 'c,
{
    let candidates: Vec<&str> = candidates.into_iter().map(AsRef::as_ref).collect();
    by_spelling(word, &candidates)
}

/// The question whether a name was meant that is spelt nearly so.
fn by_spelling(word: &str, candidates: &[&str]) -> Option<String> {
    if let Some((name, sign)) = with_a_sign(word, candidates) {
        return Some(format!("did you mean `{name}`, without the character U+{:04X}?", u32::from(sign)));
    }
    if let Some(names) = several(word, candidates) {
        let names = names.join(", ");
        return Some(format!("these are several: where more than one may stand, write `[{names}]`"));
    }
    let name = part_of(word, candidates).or_else(|| near(word, candidates.iter().copied()))?;
    Some(format!("did you mean `{name}`?"))
}

/// What is said of several names where a line leads to one.
pub(crate) fn only_one<'c>(
    key: &str,
    word: &str,
    candidates: impl Iterator<Item = &'c str>,
) -> Option<String> {
    let names = several(word, &candidates.collect::<Vec<_>>())?;
    let ways: Vec<String> = names.iter().map(|name| format!("`{key}: {name}`")).collect();
    Some(format!("a line leads to one: write {}", ways.join(" or ")))
}

/// The name that a word is but for signs around it that no keyboard has: quotes and blanks of a page, which YAML takes
/// for letters and many a screen does not tell apart. With the first of them.
fn with_a_sign<'c>(word: &str, candidates: &[&'c str]) -> Option<(&'c str, char)> {
    let is_sign = |c: char| !c.is_ascii() && !c.is_alphanumeric();
    let sign = word.chars().find(|c| is_sign(*c))?;
    let name = word.trim_matches(is_sign);
    candidates.iter().find(|other| **other == name).map(|name| (*name, sign))
}

/// The names that a text is made of, where signs, blanks or an `and` stand between them in place of commas.
fn several<'w>(word: &'w str, candidates: &[&str]) -> Option<Vec<&'w str>> {
    let parts = word.split(|c: char| !c.is_alphanumeric() && !matches!(c, '_' | '-'));
    let joins = |part: &str| matches!(part, "" | "and" | "or") && !candidates.contains(&part);
    let names: Vec<&str> = parts.filter(|part| !joins(part)).take(MOST_SEVERAL + 1).collect();
    let known = names.iter().all(|name| candidates.contains(name));
    (known && (2..=MOST_SEVERAL).contains(&names.len())).then_some(names)
}

/// The one name of several words that a word is one of: `to` of `up to`.
fn part_of<'c>(word: &str, candidates: &[&'c str]) -> Option<&'c str> {
    let mut with = candidates.iter().filter(|name| name.split(' ').skip(1).any(|other| other == word));
    with.next().filter(|_| with.next().is_none()).copied()
}

/// The candidates that have a word in common with a name: of its words, the one that the fewest have.
fn alike<'c>(word: &str, candidates: &[&'c str]) -> Option<Vec<&'c str>> {
    let word = folded(word)?;
    let parts = word.split('-').filter(|part| part.chars().count() >= LEAST_LETTERS);
    let with = |part: &str| -> Vec<&'c str> {
        let has = |name: &&str| folded(name).is_some_and(|name| name.split('-').any(|other| other == part));
        candidates.iter().copied().filter(has).take(MOST_OFFERED + 1).collect()
    };
    parts.map(with).filter(|names| (1..=MOST_OFFERED).contains(&names.len())).min_by_key(Vec::len)
}

/// The one candidate that has a word in common with a name.
pub(crate) fn sole_alike<'c>(word: &str, candidates: impl Iterator<Item = &'c str>) -> Option<&'c str> {
    match alike(word, &candidates.collect::<Vec<_>>())?.as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}

fn folded(word: &str) -> Option<String> {
    let short = word.chars().nth(MOST_CHARACTERS).is_none();
    short.then(|| word.trim().to_lowercase().replace(['_', ' '], "-"))
}

#[cfg(test)]
mod tests {
    use super::{did_you_mean, did_you_spell, near, only_one};

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
    fn a_name_with_a_word_in_common_is_offered_where_few_have_it() {
        let names = ["filter_condition", "line_volts", "line_amps", "line_ohms", "line_hz", "wheel_of_fan"];
        let meant = |word| did_you_mean(word, names);
        assert_eq!(meant("filter_state").as_deref(), Some("did you mean `filter_condition`?"));
        assert_eq!(meant("replace-line-filter").as_deref(), Some("did you mean `filter_condition`?"));
        assert_eq!(meant("line_power"), None, "four have it");
        assert_eq!(meant("state_of_it"), None, "a word of two letters is in any name");
        assert_eq!(meant("line_vots").as_deref(), Some("did you mean `line_volts`?"));
        let two = ["change-filter", "clean-filter", "x"];
        assert_eq!(
            did_you_mean("new-filter", two).as_deref(),
            Some("did you mean `change-filter` or `clean-filter`?")
        );
    }

    #[test]
    fn of_a_repair_another_of_the_same_part_is_not_offered() {
        let names = ["replace-limit-switch", "set-fan-switch"];
        assert!(did_you_mean("limit-keeps-it-on", names).is_some());
        assert_eq!(did_you_spell("limit-keeps-it-on", names), None);
        assert_eq!(did_you_spell("set-fan-swich", names).as_deref(), Some("did you mean `set-fan-switch`?"));
    }

    #[test]
    fn a_line_leads_to_one() {
        let told = only_one("go", "line_voltage, on", WORDS.into_iter());
        assert_eq!(told.as_deref(), Some("a line leads to one: write `go: line_voltage` or `go: on`"));
        assert_eq!(only_one("go", "on", WORDS.into_iter()), None);
    }

    #[test]
    fn names_without_a_comma_or_brackets_are_told_apart() {
        let several = Some("these are several: where more than one may stand, write `[line_voltage, on]`");
        assert_eq!(did_you_mean("line_voltage on", WORDS).as_deref(), several);
        assert_eq!(did_you_mean("line_voltage,on", WORDS).as_deref(), several);
        assert_eq!(did_you_mean("line_voltage, off", WORDS), did_you_mean("line_voltage_off", WORDS));
        assert_eq!(did_you_mean("on,", WORDS).as_deref(), Some("did you mean `on`?"), "it is one");
        assert_eq!(did_you_mean("line_voltage; on", WORDS).as_deref(), several);
        assert_eq!(did_you_mean("line_voltage and on", WORDS).as_deref(), several);
    }

    #[test]
    fn a_word_of_a_name_of_several_is_meant_for_it_however_short() {
        let keys = ["below", "up to", "go", "end", "too close"];
        assert_eq!(did_you_mean("to", keys).as_deref(), Some("did you mean `up to`?"));
        assert_eq!(did_you_mean("close", keys).as_deref(), Some("did you mean `too close`?"));
    }

    #[test]
    fn a_quote_or_a_blank_of_a_page_around_a_name_is_told_of() {
        let without = |sign| Some(format!("did you mean `on`, without the character {sign}?"));
        assert_eq!(did_you_mean("\u{201c}on\u{201d}", WORDS), without("U+201C"));
        assert_eq!(did_you_mean("on\u{a0}", WORDS), without("U+00A0"));
    }

    #[test]
    fn owned_and_borrowed_candidates_do() {
        let owned = vec!["breaker".to_owned()];
        assert_eq!(near("braker", &owned), Some("breaker"));
        assert_eq!(near("braker", ["breaker"]), Some("breaker"));
    }
}
