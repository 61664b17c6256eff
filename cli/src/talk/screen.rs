//! The writer: every line that a person sees goes through it, wrapped and made harmless.

use crate::harmless::harmless;
use anstyle::{AnsiColor, Color, Style};
use engine::rulebook::{Caution, Signal};
use std::io::{self, Write};

/// Columns of the label and of the gap behind it.
const LABEL: usize = 8;
const GAP: &str = "  ";
/// The narrowest and the widest text, and what is taken where nobody can tell.
const NARROWEST: usize = 40;
const WIDEST: usize = 100;
const USUAL: usize = 80;

/// The word in the left column: it alone says what kind of line stands beside it, colour only repeats it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Label {
    word: &'static str,
    beside: Style,
    text: Style,
}

impl Label {
    /// What is said aloud.
    pub(crate) const SAY: Self = Self::loud("SAY");
    /// What is understood at the keyboard.
    pub(crate) const TYPE: Self = Self::quiet("TYPE");
    /// What was understood.
    pub(crate) const NOTED: Self = Self::quiet("NOTED");
    /// What was not understood, and why.
    pub(crate) const AGAIN: Self = Self::quiet("AGAIN");
    /// A grave "no", that counts when it is said once more.
    pub(crate) const SURE: Self = Self::quiet("SURE");
    /// The line belongs to the one above.
    pub(crate) const NONE: Self = Self::quiet("");

    /// A label for notes.
    pub(crate) const fn quiet(word: &'static str) -> Self {
        Self { word, beside: Style::new(), text: Style::new() }
    }

    /// A label for what must not be overlooked.
    pub(crate) const fn loud(word: &'static str) -> Self {
        Self { word, beside: Style::new().bold(), text: Style::new().bold() }
    }

    /// The signal word of a caution, in the safety colour of ANSI Z535.1.
    pub(crate) const fn signal(signal: Signal) -> Self {
        let colour = match signal {
            Signal::Danger | Signal::Warning => AnsiColor::Red,
            Signal::Caution => AnsiColor::Yellow,
            Signal::Notice => AnsiColor::Blue,
        };
        let label = Style::new().bold().fg_color(Some(Color::Ansi(colour)));
        Self {
            word: signal.word(),
            beside: if matches!(signal, Signal::Danger) { label.invert() } else { label },
            text: Style::new(),
        }
    }
}

/// How the lines are laid out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Layout {
    /// The word in a column, the text wrapped beside it, in colour where there is any.
    Columns,
    /// One line each, the word and a colon first: for a screen reader.
    Plain,
}

/// Where the lines go.
pub(crate) struct Screen<'s> {
    out: Box<dyn Write + 's>,
    width: usize,
    layout: Layout,
    /// The word of the line above.
    word: &'static str,
    /// Whether the cautions to come stand just above.
    warned: bool,
}

impl<'s> Screen<'s> {
    pub(crate) fn new(out: Box<dyn Write + 's>, layout: Layout) -> Self {
        Self { out, width: USUAL, layout, word: "", warned: false }
    }

    /// Takes the width of the terminal, where there is one.
    pub(crate) fn fit(&mut self, columns: Option<usize>) {
        self.width = columns.unwrap_or(USUAL).clamp(NARROWEST, WIDEST);
    }

    /// A text beside its label.
    pub(crate) fn row(&mut self, label: Label, text: &str) -> io::Result<()> {
        if !label.word.is_empty() {
            self.word = label.word;
        }
        self.labelled(label.word, label, text)
    }

    /// The rows of a list: the label stands beside the first.
    pub(crate) fn list(&mut self, label: Label, texts: &[String]) -> io::Result<()> {
        for (index, text) in texts.iter().enumerate() {
            self.row(if index == 0 { label } else { Label::NONE }, text)?;
        }
        Ok(())
    }

    /// Numbered rows.
    pub(crate) fn numbered<T: AsRef<str>>(&mut self, texts: &[T]) -> io::Result<()> {
        (1..).zip(texts).try_for_each(|(number, text)| self.entry(number, text.as_ref()))
    }

    /// One numbered row.
    pub(crate) fn entry(&mut self, number: usize, text: &str) -> io::Result<()> {
        self.labelled(&number.to_string(), Label::NONE, text)
    }

    /// From here on cautions stand above already, or do not.
    pub(crate) const fn warned(&mut self, warned: bool) {
        self.warned = warned;
    }

    /// Cautions, the gravest first.
    pub(crate) fn cautions(&mut self, cautions: &[Caution]) -> io::Result<()> {
        let mut cautions: Vec<&Caution> = cautions.iter().collect();
        cautions.sort_by_key(|caution| std::cmp::Reverse(caution.signal));
        if let (true, Some(gravest)) = (self.warned, cautions.first()) {
            let again = format!("As before: {}", first_sentence(&gravest.text));
            return self.row(Label::signal(gravest.signal), &again);
        }
        for caution in cautions {
            self.row(Label::signal(caution.signal), &caution.text)?;
        }
        Ok(())
    }

    /// A text of its own lines, from the left edge, so that it can be copied off the screen.
    pub(crate) fn block(&mut self, label: Label, heading: &str, text: &str) -> io::Result<()> {
        self.row(label, heading)?;
        for line in text.lines().map(harmless) {
            if self.layout == Layout::Plain {
                self.row(label, &line)?;
                continue;
            }
            for line in wrapped(&line, self.width - 1) {
                writeln!(self.out, "{line}")?;
            }
        }
        Ok(())
    }

