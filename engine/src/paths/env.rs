//! What all facts may be at one step.

use super::cell::{Cell, Interval};
use super::shared::Shared;
use crate::rulebook::{FactId, Rules};

/// What is known of the facts; one that is not in it may be anything.
#[derive(Clone, Debug, Default)]
pub(super) struct Env {
    cells: Shared<Cell>,
    /// How many times the second fact the first one is, for pairs that meet in an edge.
    ratios: Shared<Interval>,
}

/// Two facts that meet in an edge.
pub(super) type Pair = (FactId, FactId);

/// What a step is the last to go by.
pub(super) struct Over {
    pub(super) facts: Vec<FactId>,
    pub(super) pairs: Vec<Pair>,
}

const fn at(fact: FactId) -> u64 {
    fact.index() as u64
}

const fn at_pair((one, other): Pair) -> u64 {
    at(one) << 32 | at(other)
}

impl Env {
    pub(super) fn get(&self, rules: &Rules, fact: FactId) -> Cell {
        self.cells.get(at(fact)).copied().unwrap_or_else(|| Cell::of(rules.fact(fact)))
    }

    /// With a fact narrowed; `None` where nothing is left of it.
    pub(super) fn with(mut self, fact: FactId, cell: Cell) -> Option<Self> {
        if cell.is_empty() {
            return None;
        }
        self.cells.set(at(fact), cell);
        Some(self)
    }

    /// Says what a fact is, whatever was known of it.
    pub(super) fn set(&mut self, fact: FactId, cell: Cell) {
        self.cells.set(at(fact), cell);
    }

    pub(super) fn ratio(&self, pair: Pair) -> Interval {
        self.ratios.get(at_pair(pair)).copied().unwrap_or(Interval::ALL)
    }

    /// With a ratio narrowed; `None` where nothing is left of it.
    pub(super) fn with_ratio(mut self, pair: Pair, ratio: Interval) -> Option<Self> {
        let both = self.ratio(pair).and(ratio);
        if both.is_empty() {
            return None;
        }
        self.ratios.set(at_pair(pair), both);
        Some(self)
    }

    /// What may be on this way or on another: what only one of them narrows may be anything. Whether that is more than
    /// before.
    pub(super) fn widen(&mut self, other: &Self) -> bool {
        let cell = |one: &Cell, two: &Cell| Some(one.or(*two)).filter(|both| both != one);
        let ratio = |one: &Interval, two: &Interval| Some(one.or(*two)).filter(|both| both != one);
        // Both are to be widened, whatever the first of them says.
        self.cells.meet(&other.cells, &cell) | self.ratios.meet(&other.ratios, &ratio)
    }

    /// Without what no later step goes by.
    pub(super) fn forget(&mut self, over: &Over) {
        over.facts.iter().for_each(|fact| self.cells.remove(at(*fact)));
        over.pairs.iter().for_each(|pair| self.ratios.remove(at_pair(*pair)));
    }
}
