//! What was typed, made fit to be shown back.

/// The most characters of an input that are shown back.
const SHOWN: usize = 40;

/// The input as it may be shown: at most forty characters, nothing that moves a cursor or turns text round.
pub(super) fn echo(text: &str) -> String {
    let mut shown: String = text.trim().chars().take(SHOWN).map(harmless).collect();
    if text.trim().chars().nth(SHOWN).is_some() {
        shown.push('…');
    }
    shown
}

/// Whether a character has no place in a quantity and would act on a terminal instead of being seen.
pub(super) fn acts_unseen(sign: char) -> bool {
    sign.is_control()
        || matches!(sign, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

fn harmless(sign: char) -> char {
    match sign {
        '`' => '\'',
        '\t' => ' ',
        other if acts_unseen(other) => '\u{fffd}',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::echo;

    #[test]
    fn an_echo_is_short_and_harmless() {
        assert_eq!(echo(" 118\u{1b}[2J V "), "118\u{fffd}[2J V");
        assert_eq!(echo("\u{202e}V 811"), "\u{fffd}V 811");
        assert_eq!(echo(&"9".repeat(10_000)).chars().count(), 41);
    }
}