    /// A line across the screen.
    pub(crate) fn rule(&mut self) -> io::Result<()> {
        match self.layout {
            Layout::Columns => writeln!(self.out, "{}", "=".repeat(self.width.min(USUAL))),
            Layout::Plain => Ok(()),
        }
    }

    /// An empty line.
    pub(crate) fn gap(&mut self) -> io::Result<()> {
        match self.layout {
            Layout::Columns => writeln!(self.out),
            Layout::Plain => Ok(()),
        }
    }

    /// Ends a line that nobody ended.
    pub(crate) fn line_end(&mut self) -> io::Result<()> {
        writeln!(self.out)
    }

    /// What stands before a typed line.
    pub(crate) fn prompt(&self) -> String {
        match self.layout {
            Layout::Columns => format!("{:>LABEL$}{GAP}", ">"),
            Layout::Plain => "ANSWER: ".to_owned(),
        }
    }

    /// Shows the prompt, for a source that does not by itself.
    pub(crate) fn show_prompt(&mut self) -> io::Result<()> {
        write!(self.out, "{}", self.prompt())?;
        self.out.flush()
    }

    /// Shows what was typed, for a source that does not by itself.
    pub(crate) fn echo(&mut self, line: &str) -> io::Result<()> {
        writeln!(self.out, "{}", harmless(line).trim())
    }

    pub(crate) fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }

    fn labelled(&mut self, word: &str, style: Label, text: &str) -> io::Result<()> {
        let text = harmless(text);
        if self.layout == Layout::Plain {
            let word = if word.is_empty() { self.word } else { word };
            return writeln!(self.out, "{word}: {text}");
        }
        let mut left = word;
        for line in wrapped(&text, self.width - LABEL - GAP.len()) {
            let blanks = LABEL.saturating_sub(left.len());
            write!(self.out, "{:blanks$}", "")?;
            write!(self.out, "{}{left}{:#}{GAP}", style.beside, style.beside)?;
            writeln!(self.out, "{}{line}{:#}", style.text, style.text)?;
            left = "";
        }
        Ok(())
    }
}

/// A text up to its first full stop.
fn first_sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |at| &text[..=at])
}

/// Holds a number's thousands and its unit together while lines are broken.
const HOLDS: char = '\u{a0}';

/// Lines that break between words: not at the hyphen of a name, such as a model's, and not within `1 059 CFM`.
pub(crate) fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let options = textwrap::Options::new(columns).word_splitter(textwrap::WordSplitter::NoHyphenation);
    let text = held_together(text);
    textwrap::wrap(&text, options).into_iter().map(|line| line.replace(HOLDS, " ")).collect()
}

fn held_together(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let digits = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    let thousands = |at: usize| {
        let first = words[at].trim_start_matches(|sign: char| !sign.is_ascii_alphanumeric());
        let behind = words.get(at + 1).is_some_and(|word| {
            let number = word.trim_end_matches(|sign: char| !sign.is_ascii_digit());
            number.len() == 3 && digits(number)
        });
        digits(first) && first.len() <= 3 && behind
    };
    let mut held = String::with_capacity(text.len());
    for (at, word) in words.iter().enumerate() {
        if at > 0 {
            // Between the groups, and between the last group and the unit.
            let joined = thousands(at - 1) || at > 1 && thousands(at - 2) && digits(words[at - 1]);
            held.push(if joined { HOLDS } else { ' ' });
        }
        held.push_str(word);
    }
    held
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{Label, Layout, Screen};

    fn shown(columns: usize, text: &str) -> String {
        let mut out = Vec::new();
        let mut screen = Screen::new(Box::new(&mut out), Layout::Columns);
        screen.fit(Some(columns));
        screen.row(Label::NOTED, text).unwrap();
        drop(screen);
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_text_is_wrapped_beside_its_label() {
        assert_eq!(
            shown(40, "the supply is in order at the board of this unit"),
            "   NOTED  the supply is in order at the\n          board of this unit\n"
        );
        let narrow = shown(1, "the supply is in order at the board of this unit");
        assert_eq!(narrow, shown(40, "the supply is in order at the board of this unit"));
    }

    #[test]
    fn a_number_is_not_broken_at_its_thousands_nor_before_its_unit() {
        for pad in 20..32 {
            let shown = shown(40, &format!("{} 1 059 CFM or (12 345 678 ohm)", "x".repeat(pad)));
            assert!(shown.contains("1 059 CFM") && shown.contains("(12 345 678 ohm)"), "{shown}");
        }
    }

    #[test]
    fn plainly_every_line_begins_with_its_word() {
        let mut out = Vec::new();
        let mut screen = Screen::new(Box::new(&mut out), Layout::Plain);
        screen.list(Label::quiet("READ"), &["a reading".to_owned(), "another".to_owned()]).unwrap();
        screen
            .numbered(&["on: the breaker is on, which is a text that is not wrapped, however long"])
            .unwrap();
        screen.rule().unwrap();
        screen.gap().unwrap();
        screen.block(Label::quiet("NOTE"), "to send:", "one\ntwo").unwrap();
        drop(screen);
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "READ: a reading\nREAD: another\n\
             1: on: the breaker is on, which is a text that is not wrapped, however long\n\
             NOTE: to send:\nNOTE: one\nNOTE: two\n"
        );
    }

    #[test]
    fn nothing_that_acts_on_a_terminal_gets_through() {
        let shown = shown(80, "a\u{1b}[2Jb\u{7}c\u{9b}d\u{202e}e\nf\rg");
        assert_eq!(shown, "   NOTED  a\u{fffd}[2Jb\u{fffd}c\u{fffd}d\u{fffd}e f g\n");
    }
}
