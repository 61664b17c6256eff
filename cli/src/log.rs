//! The program's own log, for finding faults in it. It goes to a file and never across the prompt.

use crate::failure::Failure;
use std::fs::OpenOptions;
use std::path::Path;
use std::sync::Mutex;
use tracing_subscriber::filter::{LevelFilter, Targets};
use tracing_subscriber::layer::SubscriberExt as _;
use tracing_subscriber::util::SubscriberInitExt as _;

/// Logs to the end of a file, every line written through.
pub(crate) fn to_file(path: &Path) -> Result<(), Failure> {
    let failed = |error| Failure::Write { path: path.to_owned(), error };
    let file = OpenOptions::new().create(true).append(true).open(path).map_err(failed)?;
    let layer = tracing_subscriber::fmt::layer().with_ansi(false).with_writer(Mutex::new(file));
    let targets = Targets::new()
        .with_target("engine", LevelFilter::DEBUG)
        .with_target("motorwright", LevelFilter::DEBUG);
    tracing_subscriber::registry()
        .with(layer)
        .with(targets)
        .try_init()
        .map_err(|error| failed(std::io::Error::other(error)))
}
