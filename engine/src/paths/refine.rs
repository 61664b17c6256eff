//! What a line of a step says of the facts behind it.

use super::cell::{Cell, Interval, Values};
use super::env::Env;
use super::parts::{Part, given};
use crate::quantity::Quantity;
use crate::rulebook::{BandWay, ChoiceSet, Edge, Fact, FactId, Kind, Line, Rules, Step, Upper, Ways};

/// The expanded uncertainty of a reading is 2 u, and u is a half width over the root of three.
const REACH: f64 = 1.154_700_538_379_251_7;
/// Left to the rounding of unit conversion.
const ROUNDING: f64 = 1e-6;
/// A reading in the usual unit, to find how the doubt grows with it.
const MUCH: f64 = 1e6;
/// A meter that leaves open more of its reading than this bounds nothing.
const MOST_PART: f64 = 0.5;

/// The facts as they may be behind a line of a step; `None` where no call takes it.
pub(super) fn refine(rules: &Rules, part: &Part, step: &Step, line: Line, env: &Env) -> Option<Env> {
    let fact = rules.fact(step.fact);
    let mut cell = env.get(rules, step.fact);
    if step.asks {
        cell.unknown = false;
    }
    match (line, &step.ways) {
        (Line::Value(at), Ways::Answers(lines)) => {
            let Values::Choices(may) = cell.values else { return None };
            let earlier = lines.iter().take(at).fold(ChoiceSet::default(), |all, line| all.with(line.is));
            let is = lines.get(at)?.is;
            let left = may.without(earlier);
            if !left.meets(is) {
                return None;
            }
            // Where several may hold, only what an earlier line is for is ruled out.
            let several = matches!(fact.kind, Kind::Choice { several: true, .. });
            let values = if several { left } else { left.and(is) };
            let cell = Cell { unknown: false, cannot: false, values: Values::Choices(values) };
            env.clone().with(step.fact, cell)
        }
        (Line::Value(at), Ways::Bands(lines)) => band(rules, part, step, lines, at, cell, env),
        (Line::TooClose, _) => {
            if cell.no_value() {
                return None;
            }
            env.clone().with(step.fact, Cell { unknown: false, cannot: false, ..cell })
        }
        // Nobody can tell it, or it is a choice without a line.
        (Line::Otherwise, Ways::Answers(lines)) => {
            let Values::Choices(may) = cell.values else { return None };
            let covered = lines.iter().fold(ChoiceSet::default(), |all, line| all.with(line.is));
            let values = Values::Choices(may.without(covered));
            env.clone().with(step.fact, Cell { values, ..cell })
        }
        // An edge that nobody can tell leads here too.
        (Line::Otherwise, Ways::Bands(_)) => {
            let edges = step.shares().iter().any(|(of, _)| given(rules, part, *of).is_none());
            let values = if edges { cell.values } else { Values::Numbers(Interval::NONE) };
            env.clone().with(step.fact, Cell { values, ..cell })
        }
    }
}

fn band(
    rules: &Rules,
    part: &Part,
    step: &Step,
    lines: &[BandWay],
    at: usize,
    cell: Cell,
    env: &Env,
) -> Option<Env> {
    let Values::Numbers(may) = cell.values else { return None };
    if may.is_empty() {
        return None;
    }
    let fact = rules.fact(step.fact);
    let mut numbers = may;
    let mut env = env.clone();
    let low = at.checked_sub(1).and_then(|before| lines.get(before)).map(|line| line.upper);
    for (upper, is_high) in [(low, false), (lines.get(at).map(|line| line.upper), true)] {
        let (edge, includes) = match upper {
            Some(Upper::Below(edge)) => (edge, false),
            Some(Upper::UpTo(edge)) => (edge, true),
            Some(Upper::Last) | None => continue,
        };
        match edge_in(rules, part, edge) {
            Bound::Number(edge) => {
                if let Some(side) = side(fact, edge, includes, is_high) {
                    numbers = numbers.and(side);
                }
            }
            Bound::Share { of, share } => {
                env = told(rules, env, of)?;
                if let Some(ratio) = ratio(fact, rules.fact(of), share, includes, is_high) {
                    env = env.with_ratio((step.fact, of), ratio)?;
                }
            }
        }
    }
    env.with(step.fact, Cell { unknown: false, cannot: false, values: Values::Numbers(numbers) })
}

