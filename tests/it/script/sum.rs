//! A pocket calculator: the signs that are printed on the sheet, and nothing else.

use engine::formula::{FORMULAS, Formula};
use engine::quantity::{Quantity, Unit};

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

/// The middle of what a formula takes, or a few volts where anything goes in.
fn inputs(formula: &Formula) -> Vec<Quantity> {
    let volts = |number: f64| Quantity::new(number, Unit::parse("V").unwrap()).unwrap();
    let percent = |number: f64| Quantity::new(number, Unit::parse("%").unwrap()).unwrap();
    let middle = |(low, high): (Quantity, Quantity)| {
        Quantity::new(f64::midpoint(low.number(), high.number()), low.unit()).unwrap()
    };
    let named: Option<Vec<Quantity>> =
        formula.inputs().iter().map(|input| input.range().map(middle)).collect();
    named.unwrap_or_else(|| match formula.name() {
        "product" => vec![percent(80.0), volts(115.0)],
        _ => vec![volts(104.5), volts(115.0)],
    })
}

#[test]
fn every_formula_that_is_worked_by_hand_comes_to_the_same() {
    let mut worked = 0;
    for formula in FORMULAS {
        let inputs = inputs(formula);
        let names: Vec<String> = (1..=inputs.len()).map(|number| format!("W{number}")).collect();
        let by_hand = formula.by_hand(&names);
        let by = by_hand.table.as_ref().map(|table| &table.by);
        let used = |name: &String| by_hand.arithmetic.contains(name) || by == Some(name);
        assert!(names.iter().all(used), "{}", formula.name());
        // More than a pocket calculator can do: it is printed as it is written.
        if by_hand.arithmetic.starts_with(formula.written()) {
            continue;
        }
        let arithmetic = by_hand.arithmetic.replace('×', "x").replace('÷', "/");
        let values = inputs.iter().zip(&by_hand.units);
        let values: Vec<f64> = values
            .map(|(input, unit)| input.in_unit(unit.unwrap_or(input.unit())).unwrap().number())
            .collect();
        let value = |name: &str| names.iter().position(|other| other == name).map(|at| values[at]);
        let found = work(&arithmetic, &mut |word| match &by_hand.table {
            Some(table) if table.word == word => between(&table.rows, value(&table.by)?),
            _ => value(word),
        });
        let wanted = formula.work(&inputs).unwrap();
        let wanted = by_hand.gives.map_or(wanted, |unit| wanted.in_unit(unit).unwrap()).number();
        let off = (found.unwrap() - wanted).abs();
        assert!(off <= 0.001 * wanted.abs(), "{}: {arithmetic} is {found:?}, not {wanted}", formula.name());
        worked += 1;
    }
    assert!(worked >= 24, "only {worked}");
}
