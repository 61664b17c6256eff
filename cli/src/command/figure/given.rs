//! What is given to a formula: by name or in order, with how sure it is.

use super::refused::{Refused, short};
use engine::finding::near;
use engine::formula::{Formula, Input};
use engine::quantity::{Dimension, Expected, Misread, Quantity, Unit};

/// How "give or take" is typed.
const EITHER_WAY: [&str; 3] = ["+/-", "+-", "±"];

/// The inputs of a formula, in order.
#[derive(Debug)]
pub(super) struct Given {
    pub(super) values: Vec<Quantity>,
    /// How far each may be off either way, in base units; zero where nothing was said.
    pub(super) halves: Vec<f64>,
}

impl Given {
    pub(super) fn read(formula: &'static Formula, typed: &[String]) -> Result<Self, Refused> {
        let named = formula.inputs();
        let mut placed: Vec<Option<(Quantity, f64)>> = vec![None; named.len()];
        for text in typed {
            let (place, value) = match text.split_once('=') {
                Some((name, value)) => (place_of(formula, name.trim(), &placed)?, value),
                None => (placed.iter().position(Option::is_none).unwrap_or(placed.len()), text.as_str()),
            };
            if place == placed.len() {
                if !formula.takes_more() {
                    let (formula, takes) = (formula.name(), takes(formula));
                    return Err(Refused::TooMany { formula, value: short(text), takes });
                }
                placed.push(None);
            }
            if let Some(input) = named.get(place).or(named.last()) {
                placed[place] = Some(read(input, value)?);
            }
        }
        let missing =
            listed(named.iter().zip(&placed).filter(|(_, at)| at.is_none()).map(|(input, _)| input));
        if !missing.is_empty() {
            return Err(Refused::Missing { formula: formula.name(), missing });
        }
        let (values, halves) = placed.into_iter().flatten().unzip();
        Ok(Self { values, halves })
    }

    /// Whether anything was said of how sure the inputs are.
    pub(super) fn unsure(&self) -> bool {
        self.halves.iter().any(|&half| half > 0.0)
    }
}

fn place_of(
    formula: &'static Formula,
    name: &str,
    placed: &[Option<(Quantity, f64)>],
) -> Result<usize, Refused> {
    let inputs = formula.inputs();
    let Some(place) = inputs.iter().position(|input| input.name() == name) else {
        return Err(Refused::NoInput {
            formula: formula.name(),
            name: short(name),
            near: near(name, inputs.iter().map(Input::name)),
            takes: takes(formula),
        });
    };
    match placed.get(place) {
        Some(Some(_)) => Err(Refused::Twice { formula: formula.name(), input: inputs[place].name() }),
        _ => Ok(place),
    }
}

/// A value, and how far it may be off either way, in base units.
fn read(input: &'static Input, text: &str) -> Result<(Quantity, f64), Refused> {
    let misread = |misread| Refused::Misread { input: input.name(), misread };
    let parts = EITHER_WAY.iter().find_map(|sign| text.split_once(sign));
    let (value, half) = parts.map_or((text, None), |(value, half)| (value, Some(half)));
    let value = match input.unit() {
        Some(unit) => Quantity::parse(value, &Expected::new(unit)),
        None => Quantity::parse_exact(value),
    };
    let value = value.map_err(misread)?;
    let Some(half) = half else { return Ok((value, 0.0)) };
    let half = half_width(half, value).map_err(misread)?;
    // A negative one is a slip; over range is none at all.
    if half.is_finite() && half >= 0.0 {
        Ok((value, half))
    } else {
        Err(Refused::NoSize { input: input.name() })
    }
}

/// In base units: in the value's own unit where none is typed, or a percentage of the value.
fn half_width(text: &str, value: Quantity) -> Result<f64, Misread> {
    // A degree either way is an interval, on a scale with an offset too.
    let unit = match value.dimension() {
        Dimension::Temperature => Unit::parse_in(value.unit().symbol(), Dimension::TemperatureDifference),
        _ => None,
    };
    match Quantity::parse(text, &Expected::new(unit.unwrap_or(value.unit()))) {
        Ok(half) => Ok(half.base()),
        Err(misread) if value.dimension() == Dimension::Temperature => Err(misread),
        Err(misread) => match Quantity::parse_as(text, Dimension::Percent) {
            Ok(share) => Ok(share.base() * value.base().abs()),
            Err(_) => Err(misread),
        },
    }
}

/// The names of a formula's inputs, as they are said in a message.
fn takes(formula: &'static Formula) -> String {
    listed(formula.inputs().iter())
}

fn listed(inputs: impl Iterator<Item = &'static Input>) -> String {
    inputs.map(|input| format!("`{}`", input.name())).collect::<Vec<_>>().join(", ")
}
