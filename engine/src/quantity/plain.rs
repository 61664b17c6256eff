//! The many signs that keyboards and copied texts have for one thing.

/// The text with one kind of blank, minus, stroke and fraction.
pub(super) fn plain_signs(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '−' | '–' => plain.push('-'),
            '⁄' => plain.push('/'),
            blank if blank.is_whitespace() => plain.push(' '),
            other => match vulgar(other) {
                Some(fraction) => {
                    plain.push(' ');
                    plain.push_str(fraction);
                    plain.push(' ');
                }
                None => plain.push(other),
            },
        }
    }
    // `-½` has become `- 1/2`: the sign belongs to the number.
    let plain = plain.trim();
    plain.strip_prefix('-').map_or_else(|| plain.to_owned(), |size| format!("-{}", size.trim_start()))
}

fn vulgar(sign: char) -> Option<&'static str> {
    Some(match sign {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅙' => "1/6",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        _ => return None,
    })
}
