//! What the table and the page say in the same words.

use super::figures::{Report, Row};
use crate::command::kept;
use crate::command::spread::half;
use engine::rulebook::Rulebook;

/// What is said of no calls.
const fn none(report: &Report) -> &'static str {
    let only = &report.only;
    if only.unit.is_some() || only.since.is_some() || only.before.is_some() || report.left_out() > 0 {
        "No call that is kept is like that."
    } else {
        "No call is kept yet. `motorwright call` begins one."
    }
}

/// How many calls, from when to when, and how many were left open.
pub(super) fn scope(report: &Report) -> String {
    let Some([first, last]) = report.begun else {
        return none(report).to_owned();
    };
    let open = &report.all.left_open.calls;
    let (first, last) = (first.day(), last.day());
    let when = if first == last { format!("on {first}") } else { format!("from {first} to {last}") };
    format!("{}, begun {when}. Left open: {}, {open}.", calls(report.calls), open.count)
}

/// Which calls were asked for; none where it was all of them.
pub(super) fn only(report: &Report) -> Option<String> {
    let only = &report.only;
    let unit = only.unit.as_ref().map(|unit| format!("on the unit {unit}"));
    let since = only.since.map(|since| format!("begun since {since}"));
    let before = only.before.map(|before| format!("begun before {before}"));
    let parts: Vec<String> = [unit, since, before].into_iter().flatten().collect();
    (!parts.is_empty()).then(|| format!("Only calls {}.", parts.join(", ")))
}

/// What is not in the figures.
pub(super) fn left_out(report: &Report) -> Vec<String> {
    let mut lines = Vec::new();
    if report.under_way > 0 {
        lines.push(format!("Not counted, as somebody is busy with them: {}.", calls(report.under_way)));
    }
    if report.dropped > 0 {
        lines.push(format!(
            "Not counted, as they were left before the first answer: {}.",
            calls(report.dropped)
        ));
    }
    if report.by_other_rules > 0 {
        lines.push(format!(
            "Not counted, as they mean nothing to these rules: {}. Name those they went by with --rules.",
            calls(report.by_other_rules)
        ));
    }
    lines
}

/// How the figures are to be read.
pub(super) fn how_counted(report: &Report) -> Vec<String> {
    let days = report.callback_days;
    let mut lines = vec![
        "Each call counts once, for its last ending. Questions, lock-outs and minutes are medians: half of the calls \
         took as many or fewer, half as many or more. Minutes are what the rules allow for each step, not what a clock \
         said."
            .to_owned(),
        "A share of few calls says little. The brackets behind it hold the range in which the share of very many such \
         calls would lie, 19 times in 20 (Wilson 1927, Journal of the American Statistical Association 22:209, from \
         memory). A range of two points or less is not shown."
            .to_owned(),
        format!(
            "A callback is another call on the same unit within {days} days of the last word of the one before. It is \
             counted at the ending of the one before. \u{201c}2 of 15\u{201d}: 15 calls name their unit and are more \
             than {days} days old; 2 of them had a callback. \u{201c}+1\u{201d}: one more callback, after a call that \
             is not so old or names no unit."
        ),
    ];
    if !report.not_taken.is_empty() {
        lines.push(
            "A reading counts as not taken where a step asked for it and it was still not known at the end of the call."
                .to_owned(),
        );
    }
    if report.without_unit > 0 {
        lines.push(format!(
            "Calls that name no unit: {}. After those, a callback is known only where `motorwright again` began it.",
            report.without_unit
        ));
    }
    let planned = report.all.ended.planned;
    if planned > 0 {
        lines.push(format!(
            "Calls that left a repair for another visit, and had that visit: {planned}. It is no callback."
        ));
    }
    lines
}

/// What an ending is called and how it came out: `clean the wheel: proved`.
pub(super) fn ending(book: &Rulebook, row: &Row) -> String {
    let name = kept::name(book, row.ending.as_deref().unwrap_or_default());
    match &row.outcome {
        Some(outcome) => format!("{name}: {outcome}"),
        None => name.to_owned(),
    }
}

/// `1 call`, `2 calls`.
pub(super) fn calls(count: u32) -> String {
    if count == 1 { "1 call".to_owned() } else { format!("{count} calls") }
}

/// What a complaint is called, or that none was told.
pub(super) fn complaint(id: Option<&str>) -> String {
    id.map_or_else(|| "no complaint told".to_owned(), kept::plain)
}

/// A median of a count; none of no calls.
pub(super) fn number(median: Option<f64>) -> String {
    median.map_or("–".to_owned(), half)
}

/// A median of minutes, in whole ones: what a step takes is an estimate.
pub(super) fn minutes(median: Option<f64>) -> String {
    median.map_or("–".to_owned(), |minutes| format!("{:.0}", minutes.round()))
}
