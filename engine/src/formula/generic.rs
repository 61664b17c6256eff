//! Formulas without physics: whatever goes together goes in.

use super::{Formula, Input, Kind};
use crate::quantity::{Dimension, Quantity, Unit};

const ARITHMETIC: &str = "arithmetic";
const TWO: &[Input] = &[Input::any("first", "the one"), Input::any("second", "the other, of the same kind")];

/// The first less the second: two temperatures give a temperature difference. Any size, either sign.
pub(super) static DIFFERENCE: Formula = Formula {
    name: "difference",
    meaning: "how much the first is above the second",
    written: "first - second",
    source: ARITHMETIC,
    limits: "both are of one kind, or a temperature less a temperature difference",
    inputs: TWO,
    kind: Kind::Generic(Generic::Difference),
};

/// Two or more of one kind together; a temperature takes temperature differences.
pub(super) static SUM: Formula = Formula {
    name: "sum",
    meaning: "two or more of one kind together",
    written: "first + second + …",
    source: ARITHMETIC,
    limits: "all are of one kind, or a temperature and then temperature differences",
    inputs: TWO,
    kind: Kind::Generic(Generic::Sum),
};

/// The first over the second, both of one kind, the second not nothing; no temperatures, whose zero is not nothing.
pub(super) static RATIO: Formula = Formula {
    name: "ratio",
    meaning: "how many times the second goes into the first",
    written: "first ÷ second",
    source: ARITHMETIC,
    limits: "both are of one kind, and the second is not nothing",
    inputs: TWO,
    kind: Kind::Generic(Generic::Ratio),
};

/// A part in percent of its whole, both of one kind, the whole not nothing; no temperatures.
pub(super) static SHARE: Formula = Formula {
    name: "share",
    meaning: "a part in percent of the whole",
    written: "100 % × part ÷ whole",
    source: ARITHMETIC,
    limits: "both are of one kind, and the whole is not nothing",
    inputs: &[Input::any("part", "the part"), Input::any("whole", "the whole, of the same kind")],
    kind: Kind::Generic(Generic::Share),
};

/// How far a value is off what it should be, in percent of that; below it is below zero.
pub(super) static DEVIATION: Formula = Formula {
    name: "deviation",
    meaning: "how far a value is off what it should be, in percent of that",
    written: "100 % × (value - reference) ÷ reference",
    source: ARITHMETIC,
    limits: "both are of one kind, and the reference is not nothing",
    inputs: &[
        Input::any("value", "what was read"),
        Input::any("reference", "what it should be, of the same kind"),
    ],
    kind: Kind::Generic(Generic::Deviation),
};

/// A percentage of a value, of any kind but temperature; the result is of the value's kind.
pub(super) static PRODUCT: Formula = Formula {
    name: "product",
    meaning: "so many percent of a value",
    written: "percent × whole ÷ 100 %",
    source: ARITHMETIC,
    limits: "the first is a percentage, the second anything but a temperature",
    inputs: &[Input::any("percent", "the percentage"), Input::any("whole", "what it is taken of")],
    kind: Kind::Generic(Generic::Product),
};

/// The larger of two over the smaller, both of one kind and above nothing, so that the result is 1 or more.
pub(super) static LARGER_OVER_SMALLER: Formula = Formula {
    name: "larger-over-smaller",
    meaning: "how many times the smaller goes into the larger",
    written: "larger ÷ smaller",
    source: ARITHMETIC,
    limits: "both are of one kind and above nothing",
    inputs: TWO,
    kind: Kind::Generic(Generic::LargerOverSmaller),
};

/// Which of the generic formulas.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Generic {
    Difference,
    Sum,
    Ratio,
    Share,
    Deviation,
    Product,
    LargerOverSmaller,
}

impl Generic {
    pub(super) fn takes_more(self) -> bool {
        self == Self::Sum
    }

    /// Whether digits are kept as they stand: nothing is multiplied or divided.
    pub(super) fn adds(self) -> bool {
        matches!(self, Self::Sum | Self::Difference)
    }

