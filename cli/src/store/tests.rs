//! Both kinds of log, through the same list of tests.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod contract;
mod crowd;
mod erased;
mod files;
mod logs;
mod moved;
mod passed;
mod schemas;
mod seats;

#[path = "../../../tests/it/server.rs"]
mod server;
#[path = "../../../tests/it/skipped.rs"]
mod skipped;
