//! A formula worked, with how sure the result is.

use super::given::Given;
use super::refused::Refused;
use super::sheet;
use engine::formula::{Formula, Spread, grouped, rounded, spread};
use engine::quantity::{Dimension, Quantity, Unit};
use serde::Serialize;

/// Digits of a result of which it is not known how sure it is.
const DIGITS: usize = 4;
/// Digits of an uncertainty (JCGM 100, 7.2.6: at most two).
const UNSURE_DIGITS: usize = 2;
/// Places from the first to the last of them.
const LAST_UNSURE_DIGIT: i32 = 1;

/// A formula with its result.
pub(super) struct Worked<'g> {
    formula: &'static Formula,
    given: &'g Given,
    result: Quantity,
    arithmetic: String,
    /// `None` where nothing was said of how sure the inputs are.
    spread: Option<Spread>,
}

impl<'g> Worked<'g> {
    pub(super) fn of(formula: &'static Formula, given: &'g Given) -> Result<Self, Refused> {
        let result = formula.work(&given.values)?;
        let arithmetic = formula.explain(&given.values)?;
        let spread = if given.unsure() { Some(unsure(formula, given)?) } else { None };
        Ok(Self { formula, given, result, arithmetic, spread })
    }

    /// As a page of text.
    pub(super) fn page(&self) -> Vec<String> {
        let mut lines = sheet::head(self.formula);
        lines.push(String::new());
        lines.extend(sheet::row("result", &self.shown(self.result.unit())));
        let si = si_unit(self.result.dimension());
        if si != self.result.unit() {
            lines.extend(sheet::row("in SI", &self.shown(si)));
        }
        lines.extend(sheet::row("worked", &self.arithmetic));
        if let Some(spread) = &self.spread {
            let shares = self.shares(spread);
            lines.extend(sheet::row("give or take", &format!("covers about 95 in 100; from {shares}")));
        }
        lines.extend(sheet::origin(self.formula));
        lines
    }

    /// The result in a unit, with what it may be off.
    fn shown(&self, unit: Unit) -> String {
        let result = self.result.in_unit(unit).unwrap_or(self.result);
        let expanded = self.expanded(unit).and_then(|expanded| Quantity::new(expanded, unit));
        match expanded.filter(|expanded| expanded.number() > 0.0) {
            None => grouped(rounded(result, DIGITS)),
            Some(expanded) => {
                let expanded = rounded(expanded, UNSURE_DIGITS);
                format!("{}, give or take {}", grouped(to_the_place_of(result, expanded)), grouped(expanded))
            }
        }
    }

    /// U = 2u in a unit of the result.
    fn expanded(&self, unit: Unit) -> Option<f64> {
        let base = self.result.base();
        // By a difference: a scale's offset is no part of it.
        self.spread.as_ref().map(|spread| unit.from_base(base + 2.0 * spread.u) - unit.from_base(base))
    }

    /// What part of the variance each input has, the largest first.
    fn shares(&self, spread: &Spread) -> String {
        let inputs = self.formula.inputs();
        let names = (0..spread.shares.len()).filter_map(|place| inputs.get(place).or(inputs.last()));
        let all = spread.u * spread.u;
        let mut parts: Vec<_> = names
            .zip(&spread.shares)
            .map(|(input, share)| (input.name(), if all > 0.0 { 100.0 * share * share / all } else { 0.0 }))
            .filter(|&(_, part)| part >= 0.5)
            .collect();
        parts.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        parts.iter().map(|(name, part)| format!("{name} {part:.0} %")).collect::<Vec<_>>().join(", ")
    }

    /// As a JSON object, every digit kept.
    pub(super) fn json(&self) -> Result<String, serde_json::Error> {
        let inputs = self.formula.inputs();
        let entries = self.given.values.iter().zip(&self.given.halves).enumerate();
        let json = Json {
            formula: self.formula.name(),
            inputs: entries
                .filter_map(|(place, (&value, &half))| {
                    let input = inputs.get(place).or(inputs.last())?;
                    let half = (half > 0.0).then_some(half);
                    Some(Entry { name: input.name(), value: Value::of(value), base_half_width: half })
                })
                .collect(),
            result: Value::of(self.result),
            expanded_uncertainty: self.expanded(self.result.unit()),
            base_expanded_uncertainty: self.spread.as_ref().map(|spread| 2.0 * spread.u),
            worked: &self.arithmetic,
            written: self.formula.written(),
            source: self.formula.source(),
        };
        serde_json::to_string(&json)
    }
}

#[derive(Serialize)]
struct Json<'w> {
    formula: &'static str,
    inputs: Vec<Entry>,
    result: Value,
    expanded_uncertainty: Option<f64>,
    base_expanded_uncertainty: Option<f64>,
    worked: &'w str,
    written: &'static str,
    source: &'static str,
}

#[derive(Serialize)]
struct Entry {
    name: &'static str,
    value: Value,
    base_half_width: Option<f64>,
}

/// A quantity as typed and in its base unit.
#[derive(Serialize)]
struct Value {
    number: f64,
    unit: &'static str,
    base: f64,
    base_unit: &'static str,
}

impl Value {
    fn of(value: Quantity) -> Self {
        Self {
            number: value.number(),
            unit: value.unit().symbol(),
            base: value.base(),
            base_unit: value.dimension().base_unit().symbol(),
        }
    }
}

/// Every input evenly spread over its half-width (JCGM 100, 4.3.7), and independent.
fn unsure(formula: &'static Formula, given: &Given) -> Result<Spread, Refused> {
    let at: Vec<_> = given.values.iter().map(|value| value.base()).collect();
    let u: Vec<_> = given.halves.iter().map(|half| half / 3.0_f64.sqrt()).collect();
    spread(|at| formula.compute(at), &at, &u).ok_or(Refused::TooUnsure { formula: formula.name() })
}

/// The value rounded to the last digit of what it may be off.
fn to_the_place_of(value: Quantity, expanded: Quantity) -> Quantity {
    let written = format!("{:.*e}", UNSURE_DIGITS - 1, expanded.number());
    let power: i32 = written.split_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or_default();
    let places = LAST_UNSURE_DIGIT - power;
    let number = match usize::try_from(places) {
        // Through text, so that the number shown is the decimal one.
        Ok(places) => format!("{:.places$}", value.number()).parse().ok(),
        Err(_) => Some((value.number() * 10.0_f64.powi(places)).round() / 10.0_f64.powi(places)),
    };
    number.and_then(|number| Quantity::new(number, value.unit())).unwrap_or(value)
}

/// The unit of the SI that a person reads a result in.
fn si_unit(dimension: Dimension) -> Unit {
    let name = match dimension {
        Dimension::Temperature => "°C",
        Dimension::Capacitance => "µF",
        Dimension::Resistance => "MΩ",
        Dimension::Percent => "%",
        _ => return dimension.base_unit(),
    };
    Unit::parse_in(name, dimension).unwrap_or(dimension.base_unit())
}
