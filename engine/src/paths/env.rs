//! What all facts may be at one step.

use super::cell::{Cell, Interval};
use crate::rulebook::{FactId, Rules};
use std::collections::BTreeMap;

/// What is known of the facts; one that is not in it may be anything.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Env {
    cells: BTreeMap<FactId, Cell>,
    /// How many times the second fact the first one is, for pairs that meet in an edge.
    ratios: BTreeMap<(FactId, FactId), Interval>,
}

impl Env {
    pub(super) fn get(&self, rules: &Rules, fact: FactId) -> Cell {
        self.cells.get(&fact).copied().unwrap_or_else(|| Cell::of(rules.fact(fact)))
    }

    /// With a fact narrowed; `None` where nothing is left of it.
    pub(super) fn with(mut self, fact: FactId, cell: Cell) -> Option<Self> {
        if cell.is_empty() {
            return None;
        }
        self.cells.insert(fact, cell);
        Some(self)
    }

    /// Says what a fact is, whatever was known of it.
    pub(super) fn set(&mut self, fact: FactId, cell: Cell) {
        self.cells.insert(fact, cell);
    }

    pub(super) fn ratio(&self, pair: (FactId, FactId)) -> Interval {
        self.ratios.get(&pair).copied().unwrap_or(Interval::ALL)
    }

    /// With a ratio narrowed; `None` where nothing is left of it.
    pub(super) fn with_ratio(mut self, pair: (FactId, FactId), ratio: Interval) -> Option<Self> {
        let both = self.ratio(pair).and(ratio);
        if both.is_empty() {
            return None;
        }
        self.ratios.insert(pair, both);
        Some(self)
    }

    /// What may be on either of two ways: what only one of them narrows may be anything.
    pub(super) fn or(&self, other: &Self) -> Self {
        let cells = self
            .cells
            .iter()
            .filter_map(|(fact, cell)| other.cells.get(fact).map(|also| (*fact, cell.or(*also))));
        let ratios = self
            .ratios
            .iter()
            .filter_map(|(pair, ratio)| other.ratios.get(pair).map(|also| (*pair, ratio.or(*also))));
        Self { cells: cells.collect(), ratios: ratios.collect() }
    }

    /// Without what no later step goes by.
    pub(super) fn forget(&mut self, over: impl Fn(FactId) -> bool) {
        self.cells.retain(|fact, _| !over(*fact));
        self.ratios.retain(|(one, other), _| !over(*one) && !over(*other));
    }
}
