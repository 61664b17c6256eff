//! The tables of a page.

use crate::command::kept;
use crate::command::report::figures::{Complaint, Report, Row};
use crate::command::report::share::{Share, percent};
use crate::command::report::wording;
use crate::command::spread::half;
use crate::harmless::harmless;
use engine::rulebook::Rulebook;
use maud::{Markup, html};

/// What an ending is called.
pub(super) fn ending(book: &Rulebook, id: &str) -> String {
    harmless(kept::name(book, id))
}

/// What a reading is called, or its id where these rules do not know it.
pub(super) fn reading(book: &Rulebook, id: &str) -> String {
    let known = book.fact_named(id).map(|fact| book.fact(fact).name.as_str());
    harmless(&known.map_or_else(|| wording::plain(id), str::to_owned))
}

/// A table that can be moved to the side where the screen is narrow.
fn table(caption: &str, columns: &[&str], rows: &Markup) -> Markup {
    html! {
        div.wide role="region" tabindex="0" aria-label=(caption) {
            table {
                caption { (caption) }
                thead { tr { @for column in columns { th scope="col" { (column) } } } }
                tbody { (rows) }
            }
        }
    }
}

pub(super) fn complaints(report: &Report) -> Markup {
    let number = |median: Option<f64>| median.map_or("–".to_owned(), half);
    let rows = html! {
        @for one in &report.complaints {
            tr {
                th scope="row" { (harmless(&wording::complaint(one.complaint.as_deref()))) }
                td { (one.calls.count) }
                td { (one.calls) }
                td { (number(one.ended.questions)) }
                td { (number(one.ended.lockouts)) }
                td { (number(one.ended.minutes)) }
                td { (one.ended.callbacks()) }
                td { (one.left_open.calls.count) }
            }
        }
    };
    let columns =
        ["Complaint", "Calls", "Share", "Questions", "Lock-outs", "Minutes", "Callbacks", "Left open"];
    table("Complaints: medians and callbacks are of the calls that came to an ending", &columns, &rows)
}

pub(super) fn endings(book: &Rulebook, complaint: &Complaint, title: &str, part: bool) -> Markup {
    let rows = html! {
        @for row in &complaint.endings {
            @let id = row.ending.as_deref().unwrap_or_default();
            (line(&html! { (ending(book, id)) " " small { (harmless(id)) } }, row, part))
        }
        @if complaint.endings.len() > 1 { (line(&html! { "All that ended" }, &complaint.ended, part)) }
        @if complaint.left_open.calls.count > 0 {
            (line(&html! { "Left open, so far" }, &complaint.left_open, part))
        }
    };
    let mut columns = vec!["Last ending", "Calls", "Share", "Questions", "Lock-outs", "Minutes", "Callbacks"];
    if part {
        columns.insert(3, "Of all");
    }
    table(&format!("{title}: what calls came to last, with medians"), &columns, &rows)
}

fn line(name: &Markup, row: &Row, part: bool) -> Markup {
    let number = |median: Option<f64>| median.map_or("–".to_owned(), half);
    html! {
        tr {
            th scope="row" { (name) }
            td { (row.calls.count) }
            td { (row.calls) }
            @if part { td { (row.of_all.value.map_or("–".to_owned(), percent)) } }
            td { (number(row.questions)) }
            td { (number(row.lockouts)) }
            td { (number(row.minutes)) }
            td { (row.callbacks()) }
        }
    }
}

pub(super) fn counts(caption: &str, what: &str, rows: &[(String, Share)]) -> Markup {
    let rows = html! {
        @for (name, share) in rows {
            tr {
                th scope="row" { (name) }
                td { (share.count) }
                td { (share) }
            }
        }
    };
    table(caption, &[what, "Calls", "Share"], &rows)
}