    /// Whether what comes of it changes evenly with each input.
    pub(super) fn is_even(self) -> bool {
        matches!(self, Self::Sum | Self::Difference | Self::Product)
    }

    /// What comes of inputs of these kinds; `None` where they do not go together.
    pub(super) fn typed(self, inputs: &[Dimension]) -> Option<Dimension> {
        use Dimension::{Percent, Ratio, Temperature, TemperatureDifference};
        let (&first, rest) = inputs.split_first()?;
        let alike = rest.iter().all(|&other| other == first);
        let over = || (alike && first != Temperature).then_some(());
        match self {
            Self::Difference if alike && first == Temperature => Some(TemperatureDifference),
            Self::Difference | Self::Sum if first == Temperature => {
                rest.iter().all(|&other| other == TemperatureDifference).then_some(Temperature)
            }
            Self::Difference | Self::Sum => alike.then_some(first),
            Self::Ratio | Self::LargerOverSmaller => over().map(|()| Ratio),
            Self::Share | Self::Deviation => over().map(|()| Percent),
            Self::Product => match rest {
                &[whole] if first == Percent && whole != Temperature => Some(whole),
                _ => None,
            },
        }
    }

    /// On base values, whose kinds fit.
    pub(super) fn work(self, inputs: &[f64]) -> Option<f64> {
        if self == Self::Sum {
            return Some(inputs.iter().sum());
        }
        let &[first, second] = inputs else { return None };
        let over = |above: f64, below: f64| (below != 0.0).then(|| above / below);
        match self {
            Self::Sum => None,
            Self::Difference => Some(first - second),
            Self::Ratio | Self::Share => over(first, second),
            Self::Deviation => over(first - second, second.abs()),
            Self::Product => Some(first * second),
            Self::LargerOverSmaller => {
                let smaller = first.min(second);
                (smaller > 0.0).then(|| first.max(second) / smaller)
            }
        }
    }

    /// The arithmetic for paper and a pocket calculator.
    pub(super) fn by_hand(self, values: &[String]) -> String {
        let first = values.first().map_or("", String::as_str);
        match self {
            Self::Sum => values.join(" + "),
            Self::Difference => values.join(" - "),
            Self::Ratio => values.join(" ÷ "),
            Self::Share => format!("100 × {}", values.join(" ÷ ")),
            Self::Product => format!("{} ÷ 100", values.join(" × ")),
            Self::Deviation => {
                let reference = values.get(1).map_or("", String::as_str);
                format!("100 × ({first} - {reference}) ÷ {reference}")
            }
            Self::LargerOverSmaller => format!("{}, the larger over the smaller", values.join(" ÷ ")),
        }
    }

    /// The arithmetic, of values as they are shown.
    pub(super) fn said(self, values: &[String]) -> String {
        match self {
            Self::Sum => values.join(" plus "),
            Self::Difference => values.join(" less "),
            Self::Ratio => values.join(" over "),
            Self::Share | Self::Product => values.join(" of "),
            Self::Deviation => values.join(" against "),
            Self::LargerOverSmaller => format!("{}, the larger over the smaller", values.join(" and ")),
        }
    }
}

/// The unit of a result of this kind: percent for a percentage, else that of the first input that is of its kind.
/// The difference of two temperatures keeps their scale.
pub(super) fn unit(gives: Dimension, inputs: &[Quantity]) -> Unit {
    let alike = inputs.iter().map(|input| input.unit()).find(|unit| unit.dimension() == gives);
    let first = inputs.first().map(|input| input.unit());
    let difference = first
        .filter(|_| gives == Dimension::TemperatureDifference)
        .and_then(|unit| Unit::parse_in(unit.symbol(), gives));
    let percent = Unit::parse_in("%", Dimension::Percent).filter(|_| gives == Dimension::Percent);
    percent.or(difference).or(alike).unwrap_or(gives.base_unit())
}
