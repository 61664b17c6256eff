//! A pocket calculator: the signs that are printed on the sheet, and nothing else.

/// What a line of arithmetic comes to. `name` gives the number of each word in it.
pub(super) fn work(text: &str, name: &mut dyn FnMut(&str) -> Option<f64>) -> Option<f64> {
    let (text, larger) = match text.strip_suffix(", the larger over the smaller") {
        Some(text) => (text, true),
        None => (text, false),
    };
    let spaced = text.replace('(', " ( ").replace(')', " ) ");
    let mut words: Vec<&str> = spaced.split_whitespace().rev().collect();
    let result = sum(&mut words, name)?;
    assert!(words.is_empty(), "cannot be worked with a pocket calculator: {text}");
    let result = if larger { result.max(1.0 / result) } else { result };
    result.is_finite().then_some(result)
}

fn sum(words: &mut Vec<&str>, name: &mut dyn FnMut(&str) -> Option<f64>) -> Option<f64> {
    let mut total = product(words, name)?;
    while let Some(sign @ ("+" | "-")) = words.last().copied() {
        words.pop();
        let next = product(words, name)?;
        total += if sign == "+" { next } else { -next };
    }
    Some(total)
}

fn product(words: &mut Vec<&str>, name: &mut dyn FnMut(&str) -> Option<f64>) -> Option<f64> {
    let mut total = number(words, name)?;
    while let Some(sign @ ("x" | "/")) = words.last().copied() {
        words.pop();
        let next = number(words, name)?;
        total = if sign == "x" { total * next } else { total / next };
    }
    Some(total)
}

fn number(words: &mut Vec<&str>, name: &mut dyn FnMut(&str) -> Option<f64>) -> Option<f64> {
    match words.pop().unwrap() {
        "(" => {
            let inside = sum(words, name)?;
            assert_eq!(words.pop(), Some(")"));
            Some(inside)
        }
        word => word.parse().ok().or_else(|| name(word)),
    }
}

/// A number with four digits, as a person keeps them.
pub(super) fn four_digits(number: f64) -> f64 {
    format!("{number:.3e}").parse().unwrap()
}

/// What lies between two rows of a table, in the same way.
pub(super) fn between(rows: &[(f64, f64)], by: f64) -> Option<f64> {
    rows.windows(2).find(|pair| (pair[0].0..=pair[1].0).contains(&by)).map(|pair| {
        let (low, high) = (pair[0], pair[1]);
        low.1 + (high.1 - low.1) * (by - low.0) / (high.0 - low.0)
    })
}