/// An edge that decided is known.
fn told(rules: &Rules, env: Env, fact: FactId) -> Option<Env> {
    let cell = env.get(rules, fact);
    if cell.no_value() {
        return None;
    }
    env.with(fact, Cell { unknown: false, cannot: false, ..cell })
}

enum Bound {
    Number(f64),
    Share { of: FactId, share: f64 },
}

fn edge_in(rules: &Rules, part: &Part, edge: Edge) -> Bound {
    match edge {
        Edge::Plain(quantity) => Bound::Number(quantity.base()),
        Edge::Share { of, share } => match given(rules, part, of) {
            Some(whole) => Bound::Number(whole * share),
            None => Bound::Share { of, share },
        },
    }
}

/// What a meter may leave open of a reading: a part of it, and a fixed amount. `None` where there is no bound: the
/// fact may be worked out of others, or the meter is good for nothing.
fn doubt(fact: &Fact) -> Option<(f64, f64)> {
    if fact.working.is_some() {
        return None;
    }
    let fixed = left_open(fact, 0.0)?;
    let part = (left_open(fact, 2.0 * MUCH)? - left_open(fact, MUCH)?)
        / fact.expected()?.unit().interval_to_base(MUCH);
    (part < MOST_PART).then_some((part, fixed))
}

/// What the meter leaves open of a reading in the fact's usual unit, in the base unit.
fn left_open(fact: &Fact, reading: f64) -> Option<f64> {
    let Kind::Quantity { expected, meter } = &fact.kind else { return None };
    Quantity::new(reading, expected.unit()).map(|reading| REACH * meter.half_width(reading))
}

/// How far beyond an edge a value may be taken for the other side of it.
fn reach(fact: &Fact, edge: f64) -> Option<f64> {
    let (part, _) = doubt(fact)?;
    Some(left_open(fact, fact.expected()?.unit().from_base(edge))? / (1.0 - part))
}

/// The values that may be taken for one side of an edge: as far beyond it as the meter leaves open.
fn side(fact: &Fact, edge: f64, includes: bool, is_high: bool) -> Option<Interval> {
    let reach = reach(fact, edge)?;
    let exact = reach <= 0.0;
    let rounding = if exact { 0.0 } else { edge.abs() * ROUNDING };
    Some(if is_high {
        Interval::below(edge + reach + rounding, exact && !includes)
    } else {
        Interval::above(edge - reach - rounding, exact && includes)
    })
}

/// The same for an edge that is a share of another fact: a bound on the ratio of the two, where both are positive.
fn ratio(fact: &Fact, of: &Fact, share: f64, includes: bool, is_high: bool) -> Option<Interval> {
    let ((part, fixed), (of_part, of_fixed)) = (doubt(fact)?, doubt(of)?);
    let lowest = |fact: &Fact| {
        let expected = fact.expected()?;
        // A scale that does not begin at nothing has no ratios, and over range is no number.
        (expected.unit().from_base(0.0).abs() <= 0.0 && !expected.over_range()).then_some(())?;
        expected.range().map(|(low, _)| low.base())
    };
    let (least, of_least) = (lowest(fact)?, lowest(of)?);
    if least < 0.0 || of_least <= 0.0 {
        return None;
    }
    let slack = share * of_part + (fixed + share * of_fixed) / of_least;
    let exact = slack <= 0.0 && part <= 0.0;
    let rounding = if exact { 0.0 } else { share.abs() * ROUNDING };
    Some(if is_high {
        Interval::below((share + slack) / (1.0 - part) + rounding, exact && !includes)
    } else {
        Interval::above((share - slack) / (1.0 + part) - rounding, exact && includes)
    })
}
