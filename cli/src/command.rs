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
mod table;
pub(crate) mod trial;

use table::to_the_right;
