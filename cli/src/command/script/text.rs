//! Text for paper: plain ASCII, no line wider than the paper.

use super::page::Block;
use engine::rulebook::Caution;

/// Columns of a line: ten to the inch fit Letter and A4.
pub(super) const WIDTH: usize = 76;
/// Where the text of a numbered thing begins.
pub(super) const INDENT: usize = 6;

/// The text with nothing in it but printable ASCII: a printer of any age shows it, and nothing in it steers one.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            ' '..='~' => out.push(letter),
            '°' => out.push_str("deg "),
            'Ω' | '\u{2126}' => out.push_str("ohm"),
            'µ' | 'μ' => out.push('u'),
            '–' | '—' | '−' => out.push('-'),
            '’' | '‘' => out.push('\''),
            '“' | '”' => out.push('"'),
            '×' => out.push('x'),
            '÷' => out.push('/'),
            '±' => out.push_str("+/-"),
            '≤' => out.push_str("<="),
            '≥' => out.push_str(">="),
            '²' => out.push('2'),
            '³' => out.push('3'),
            '…' => out.push_str("..."),
            _ if letter.is_control() || letter.is_whitespace() => out.push(' '),
            _ => out.push('?'),
        }
    }
    out
}

impl Block {
    /// A paragraph behind a lead, set in; all its lines stand below its first word.
    pub(super) fn para(&mut self, indent: usize, lead: &str, text: &str) {
        let first = format!("{}{}", " ".repeat(indent), plain(lead));
        let next = " ".repeat(first.len());
        // A word with a hyphen stays whole: parted there it is easily misread over a phone.
        let options = textwrap::Options::new(WIDTH)
            .initial_indent(&first)
            .subsequent_indent(&next)
            .word_splitter(textwrap::WordSplitter::NoHyphenation);
        for line in textwrap::wrap(&plain(text), options) {
            self.lines.push(line.trim_end().to_owned());
        }
    }

    /// A paragraph of a numbered thing, under a word of at most six letters.
    pub(super) fn part(&mut self, word: &str, text: &str) {
        self.para(INDENT, &format!("{word:<7}"), text);
    }

    /// A paragraph of a numbered thing, under no word.
    pub(super) fn text(&mut self, text: &str) {
        self.para(INDENT, "", text);
    }

    /// An answer and where it leads, the jump at the right edge.
    pub(super) fn jump(&mut self, label: &str, text: &str, jump: &str) {
        self.para(1, &format!("{label:<5}"), text);
        let last = self.lines.pop().unwrap_or_default();
        if last.len() + jump.len() + 4 <= WIDTH {
            let dots = ".".repeat(WIDTH - last.len() - jump.len() - 2);
            self.lines.push(format!("{last} {dots} {jump}"));
        } else {
            self.lines.push(last);
            let dots = ".".repeat(WIDTH.saturating_sub(INDENT + jump.len() + 1));
            self.lines.push(format!("{}{dots} {jump}", " ".repeat(INDENT)));
        }
    }

    /// Cautions, the worst first.
    pub(super) fn cautions(&mut self, cautions: &[Caution]) {
        let mut sorted: Vec<&Caution> = cautions.iter().collect();
        sorted.sort_by_key(|caution| std::cmp::Reverse(caution.signal));
        for caution in sorted {
            self.para(INDENT, &format!("{}: ", caution.signal.word()), &caution.text);
        }
    }

    /// Tools or parts, if there are any.
    pub(super) fn list(&mut self, word: &str, things: &[String]) {
        if !things.is_empty() {
            self.part(word, &things.join(", "));
        }
    }

    /// An empty line.
    pub(super) fn gap(&mut self) {
        self.lines.push(String::new());
    }
}

#[cfg(test)]
mod tests;
