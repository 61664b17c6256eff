//! What the editor says beside the line while it is typed: in brackets, so that nobody takes it for typed.

use super::said::{COMMANDS, Said};
use engine::finding::near;
use engine::quantity::{Expected, Quantity};

/// The most characters of a hint, and of a line that is worth one.
const LONGEST: usize = 50;

/// What is being typed for.
#[derive(Clone, Default, Debug)]
pub(crate) struct Typing {
    /// What stands before the line.
    pub(crate) prompt: String,
    /// The words that answer.
    pub(crate) answers: Vec<String>,
    /// What a measured answer may be, in the units shown.
    pub(crate) expected: Option<Expected>,
}

impl Typing {
    /// The hint beside a line.
    pub(crate) fn hint(&self, line: &str) -> Option<String> {
        let text = line.trim();
        // Every key of a pasted page would be weighed again, and the whole line drawn again beside its hint.
        if text.is_empty() || text.len() > LONGEST {
            return None;
        }
        let said = match (&self.expected, Said::of(text)) {
            (Some(expected), Said::Other(_)) if starts_a_number(text) => Some(measured(expected, text)),
            (_, Said::Other(_)) => self.word(text),
            _ => None,
        };
        said.map(|said| format!("  [{said}]"))
    }

    /// The word that a line starts, or that it nearly is.
    fn word(&self, text: &str) -> Option<String> {
        let typed = text.to_lowercase();
        let words = self.answers.iter().map(String::as_str).chain(COMMANDS.iter().map(|(word, _)| *word));
        let words: Vec<&str> = words.collect();
        if words.iter().any(|word| word.to_lowercase() == typed) {
            return None;
        }
        let mut starting = words.iter().filter(|word| word.to_lowercase().starts_with(&typed));
        match (starting.next(), starting.next()) {
            (Some(one), None) => Some((*one).to_owned()),
            (Some(one), Some(two)) => Some(format!("{one}, or {two}")),
            (None, _) if text.chars().count() > 2 => {
                near(text, words.iter().copied()).map(|word| format!("did you mean {word}?"))
            }
            _ => None,
        }
    }
}

fn starts_a_number(text: &str) -> bool {
    text.starts_with(|sign: char| sign.is_ascii_digit() || matches!(sign, '.' | '-' | '+'))
}

/// A number as it would be understood, or what would be; with the plausible range.
fn measured(expected: &Expected, text: &str) -> String {
    let spoken = expected.unit().spoken();
    let wanted = || if spoken.is_empty() { "a whole number".to_owned() } else { spoken.to_owned() };
    let what = Quantity::parse(text, expected).map_or_else(|_| wanted(), |found| found.to_string());
    let hint = match expected.range() {
        Some((low, high)) => format!("{what}, likely {low} to {high}"),
        None => what.clone(),
    };
    // A hint that would wrap helps nobody.
    if hint.chars().count() > LONGEST { what } else { hint }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::Typing;
    use engine::quantity::{Expected, Quantity, Unit};

    #[test]
    fn a_number_is_hinted_with_its_unit_and_the_plausible_range() {
        let volts = |text| Quantity::parse_exact(text).unwrap();
        let expected = Expected::new(Unit::parse("V").unwrap()).within(volts("0 V"), volts("300 V"));
        let typing = Typing { expected, ..Typing::default() };
        assert_eq!(typing.hint("118").as_deref(), Some("  [118 V, likely 0 V to 300 V]"));
        assert_eq!(typing.hint("1180").as_deref(), Some("  [volts, likely 0 V to 300 V]"));
        assert_eq!(typing.hint("118 A").as_deref(), Some("  [volts, likely 0 V to 300 V]"));
        assert_eq!(typing.hint(" "), None);
    }

    #[test]
    fn a_word_is_hinted_once_it_is_begun_or_nearly_right() {
        let answers = ["on", "off", "tripped"].map(str::to_owned).to_vec();
        let typing = Typing { answers, ..Typing::default() };
        assert_eq!(typing.hint("tri").as_deref(), Some("  [tripped]"));
        assert_eq!(typing.hint("o").as_deref(), Some("  [on, or off]"));
        assert_eq!(typing.hint("trpped").as_deref(), Some("  [did you mean tripped?]"));
        assert_eq!(typing.hint("tripped"), None);
        assert_eq!(typing.hint("tell filter"), None);
    }
}
