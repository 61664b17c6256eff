//! What one fact may be.

use crate::quantity::{Expected, Quantity};
use crate::rulebook::{ChoiceSet, Fact, Kind};

/// What is left to the rounding of unit conversion, as in a call.
const ROUNDING: f64 = 1e-9;

/// What a plausible range is taken wider by, in parts of it.
const SLACK: f64 = 1e-6;

/// Numbers from one end to the other, in the base unit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Interval {
    low: f64,
    low_open: bool,
    high: f64,
    high_open: bool,
}

impl Interval {
    pub(super) const ALL: Self =
        Self { low: f64::NEG_INFINITY, low_open: false, high: f64::INFINITY, high_open: false };

    pub(super) const NONE: Self = Self::closed(1.0, 0.0);

    pub(super) const fn closed(low: f64, high: f64) -> Self {
        Self { low, low_open: false, high, high_open: false }
    }

    /// What lies above an end.
    pub(super) const fn above(low: f64, open: bool) -> Self {
        Self { low, low_open: open, ..Self::ALL }
    }

    /// What lies below an end.
    pub(super) const fn below(high: f64, open: bool) -> Self {
        Self { high, high_open: open, ..Self::ALL }
    }

    pub(super) fn is_empty(self) -> bool {
        // Two ends that a call takes for one value are one value here.
        let apart = (self.low - self.high).abs();
        let same = apart.is_finite() && apart <= ROUNDING * self.low.abs().max(self.high.abs());
        if same { self.low_open || self.high_open } else { self.low > self.high }
    }

    /// What lies in both.
    pub(super) fn and(self, other: Self) -> Self {
        let (low, low_open) = match self.low.total_cmp(&other.low) {
            std::cmp::Ordering::Less => (other.low, other.low_open),
            std::cmp::Ordering::Equal => (self.low, self.low_open || other.low_open),
            std::cmp::Ordering::Greater => (self.low, self.low_open),
        };
        let (high, high_open) = match self.high.total_cmp(&other.high) {
            std::cmp::Ordering::Less => (self.high, self.high_open),
            std::cmp::Ordering::Equal => (self.high, self.high_open || other.high_open),
            std::cmp::Ordering::Greater => (other.high, other.high_open),
        };
        Self { low, low_open, high, high_open }
    }

    /// The least interval that holds both.
    pub(super) fn or(self, other: Self) -> Self {
        if self.is_empty() {
            return other;
        }
        if other.is_empty() {
            return self;
        }
        let (low, low_open) = match self.low.total_cmp(&other.low) {
            std::cmp::Ordering::Less => (self.low, self.low_open),
            std::cmp::Ordering::Equal => (self.low, self.low_open && other.low_open),
            std::cmp::Ordering::Greater => (other.low, other.low_open),
        };
        let (high, high_open) = match self.high.total_cmp(&other.high) {
            std::cmp::Ordering::Less => (other.high, other.high_open),
            std::cmp::Ordering::Equal => (self.high, self.high_open && other.high_open),
            std::cmp::Ordering::Greater => (self.high, self.high_open),
        };
        Self { low, low_open, high, high_open }
    }

    /// In the usual unit of a fact, to three digits: `0.941 A to 12 A`.
    fn in_words(self, fact: &Fact) -> String {
        let shown = |base: f64| {
            let unit = fact.expected()?.unit();
            base.is_finite().then(|| Quantity::new(three_digits(unit.from_base(base)), unit)).flatten()
        };
        match (shown(self.low), shown(self.high)) {
            (Some(low), Some(high)) => format!("{low} to {high}"),
            (Some(low), None) => format!("{low} or more"),
            (None, Some(high)) => format!("{high} or less"),
            (None, None) => "any value".to_owned(),
        }
    }
}

fn three_digits(number: f64) -> f64 {
    // What the slack of a range leaves beside nothing is nothing.
    if number.abs() < 1e-2 {
        return (number * 1e3).round() / 1e3 + 0.0;
    }
    let unit = 10_f64.powf(number.abs().log10().floor() - 2.0);
    (number / unit).round() * unit
}

/// The values that a fact may have where it is known.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Values {
    Choices(ChoiceSet),
    Numbers(Interval),
}

/// What a fact may be: not known yet, known that nobody can tell, or one of these values.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Cell {
    pub(super) unknown: bool,
    pub(super) cannot: bool,
    pub(super) values: Values,
}

impl Cell {
    /// All that a fact may be before anything is said of it.
    pub(super) fn of(fact: &Fact) -> Self {
        let values = match &fact.kind {
            Kind::Choice { .. } => Values::Choices(fact.every_choice()),
            Kind::Quantity { expected, .. } => Values::Numbers(numbers(fact, expected)),
        };
        // Where what nobody can tell stands for a choice, it is that choice.
        Self { unknown: true, cannot: fact.cannot_means.is_none(), values }
    }

    pub(super) fn may_be_unknown(self) -> bool {
        self.unknown
    }

    pub(super) fn no_value(self) -> bool {
        match self.values {
            Values::Choices(set) => set.is_empty(),
            Values::Numbers(numbers) => numbers.is_empty(),
        }
    }

    /// Whether it cannot be anything, so that no call comes here.
    pub(super) fn is_empty(self) -> bool {
        !self.unknown && !self.cannot && self.no_value()
    }

    /// What it may be on either of two ways.
    pub(super) fn or(self, other: Self) -> Self {
        let values = match (self.values, other.values) {
            (Values::Choices(one), Values::Choices(two)) => Values::Choices(one.with(two)),
            (Values::Numbers(one), Values::Numbers(two)) => Values::Numbers(one.or(two)),
            (one, _) => one,
        };
        Self { unknown: self.unknown || other.unknown, cannot: self.cannot || other.cannot, values }
    }

    /// As a person would say it: `on` or cannot be told.
    pub(super) fn in_words(self, fact: &Fact) -> String {
        let mut words = Vec::new();
        match self.values {
            Values::Choices(set) => {
                let named = set.positions().filter_map(|position| fact.choices().get(position));
                words.extend(named.map(|choice| format!("`{}`", choice.id)));
            }
            Values::Numbers(numbers) if !numbers.is_empty() => words.push(numbers.in_words(fact)),
            Values::Numbers(_) => {}
        }
        if self.unknown {
            words.push("not known".to_owned());
        }
        if self.cannot {
            words.push("cannot be told".to_owned());
        }
        match words.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, first)) => format!("{} or {last}", first.join(", ")),
            None => String::new(),
        }
    }
}

/// The numbers that a fact may be: all, where it does not come from a question alone.
fn numbers(fact: &Fact, expected: &Expected) -> Interval {
    let Some((low, high)) = expected.range().filter(|_| fact.given.is_empty() && fact.working.is_none())
    else {
        return Interval::ALL;
    };
    let (low, high) = (low.base(), high.base());
    // A plausible range is not missed by the last digit of a conversion.
    let slack = (high - low).abs() * SLACK;
    Interval::closed(low - slack, if expected.over_range() { f64::INFINITY } else { high + slack })
}
