//! What one fact may be.

use crate::quantity::Quantity;
use crate::rulebook::{ChoiceSet, Fact, Kind};

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
        self.low > self.high || (self.low >= self.high && (self.low_open || self.high_open))
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

    pub(super) const fn ends(self) -> (f64, f64) {
        (self.low, self.high)
    }
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
            Kind::Quantity { expected, .. } => Values::Numbers(match expected.range() {
                Some((low, high)) => {
                    let (low, high) = (low.base(), high.base());
                    // A plausible range is not missed by the last digit of a conversion.
                    let slack = (high - low).abs() * 1e-6;
                    let high = if expected.over_range() { f64::INFINITY } else { high + slack };
                    Interval::closed(low - slack, high)
                }
                None => Interval::ALL,
            }),
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

    /// As a person would say it: `on, or cannot be told`.
    pub(super) fn in_words(self, fact: &Fact) -> String {
        let mut words = Vec::new();
        match self.values {
            Values::Choices(set) => {
                let named = set.positions().filter_map(|position| fact.choices().get(position));
                words.extend(named.map(|choice| format!("`{}`", choice.id)));
            }
            Values::Numbers(numbers) if !numbers.is_empty() => {
                let shown = |base: f64| {
                    let unit = fact.expected()?.unit();
                    base.is_finite().then(|| Quantity::new(unit.from_base(base), unit)).flatten()
                };
                let (low, high) = numbers.ends();
                words.push(match (shown(low), shown(high)) {
                    (Some(low), Some(high)) => format!("{low} to {high}"),
                    (Some(low), None) => format!("{low} or more"),
                    (None, Some(high)) => format!("at most {high}"),
                    (None, None) => "any value".to_owned(),
                });
            }
            Values::Numbers(_) => {}
        }
        if self.cannot {
            words.push("cannot be told".to_owned());
        }
        if self.unknown {
            words.push("not known".to_owned());
        }
        words.join(", ")
    }
}
