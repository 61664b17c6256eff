//! The engine against values published outside the project; each source is named beside its check.

mod control;
mod hitting;
mod supply;
mod units;
