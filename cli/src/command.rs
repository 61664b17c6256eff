//! The commands, one a file.

pub(crate) mod again;
pub(crate) mod call;
pub(crate) mod calls;
pub(crate) mod check;
pub(crate) mod explain;
pub(crate) mod export;
pub(crate) mod figure;
pub(crate) mod forget;
pub(crate) mod import;
mod kept;
pub(crate) mod man;
pub(crate) mod note;
pub(crate) mod outline;
mod page;
pub(crate) mod replay;
pub(crate) mod report;
pub(crate) mod resume;
pub(crate) mod script;
mod share;
pub(crate) mod show;
mod spread;
pub(crate) mod trial;

use comfy_table::{CellAlignment, Table};

/// Numbers stand under each other.
fn to_the_right(table: &mut Table, columns: impl IntoIterator<Item = usize>) {
    for column in columns {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}
