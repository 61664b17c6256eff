//! A question typed where a word makes people safe: it answers nothing.

use crate::talk::spoken;

/// Words that begin a question.
const BEGIN: [&str; 24] = [
    "is", "are", "am", "does", "do", "did", "should", "shall", "can", "could", "may", "might", "must",
    "will", "would", "has", "have", "what", "which", "how", "when", "why", "where", "who",
];

/// How surely a line is a question.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Question {
    /// It has the mark.
    Marked,
    /// It begins as one does: `is it dead`, and `is live` too.
    Begun,
}

/// What of a question a line is; `None` for none.
pub(super) fn question(line: &str) -> Option<Question> {
    let line = spoken::small(line);
    if line.trim_end_matches(['!', '.', ' ', '"', ')']).ends_with('?') {
        return Some(Question::Marked);
    }
    let first =
        line.split(|sign: char| !sign.is_alphanumeric() && sign != '\'').find(|word| !word.is_empty())?;
    let first = first.strip_suffix("n't").or_else(|| first.split('\'').next())?;
    (BEGIN.contains(&first) || matches!(first, "ca" | "wo")).then_some(Question::Begun)
}

#[cfg(test)]
mod tests {
    use super::{Question, question};

    #[test]
    fn a_question_is_known_by_its_mark_and_by_its_first_word() {
        for line in ["dead?", "ok?", "done ?", "10 minutes?", "yes?!", "it is off, right?", "is it dead?"] {
            assert_eq!(question(line), Some(Question::Marked), "{line}");
        }
        for line in [
            "is it dead",
            "Are they dead",
            "does it matter",
            "do i lock it",
            "should i say done",
            "shall we go on",
            "can i touch it",
            "may I reach in",
            "what now",
            "what's next",
            "which one",
            "when is it done",
            "did it trip",
            "has it been long enough",
            "isn't it dead",
        ] {
            assert_eq!(question(line), Some(Question::Begun), "{line}");
        }
        for line in [
            "dead",
            "done",
            "it is dead",
            "0 V",
            "not done",
            "",
            "10 minutes",
            "hot",
            "island",
            "only this one",
        ] {
            assert_eq!(question(line), None, "{line}");
        }
    }
}
