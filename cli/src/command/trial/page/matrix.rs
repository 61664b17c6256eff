//! The table of faults and endings, drawn by hand: shades say how many, outlines and marks what is right, so that it
//! reads in black and white.

use crate::command::page::table;
use crate::command::share::percent;
use crate::command::trial::figures::{Cell, Figures, Group, Is, is_right};
use crate::command::trial::wording;
use crate::harmless::harmless;
use bench::Fault;
use engine::rulebook::{EndingId, Rulebook};
use maud::{Markup, html};
use std::collections::BTreeSet;

/// Lengths in the drawing's own unit, about a pixel.
const CELL: f64 = 19.0;
const ROW: f64 = 17.0;
/// Room for the faults at the left, the endings above, and the shares at the right.
const LEFT: f64 = 190.0;
const ABOVE: f64 = 176.0;
const RIGHT: f64 = 48.0;

/// One row: a fault, and what its calls came to.
type Row<'f> = &'f (Option<Fault>, Group);

pub(super) fn of(book: &Rulebook, figures: &Figures) -> Markup {
    let rows = in_order(figures);
    let columns = columns(book, &rows);
    let (wide, foot) = (LEFT + CELL * size(columns.len()) + RIGHT, ABOVE + ROW * size(rows.len()) + 6.0);
    html! {
        p {
            "Each row is what was put in, each column an ending. A square has the number of calls that came to it, the "
            "darker the larger its share of the row. A heavy outline: the right ending, dashed where no call came to it. "
            "A cut corner: needless. A bar below: the last word of calls in which not everything was named. At the right, the share of calls in which everything was named."
        }
        div.wide role="region" tabindex="0" aria-label="Faults and endings, drawn" {
            svg.matrix xmlns="http://www.w3.org/2000/svg" role="img" viewBox={ "0 0 " (wide) " " (foot) }
                width=(wide) height=(foot) aria-labelledby="matrix-title matrix-says" {
                title id="matrix-title" { "Faults and endings" }
                desc id="matrix-says" { "The list below has every figure of the drawing." }
                @for (place, ending) in columns.iter().enumerate() { (column(book, *ending, place, foot)) }
                @for (place, row) in rows.iter().enumerate() { (line(book, row, &columns, place, wide)) }
            }
        }
        (list(book, figures))
    }
}

/// The rows in the order of the model's list: what lies near to each other stands together.
fn in_order(figures: &Figures) -> Vec<Row<'_>> {
    let all: Vec<Fault> = Fault::all().collect();
    let mut rows: Vec<Row<'_>> = figures.by_fault.iter().collect();
    rows.sort_by_key(|(fault, _)| {
        fault.and_then(|fault| all.iter().position(|one| *one == fault)).unwrap_or(all.len())
    });
    rows
}

/// The endings: those that are right in the order of their faults, so that they run down across; then all others.
fn columns(book: &Rulebook, rows: &[Row<'_>]) -> Vec<EndingId> {
    let right = rows.iter().filter_map(|(fault, _)| *fault).flat_map(Fault::right);
    let mut columns: Vec<EndingId> = Vec::new();
    for ending in right.filter_map(|(ending, _)| book.ending_named(ending)) {
        if !columns.contains(&ending) {
            columns.push(ending);
        }
    }
    let reached: BTreeSet<EndingId> =
        rows.iter().flat_map(|(_, group)| group.endings.iter().map(|cell| cell.ending)).collect();
    let others: Vec<EndingId> = reached.into_iter().filter(|ending| !columns.contains(ending)).collect();
    columns.extend(others);
    columns
}

fn column(book: &Rulebook, ending: EndingId, place: usize, foot: f64) -> Markup {
    let x = LEFT + CELL * size(place);
    let middle = x + CELL / 2.0 + 3.5;
    html! {
        line.grid x1=(x) y1=(ABOVE) x2=(x) y2=(foot - 6.0) {}
        text x=(middle) y=(ABOVE - 5.0) transform={ "rotate(-90 " (middle) " " (ABOVE - 5.0) ")" } {
            title { (harmless(&book.ending(ending).name)) }
            (harmless(&book.ending(ending).id))
        }
    }
}

fn line(book: &Rulebook, (fault, group): Row<'_>, columns: &[EndingId], place: usize, wide: f64) -> Markup {
    let y = ABOVE + ROW * size(place);
    let base = y + ROW - 5.0;
    html! {
        line.grid x1="0" y1=(y) x2=(wide) y2=(y) {}
        text x="0" y=(base) { (wording::fault(*fault)) }
        @for (place, ending) in columns.iter().enumerate() {
            @let x = LEFT + CELL * size(place);
            @if let Some(cell) = group.endings.iter().find(|cell| cell.ending == *ending) {
                (square(x, y, *cell, group.found.of))
            } @else if is_right(book, *fault, *ending) {
                rect.right.none x=(x + 1.5) y=(y + 1.5) width=(CELL - 3.0) height=(ROW - 3.0) {}
            }
        }
        text x=(wide - 2.0) y=(base) text-anchor="end" { (group.found.value.map_or("–".to_owned(), percent)) }
    }
}

fn square(x: f64, y: f64, cell: Cell, of: u32) -> Markup {
    let part = f64::from(cell.calls) / f64::from(of.max(1));
    let shade = match part {
        part if part > 0.66 => "s4",
        part if part > 0.33 => "s3",
        part if part > 0.1 => "s2",
        _ => "s1",
    };
    let (left, top) = (x + 1.5, y + 1.5);
    html! {
        rect class={ (shade) @if cell.is == Is::Right { " right" } }
            x=(left) y=(top) width=(CELL - 3.0) height=(ROW - 3.0) {}
        @if cell.missed > 0 {
            path.missed d={ "M" (left) " " (top + ROW - 3.0) "h" (CELL - 3.0) } {}
        }
        @if cell.is == Is::Needless {
            path.needless d={ "M" (left) " " (top) "h6l-6 6z" } {}
        }
        text class={ "count " (shade) } x=(x + CELL / 2.0) y=(y + ROW - 5.0) text-anchor="middle" { (cell.calls) }
    }
}

/// The same in words, the fault that was missed most first.
fn list(book: &Rulebook, figures: &Figures) -> Markup {
    let columns = ["Put in", "Calls", "Right ending", "Ended in"];
    let said = |cell: &Cell| {
        let is = Some(cell.word()).filter(|word| !word.is_empty());
        let is = is.map_or(String::new(), |word| format!(" ({word})"));
        harmless(&format!("{} {}{is}", book.ending(cell.ending).id, cell.calls))
    };
    let rows = html! {
        @for (fault, group) in &figures.by_fault {
            tr {
                th scope="row" { (wording::fault(*fault)) }
                td { (group.found.of) }
                td { (group.found) }
                td.words { (group.endings.iter().map(said).collect::<Vec<_>>().join(", ")) }
            }
        }
    };
    html! {
        p { (wording::HOW_READ) }
        (table("Faults and endings", &columns, &rows))
    }
}

/// A count as a number of the drawing.
fn size(count: usize) -> f64 {
    f64::from(u16::try_from(count).unwrap_or(u16::MAX))
}
