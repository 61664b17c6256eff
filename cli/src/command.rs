//! The commands, one a file.

pub(crate) mod call;
pub(crate) mod check;
pub(crate) mod explain;
pub(crate) mod figure;
pub(crate) mod man;
pub(crate) mod outline;
pub(crate) mod replay;
pub(crate) mod script;
