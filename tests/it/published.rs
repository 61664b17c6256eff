//! The engine against values published outside the project; each source is named beside its check.

mod air;
mod control;
mod decision_tables;
mod formulas;
mod graphs;
mod handbooks;
mod hitting;
mod spread;
mod supply;
mod units;

use engine::formula::{Formula, Input};
use engine::quantity::{Expected, Quantity};

/// A formula's inputs, each typed as a person would; a generic one's with their units.
fn inputs(name: &str, typed: &[&str]) -> (&'static Formula, Vec<Quantity>) {
    let formula = Formula::by_name(name).unwrap_or_else(|| panic!("no formula `{name}`"));
    let read = |(place, text): (usize, &&str)| match formula.inputs().get(place).and_then(Input::unit) {
        Some(unit) => Quantity::parse(text, &Expected::new(unit)),
        None => Quantity::parse_exact(text),
    };
    (formula, typed.iter().enumerate().map(|input| read(input).unwrap()).collect())
}

/// The number of a formula's result in its trade unit.
fn worked(name: &str, typed: &[&str]) -> f64 {
    let (formula, inputs) = inputs(name, typed);
    formula.work(&inputs).unwrap_or_else(|refused| panic!("{name} {typed:?}: {refused}")).number()
}

/// A published number is right to half of its last digit, and no better.
fn near(found: f64, published: f64, half_a_digit: f64, what: &str) {
    assert!((found - published).abs() <= half_a_digit, "{what}: {found}, published {published}");
}
