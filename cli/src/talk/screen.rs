//! The writer: every line that a person sees goes through it, wrapped and made harmless.

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

/// Where the lines go.
pub(crate) struct Screen<'s> {
    out: Box<dyn Write + 's>,
    width: usize,
}

impl<'s> Screen<'s> {
    pub(crate) fn new(out: Box<dyn Write + 's>) -> Self {
        Self { out, width: USUAL }
    }

    /// Takes the width of the terminal, where there is one.
    pub(crate) fn fit(&mut self, columns: Option<usize>) {
        self.width = columns.unwrap_or(USUAL).clamp(NARROWEST, WIDEST);
    }

    /// A text beside its label.
    pub(crate) fn row(&mut self, label: Label, text: &str) -> io::Result<()> {
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
        for (number, text) in (1..).zip(texts) {
            self.labelled(&format!("{number}"), Label::NONE, text.as_ref())?;
        }
        Ok(())
    }

    /// Cautions, the gravest first.
    pub(crate) fn cautions(&mut self, cautions: &[Caution]) -> io::Result<()> {
        let mut cautions: Vec<&Caution> = cautions.iter().collect();
        cautions.sort_by_key(|caution| std::cmp::Reverse(caution.signal));
        for caution in cautions {
            self.row(Label::signal(caution.signal), &caution.text)?;
        }
        Ok(())
    }

    /// A line across the screen.
    pub(crate) fn rule(&mut self) -> io::Result<()> {
        writeln!(self.out, "{}", "=".repeat(self.width.min(USUAL)))
    }

    /// An empty line.
    pub(crate) fn gap(&mut self) -> io::Result<()> {
        writeln!(self.out)
    }

    /// What stands before a typed line.
    pub(crate) fn prompt() -> String {
        format!("{:>LABEL$}{GAP}", ">")
    }

    /// Shows the prompt, for a source that does not by itself.
    pub(crate) fn show_prompt(&mut self) -> io::Result<()> {
        write!(self.out, "{}", Self::prompt())?;
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
        let mut left = word;
        for line in textwrap::wrap(&text, self.width - LABEL - GAP.len()) {
            let blanks = LABEL.saturating_sub(left.len());
            write!(self.out, "{:blanks$}", "")?;
            write!(self.out, "{}{left}{:#}{GAP}", style.beside, style.beside)?;
            writeln!(self.out, "{}{line}{:#}", style.text, style.text)?;
            left = "";
        }
        Ok(())
    }
}

/// The text on one line, without anything that would act on a terminal instead of being seen.
fn harmless(text: &str) -> String {
    text.chars()
        .map(|sign| match sign {
            blank if blank.is_whitespace() => ' ',
            sign if sign.is_control() || acts_unseen(sign) => '\u{fffd}',
            sign => sign,
        })
        .collect()
}

/// Signs that turn text round, join it or hide in it.
const fn acts_unseen(sign: char) -> bool {
    matches!(sign, '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{Label, Screen};

    fn shown(columns: usize, text: &str) -> String {
        let mut out = Vec::new();
        let mut screen = Screen::new(Box::new(&mut out));
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
    fn nothing_that_acts_on_a_terminal_gets_through() {
        let shown = shown(80, "a\u{1b}[2Jb\u{7}c\u{9b}d\u{202e}e\nf\rg");
        assert_eq!(shown, "   NOTED  a\u{fffd}[2Jb\u{fffd}c\u{fffd}d\u{fffd}e f g\n");
    }
}
