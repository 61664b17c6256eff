//! The plain command words, told apart from answers.

/// What a typed line is, by its first word.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Said<'t> {
    /// A bare Enter.
    Nothing,
    /// Why is this asked?
    Why,
    /// How is it done?
    How,
    /// It cannot be told, read or done.
    Cannot,
    /// The newest answer is taken back.
    Back,
    /// What is known so far?
    SoFar,
    /// Where are we?
    Where,
    /// What could be read at one go?
    Plan,
    /// The note to send.
    NoteToSend,
    /// The other end needs time: for what, or nothing.
    Wait(&'t str),
    /// What can be typed?
    Help,
    /// The person leaves.
    Leave,
    /// Another program's word for leaving.
    Quit,
    /// A fact told anew: its name and what it is.
    Correct(&'t str),
    /// A fact told unasked: its name and what it is.
    Tell(&'t str),
    /// A remark.
    Note(&'t str),
    /// A danger: which, or nothing yet.
    Danger(&'t str),
    /// None of these: an answer, or not understood.
    Other(&'t str),
}

/// The command words, as completed and as listed by `help`.
pub(crate) const COMMANDS: [(&str, &str); 15] = [
    ("why", "why this is asked, and where each answer leads"),
    ("how", "how to take the reading or do the step"),
    ("cannot", "it cannot be read or told"),
    ("back", "take the newest answer back; what was done stays done"),
    ("correct", "tell a fact anew: correct breaker position on"),
    ("tell", "tell a fact unasked: tell filter condition dirty"),
    ("so far", "what is known, numbered, and what was done; correct 3 off puts number 3 right"),
    ("where", "where the call is, and what is learned so far"),
    ("plan", "what one lock-out would let us read, and what is read live"),
    ("wait", "they need time: the clock runs until the next line; my turn, or hang on, does the same"),
    ("note to send", "the call in a few lines, to be sent on"),
    ("note", "keep a remark: note the attic is hot"),
    ("danger", "somebody sees danger: danger gas smell"),
    ("leave", "leave the call open, with the unit left as it must be"),
    ("help", "these words"),
];

impl<'t> Said<'t> {
    /// What a typed line is.
    pub(crate) fn of(line: &'t str) -> Self {
        let line = line.trim();
        let (first, rest) =
            line.split_once(char::is_whitespace).map_or((line, ""), |(first, rest)| (first, rest.trim()));
        let word = first.trim_end_matches(['?', '!', '.', ':', ',']).replace('\u{2019}', "'").to_lowercase();
        match (word.as_str(), rest.to_lowercase().as_str()) {
            ("", "") if first.is_empty() => Self::Nothing,
            ("", "") if first == "?" => Self::Help,
            ("help", "") => Self::Help,
            ("why", _) => Self::Why,
            ("how", _) => Self::How,
            ("cannot" | "can't" | "cant", _) | ("can", "not") => Self::Cannot,
            ("back", "") => Self::Back,
            ("so", "far") | ("sofar", "") => Self::SoFar,
            ("leave", "") => Self::Leave,
            ("quit" | "exit" | "bye", "") => Self::Quit,
            ("correct", _) => Self::Correct(rest),
            ("tell", _) => Self::Tell(rest),
            ("where", _) => Self::Where,
            ("plan", "") => Self::Plan,
            ("wait", _) => Self::Wait(rest),
            ("my", _) => after(rest, "turn").map_or(Self::Other(line), Self::Wait),
            ("hang" | "hold", _) => after(rest, "on").map_or(Self::Other(line), Self::Wait),
            ("note", "to send") => Self::NoteToSend,
            ("note", _) => Self::Note(rest),
            ("danger", _) => Self::Danger(rest),
            _ => Self::Other(line),
        }
    }
}

/// What follows a second word of a command, where that is the word.
fn after<'t>(rest: &'t str, second: &str) -> Option<&'t str> {
    let (word, rest) = rest.split_at_checked(second.len())?;
    let ends = rest.chars().next().is_none_or(|sign| !sign.is_alphanumeric());
    (word.eq_ignore_ascii_case(second) && ends)
        .then(|| rest.trim_start_matches([':', ',', '.', '!', ' ']).trim())
}

#[cfg(test)]
mod tests {
    use super::Said;

    #[test]
    fn command_words_are_known_however_they_are_written() {
        for (line, said) in [
            ("  ", Said::Nothing),
            ("Why?", Said::Why),
            ("how", Said::How),
            ("can\u{2019}t", Said::Cannot),
            ("cant read it", Said::Cannot),
            ("can not", Said::Cannot),
            ("BACK", Said::Back),
            ("so  far", Said::SoFar),
            ("?", Said::Help),
            ("leave", Said::Leave),
            ("quit", Said::Quit),
        ] {
            assert_eq!(Said::of(line), said, "{line}");
        }
    }

    #[test]
    fn what_follows_a_command_word_is_kept_as_typed() {
        assert_eq!(Said::of("note  The attic is HOT "), Said::Note("The attic is HOT"));
        assert_eq!(Said::of("my turn: they walk to the panel"), Said::Wait("they walk to the panel"));
        assert_eq!(Said::of("Hang on!"), Said::Wait(""));
        assert_eq!(Said::of("note to send"), Said::NoteToSend);
        assert_eq!(Said::of("danger: gas smell"), Said::Danger("gas smell"));
        assert_eq!(Said::of("danger"), Said::Danger(""));
        assert_eq!(Said::of("correct line voltage 118"), Said::Correct("line voltage 118"));
    }

    #[test]
    fn an_answer_is_no_command() {
        assert_eq!(Said::of(" 118 V "), Said::Other("118 V"));
        assert_eq!(Said::of("back draft"), Said::Other("back draft"));
        assert_eq!(Said::of("hold one"), Said::Other("hold one"));
        assert_eq!(Said::of("leave it"), Said::Other("leave it"));
    }
}
