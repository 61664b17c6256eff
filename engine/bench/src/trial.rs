//! Trials: a unit with faults drawn, a technician sent, a call driven to its end, and judged by what was put in.
//!
//! What a call hands over or leaves for later is done on the unit, and where the house is still not right there is a
//! next call. The judgement is of all visits together.

pub(crate) mod judge;
mod since;
mod visits;

pub use judge::Verdict;
pub use visits::Visit;
#[cfg(test)]
pub(crate) use {since::Others, visits::Taken};

use crate::chance::Chance;
use crate::fault::Fault;
use crate::household::Callback;
use crate::ranges::fault as ranges;
use crate::technician::Care;
use engine::call::{Call, Outcome, Prompt, Reply};
use engine::rulebook::{EndingId, Rulebook};
use std::num::NonZeroUsize;
use std::ops::Range;
use std::sync::Arc;

/// What is put into the units.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PutIn {
    /// None, one or two, drawn out of all.
    Drawn,
    /// These, in every call; none at all for an empty list.
    Always(Vec<Fault>),
}

/// How trials are made.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Setup {
    /// Where all chance comes from.
    pub seed: u64,
    /// What is put in.
    pub put_in: PutIn,
    /// How careful the technician is.
    pub care: Care,
}

/// What came of one call, and of those that had to follow it.
#[derive(Clone, PartialEq, Debug)]
pub struct Trial {
    /// Which call under the seed.
    pub call: u64,
    /// What was put in.
    pub faults: Vec<Fault>,
    /// What the caller said at first: a choice of the complaint.
    pub complaint: &'static str,
    /// Every call on the unit, in order.
    pub visits: Vec<Visit>,
    /// The endings reached in all of them, in order.
    pub reached: Vec<(EndingId, Outcome)>,
    /// Whether they were right.
    pub verdict: Verdict,
    /// Endings that answer nothing that was put in: work that was not needed, or somebody sent for in vain.
    pub needless: Vec<EndingId>,
    /// Whether every fault was named by an ending that is right for it.
    pub named: bool,
    /// Whether every fault is out of the unit, and the house is right.
    pub mended: bool,
    /// Whether nothing is left that would be noticed in the house.
    pub cured: bool,
    /// Questions answered, routine and proof apart.
    pub asked: u32,
    /// Completed lock-outs.
    pub lockouts: u32,
    /// Minutes for everything.
    pub minutes: f64,
    /// Prompts that should not have been shown as the unit truly stood.
    pub unsafe_prompts: Vec<String>,
    /// Answers that were something else than was found.
    pub slips: u32,
    /// Facts that were asked for and that the model knows nothing of.
    pub unknown: Vec<String>,
    /// Why the call came to no end, where it did not.
    pub halted: Option<String>,
}

/// Somebody who looks on: told of each prompt with the reply to it, before it is taken in.
pub type Witness<'w> = dyn FnMut(&Call, &Prompt, &Reply) + 'w;

/// Pairs that are drawn until a unit can have one.
const MOST_PAIRS: u32 = 50;

/// Makes one trial: call number `call` under the setup's seed, the same whatever else is run.
#[must_use]
pub fn run(book: &Arc<Rulebook>, setup: &Setup, call: u64) -> Trial {
    watched(book, setup, call, &mut |_, _, _| {})
}

/// As [`run`], with somebody looking on.
#[must_use]
pub fn watched(book: &Arc<Rulebook>, setup: &Setup, number: u64, witness: &mut Witness<'_>) -> Trial {
    let mut chance = Chance::of_call(setup.seed, number);
    let (faults, callback) = match &setup.put_in {
        PutIn::Drawn => draw(&mut chance),
        PutIn::Always(faults) => (faults.clone(), Callback::draw(faults, &mut chance.branch())),
    };
    let Some(callback) = callback else { return Trial::no_such_unit(number, faults) };
    let complaint = callback.complaint;
    let came = visits::all(book, setup, &faults, callback, &mut chance, witness);
    let reached: Vec<_> = came.visits.iter().flat_map(|visit| visit.reached.clone()).collect();
    let judged = judge::Judged {
        book,
        faults: &faults,
        taken: &came.taken,
        reached: &reached,
        came_to_nothing: came.gave_up,
    };
    Trial {
        call: number,
        verdict: judged.verdict(),
        needless: judged.needless(),
        named: judged.all_named(),
        mended: came.cured && came.taken.iter().all(Option::is_some),
        faults,
        complaint,
        visits: came.visits,
        reached,
        cured: came.cured,
        asked: came.asked,
        lockouts: came.lockouts,
        minutes: came.minutes,
        unsafe_prompts: came.unsafe_prompts,
        slips: came.slips,
        unknown: came.unknown,
        halted: came.halted,
    }
}

/// Makes many trials on so many threads, in the order of their numbers.
#[must_use]
pub fn run_all(book: &Arc<Rulebook>, setup: &Setup, calls: Range<u64>, threads: NonZeroUsize) -> Vec<Trial> {
    let step = threads.get();
    let mut trials: Vec<Trial> = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..step)
            .map(|first| {
                let mine = calls.clone().skip(first).step_by(step);
                scope.spawn(move || mine.map(|call| run(book, setup, call)).collect::<Vec<_>>())
            })
            .collect();
        workers.into_iter().flat_map(|worker| worker.join().unwrap_or_default()).collect()
    });
    trials.sort_by_key(|trial| trial.call);
    trials
}

/// None, one or two faults, and a unit that has them.
fn draw(chance: &mut Chance) -> (Vec<Fault>, Option<Callback>) {
    let all: Vec<Fault> = Fault::all().collect();
    let share = chance.share();
    let count = match share {
        _ if share < ranges::NONE => 0,
        _ if share < ranges::NONE + ranges::PAIR => 2,
        _ => 1,
    };
    // A pair that no unit can have gives way to another.
    for _ in 0..MOST_PAIRS {
        let faults: Vec<Fault> = (0..count).map(|_| all[chance.below(all.len())]).collect();
        if let Some(callback) = Callback::draw(&faults, &mut chance.branch()) {
            return (faults, Some(callback));
        }
    }
    (Vec::new(), Callback::draw(&[], chance))
}

impl Trial {
    /// A call that was never made: no unit can have these faults.
    fn no_such_unit(call: u64, faults: Vec<Fault>) -> Self {
        Self {
            call,
            faults,
            complaint: "",
            visits: Vec::new(),
            reached: Vec::new(),
            verdict: Verdict::GaveUp,
            needless: Vec::new(),
            named: false,
            mended: false,
            cured: false,
            asked: 0,
            lockouts: 0,
            minutes: 0.0,
            unsafe_prompts: Vec::new(),
            slips: 0,
            unknown: Vec::new(),
            halted: Some("no unit can have these faults together".to_owned()),
        }
    }
}
