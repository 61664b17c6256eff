//! What a call costs, by the ending that it comes to last.

use super::{Row, to_the_right};
use crate::command::spread::{half, median};
use comfy_table::{Table, presets};
use serde::Serialize;
use std::collections::BTreeMap;

/// What the calls cost that came to one ending last, as `--json` shows it.
#[derive(Serialize)]
pub(super) struct Cost<'r> {
    ending: &'r str,
    cases: usize,
    asked: Spread,
    lockouts: Spread,
    minutes: Spread,
}

/// The middle one and the largest one of a list of numbers.
#[derive(Clone, Copy, Serialize)]
struct Spread {
    median: f64,
    most: f64,
}

impl Spread {
    /// Of a list that has something in it.
    fn of(numbers: Vec<f64>) -> Self {
        let most = numbers.iter().copied().max_by(f64::total_cmp).unwrap_or_default();
        Self { median: median(numbers).unwrap_or_default(), most }
    }
}

/// The costs of every ending that a case comes to last, the longest calls first.
pub(super) fn costs<'r>(rows: &[Row<'r>]) -> Vec<Cost<'r>> {
    let mut calls: BTreeMap<&'r str, Vec<&Row<'r>>> = BTreeMap::new();
    for row in rows {
        calls.entry(row.reached.last().copied().unwrap_or_default()).or_default().push(row);
    }
    let spread = |calls: &[&Row<'r>], number: fn(&Row<'r>) -> f64| {
        Spread::of(calls.iter().copied().map(number).collect())
    };
    let mut costs: Vec<Cost<'r>> = calls
        .iter()
        .map(|(ending, calls)| Cost {
            ending,
            cases: calls.len(),
            asked: spread(calls, |row| f64::from(row.asked)),
            lockouts: spread(calls, |row| f64::from(row.lockouts)),
            minutes: spread(calls, |row| row.minutes),
        })
        .collect();
    costs.sort_by(|left, right| right.minutes.median.total_cmp(&left.minutes.median));
    costs
}

pub(super) fn table(costs: &[Cost<'_>]) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header([
        "last ending",
        "cases",
        "questions, median",
        "most",
        "lock-outs, median",
        "most",
        "minutes, median",
        "most",
    ]);
    for cost in costs {
        let mut cells = vec![cost.ending.to_owned(), cost.cases.to_string()];
        for spread in [cost.asked, cost.lockouts] {
            cells.extend([half(spread.median), half(spread.most)]);
        }
        cells.extend([format!("{:.0}", cost.minutes.median), format!("{:.0}", cost.minutes.most)]);
        table.add_row(cells);
    }
    to_the_right(&mut table, 1..8);
    table
}
