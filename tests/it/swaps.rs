//! Two questions that are said to save a lock-out the other way round, against rules in which they are asked that way.
//!
//! What is said is an argument about two questions and what follows them. Here the second is really asked first, in the
//! text of the rules, and the lock-outs of all calls are counted again.

use crate::house::{self, BOOK, LOCKOUTS};
use crate::pond::{self, File};
use engine::finding::{Code, Finding};
use engine::paths::{Calls, LockOuts};
use engine::rulebook::{FactId, PowerNeed, Rulebook, Step, StepId, Way as Out};
use engine::source::Source;
use engine::{Checked, check_rules};
use proptest::prelude::Rng as _;
use proptest::test_runner::{RngAlgorithm, TestRng};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;

/// How many rulebooks are made.
const MANY: u64 = 150;

/// Of the neighbours in the shipped rules that are read live and dead, one in so many is swapped; `SWAPS_ALL` swaps all.
const ONE_IN: usize = 20;

/// Those that leads are fitted for, the first where no live work is allowed.
const LED_OUT: [usize; 2] = [3, 4];
/// How a fact is read: in any state, dead, from outside, under the lid, on what was led out of it.
const KINDS: [&str; 5] = [
    "power: any, panel: any, lasts: now",
    "power: dead, panel: off, lasts: now",
    "power: live, panel: on, lasts: now",
    "power: live, panel: off, station: lid, lasts: now, cautions: [{warning: Live parts.}]",
    "power: live, panel: on, station: lid, lasts: now, cautions: [{warning: Live parts.}]",
];

/// Where a step goes on one of its answers: to the next, to a hand-over of its own, to a repair of its own.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Way {
    Next,
    HandOver,
    Repair,
}

/// Questions in a row: how each is read, and where its second answer goes.
#[derive(Clone, Debug)]
struct Row(Vec<(usize, Way)>);

impl Row {
    fn new(seed: u64) -> Self {
        let mut bytes = [0; 32];
        bytes[..8].copy_from_slice(&seed.to_le_bytes());
        let mut chance = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
        let mut below = |end: usize| chance.next_u32() as usize % end;
        let many = 2 + below(3);
        let ways = [Way::Next, Way::Next, Way::HandOver, Way::Repair];
        Self((0..many).map(|_| (below(KINDS.len()), ways[below(ways.len())])).collect())
    }

    /// The rules; where one is said to be swapped, its fact is really asked before the one in front of it.
    fn files(&self, swapped: Option<usize>) -> Vec<File> {
        let mut readings = "readings:\n".to_owned();
        let mut deeds = "deeds:\n".to_owned();
        let mut endings = "endings:\n".to_owned();
        let mut steps = "tree: pump\nname: made\nstart: danger\nsteps:\n  danger:\n    ask: danger_at_pump\n    \
                         because: Nobody goes near what can hurt.\n    answers:\n      \
                         - {is: none, means: it is safe, go: s0}\n      \
                         - {is: [shock, flood], means: it can hurt, end: keep-away}\n    cannot: {end: keep-away}\n"
            .to_owned();
        for (at, (kind, way)) in self.0.iter().enumerate() {
            let _ = writeln!(
                readings,
                "  f{at}: {{name: fact, say: What is it?, how: Look., choices: {{y: it is, n: not}}, {}}}",
                KINDS[*kind]
            );
            let _ = writeln!(
                deeds,
                "  d{at}: {{name: work, power: dead, panel: off, \
                 steps: [Work.], makes stale: [f{at}, pump_runs]}}"
            );
            let _ = writeln!(
                endings,
                "  r{at}: {{kind: repair, name: end, because: So it is., deeds: [d{at}], whose: the gardener, \
                 proof: {{pump_runs: {{is: yes}}}}}}"
            );
            for hand_over in ["h", "z"] {
                let _ = writeln!(
                    endings,
                    "  {hand_over}{at}: {{kind: hand-over, name: end, because: So it is., does: [Call.], \
                     whose: the gardener}}"
                );
            }
            let last = at + 1 == self.0.len();
            let next = if last { format!("end: z{at}") } else { format!("go: s{}", at + 1) };
            let other = match way {
                Way::Next => next.clone(),
                Way::HandOver => format!("end: h{at}"),
                Way::Repair => format!("end: r{at}"),
            };
            let mut name = format!("s{at}");
            if swapped == Some(at + 1) {
                let _ = writeln!(
                    steps,
                    "  {name}:\n    ask: f{}\n    because: So it is.\n    answers:\n      \
                     - {{is: [y, n], means: it is told, go: {name}-behind}}\n    cannot: {{go: {name}-behind}}",
                    at + 1
                );
                name += "-behind";
            }
            let _ = writeln!(
                steps,
                "  {name}:\n    ask: f{at}\n    because: So it is.\n    answers:\n      \
                 - {{is: y, means: it is, {next}}}\n      - {{is: n, means: it is not, {other}}}\n    \
                 cannot: {{{next}}}"
            );
        }
        let mut files = pond::files("base");
        files.retain(|file| !["pump.yaml", "water.yaml"].contains(&file.name.as_str()));
        let made = [("pump", steps), ("made", readings), ("work", deeds), ("ends", endings)];
        files.extend(made.map(|(name, text)| File::new(&format!("{name}.yaml"), text)));
        files
    }
}

