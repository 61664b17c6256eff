//! Trials as JSON, one object a call and line.

use super::figures::found;
use super::put_in::{Plan, was_made};
use crate::failure::Failure;
use bench::Fault;
use bench::trial::Trial;
use engine::record::outcome_word;
use engine::rulebook::{EndingId, Rulebook};
use serde::Serialize;
use std::io::Write;

/// One call.
#[derive(Serialize)]
struct Row<'r> {
    seed: u64,
    call: u64,
    /// What was put in.
    faults: Vec<&'static str>,
    /// What the caller complained of.
    complaint: &'r str,
    /// How many visits it took.
    visits: usize,
    /// The endings of all of them, in order.
    reached: Vec<&'r str>,
    /// How each came out.
    outcomes: Vec<&'static str>,
    /// The endings whose work others did between two visits.
    since: Vec<&'r str>,
    verdict: &'static str,
    #[serde(flatten)]
    answered: Answered,
    /// Endings that answer nothing that was put in.
    needless: Vec<&'r str>,
    /// Whether nothing is left that would be noticed in the house.
    cured: bool,
    asked: u32,
    lockouts: u32,
    minutes: f64,
    /// Answers that were something else than was found.
    slips: u32,
    unsafe_prompts: &'r [String],
    /// Facts that were asked for and that the model does not know.
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    unknown: &'r [String],
    /// Why it came to no end, or was not made.
    #[serde(skip_serializing_if = "Option::is_none")]
    halted: Option<&'r str>,
}

/// What was answered of what was put in.
#[derive(Serialize)]
struct Answered {
    /// Whether every fault was named or mended, whatever else was done.
    found: bool,
    /// Whether every fault was named.
    named: bool,
    /// Whether every fault is out of the unit, and the house is right.
    mended: bool,
}

/// Every call, in the order of their numbers.
pub(super) fn all(
    out: &mut impl Write,
    book: &Rulebook,
    plan: &Plan,
    trials: &[Trial],
) -> Result<(), Failure> {
    for trial in trials {
        serde_json::to_writer(&mut *out, &Row::of(book, plan, trial)).map_err(std::io::Error::from)?;
        writeln!(out)?;
    }
    Ok(())
}

impl<'r> Row<'r> {
    fn of(book: &'r Rulebook, plan: &Plan, trial: &'r Trial) -> Self {
        let id = |ending: EndingId| book.ending(ending).id.as_str();
        Self {
            seed: plan.seed,
            call: trial.call,
            faults: trial.faults.iter().copied().map(Fault::id).collect(),
            complaint: trial.complaint,
            reached: trial.reached.iter().map(|(ending, _)| id(*ending)).collect(),
            visits: trial.visits.len(),
            outcomes: trial.reached.iter().map(|(_, outcome)| outcome_word(*outcome)).collect(),
            since: trial.visits.iter().filter_map(|visit| visit.since).map(id).collect(),
            verdict: if was_made(trial) { trial.verdict.word() } else { "not made" },
            answered: Answered { found: found(trial), named: trial.named, mended: trial.mended },
            needless: trial.needless.iter().map(|ending| id(*ending)).collect(),
            cured: trial.cured,
            asked: trial.asked,
            lockouts: trial.lockouts,
            minutes: trial.minutes,
            slips: trial.slips,
            unsafe_prompts: &trial.unsafe_prompts,
            unknown: &trial.unknown,
            halted: trial.halted.as_deref(),
        }
    }
}
