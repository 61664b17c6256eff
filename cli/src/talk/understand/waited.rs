//! A time that is told where a wait is under way.

use crate::talk::spoken;
use engine::quantity::{Expected, Quantity, Unit};
use std::time::Duration;

/// How long a line says that the unit has been off: `20 minutes`, `only 3 min`, `half an hour`; a bare number is in
/// minutes. `None` where it tells no time.
pub(super) fn told(line: &str) -> Option<Duration> {
    let small = spoken::small(line);
    let said =
        small.trim_end_matches(['.', '!']).replace("half an hour", "30 minutes").replace("an hour", "1 h");
    let words: Vec<&str> = said.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    // `done, only two minutes`: the time stands at the end, or before a word such as `ago`.
    (0..words.len()).find_map(|from| {
        (from + 1..=words.len()).rev().find_map(|to| {
            let behind =
                words[to..].iter().all(|word| matches!(*word, "ago" | "now" | "already" | "so" | "far"));
            behind.then(|| time(&words[from..to].join(" "))).flatten()
        })
    })
}

fn time(text: &str) -> Option<Duration> {
    let expected = Expected::new(Unit::parse("min")?);
    let read = |text: &str| Quantity::parse(text, &expected).ok();
    let quantity = read(text).or_else(|| read(&spoken::number(text)?))?;
    Duration::try_from_secs_f64(quantity.base()).ok()
}

#[cfg(test)]
mod tests {
    use super::told;
    use std::time::Duration;

    #[test]
    fn a_time_is_heard_however_it_is_told() {
        for (line, minutes) in [
            ("20 minutes", 20.0),
            ("20", 20.0),
            ("done, only 2 minutes", 2.0),
            ("it's been off for half an hour", 30.0),
            ("waited five minutes", 5.0),
            ("off an hour ago", 60.0),
            ("90 s", 1.5),
        ] {
            assert_eq!(told(line), Some(Duration::from_secs_f64(minutes * 60.0)), "{line}");
        }
        for line in ["done", "not done", "118 V", "", "dead", "it is off"] {
            assert_eq!(told(line), None, "{line}");
        }
    }
}
