//! The tables of a page.

use crate::command::kept;
use crate::command::page::table;
use crate::command::report::figures::{Group, Report, Row};
use crate::command::report::wording;
use crate::command::share::{Share, percent};
use crate::harmless::harmless;
use engine::rulebook::Rulebook;
use maud::{Markup, html};

/// What an ending is called and how it came out.
pub(super) fn ending(book: &Rulebook, row: &Row) -> String {
    harmless(&wording::ending(book, row))
}

/// What a reading is called, or its id where these rules do not know it.
pub(super) fn reading(book: &Rulebook, id: &str) -> String {
    harmless(&kept::reading(book, id))
}

/// What a complaint is called.
pub(super) fn complaint(complaint: &Group) -> String {
    harmless(&wording::complaint(complaint.complaint.as_deref()))
}

/// Callbacks, and their share where it is known.
fn callbacks(row: &Row) -> Markup {
    html! {
        (row.callbacks())
        @if row.followed.value.is_some() { small { (row.followed) } }
    }
}

pub(super) fn complaints(report: &Report) -> Markup {
    let rows = html! {
        @for one in &report.complaints {
            tr {
                th scope="row" { (complaint(one)) }
                td { (one.calls.count) }
                td { (one.calls) }
                td { (wording::number(one.ended.questions)) }
                td { (wording::number(one.ended.lockouts)) }
                td { (wording::minutes(one.ended.minutes)) }
                td { (callbacks(&one.ended)) }
                td { (one.left_open.calls.count) }
            }
        }
    };
    let columns =
        ["Complaint", "Calls", "Share", "Questions", "Lock-outs", "Minutes", "Callbacks", "Left open"];
    table("Complaints: medians and callbacks are of the calls that came to an ending", &columns, &rows)
}

pub(super) fn endings(book: &Rulebook, complaint: &Group, title: &str, part: bool) -> Markup {
    let rows = html! {
        @for row in &complaint.endings {
            @let id = row.ending.as_deref().unwrap_or_default();
            (line(&html! { (ending(book, row)) " " small { (harmless(id)) } }, row, part))
        }
        @if complaint.endings.len() > 1 { (line(&html! { "all that ended" }, &complaint.ended, part)) }
        @if complaint.left_open.calls.count > 0 {
            (line(&html! { "left open, so far" }, &complaint.left_open, part))
        }
    };
    let mut columns = vec!["Last ending", "Calls", "Share", "Questions", "Lock-outs", "Minutes", "Callbacks"];
    if part {
        columns.insert(3, "Of all");
    }
    table(&format!("{title}: what calls came to last, with medians"), &columns, &rows)
}

fn line(name: &Markup, row: &Row, part: bool) -> Markup {
    html! {
        tr {
            th scope="row" { (name) }
            td { (row.calls.count) }
            td { (row.calls) }
            @if part { td { (row.of_all.value.map_or("–".to_owned(), percent)) } }
            td { (wording::number(row.questions)) }
            td { (wording::number(row.lockouts)) }
            td { (wording::minutes(row.minutes)) }
            td { (callbacks(row)) }
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
