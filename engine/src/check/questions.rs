//! A question can be said over a phone in one breath: one sentence, twenty words at the most.
//!
//! A sentence ends at a full stop, a question mark or an exclamation mark with a blank behind it; a point within a
//! number ends none.

use crate::finding::{Code, Draft, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

const MOST_WORDS: usize = 20;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for (fact, spot) in resolved.rules.facts.iter().zip(&resolved.spots.facts) {
        let Some(asking) = &fact.asking else { continue };
        let words = asking.say.split_whitespace().count();
        let title = if words > MOST_WORDS {
            format!("this question has {words} words, and nobody keeps more than {MOST_WORDS} in mind")
        } else if is_more_than_a_sentence(&asking.say) {
            "this question is more than one sentence".to_owned()
        } else {
            continue;
        };
        let draft =
            Draft::new(Code::LongQuestion, &spot.file, format!("{}/say", spot.pointer), On::Value, title);
        findings.push(draft.help("ask in one short sentence, and put the rest under `how`"));
    }
}

fn is_more_than_a_sentence(text: &str) -> bool {
    let ends = |word: &str| word.trim_end_matches(['"', '\'', ')']).ends_with(['.', '?', '!']);
    let mut words = text.split_whitespace().rev();
    words.next();
    words.any(ends)
}

#[cfg(test)]
mod tests {
    use super::is_more_than_a_sentence;

    #[test]
    fn a_sentence_ends_at_a_sign_with_a_blank_behind_it() {
        assert!(is_more_than_a_sentence("Look at it. Does it turn?"));
        assert!(is_more_than_a_sentence("Does it turn? Freely?"));
        assert!(is_more_than_a_sentence("(Look first!) Does it turn?"));
        assert!(!is_more_than_a_sentence("Does it turn 0.5 times a second?"));
        assert!(!is_more_than_a_sentence("Does it turn"));
        assert!(!is_more_than_a_sentence(""));
    }
}
