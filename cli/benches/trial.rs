//! What a simulated call takes, how two threads do against one, and where the time goes.
//!
//! `cargo bench --bench trial` prints the table; `cargo bench --bench trial -- 2` takes so many seconds for each figure.
//! One and two threads take turns within one run, so that whatever else the machine does comes to both; read the ratios.
//! Beside the clock on the wall stands the processor's time, which others on the machine do not lengthen: two threads at
//! the same time for each call lose nothing to each other. Each part of a call is timed by itself: its replies given once
//! more to the same rules, its unit drawn once more, a unit solved, a quantity read by a meter. What is left is the
//! reading of the unit, the deeds and the looking on.
#![expect(clippy::unwrap_used, reason = "a benchmark that cannot start has failed")]

#[path = "../../tests/it/below.rs"]
mod below;

use below::below;
use bench::parts::{Sample, draw, read_meters};
use bench::trial::{PutIn, Setup, run, watched};
use bench::{Care, Fault};
use engine::call::{Answerer, Call, Halt, Prompt, Refusal, Reply, drive};
use engine::case::{Case, replay};
use engine::rulebook::Rulebook;
use engine::source::Source;
use rustix::time::{ClockId, clock_gettime};
use std::collections::VecDeque;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

/// Seconds for each figure, in turns.
const SECONDS: f64 = 15.0;
/// How often one and two threads take turns.
const TURNS: u32 = 5;
/// Under which calls are made.
const SEED: u64 = 1;
/// Calls that are taken apart.
const APART: u64 = 910;

fn main() {
    let seconds: f64 = std::env::args().skip(1).find_map(|given| given.parse().ok()).unwrap_or(SECONDS);
    let book = Arc::new(book());
    let faults: Vec<Fault> = Fault::all().collect();
    println!("one fault each, {} of them in turn, {seconds} s for each figure\n", faults.len());
    turns(&book, &faults, seconds);
    apart(&book, &faults, seconds);

    let cases = cases(&book);
    let replaying = timed(seconds / 5.0, |_| cases.iter().for_each(|case| drop(replay(&book, case))));
    let replaying = replaying.of_one() / number(cases.len());
    println!("{:24} {:9.3} ms a case, beside it", "replaying a case", 1e3 * replaying);
}

/// One and two threads in turns: calls a second, the ratio in each turn, and what a call takes of the processor.
fn turns(book: &Arc<Rulebook>, faults: &[Fault], seconds: f64) {
    let each = seconds / f64::from(TURNS);
    let (mut one, mut two) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        one.push(threads(book, faults, 1, each));
        two.push(threads(book, faults, 2, each));
    }
    let mut ratios: Vec<f64> =
        one.iter().zip(&two).map(|(one, two)| two.a_second() / one.a_second()).collect();
    ratios.sort_by(f64::total_cmp);
    let show = |what: &str, turns: &[Took]| {
        let all = turns.iter().fold(Took::default(), Took::and);
        println!(
            "{what:12} {:8.0} calls, {:8.1} a second by the wall, {:7.3} ms of the processor each",
            all.times,
            all.a_second(),
            1e3 * all.processor / all.times
        );
        all.processor / all.times
    };
    let (cheap, dear) = (show("one thread", &one), show("two threads", &two));
    println!(
        "two over one: {:.2} by the wall ({:.2} to {:.2} over the turns); a call takes {:.2} of the processor\n",
        ratios[ratios.len() / 2],
        ratios[0],
        ratios[ratios.len() - 1],
        dear / cheap
    );
}

/// Calls from the first on, by so many threads, until the time is up.
fn threads(book: &Arc<Rulebook>, faults: &[Fault], count: usize, seconds: f64) -> Took {
    let next = AtomicU64::new(0);
    let start = Stopwatch::started();
    std::thread::scope(|scope| {
        for _ in 0..count {
            scope.spawn(|| {
                while start.seconds() < seconds {
                    let call = next.fetch_add(1, Ordering::Relaxed);
                    std::hint::black_box(run(book, &setup(faults, call), call));
                }
            });
        }
    });
    start.took(next.into_inner())
}

