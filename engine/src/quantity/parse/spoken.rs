//! What is typed as it is said: a meter that "says" something, feet and inches, "oh-el".

use crate::quantity::number::{Head, head};

/// Words before a reading that say nothing of it.
const LEADING: [&str; 8] =
    ["it says ", "it reads ", "it shows ", "meter says ", "says ", "reads ", "shows ", "about "];

const FEET: [&str; 4] = ["feet", "foot", "ft", "'"];
const INCHES: [&str; 6] = ["", "inches", "inch", "in.", "in", "\""];
const INCHES_A_FOOT: f64 = 12.0;

/// The text without the words before the reading, such as `it says`.
pub(super) fn without_leading_words(text: &str) -> &str {
    let lower = text.to_ascii_lowercase();
    let leading = LEADING.iter().find(|words| lower.starts_with(*words));
    leading.map_or(text, |words| text[words.len()..].trim_start())
}

/// `5 ft 3 in`, `5' 3 1/2"`: the length in inches; `None` where the text is something else.
pub(super) fn feet_and_inches(text: &str) -> Option<f64> {
    let Head::Number { value: feet, rest, .. } = head(text) else {
        return None;
    };
    let rest = rest.trim_start();
    let lower = rest.to_ascii_lowercase();
    let unit = FEET.iter().find(|unit| lower.starts_with(*unit))?;
    let Head::Number { value: inches, rest, .. } = head(rest[unit.len()..].trim_start()) else {
        return None;
    };
    let whole = INCHES.contains(&rest.trim().to_ascii_lowercase().as_str());
    (whole && feet >= 0.0 && (0.0..INCHES_A_FOOT).contains(&inches))
        .then(|| feet.mul_add(INCHES_A_FOOT, inches))
}

#[cfg(test)]
mod tests {
    use super::{feet_and_inches, without_leading_words};

    #[test]
    fn feet_and_inches_are_one_length() {
        for (text, inches) in
            [("5 ft 3 in", 63.0), ("5' 3 1/2\"", 63.5), ("1 foot 0", 12.0), ("0' 10.5\"", 10.5)]
        {
            assert_eq!(feet_and_inches(text), Some(inches), "{text}");
        }
        for text in ["5 ft", "5 ft 13 in", "5", "-1 ft 2 in", "5 ft 3 V", "5 in 3 ft"] {
            assert_eq!(feet_and_inches(text), None, "{text}");
        }
    }

    #[test]
    fn what_comes_before_a_reading_is_passed_over() {
        assert_eq!(without_leading_words("It says 118"), "118");
        assert_eq!(without_leading_words("118 V"), "118 V");
    }
}
