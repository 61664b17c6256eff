//! The meter: its error, its scatter, its last digit, and what it makes of an open wire.

use super::Care;
use crate::chance::Chance;
use crate::ranges::technician as ranges;
use crate::read::Reading;
use engine::quantity::{Dimension, Quantity, Unit};
use engine::rulebook::{Answer, Fact, Kind, Value};
use std::collections::BTreeMap;

/// The meters in one bag.
#[derive(Debug)]
pub(crate) struct Meter {
    perfect: bool,
    high_impedance: bool,
    /// Where in its band each instrument stands, from -1 to 1: one instrument for a kind of quantity.
    stands: BTreeMap<&'static str, f64>,
}

impl Meter {
    pub(crate) fn draw(care: Care, chance: &mut Chance) -> Self {
        let high_impedance = chance.happens(ranges::HIGH_IMPEDANCE);
        let stands = Dimension::ALL.iter().map(|dimension| (dimension.word(), chance.either_way())).collect();
        Self { perfect: care == Care::Perfect, high_impedance, stands }
    }

    /// What is told of what would be found.
    pub(crate) fn shows(&self, rule: &Fact, found: Reading, chance: &mut Chance) -> Answer {
        let told = match found {
            Reading::Choice(id) => rule.choice(id).map(Value::Choices),
            Reading::Is(number, unit) => self.reads(rule, number, unit, chance),
            Reading::Ghost(near) => {
                let share = if self.high_impedance && !self.perfect {
                    chance.within(ranges::GHOST)
                } else {
                    ranges::GHOST_LOW
                };
                self.reads(rule, near * share, "V", chance)
            }
            Reading::Over => {
                rule.expected().map(|expected| Value::Quantity(Quantity::over_range(expected.unit())))
            }
            Reading::Cannot => None,
        };
        told.map_or(Answer::Cannot, Answer::Value)
    }

    fn reads(&self, rule: &Fact, number: f64, unit: &str, chance: &mut Chance) -> Option<Value> {
        let Kind::Quantity { expected, meter } = &rule.kind else { return None };
        let dimension = expected.dimension();
        let unit = if unit.is_empty() { expected.unit() } else { Unit::parse_in(unit, dimension)? };
        let truth = Quantity::new(number, unit)?.in_unit(expected.unit())?;
        if meter.is_exact() {
            return Some(Value::Quantity(truth));
        }
        if self.perfect {
            let fine = last_digit(rule) / FINER;
            return Quantity::new(to_digit(truth.number(), fine), truth.unit()).map(Value::Quantity);
        }
        let stands = self.stands.get(dimension.word()).copied().unwrap_or_default();
        let out = stands * (1.0 - ranges::SCATTER) + chance.either_way() * ranges::SCATTER;
        let base = expected.unit().to_base(truth.number()) + out * meter.half_width(truth);
        let shown = expected.unit().from_base(base);
        let digit = last_digit(rule);
        // No meter shows less than nothing of what cannot be less than nothing.
        let signed = matches!(dimension, Dimension::Pressure | Dimension::Temperature);
        let shown = if signed { shown } else { shown.max(0.0) };
        let digit = if dimension == Dimension::Resistance { digit.max(step_of(shown)) } else { digit };
        Quantity::new(to_digit(shown, digit), expected.unit()).map(Value::Quantity)
    }
}

/// How much finer a perfect meter shows than an ordinary one.
const FINER: f64 = 100.0;

/// Counts of an ordinary display: common practice.
const COUNTS: f64 = 6000.0;

/// A number as a display has it: so many of its last digit, and no noise of binary fractions behind them.
fn to_digit(number: f64, digit: f64) -> f64 {
    let steps = digit.recip().round();
    if steps > 1.0 { (number * steps).round() / steps } else { (number / digit).round() * digit }
}

/// What the last digit is worth where an ohm-meter has changed its range to hold a number.
fn step_of(number: f64) -> f64 {
    10_f64.powf((number.abs() / COUNTS).max(f64::MIN_POSITIVE).log10().ceil())
}

/// What the last digit is worth, in the fact's usual unit.
fn last_digit(rule: &Fact) -> f64 {
    let Some(expected) = rule.expected() else { return 1.0 };
    match expected.dimension() {
        Dimension::Current | Dimension::Pressure => 0.01,
        Dimension::Power if rule.id.starts_with("learning") => 0.1,
        Dimension::Power if expected.unit().symbol() == "W" => 1.0,
        Dimension::Power => 100.0,
        Dimension::RotationalSpeed => 1.0,
        _ => 0.1,
    }
}
