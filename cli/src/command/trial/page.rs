//! Trials as a page that stands alone: the summary, and the table of faults and endings drawn.

mod matrix;

use super::figures::Figures;
use super::put_in::Plan;
use super::wording;
use crate::command::page::{framed, table};
use crate::command::share::{Share, percent};
use crate::harmless::harmless;
use bench::trial::Verdict;
use engine::rulebook::Rulebook;
use maud::{Markup, html};

pub(super) fn of(book: &Rulebook, plan: &Plan, figures: &Figures) -> String {
    let header = html! {
        p { (wording::scope(plan, figures)) }
        @if figures.all.found.of > 0 { p { (wording::headline(plan, figures)) } }
        @if let Some(mistaken) = wording::mistaken(book, figures) { p { (mistaken) } }
        p { (wording::safety(figures)) }
        @for (call, what) in &figures.unsafe_prompts { p { "Call " (call) ": " (harmless(what)) } }
        @for (call, why) in &figures.halted { p { "Call " (call) " came to no end: " (harmless(why)) } }
        @for note in wording::notes(book, plan, figures) { p { (note) } }
        p.aside { "Made by motorwright " (env!("CARGO_PKG_VERSION")) "." }
    };
    let main = html! {
        @if figures.all.found.of > 0 {
            section { h2 { "Faults and endings" } (matrix::of(book, figures)) }
            section { h2 { "How calls came out" } (verdicts(figures)) }
            section { h2 { "What calls took" } (costs(figures)) }
            section { h2 { "Needless work" } (needless(book, figures)) }
        }
    };
    framed("What simulated calls came to", include_str!("page/matrix.css"), &header, &main)
}

fn verdicts(figures: &Figures) -> Markup {
    let all = &figures.all;
    let rows = html! {
        @for (verdict, calls) in Verdict::ALL.into_iter().zip(all.verdicts) {
            tr {
                th scope="row" { (verdict.word()) " " small { (wording::means(verdict)) } }
                td { (calls) }
                td { (wording::in_full(Share::new(calls, all.found.of))) }
            }
        }
    };
    table("How calls came out", &["", "Calls", "Share, with its 95 % interval"], &rows)
}

fn costs(figures: &Figures) -> Markup {
    let rows = html! {
        @for (what, spread) in wording::costs(figures) {
            tr {
                th scope="row" { (what) }
                @for figure in wording::spread(spread) { td { (figure) } }
            }
        }
    };
    table("What calls took", &["", "Median", "95 % at most", "Most"], &rows)
}

fn needless(book: &Rulebook, figures: &Figures) -> Markup {
    let of = figures.calls_with_needless;
    let rows = html! {
        @for (ending, calls) in &figures.needless {
            tr {
                th scope="row" {
                    (harmless(&book.ending(*ending).name)) " " small { (harmless(&book.ending(*ending).id)) }
                }
                td { (calls) }
                td { (Share::new(*calls, of.of).value.map_or("–".to_owned(), percent)) }
            }
        }
    };
    html! {
        p { "Work that answers nothing that was put in: in " (of.count) " of " (wording::count(of.of, "call")) "." }
        @if !figures.needless.is_empty() {
            (table("Needless work", &["Ending", "Calls", "Of all"], &rows))
        }
    }
}
