//! Tables on a terminal: columns without lines between them, broken between words.

use crate::talk::{columns, wrapped};
use comfy_table::{Cell, CellAlignment, ColumnConstraint, ContentArrangement, Table, Width, presets};
use std::io::{self, Write};

/// A blank on either side of a cell.
const PADDING: usize = 2;

/// A table with these headings.
pub(super) fn headed<const N: usize>(headings: [&str; N]) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header(headings);
    table
}

/// Numbers stand under each other.
pub(super) fn to_the_right(table: &mut Table, columns: impl IntoIterator<Item = usize>) {
    for column in columns {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}

/// Fits a table that has all its rows into the terminal, without breaking a word. `false` where it is too narrow.
pub(super) fn fit(table: &mut Table) -> bool {
    let Some(width) = columns() else { return true };
    fit_into(table, width)
}

fn fit_into(table: &mut Table, width: usize) -> bool {
    let mut longest = vec![0; table.column_count()];
    for row in table.header().into_iter().chain(table.row_iter()) {
        for (longest, cell) in longest.iter_mut().zip(row.cell_iter()) {
            let content = cell.content();
            let words = content.split_whitespace().map(textwrap::core::display_width);
            *longest = words.max().unwrap_or_default().max(*longest);
        }
    }
    if longest.iter().map(|word| word + PADDING).sum::<usize>() > width {
        return false;
    }
    table.set_content_arrangement(ContentArrangement::Dynamic).set_width(narrow(width));
    for (column, word) in table.column_iter_mut().zip(longest) {
        column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(narrow(word + PADDING))));
    }
    true
}

fn narrow(width: usize) -> u16 {
    u16::try_from(width).unwrap_or(u16::MAX)
}

/// Writes a table, without blanks at the ends of its lines.
pub(super) fn write(out: &mut impl Write, table: &Table) -> io::Result<()> {
    table.lines().try_for_each(|line| writeln!(out, "{}", line.trim_end()))
}

/// Writes a table plainly: a line for each row, each cell behind the heading of its column. A row that begins with empty
/// cells goes on with those above.
pub(super) fn plainly(out: &mut impl Write, table: &Table) -> io::Result<()> {
    let heads: Vec<String> =
        table.header().into_iter().flat_map(|row| row.cell_iter()).map(Cell::content).collect();
    let mut above: Vec<String> = Vec::new();
    for row in table.row_iter() {
        let mut cells: Vec<String> = row.cell_iter().map(Cell::content).collect();
        for (cell, above) in cells.iter_mut().zip(&above).take_while(|(cell, _)| cell.is_empty()) {
            cell.clone_from(above);
        }
        let told = heads
            .iter()
            .zip(&cells)
            .filter(|(_, cell)| !cell.is_empty())
            .map(|(head, cell)| if head.is_empty() { cell.clone() } else { format!("{head}: {cell}") });
        writeln!(out, "{}", told.collect::<Vec<_>>().join("; "))?;
        above = cells;
    }
    Ok(())
}

/// Writes a line, on a terminal broken between words.
pub(super) fn broken(out: &mut impl Write, line: &str) -> io::Result<()> {
    match columns() {
        Some(width) => wrapped(line, width.max(2) - 1).iter().try_for_each(|line| writeln!(out, "{line}")),
        None => writeln!(out, "{line}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{fit_into, headed};

    #[test]
    fn a_table_is_broken_between_words_or_not_at_all() {
        let words = ["replace", "the", "motor:", "its", "winding", "leaks", "to", "case"];
        for width in 10..120 {
            let mut table = headed(["call", "came to"]);
            table.add_row(["12", &words.join(" ")]);
            let fits = fit_into(&mut table, width);
            assert_eq!(fits, width >= "call".len() + 2 + "replace".len() + 2, "{width}");
            let shown: Vec<String> = table.lines().collect();
            for word in words {
                assert!(shown.iter().any(|line| line.contains(word)), "{width}: {shown:?}");
            }
            if fits {
                assert!(
                    shown.iter().all(|line| line.trim_end().chars().count() <= width),
                    "{width}: {shown:?}"
                );
            }
        }
    }
}
