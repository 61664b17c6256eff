//! What a fact can be: a measured quantity or choices out of a list.

use crate::quantity::Quantity;

/// A set of choices of one fact, by position in the fact's own list (at most 32).
///
/// Most facts hold exactly one; a fact that allows `several` may hold more.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct ChoiceSet(u32);

impl ChoiceSet {
    /// The longest list of choices that a fact may have.
    pub const MOST: usize = 32;

    /// The set that holds only the choice at this position, which is below [`Self::MOST`].
    #[must_use]
    pub const fn only(position: usize) -> Self {
        Self(1 << (position % Self::MOST))
    }

    /// Both sets together.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// What stands in both sets.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// What stands in this set and not in the other.
    #[must_use]
    pub const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// Whether the sets share a choice.
    #[must_use]
    pub const fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Whether every choice of this set stands in the other.
    #[must_use]
    pub const fn within(self, other: Self) -> bool {
        self.0 & !other.0 == 0
    }

    /// Whether no choice is in it.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// How many choices are in it.
    #[must_use]
    pub const fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Positions of the choices in it, ascending.
    pub fn positions(self) -> impl Iterator<Item = usize> {
        (0..Self::MOST).filter(move |&position| self.meets(Self::only(position)))
    }
}

/// What a fact is.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Value {
    /// A measured or printed quantity.
    Quantity(Quantity),
    /// One choice, or several where the fact allows it.
    Choices(ChoiceSet),
}

impl Value {
    /// The quantity, if it is one.
    #[must_use]
    pub const fn quantity(&self) -> Option<Quantity> {
        match self {
            Self::Quantity(quantity) => Some(*quantity),
            Self::Choices(_) => None,
        }
    }

    /// The choices, if it is made of them.
    #[must_use]
    pub const fn choices(&self) -> Option<ChoiceSet> {
        match self {
            Self::Choices(set) => Some(*set),
            Self::Quantity(_) => None,
        }
    }
}

/// What was said of a fact: what it is, or that it could not be taken.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Answer {
    /// The fact is known.
    Value(Value),
    /// The reading could not be taken.
    Cannot,
}

/// A demand on a fact's value; used by proofs and hold-offs.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Condition {
    /// Every choice that holds is one of these.
    Is(ChoiceSet),
    /// The quantity lies within these bounds, in the fact's own dimension.
    Within {
        /// Holds at this value and above it.
        at_least: Option<Quantity>,
        /// Holds at this value and below it.
        at_most: Option<Quantity>,
        /// Holds below this value only.
        below: Option<Quantity>,
    },
}

impl Condition {
    /// Whether the value meets the demand. A value of the other kind never does.
    #[must_use]
    pub fn holds(&self, value: &Value) -> bool {
        match (self, value) {
            (Self::Is(wanted), Value::Choices(found)) => !found.is_empty() && found.within(*wanted),
            (Self::Within { at_least, at_most, below }, Value::Quantity(found)) => {
                let found = found.base();
                at_least.is_none_or(|edge| found >= edge.base())
                    && at_most.is_none_or(|edge| found <= edge.base())
                    && below.is_none_or(|edge| found < edge.base())
            }
            _ => false,
        }
    }

    /// Whether a value that may be off by this much, in its base unit, may meet the demand.
    #[must_use]
    pub fn may_hold(&self, value: &Value, off: f64) -> bool {
        match (self, value) {
            (Self::Within { at_least, at_most, below }, Value::Quantity(found)) => {
                let found = found.base();
                at_least.is_none_or(|edge| found + off >= edge.base())
                    && at_most.is_none_or(|edge| found - off <= edge.base())
                    && below.is_none_or(|edge| found - off < edge.base())
            }
            _ => self.holds(value),
        }
    }

    /// Whether a value that may be off by this much, in its base unit, meets the demand all the same.
    #[must_use]
    pub fn surely_holds(&self, value: &Value, off: f64) -> bool {
        match (self, value) {
            (Self::Within { at_least, at_most, below }, Value::Quantity(found)) => {
                let found = found.base();
                at_least.is_none_or(|edge| found - off >= edge.base())
                    && at_most.is_none_or(|edge| found + off <= edge.base())
                    && below.is_none_or(|edge| found + off < edge.base())
            }
            _ => self.holds(value),
        }
    }

    /// A value that meets the demand: the first choice, or the middle of the bounds.
    #[must_use]
    pub fn example(&self) -> Option<Value> {
        match self {
            Self::Is(wanted) => {
                wanted.positions().next().map(|position| Value::Choices(ChoiceSet::only(position)))
            }
            Self::Within { at_least, at_most, below } => {
                let upper = at_most.or(*below);
                let middle = match (at_least, upper) {
                    (Some(low), Some(high)) => {
                        let high = high.in_unit(low.unit())?;
                        Quantity::new(f64::midpoint(low.number(), high.number()), low.unit())
                    }
                    (Some(low), None) => Some(*low),
                    (None, Some(high)) => Quantity::new(high.number() / 2.0, high.unit()),
                    (None, None) => None,
                };
                middle.map(Value::Quantity)
            }
        }
    }
}