/// The parts of one call, on one thread, by the processor's time.
fn apart(book: &Arc<Rulebook>, faults: &[Fault], seconds: f64) {
    let each = seconds / 3.0;
    let recorded: Vec<VecDeque<Reply>> =
        (0..APART).map(|call| replies(book, &setup(faults, call), call)).collect();
    let prompts = number(recorded.iter().map(VecDeque::len).sum()) / number(recorded.len());
    let is_answer = |reply: &&Reply| matches!(reply, Reply::Answer(_));
    let answers = number(recorded.iter().flatten().filter(is_answer).count()) / number(recorded.len());
    let turn = |call: u64| call % APART;
    let all = timed(each, |call| drop(run(book, &setup(faults, turn(call)), turn(call)))).of_one();
    let place = |call: u64| usize::try_from(turn(call)).unwrap();
    let walking = timed(each, |call| walk(book, recorded[place(call)].clone())).of_one();
    let drawing = timed(each, |call| {
        std::hint::black_box(draw(fault(faults, turn(call)), SEED, turn(call)));
    })
    .of_one();
    let quantities = number(read_meters(book, 0));
    let metering = timed(each / 5.0, |call| {
        std::hint::black_box(read_meters(book, call));
    });
    let metering = metering.of_one() / quantities;
    let units: Vec<Sample> = (0..100).map(|call| Sample::of(SEED, call)).collect();
    let solving = timed(each / 5.0, |call| {
        std::hint::black_box(units[usize::try_from(call % 100).unwrap()].run());
    })
    .of_one();
    println!("of one call on one thread, {prompts:.0} prompts, {answers:.0} of them answered:");
    let meter = metering * answers;
    let left = all - walking - drawing - meter;
    for (what, took) in [
        ("all", all),
        ("walking the rules", walking),
        ("drawing the unit", drawing),
        ("the meter, at the most", meter),
        ("reading the unit, deeds", left),
    ] {
        println!("{what:24} {:9.3} ms  {:4.0} %", 1e3 * took, 100.0 * took / all);
    }
    println!("{:24} {:9.3} ms once", "solving how a unit runs", 1e3 * solving);
    let model = (drawing + left) / solving;
    println!("{:24} {model:9.0} such solutions", "the model's part is");
}

fn fault(faults: &[Fault], call: u64) -> Fault {
    faults[usize::try_from(call).unwrap() % faults.len()]
}

fn setup(faults: &[Fault], call: u64) -> Setup {
    Setup { seed: SEED, put_in: PutIn::Always(vec![fault(faults, call)]), care: Care::Careful }
}

/// So often, in so many seconds by the wall and of the processor.
#[derive(Clone, Copy, Default)]
struct Took {
    times: f64,
    wall: f64,
    processor: f64,
}

impl Took {
    fn of_one(&self) -> f64 {
        self.processor / self.times
    }

    fn a_second(&self) -> f64 {
        self.times / self.wall
    }

    fn and(self, other: &Self) -> Self {
        Self {
            times: self.times + other.times,
            wall: self.wall + other.wall,
            processor: self.processor + other.processor,
        }
    }
}

/// Both clocks.
struct Stopwatch {
    wall: Instant,
    processor: Duration,
}

impl Stopwatch {
    fn started() -> Self {
        Self { wall: Instant::now(), processor: processor() }
    }

    fn seconds(&self) -> f64 {
        self.wall.elapsed().as_secs_f64()
    }

    fn took(&self, times: u64) -> Took {
        let processor = processor().saturating_sub(self.processor).as_secs_f64();
        Took { times: number(usize::try_from(times).unwrap()), wall: self.seconds(), processor }
    }
}

/// What all threads have had of the processor.
fn processor() -> Duration {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    Duration::new(time.tv_sec.try_into().unwrap(), time.tv_nsec.try_into().unwrap())
}

/// The same work with numbers from 0 on, until the time is up.
fn timed(seconds: f64, mut work: impl FnMut(u64)) -> Took {
    let start = Stopwatch::started();
    let mut times = 0;
    while times == 0 || start.seconds() < seconds {
        work(times);
        times += 1;
    }
    start.took(times)
}

#[expect(clippy::cast_precision_loss, reason = "figures to be shown")]
fn number(count: usize) -> f64 {
    count as f64
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
