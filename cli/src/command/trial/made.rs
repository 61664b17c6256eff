//! The calls, made on all cores.

use super::put_in::Plan;
use crate::args::TrialArguments;
use crate::failure::Failure;
use bench::trial::Trial;
use engine::rulebook::Rulebook;
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use std::sync::Arc;

/// Calls 1 to as many as are wanted, in their order, on any number of threads the same.
///
/// # Errors
/// Threads that could not be had.
pub(super) fn all(
    book: &Arc<Rulebook>,
    plan: &Plan,
    arguments: &TrialArguments,
) -> Result<Vec<Trial>, Failure> {
    // As many as there are cores where nobody says.
    let threads = arguments.threads.map_or(0, usize::from);
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .map_err(|error| Failure::Threads(error.to_string()))?;
    let bar = bar(arguments.count);
    let trials = pool.install(|| {
        (1..=arguments.count)
            .into_par_iter()
            .map(|call| {
                let (_, trial) = plan.make(book, u64::from(call));
                bar.inc(1);
                trial
            })
            .collect()
    });
    bar.finish_and_clear();
    Ok(trials)
}

/// How far it has come, on standard error where that is a terminal.
fn bar(calls: u32) -> ProgressBar {
    let bar = ProgressBar::new(u64::from(calls));
    match ProgressStyle::with_template("{wide_bar} {human_pos} of {human_len} calls, {eta} to go") {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
