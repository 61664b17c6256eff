//! Text from anywhere, made fit for a terminal.

/// The text on one line, without anything that would act on a terminal instead of being seen.
pub(crate) fn harmless(text: &str) -> String {
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
