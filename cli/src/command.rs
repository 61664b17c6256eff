//! The commands, one a file.

pub(crate) mod call;
pub(crate) mod replay;
