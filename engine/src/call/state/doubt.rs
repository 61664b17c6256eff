//! How sure a measured value is: on which side of an edge it lies, and whether another reading would tell.
//!
//! Each base reading has a standard uncertainty u = a/√3 from its meter's statement (JCGM 100, 4.3.7). What is decided
//! is the gap between value and edge, both worked out of base readings: u² of the gap is the sum of what each reading
//! adds, found by moving it up and down by its own u (JCGM 100, 5.1.3, note 2). So a value and an edge that stand on
//! the same reading are compared rightly. Expanded by U = 2u.

use super::State;
use crate::call::ledger::{Ledger, Version};
use crate::call::walk::{Got, Side};
use crate::quantity::Quantity;
use crate::rulebook::{Edge, FactId, Kind, Rulebook, Value};

use std::collections::BTreeSet;

/// The factor between standard and expanded uncertainty.
pub(in crate::call) const COVERAGE: f64 = 2.0;
/// A fact is read three times at the most.
const MOST_READINGS: usize = 3;
/// What is left to the rounding of unit conversion.
const ROUNDING: f64 = 1e-9;

/// A base reading that is moved by an amount in its base unit.
type Moved = Option<(FactId, f64)>;

/// What one base reading adds to the uncertainty of a gap.
struct Share {
    fact: FactId,
    added: f64,
}

impl State {
    /// On which side of an edge a measured fact lies; `Err` when the edge is not known.
    pub(super) fn side(&self, book: &Rulebook, fact: FactId, edge: &Edge) -> Result<Side, Got> {
        let value = self.number(book, fact, None)?;
        let at = self.edge(book, edge, None)?;
        let gap = value - at;
        let reach = self.reach(book, fact, edge);
        if same(value, at) {
            return Ok(Side::On { sure: reach <= 0.0 });
        }
        let sure = !gap.is_finite() || gap.abs() > reach;
        Ok(if gap < 0.0 { Side::Below { sure } } else { Side::Above { sure } })
    }

    /// The expanded uncertainty U of the gap between a fact and an edge, in the base unit.
    fn reach(&self, book: &Rulebook, fact: FactId, edge: &Edge) -> f64 {
        let squares: f64 = self.shares(book, fact, edge).iter().map(|share| share.added * share.added).sum();
        COVERAGE * squares.sqrt()
    }

    /// The base reading that adds most to the doubt, if another reading of it can help.
    pub(super) fn read_again(&self, book: &Rulebook, fact: FactId, edge: &Edge) -> Option<FactId> {
        let shares = self.shares(book, fact, edge);
        let largest = shares.iter().max_by(|left, right| left.added.total_cmp(&right.added))?;
        let version = self.ledger.current(largest.fact)?;
        let reading = version.readings().count();
        let wanted = match reading {
            1 => true,
            2 => self.far_apart(book, largest.fact, version),
            _ => false,
        };
        (wanted
            && reading < MOST_READINGS
            && !version.is_last_word()
            && !self.out_of_reach(book, largest.fact))
        .then_some(largest.fact)
    }

    /// Whether two readings lie further apart than 2√2·u: one of them was a slip.
    fn far_apart(&self, book: &Rulebook, fact: FactId, version: &Version) -> bool {
        let readings: Vec<f64> = version.readings().map(Quantity::base).collect();
        let [first, second] = readings[..] else { return false };
        (first - second).abs()
            > COVERAGE * std::f64::consts::SQRT_2 * accuracy(book, &self.ledger, fact, version)
    }

    fn shares(&self, book: &Rulebook, fact: FactId, edge: &Edge) -> Vec<Share> {
        let mut facts = BTreeSet::new();
        self.bases(book, fact, &mut facts);
        if let Edge::Share { of, .. } = edge {
            self.bases(book, *of, &mut facts);
        }
        let gap = |moved| Some(self.number(book, fact, moved).ok()? - self.edge(book, edge, moved).ok()?);
        facts
            .into_iter()
            .filter_map(|fact| {
                let u = self.standard_uncertainty(book, fact);
                let added = (gap(Some((fact, u)))? - gap(Some((fact, -u)))?) / 2.0;
                (added != 0.0 && added.is_finite()).then_some(Share { fact, added })
            })
            .collect()
    }

