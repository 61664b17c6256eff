//! The number at the head of a text: decimals, fractions, whole numbers with a fraction.

/// How a number at the head of a text reads.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Head<'a> {
    /// A number, and what follows it.
    Number { value: f64, text: &'a str, rest: &'a str },
    /// A comma for a decimal point; the text as it should be.
    CommaDecimal(String),
    /// Commas between thousands; the text as it should be.
    CommaThousands(String),
    /// Infinity by name.
    Infinite,
    /// Anything else.
    Nothing,
}

/// Reads the number at the head of `text`, which is trimmed.
pub(super) fn head(text: &str) -> Head<'_> {
    let body = text.trim_start_matches(['+', '-']);
    let sign = &text[..text.len() - body.len()];
    if is_infinite(body) {
        return Head::Infinite;
    }
    if sign.len() > 1 {
        return Head::Nothing;
    }
    if let Some(comma) = comma(sign, body) {
        return comma;
    }
    let Some((size, length)) = fraction(body).or_else(|| decimal(body)) else {
        return Head::Nothing;
    };
    let rest = &body[length..];
    // A second number, or a range, is not ours to choose from.
    if rest.trim_start().starts_with(|next: char| next.is_ascii_digit() || "+-/,".contains(next))
        || rest.starts_with('.') && digits(&rest[1..]) > 0
    {
        return Head::Nothing;
    }
    let value = if sign == "-" { -size } else { size };
    Head::Number { value, text: &text[..sign.len() + length], rest: rest.trim_start() }
}

fn is_infinite(body: &str) -> bool {
    let word = body.split_whitespace().next().unwrap_or_default().to_lowercase();
    matches!(word.as_str(), "inf" | "infinity" | "infinite" | "∞")
}

/// `118,4` or `64,000` at the head of the body; a comma anywhere else is left to be refused as it stands.
fn comma<'a>(sign: &str, body: &str) -> Option<Head<'a>> {
    let length =
        body.find(|next: char| !next.is_ascii_digit() && next != ',' && next != '.').unwrap_or(body.len());
    let (number, rest) = body.split_at(length);
    let groups: Vec<&str> = number.split('.').next()?.split(',').collect();
    let [first, later @ ..] = groups.as_slice() else {
        return None;
    };
    if later.is_empty() || later.iter().any(|group| group.is_empty()) {
        return None;
    }
    let plain = number.replace(',', "");
    if (1..=3).contains(&first.len()) && *first != "0" && later.iter().all(|group| group.len() == 3) {
        return Some(Head::CommaThousands(format!("{sign}{plain}{rest}")));
    }
    (later.len() == 1 && !number.contains('.'))
        .then(|| Head::CommaDecimal(format!("{sign}{}{rest}", number.replace(',', "."))))
}

/// `3/4`, `1 1/2` or `1-1/2`: the value and how long it is.
fn fraction(body: &str) -> Option<(f64, usize)> {
    let first = digits(body);
    let after = &body[first..];
    let (whole, above) = if first > 0 && after.starts_with('/') {
        (0.0, 0)
    } else {
        let gap = after.len() - after.strip_prefix('-').unwrap_or_else(|| after.trim_start()).len();
        if first == 0 || gap == 0 {
            return None;
        }
        (body[..first].parse::<f64>().ok()?, first + gap)
    };
    let top = digits(&body[above..]);
    let below = above + top + 1;
    if top == 0 || !body[above + top..].starts_with('/') {
        return None;
    }
    let end = below + digits(&body[below..]);
    let numerator: f64 = body[above..above + top].parse().ok()?;
    let denominator: f64 = body[below..end].parse().ok()?;
    // Divided once, so that 1 1/3 is the same number as 4/3.
    (denominator > 0.0).then(|| (whole.mul_add(denominator, numerator) / denominator, end))
}

/// `118`, `118.4`, `.5`, `5.`, `1.2e3`: the value and how long it is.
fn decimal(body: &str) -> Option<(f64, usize)> {
    let whole = digits(body);
    let mut end = whole;
    let mut any = whole;
    if body[end..].starts_with('.') {
        let part = digits(&body[end + 1..]);
        any += part;
        end += 1 + part;
    }
    if any == 0 {
        return None;
    }
    let power = &body[end..];
    if let Some(power) = power.strip_prefix(['e', 'E']) {
        let signed = power.strip_prefix(['+', '-']).unwrap_or(power);
        let length = digits(signed);
        if length > 0 {
            end += 1 + (power.len() - signed.len()) + length;
        }
    }
    Some((body[..end].parse().ok()?, end))
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

#[cfg(test)]
mod tests {
    use super::{Head, head};

    fn value(text: &str) -> Option<f64> {
        match head(text) {
            Head::Number { value, .. } => Some(value),
            _ => None,
        }
    }

    #[test]
    fn numbers_as_people_type_them() {
        for (text, expected) in [
            ("118", 118.0),
            ("-0.2 in wc", -0.2),
            (".5", 0.5),
            ("5. V", 5.0),
            ("3/4 hp", 0.75),
            ("1 1/2 in", 1.5),
            ("-1-1/2\"", -1.5),
            ("1 1/3", 4.0 / 3.0),
            ("1e3", 1000.0),
            ("5e", 5.0),
        ] {
            assert_eq!(value(text), Some(expected), "{text}");
        }
        for text in ["", "-", ".", "abc", "1.2.3", "118 119", "118-119", "3/0", "1/2/3", "--5", "3/", "1,2,3"]
        {
            assert_eq!(head(text), Head::Nothing, "{text}");
        }
    }

    #[test]
    fn a_comma_is_told_as_what_it_is() {
        assert_eq!(head("118,4 V"), Head::CommaDecimal("118.4 V".into()));
        assert_eq!(head("-0,250"), Head::CommaDecimal("-0.250".into()));
        assert_eq!(head("64,000 Btu/h"), Head::CommaThousands("64000 Btu/h".into()));
        assert_eq!(head("1,064,000.5"), Head::CommaThousands("1064000.5".into()));
    }
}
