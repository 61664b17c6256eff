//! What a simulated call takes, how two threads do against one, and where the time goes.
//!
//! `cargo bench --bench trial` prints the table; `cargo bench --bench trial -- 200` over fewer calls. The machine differs,
//! so read the ratios. What walking takes is measured apart, by giving the same replies once more to the same rules; the
//! rest is the model: drawing and sizing units, putting faults in, reading and looking on. Two links for one motor
//! exclude each other, so that such a trial draws 500 units and makes no call: that is what drawing takes.
#![expect(clippy::unwrap_used, reason = "a benchmark that cannot start has failed")]

#[path = "../../tests/it/below.rs"]
mod below;

use below::below;
use bench::trial::{PutIn, Setup, run, run_all, watched};
use bench::{Care, Fault};
use engine::call::{Answerer, Call, Halt, Prompt, Refusal, Reply, drive};
use engine::case::{Case, replay};
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::collections::VecDeque;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// How many calls.
const CALLS: u64 = 1000;
/// How often each is timed.
const ROUNDS: u32 = 7;
/// Units that a trial draws before it is given up.
const DRAWN: u32 = 500;

fn main() {
    let calls: u64 = std::env::args().skip(1).find_map(|given| given.parse().ok()).unwrap_or(CALLS);
    let book = Arc::new(book());
    let setup = Setup { seed: 1, put_in: PutIn::Drawn, care: Care::Careful };
    let on = |threads: usize| {
        let threads = NonZeroUsize::new(threads).unwrap();
        timed(|| run_all(&book, &setup, 0..calls, threads))
    };
    let (one, two) = (on(1), on(2));
    let per_second = |took: Duration| 1.0 / each(took, calls).as_secs_f64();
    println!("{calls} calls, none, one or two faults drawn");
    println!("one thread   {:8.1} calls a second", per_second(one));
    println!("two threads  {:8.1} calls a second, {:.2} times one", per_second(two), ratio(one, two));

    let recorded: Vec<VecDeque<Reply>> = (0..calls).map(|call| replies(&book, &setup, call)).collect();
    let prompts: usize = recorded.iter().map(VecDeque::len).sum();
    let walking = timed(|| recorded.iter().for_each(|replies| walk(&book, replies.clone())));
    let model = one.saturating_sub(walking);
    println!("\nof one call on one thread, {:.0} prompts:", ratio_of(prompts, calls));
    for (what, took) in [("all", one), ("walking the rules", walking), ("the model", model)] {
        println!("{what:20} {:9.3} ms  {:4.0} %", millis(each(took, calls)), 100.0 * ratio(took, one));
    }
    let both = ["link-missing-115", "link-missing-230"].map(|id| Fault::named(id).unwrap()).to_vec();
    let none = Setup { seed: 1, put_in: PutIn::Always(both), care: Care::Perfect };
    let drawing = timed(|| run(&book, &none, 1)) / DRAWN;
    println!("{:20} {:9.3} ms a unit", "drawing and sizing", millis(drawing));

    let cases = cases(&book);
    let replaying = timed(|| cases.iter().for_each(|case| drop(replay(&book, case))));
    let replaying = each(replaying, u64::try_from(cases.len()).unwrap());
    println!("{:20} {:9.3} ms a case, beside it", "replaying a case", millis(replaying));
}

/// The shortest of some rounds: what else the machine does can only add to it.
fn timed<T>(mut work: impl FnMut() -> T) -> Duration {
    let round = |_| {
        let start = Instant::now();
        std::hint::black_box(work());
        start.elapsed()
    };
    (0..ROUNDS).map(round).min().unwrap()
}

fn each(took: Duration, calls: u64) -> Duration {
    took / u32::try_from(calls.max(1)).unwrap()
}

fn ratio(one: Duration, other: Duration) -> f64 {
    one.as_secs_f64() / other.as_secs_f64()
}

#[expect(clippy::cast_precision_loss, reason = "figures to be shown")]
fn ratio_of(count: usize, calls: u64) -> f64 {
    count as f64 / calls as f64
}

fn millis(took: Duration) -> f64 {
    took.as_secs_f64() * 1e3
}

/// What was said in a simulated call.
fn replies(book: &Arc<Rulebook>, setup: &Setup, call: u64) -> VecDeque<Reply> {
    let mut replies = VecDeque::new();
    let _ = watched(book, setup, call, &mut |_, _, reply| replies.push_back(reply.clone()));
    replies
}

/// The same call, by its replies alone.
fn walk(book: &Arc<Rulebook>, replies: VecDeque<Reply>) {
    let mut call = Call::new(Arc::clone(book));
    // One that came to no end comes to none once more.
    drop(drive(&mut call, &mut Said(replies)));
}

struct Said(VecDeque<Reply>);

impl Answerer for Said {
    fn reply(&mut self, _: &Call, _: &Prompt) -> Result<Reply, Halt> {
        self.0.pop_front().ok_or_else(|| Halt("no more was said".to_owned()))
    }

    fn refused(&mut self, _: Refusal) {}
}

fn book() -> Rulebook {
    engine::read_rules(files("rules").iter().map(|path| source(path))).unwrap()
}

fn cases(book: &Rulebook) -> Vec<Case> {
    files("cases").iter().map(|path| Case::read(book, source(path)).unwrap()).collect()
}

fn source(path: &Path) -> Source {
    Source::new(path.display().to_string(), std::fs::read(path).unwrap()).unwrap()
}

fn files(folder: &str) -> Vec<PathBuf> {
    below(&Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(folder), "yaml")
}
