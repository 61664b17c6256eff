//! Which faults go into which call: every fault in its turn, so that all come equally often.

use crate::args::TrialArguments;
use crate::failure::Failure;
use bench::trial::{PutIn, Setup, Trial, run};
use bench::{Care, Fault};
use engine::finding::near;
use engine::rulebook::Rulebook;
use std::sync::Arc;

/// Pairs that are tried until a unit can have one.
const MOST_PAIRS: u64 = 50;

/// What is put into the units of all calls, and who answers.
#[derive(Debug)]
pub(super) struct Plan {
    pub(super) faults: Vec<Fault>,
    pub(super) how: How,
    pub(super) seed: u64,
    pub(super) care: Care,
}

/// How many at a time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum How {
    None,
    One,
    Two,
    /// None, one or two, by chance.
    Drawn,
}

impl Plan {
    /// # Errors
    /// A fault that there is not; a single one where two are to be put in.
    pub(super) fn of(arguments: &TrialArguments) -> Result<Self, Failure> {
        let given = &arguments.put_in;
        let faults = if given.faults.is_empty() { Fault::all().collect() } else { named(&given.faults)? };
        let how = match given {
            given if given.healthy => How::None,
            given if given.pairs => How::Two,
            given if given.drawn => How::Drawn,
            _ => How::One,
        };
        if let (How::Two, [fault]) = (how, &faults[..]) {
            return Err(Failure::NoPair(fault.id()));
        }
        let care = match &arguments.technician {
            who if who.slips => Care::Human,
            who if who.every_reading => Care::Perfect,
            _ => Care::Careful,
        };
        Ok(Self { faults, how, seed: arguments.seed, care })
    }

    /// Makes a call; how it was set up, and what came of it. Of two faults that no unit can have the second gives way
    /// to another, as long as there are others.
    pub(super) fn make(&self, book: &Arc<Rulebook>, call: u64) -> (Setup, Trial) {
        let mut attempt = 0;
        loop {
            let setup = self.setup(call, attempt);
            let trial = run(book, &setup, call);
            attempt += 1;
            if self.how != How::Two || attempt == MOST_PAIRS || was_made(&trial) {
                return (setup, trial);
            }
        }
    }

    fn setup(&self, call: u64, attempt: u64) -> Setup {
        let count = u64::try_from(self.faults.len()).unwrap_or(u64::MAX).max(1);
        let first = call.wrapping_sub(1) % count;
        let places = match self.how {
            How::Drawn => {
                return Setup { seed: self.seed, put_in: PutIn::Drawn, care: self.care };
            }
            How::None => vec![],
            How::One => vec![first],
            // Any of the others, each as often.
            How::Two => {
                vec![first, (first + 1 + mixed(self.seed, call, attempt) % (count - 1).max(1)) % count]
            }
        };
        let fault =
            |place: u64| usize::try_from(place).ok().and_then(|place| self.faults.get(place)).copied();
        let faults = places.into_iter().filter_map(fault).collect();
        Setup { seed: self.seed, put_in: PutIn::Always(faults), care: self.care }
    }
}

/// Whether a unit could have the faults at all: every caller complains of something.
pub(super) fn was_made(trial: &Trial) -> bool {
    !trial.complaint.is_empty()
}

/// A number that hangs on all three and on nothing else: the finalizer of `SplitMix64`, Steele, Lea and Flood (2014),
/// OOPSLA, 453, from memory.
fn mixed(seed: u64, call: u64, attempt: u64) -> u64 {
    let mut number = seed
        .wrapping_add(call.wrapping_mul(0x9e37_79b9_7f4a_7c15))
        .wrapping_add(attempt.wrapping_mul(0xd1b5_4a32_d192_ed03));
    number = (number ^ (number >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    number = (number ^ (number >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    number ^ (number >> 31)
}

/// The faults with these ids, each once.
fn named(ids: &[String]) -> Result<Vec<Fault>, Failure> {
    let mut faults = Vec::new();
    for asked in ids {
        let asked = asked.trim();
        let Some(fault) = Fault::named(asked) else {
            let near = near(asked, Fault::all().map(Fault::id));
            return Err(Failure::NoFault { asked: asked.to_owned(), near });
        };
        if !faults.contains(&fault) {
            faults.push(fault);
        }
    }
    Ok(faults)
}
