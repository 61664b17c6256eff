//! A report as one page.

mod chart;
mod tables;

use super::figures::{Group, LeftAt, Report};
use super::wording;
use crate::command::kept;
use crate::command::page::framed;
use crate::command::share::Share;
use crate::harmless::harmless;
use crate::store::When;
use chart::Bar;
use engine::rulebook::Rulebook;
use maud::{Markup, html};
use std::fmt::Display;

/// So many bars are in a chart; the table beside it has all.
const MOST: usize = 12;

pub(super) fn of(book: &Rulebook, report: &Report, written: When) -> String {
    let header = html! {
        @if let Some(only) = wording::only(report) { p { (harmless(&only)) } }
        p { (wording::scope(report)) }
        @for line in wording::left_out(report) { p { (line) } }
        p.aside { "Written " (written) " by motorwright " (env!("CARGO_PKG_VERSION")) "." }
    };
    let main = html! { @if report.calls > 0 { (body(book, report)) } };
    framed("What the calls came to", "", &header, &main)
}

fn body(book: &Rulebook, report: &Report) -> Markup {
    let several = report.complaints.len() > 1;
    html! {
        @if several {
            (complaints(report))
            (endings(book, &report.all, "All complaints", 0))
        }
        @for (place, complaint) in (1..).zip(&report.complaints) {
            (endings(book, complaint, &told(complaint), place))
        }
        (not_taken(book, report))
        (left_at(book, report))
        section {
            h2 { "How it was counted" }
            @for line in wording::how_counted(report) { p { (line) } }
        }
    }
}

/// A chart and its table beside it.
fn section(title: impl Display, lead: Option<&str>, chart: &Markup, table: &Markup) -> Markup {
    html! {
        section {
            h2 { (title) }
            @if let Some(lead) = lead { p { (lead) } }
            div.pair { (chart) (table) }
        }
    }
}

fn complaints(report: &Report) -> Markup {
    let bars: Vec<Bar> =
        report.complaints.iter().map(|one| Bar { label: tables::complaint(one), share: one.calls }).collect();
    let chart = chart::of("complaints", "Calls by complaint, as a share of all calls", &bars);
    section("Complaints", None, &chart, &tables::complaints(report))
}

fn endings(book: &Rulebook, complaint: &Group, title: &str, place: u32) -> Markup {
    let bars = complaint.endings.iter().map(|row| Bar { label: tables::ending(book, row), share: row.calls });
    let open = Bar { label: "left open".to_owned(), share: complaint.left_open.calls };
    let mut bars: Vec<Bar> = bars.chain((open.share.count > 0).then_some(open)).collect();
    bars.sort_by_key(|bar| std::cmp::Reverse(bar.share.count));
    let of = if place == 0 { "all calls" } else { "the calls with this complaint" };
    let chart =
        chart::of(&format!("endings-{place}"), &format!("{title}: last endings, as a share of {of}"), &bars);
    let lead = format!("{}, {} of all.", wording::calls(complaint.calls.count), complaint.calls);
    let lead = (place > 0).then_some(lead);
    section(title, lead.as_deref(), &chart, &tables::endings(book, complaint, title, place > 0))
}

fn not_taken(book: &Rulebook, report: &Report) -> Markup {
    let rows: Vec<(String, Share)> =
        report.not_taken.iter().map(|one| (tables::reading(book, &one.reading), one.calls)).collect();
    let title = "Readings that were still not taken at the end, as a share of all calls";
    counts("not-taken", "Readings that could not be taken", title, "Reading", &rows)
}

fn left_at(book: &Rulebook, report: &Report) -> Markup {
    let named = |one: &LeftAt| (harmless(&kept::place(book, &one.stands)), one.calls);
    let rows: Vec<(String, Share)> = report.left_at.iter().map(named).collect();
    let title = "Where calls were left open, as a share of those left open";
    counts("left-at", "Where calls were left open", title, "What was wanted", &rows)
}

/// What there is most of; nothing where there is nothing.
fn counts(id: &str, heading: &str, title: &str, what: &str, rows: &[(String, Share)]) -> Markup {
    if rows.is_empty() {
        return html! {};
    }
    let bars = rows.iter().map(|(label, share)| Bar { label: label.clone(), share: *share });
    let chart = chart::of(id, title, &bars.collect::<Vec<_>>());
    section(heading, None, &chart, &tables::counts(title, what, rows))
}

/// A complaint with a capital.
fn told(complaint: &Group) -> String {
    let words = tables::complaint(complaint);
    let mut signs = words.chars();
    signs.next().map_or(String::new(), |first| first.to_uppercase().chain(signs).collect())
}
