//! Trials: a unit with faults drawn, a technician sent, a call driven to its end, and judged by what was put in.

pub(crate) mod judge;

pub use judge::Verdict;

use crate::bystander::Bystander;
use crate::chance::Chance;
use crate::fault::Fault;
use crate::household::Callback;
use crate::ranges::fault as ranges;
use crate::technician::{Care, Technician};
use engine::call::{Answerer, Call, Event, Halt, Outcome, Prompt, Refusal, Reply, drive};
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

/// What came of one call.
#[derive(Clone, PartialEq, Debug)]
pub struct Trial {
    /// Which call under the seed.
    pub call: u64,
    /// What was put in.
    pub faults: Vec<Fault>,
    /// What the caller said: a choice of the complaint.
    pub complaint: &'static str,
    /// The endings reached, in order.
    pub reached: Vec<(EndingId, Outcome)>,
    /// Whether they were right.
    pub verdict: Verdict,
    /// Endings that answer nothing that was put in: work that was not needed, or somebody sent for in vain.
    pub needless: Vec<EndingId>,
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
    let technician = Technician::sent_to(callback, setup.care, &mut chance);
    let mut scene =
        Scene { technician, bystander: Bystander::default(), unsafe_prompts: Vec::new(), witness };
    let mut call = Call::new(Arc::clone(book));
    let ended = drive(&mut call, &mut scene);
    let (reached, halted) = match ended {
        Ok(ended) => (ended.all().map(|reached| (reached.ending, reached.outcome)).collect(), None),
        Err(halt) => (Vec::new(), Some(halt.to_string())),
    };
    let cured = scene.technician.unit.shows().is_empty();
    Trial {
        call: number,
        verdict: judge::verdict(book, &faults, &reached),
        needless: judge::needless(book, &faults, &reached),
        faults,
        complaint,
        reached,
        cured,
        asked: call.tally().asked,
        lockouts: call.power().lockouts(),
        minutes: call.tally().minutes,
        unsafe_prompts: scene.unsafe_prompts,
        slips: scene.technician.slips,
        unknown: scene.technician.unknown,
        halted,
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
            reached: Vec::new(),
            verdict: Verdict::GaveUp,
            needless: Vec::new(),
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

/// The technician at the unit, with a bystander and a witness.
struct Scene<'w, 'f> {
    technician: Technician,
    bystander: Bystander,
    unsafe_prompts: Vec<String>,
    witness: &'w mut Witness<'f>,
}

impl Answerer for Scene<'_, '_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        let live_work = self.technician.may_work_live();
        let objection = self.bystander.objects(call, &self.technician.unit, live_work, prompt);
        self.unsafe_prompts.extend(objection);
        let reply = self.technician.reply(call, prompt)?;
        (self.witness)(call, prompt, &reply);
        Ok(reply)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.technician.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.bystander.hears(call, event);
        Ok(())
    }
}