fn looked_through(files: &[File]) -> (Rulebook, Vec<Finding>) {
    let Checked { findings, book } = check_rules(files.iter().map(|file| file.source().unwrap()));
    (book.unwrap_or_else(|| panic!("{}", pond::shown(&findings))), findings)
}

/// The least and the most of every ending.
type Counted = BTreeMap<String, (u8, u8)>;

fn of(book: &Rulebook, lockouts: &LockOuts) -> Counted {
    let ends = book.endings().iter().filter_map(|ending| {
        let span = lockouts.until(book.ending_named(&ending.id)?)?;
        Some((ending.id.clone(), (span.least, span.most)))
    });
    ends.collect()
}

/// Where no live work is allowed, and where it is.
fn counted(book: &Rulebook) -> [Counted; 2] {
    let paths = book.paths();
    [false, true].map(|live_work| of(book, &book.lockouts(&paths, Calls { complaint: None, live_work })))
}

/// Whether fewer lock-outs are needed for some ending and more for none, live work allowed or not.
fn saves(before: &[Counted; 2], after: &[Counted; 2]) -> bool {
    before.iter().zip(after).all(|(before, after)| {
        let pairs = || before.iter().map(|(ending, counts)| (counts, after.get(ending).unwrap()));
        pairs().all(|(before, after)| after.0 <= before.0 && after.1 <= before.1)
            && pairs().any(|(before, after)| after.0 < before.0 || after.1 < before.1)
    })
}

/// The steps that are said to be better asked before the one in front of them.
fn said(found: &[Finding]) -> Vec<String> {
    let swaps = found.iter().filter(|finding| finding.code() == Code::SwapSavesLockOut);
    swaps.map(|finding| finding.title().split('`').nth(1).unwrap().to_owned()).collect()
}

/// Each that is said saves one. What is not said and saves one too is about leads, which the argument leaves aside.
#[test]
fn what_is_said_to_save_a_lock_out_saves_one() {
    let (mut told, mut true_ones) = (0, 0);
    for seed in 0..MANY {
        let row = Row::new(seed);
        let (book, found) = looked_through(&row.files(None));
        let (said, as_it_is) = (said(&found), counted(&book));
        told += said.len();
        let mut before = false;
        for at in 1..row.0.len() {
            let is_said = said.contains(&format!("s{at}"));
            let really = saves(&as_it_is, &counted(&looked_through(&row.files(Some(at))).0));
            true_ones += usize::from(really);
            assert!(really || !is_said, "seed {seed}: asking s{at} first saves nothing in {row:?}");
            // Of three in a row, one swap is enough.
            let with_leads = row.0.iter().any(|(kind, _)| LED_OUT.contains(kind));
            assert!(!really || is_said || before || with_leads, "seed {seed}: s{at} is not said in {row:?}");
            before = is_said;
        }
    }
    assert!(told > 10 && told * 2 > true_ones, "{told} are told of {true_ones}");
}

