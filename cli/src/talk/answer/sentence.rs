//! A short sentence that holds exactly one of the choices.

use super::described::is_denial;
use super::plain;
use crate::talk::spoken;
use engine::rulebook::{ChoiceSet, Fact};

/// A longer line tells a story, and its words may be about anything.
const LONGEST: usize = 9;
/// Choices whose words people say of other things all day: those are typed by themselves.
pub(super) const EVERYDAY: [&str; 30] = [
    "on", "off", "yes", "no", "none", "other", "good", "sound", "made", "free", "clean", "clear", "normal",
    "right", "heat", "cool", "fan", "open", "closed", "same", "new", "loose", "tight", "short", "one", "two",
    "low", "high", "quiet", "missing",
];
/// Words that make a sentence a question, a plan, or two tellings.
const UNSURE: [&str; 22] = [
    "if", "whether", "maybe", "might", "could", "should", "would", "need", "want", "before", "after",
    "until", "but", "then", "when", "unless", "except", "or", "was", "were", "will", "looks",
];

/// The one choice of which every word stands in the line; a unit beside a number, such as in `115-volt`, need not.
pub(super) fn choice(fact: &Fact, text: &str) -> Option<ChoiceSet> {
    let said = plain(&spoken::small(text));
    let said = spoken::plainly(&said).unwrap_or(said);
    let words: Vec<&str> =
        said.split(' ').map(|word| word.trim_matches(|sign: char| !sign.is_alphanumeric())).collect();
    let unsure = text.contains('?')
        || words.len() > LONGEST
        || words.iter().any(|word| is_denial(word) || UNSURE.contains(word));
    if unsure || fact.allows_several() {
        return None;
    }
    let holds = |id: &str| {
        let id = plain(id);
        let telling = |word: &&str| !matches!(*word, "volt" | "volts");
        !EVERYDAY.contains(&id.as_str()) && id.split(' ').filter(telling).all(|own| words.contains(&own))
    };
    let found = fact.choices().iter().enumerate().filter(|(_, choice)| holds(&choice.id));
    match found.map(|(position, _)| position).collect::<Vec<_>>()[..] {
        [position] => Some(ChoiceSet::only(position)),
        _ => None,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::choice;
    use crate::rules;

    fn of(id: &str, text: &str) -> Option<String> {
        let book = rules::load(None).unwrap();
        let fact = book.facts().iter().find(|fact| fact.id == id).unwrap();
        let position = choice(fact, text)?.positions().next().unwrap();
        Some(fact.choices()[position].id.clone())
    }

    #[test]
    fn a_sentence_with_one_choice_in_it_tells_that_one() {
        for (id, text, told) in [
            ("breaker_position", "the breaker has tripped on us again", "tripped"),
            ("unit_rated_supply", "it's a 208 building", "208-volt"),
            ("filter_condition", "the filter is pretty much black", "dirty"),
            ("trip_device", "it's the limit switch I think", "limit_switch"),
        ] {
            assert_eq!(of(id, text).as_deref(), Some(told), "{text}");
        }
    }

    #[test]
    fn two_choices_a_denial_and_an_everyday_word_tell_nothing() {
        for (id, text) in [
            ("breaker_position", "it has not tripped"),
            ("breaker_position", "let me go on up there"),
            ("breaker_position", "has it tripped?"),
            ("breaker_position", "it tripped but I reset it"),
            ("unit_rated_supply", "either 208 or 230"),
            ("unit_rated_supply", "208 and 230 on the plate"),
            ("connectors_condition", "it makes a sound"),
            ("control_fuse", "good question"),
            ("filter_condition", "I need to clean it first"),
        ] {
            assert_eq!(of(id, text), None, "{text}");
        }
    }
}
