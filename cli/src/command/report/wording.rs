//! What the table and the page say in the same words.

use super::figures::Report;
use crate::command::spread::half;
use engine::record::Stands;

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
        "A call counts once, for the ending that it came to last. Medians: half of the calls took no more, half no \
         less; minutes are what the rules say that each step takes, not what a clock said."
            .to_owned(),
        "In brackets: where the true share lies, 19 times in 20, if the calls to come are like these (Wilson 1927, \
         Journal of the American Statistical Association 22:209, from memory). It is left out where it is no wider \
         than two points."
            .to_owned(),
        format!(
            "A callback is a later call on the same unit, begun within {days} days of the earlier one's last word; it \
             counts for the ending of the earlier one. \u{201c}2 of 15\u{201d}: of 15 calls that name their unit and \
             whose {days} days are over, 2 had one. \u{201c}+1\u{201d}: one more is known, after a call whose days \
             are not over or that names no unit."
        ),
    ];
    if report.without_unit > 0 {
        lines.push(format!(
            "Without a unit: {}. A callback on such a call is known only where it was begun with `motorwright again`.",
            calls(report.without_unit)
        ));
    }
    let planned = report.all.ended.planned;
    if planned > 0 {
        lines.push(format!(
            "Followed by the visit that a repair had been left for, which is no callback: {}.",
            calls(planned)
        ));
    }
    lines
}

/// Where a call was left: `reading, motor power`.
pub(super) fn place(stands: &Stands) -> String {
    format!("{}, {}", stands.at, plain(&stands.of))
}

/// An id as words.
pub(super) fn plain(id: &str) -> String {
    id.replace('_', " ")
}

/// `1 call`, `2 calls`.
pub(super) fn calls(count: u32) -> String {
    if count == 1 { "1 call".to_owned() } else { format!("{count} calls") }
}

/// What a complaint is called, or that none was told.
pub(super) fn complaint(id: Option<&str>) -> String {
    id.map_or_else(|| "no complaint told".to_owned(), plain)
}

/// A median of a count; none of no calls.
pub(super) fn number(median: Option<f64>) -> String {
    median.map_or("–".to_owned(), half)
}

/// A median of minutes, in whole ones: what a step takes is an estimate.
pub(super) fn minutes(median: Option<f64>) -> String {
    median.map_or("–".to_owned(), |minutes| format!("{:.0}", minutes.round()))
}