    fn standard_uncertainty(&self, book: &Rulebook, fact: FactId) -> f64 {
        self.ledger
            .current(fact)
            .map_or(0.0, |version| standard_uncertainty(book, &self.ledger, fact, version))
    }

    /// The readings that a fact stands on in the end: itself, or those that it is worked out of.
    pub(in crate::call) fn bases(&self, book: &Rulebook, fact: FactId, found: &mut BTreeSet<FactId>) {
        match self.working(book, fact) {
            Some(working) => working.of.iter().for_each(|input| self.bases(book, *input, found)),
            None => {
                found.insert(fact);
            }
        }
    }

    /// The value of a fact in its base unit, with one base reading moved.
    pub(in crate::call) fn number(&self, book: &Rulebook, fact: FactId, moved: Moved) -> Result<f64, Got> {
        let quantity = match self.get(book, fact) {
            Got::Known(Value::Quantity(quantity)) => quantity,
            Got::Known(Value::Choices(_)) => return Err(Got::Cannot),
            other => return Err(other),
        };
        let Some(working) = self.working(book, fact) else {
            let by = moved.filter(|(other, _)| *other == fact).map_or(0.0, |(_, by)| by);
            return Ok(quantity.base() + by);
        };
        let inputs =
            working.of.iter().map(|input| self.number(book, *input, moved)).collect::<Result<Vec<_>, _>>()?;
        working.formula.compute(&inputs).ok_or(Got::Cannot)
    }

    /// What a fact is, in its base unit, and its expanded uncertainty U = 2u.
    pub(in crate::call) fn measured(&self, book: &Rulebook, fact: FactId) -> Option<(f64, f64)> {
        let value = self.number(book, fact, None).ok()?;
        let nothing = Edge::Share { of: fact, share: 0.0 };
        Some((value, self.reach(book, fact, &nothing)))
    }

    fn edge(&self, book: &Rulebook, edge: &Edge, moved: Moved) -> Result<f64, Got> {
        match edge {
            Edge::Plain(quantity) => Ok(quantity.base()),
            Edge::Share { of, share } => self.number(book, *of, moved).map(|whole| whole * share),
        }
    }
}

/// The expanded uncertainty U = 2u of a reading by itself, in its base unit.
pub(in crate::call) fn expanded(book: &Rulebook, ledger: &Ledger, fact: FactId, version: &Version) -> f64 {
    COVERAGE * standard_uncertainty(book, ledger, fact, version)
}

/// u of a base reading: what the meter is good for, and the scatter of several readings' mean.
///
/// Several readings with one meter share its error, so that only the scatter shrinks with their number. What a deed
/// settles is no reading.
fn standard_uncertainty(book: &Rulebook, ledger: &Ledger, fact: FactId, version: &Version) -> f64 {
    if version.purpose.is_none() {
        return 0.0;
    }
    let readings: Vec<f64> = version.counted().into_iter().map(Quantity::base).collect();
    #[expect(clippy::cast_precision_loss, reason = "a fact is read three times at the most")]
    let count = readings.len() as f64;
    let mean = readings.iter().sum::<f64>() / count;
    let scatter = if count > 1.0 {
        let squares: f64 = readings.iter().map(|reading| (reading - mean).powi(2)).sum();
        (squares / (count - 1.0) / count).sqrt()
    } else {
        0.0
    };
    // Nothing is known of how far over range a reading lies, and nothing has to be.
    if scatter.is_finite() { accuracy(book, ledger, fact, version).hypot(scatter) } else { 0.0 }
}

/// u of one reading of a fact: by the caller's own meter where it names the quantity, else by an ordinary one.
fn accuracy(book: &Rulebook, ledger: &Ledger, fact: FactId, version: &Version) -> f64 {
    match (&book.fact(fact).kind, version.readings().next()) {
        (Kind::Quantity { meter, .. }, Some(first)) if !meter.is_exact() => {
            let own = ledger.meter().and_then(|own| own.statement(first));
            own.unwrap_or(*meter).standard_uncertainty(first)
        }
        _ => 0.0,
    }
}

/// Equal but for the rounding of unit conversion: one part in 10⁹, far below any meter.
pub(super) fn same(left: f64, right: f64) -> bool {
    // The same infinity is the same reading: `OL` beside `OL`. Beside a number it is far above.
    left.total_cmp(&right).is_eq()
        || (left - right).is_finite() && (left - right).abs() <= ROUNDING * left.abs().max(right.abs())
}
