//! Characters that a screen does not show, or that turn what it shows about.

/// Whether a character has no picture of its own, or turns the text around it about.
///
/// Tab, line feed and carriage return are plain text. The line and paragraph separators and the
/// next-line character count as unseen: readers of YAML disagree whether they break a line.
pub(crate) fn is_unseen(c: char) -> bool {
    let plain_break = matches!(c, '\t' | '\n' | '\r');
    (c.is_control() && !plain_break) || turns_text(c) || has_no_picture(c)
}

/// Marks that set the direction of writing.
fn turns_text(c: char) -> bool {
    let mark = matches!(c, '\u{200e}' | '\u{200f}' | '\u{061c}');
    mark || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Separators, joiners, byte-order and annotation marks.
fn has_no_picture(c: char) -> bool {
    let separator = matches!(c, '\u{200b}' | '\u{2028}' | '\u{2029}' | '\u{2060}');
    separator || matches!(c, '\u{feff}' | '\u{fff9}'..='\u{fffb}')
}