/// The rules that are shipped, with the fact of the second step asked before the first.
fn swapped(first: &Step, second: &Step) -> Rulebook {
    let (tree, id, asked) = (&BOOK.tree(first.tree).id, &first.id, BOOK.fact(second.fact));
    let choices: Vec<&str> = asked.choices().iter().map(|choice| choice.id.as_str()).collect();
    let lines = if choices.is_empty() {
        "bands:\n      - {above: the last, means: it is told, ".to_owned()
    } else {
        format!("answers:\n      - {{is: [{}], means: it is told, ", choices.join(", "))
    };
    let step = format!(
        "\n  {id}:\n    ask: {}\n    because: So it is.\n    {lines}go: {id}-behind}}\n    \
         cannot: {{go: {id}-behind}}\n\n  {id}-behind:\n",
        asked.id
    );
    let sources = house::files("rules", "yaml").into_iter().map(|path| {
        let text = fs::read_to_string(&path).unwrap();
        let mine = text.lines().any(|line| line == format!("tree: {tree}"));
        let text = if mine { text.replacen(&format!("\n  {id}:\n"), &step, 1) } else { text };
        Source::new(path.display().to_string(), text).unwrap()
    });
    engine::read_rules(sources.collect::<Vec<_>>()).unwrap_or_else(|found| panic!("{found}"))
}

/// Whether a fact, or what it is worked out of, is read in a state of power.
fn is_read(fact: FactId, power: PowerNeed) -> bool {
    BOOK.made_of(fact).into_iter().any(|part| BOOK.fact(part).power == power)
}

/// Swaps that lower the most lock-outs to some ending, and are not made: tree, first and second step.
///
/// `noisy-air`: with the rating seen before the static, 10 000 simulated calls (seed 3) take 13 900 lock-outs and not
/// 13 765, for whoever has the unit live already is locked out for a rating that the static makes needless. Before the
/// rise, 13 858.
const COSTS_MORE: [(&str, &str, &str); 2] =
    [("noisy-air", "static", "held"), ("noisy-air", "rise", "rating")];

/// Nothing is said of the shipped rules, and there is nothing to be said.
#[test]
fn no_swap_in_the_shipped_rules_saves_a_lock_out() {
    let next = |id: StepId| {
        let ways = BOOK.step(id).ways_out();
        ways.filter_map(|(_, way)| if let Out::Go(next) = way { Some(next) } else { None })
    };
    let either = |one: FactId, two: FactId| is_read(one, PowerNeed::Dead) && is_read(two, PowerNeed::Live);
    let mut pairs: Vec<(StepId, StepId)> = BOOK
        .step_ids()
        .flat_map(|first| next(first).map(move |second| (first, second)))
        .filter(|(first, second)| {
            let (first, second) = (BOOK.step(*first), BOOK.step(*second));
            let asked = first.asks && second.asks;
            let apart = BOOK.made_of(first.fact).is_disjoint(&BOOK.made_of(second.fact));
            asked && apart && (either(first.fact, second.fact) || either(second.fact, first.fact))
        })
        .collect();
    pairs.sort();
    pairs.dedup();
    assert!(pairs.len() > ONE_IN, "{pairs:?}");
    let one_in = if std::env::var("SWAPS_ALL").is_ok() { 1 } else { ONE_IN };
    let [no_live_work, live_work] = &*LOCKOUTS;
    let before = [no_live_work, live_work].map(|lockouts| of(&BOOK, lockouts));
    let mut save = Vec::new();
    for (first, second) in pairs.into_iter().step_by(one_in) {
        let (first, second) = (BOOK.step(first), BOOK.step(second));
        let tree = BOOK.tree(first.tree).id.as_str();
        if COSTS_MORE.contains(&(tree, &first.id, &second.id)) {
            continue;
        }
        if saves(&before, &counted(&swapped(first, second))) {
            save.push(format!("{tree}: {} before {}", second.id, first.id));
        }
    }
    assert!(save.is_empty(), "{}", save.join("\n"));
}
