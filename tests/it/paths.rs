//! The abstract walk against brute force: what it says that no call can do, no call does.
//!
//! Small rulebooks are made from a seed, and every call that they allow is made: each choice, each set of choices where
//! several may hold, what cannot be told, facts told unasked or not at all, and of every measured fact the values on,
//! close to and between all edges that it may meet. `PROPTEST_CASES` widens the search.

mod force;
mod made;

use crate::pond;
use engine::finding::Code;
use engine::rulebook::{Line, Rulebook, StepId, Ways};
use engine::source::Source;
use engine::{Checked, check_rules};
use force::{MOST_CALLS, Walked};
use made::Made;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::Arc;

/// How many rulebooks are made where nothing is said.
const FEW: u64 = 200;

/// Of the lines of looks and plates that no call takes, how many in a hundred the walk finds at the least.
const FOUND_AT_LEAST: usize = 60;

fn many() -> u64 {
    std::env::var("PROPTEST_CASES").ok().and_then(|many| many.parse().ok()).unwrap_or(FEW).max(FEW)
}

#[derive(Default, Debug)]
struct Count {
    books: usize,
    /// Books of which every call was made; what is dead is counted in these.
    whole: usize,
    /// Books with a choice that has no line, because the walk proves that it needs none.
    uncovered: usize,
    calls: usize,
    lines: usize,
    /// By what the step goes by: of the lines that no call took, those that the walk calls dead.
    dead: BTreeMap<Kind, (usize, usize)>,
    never_asked: usize,
}

fn checked(made: &Made) -> Checked {
    let mut files = pond::files("base");
    files.retain(|file| !["pump.yaml", "water.yaml"].contains(&file.name.as_str()));
    files.extend(made.files());
    check_rules(files.iter().map(|file| Source::new(&file.name, &file.bytes).unwrap()))
}

#[test]
fn no_branch_called_dead_is_taken_by_any_call() {
    let mut count = Count::default();
    for seed in 0..many() {
        let mut made = Made::new(seed);
        let mut checked = checked(&made);
        let refused =
            |checked: &Checked| checked.findings.iter().any(|found| found.code() == Code::ChoiceNotCovered);
        let left_out = made.leaves_out();
        if refused(&checked) {
            made.leave_nothing_out();
            checked = self::checked(&made);
        }
        let shown = || format!("seed {seed}\n{}", made.text());
        let Some(book) = &checked.book else { panic!("the made rules are wrong: {}", shown()) };
        let book = Arc::new(book.clone());
        let walked = Walked::of(&book);
        let paths = book.paths();
        for (step, line) in &walked.taken {
            assert!(
                paths.takes(*step, *line),
                "{} {line:?} is called dead\n{}",
                book.step(*step).id,
                shown()
            );
        }
        assert!(
            walked.uncovered.is_empty(),
            "a choice without a line came to {:?}\n{}",
            walked.uncovered,
            shown()
        );
        for found in checked.findings.iter().filter(|found| found.code() == Code::NeverAsked) {
            let step = made::step_at(found.place());
            assert!(!walked.asked.contains(&step), "{step:?} is called never asked\n{}", shown());
            count.never_asked += 1;
        }
        if walked.calls < MOST_CALLS {
            count.whole += 1;
            let lines =
                book.step_ids().flat_map(|id| book.step(id).ways_out().map(move |(line, _)| (id, line)));
            for (id, line) in lines.filter(|(_, line)| matches!(line, Line::Value(_))) {
                count.lines += 1;
                let dead = count.dead.entry(kind(&book, id)).or_default();
                dead.0 += usize::from(!paths.takes(id, line));
                dead.1 += usize::from(!walked.taken.contains(&(id, line)));
            }
        }
        count.books += 1;
        count.uncovered += usize::from(left_out && made.leaves_out());
        count.calls += walked.calls;
    }
    println!("{count:?}");
    assert!(count.uncovered > 0 && count.never_asked > 0, "{count:?}");
    for (kind, (found, dead)) in &count.dead {
        let least = if *kind == Kind::Choice { FOUND_AT_LEAST } else { 1 };
        assert!(*found * 100 >= dead * least, "{kind:?}: {count:?}");
    }
}

/// A thousand questions one behind the other, each with a step on either side: gone one by one, the ways would never
/// come to an end.
#[test]
fn two_to_the_thousandth_ways_are_walked_at_once() {
    let (mut steps, mut readings) = (String::new(), "readings:\n".to_owned());
    for at in 0..1_000 {
        for fact in [format!("q{at}"), format!("side{at}")] {
            let _ = write!(
                readings,
                "  {fact}:\n    name: it\n    say: What is it?\n    how: Look.\n    choices: {{x: it is x, y: it is y}}\n    \
                 cannot means: y\n    power: any\n    panel: any\n    lasts: now\n"
            );
        }
        let _ = writeln!(
            steps,
            "  q{at}:\n    ask: q{at}\n    because: It tells.\n    answers:\n      - {{is: x, means: so it is, go: left{at}}}\n      \
             - {{is: y, means: so it is, go: right{at}}}\n    cannot: {{go: right{at}}}"
        );
        for (side, fact) in [("left", format!("side{at}")), ("right", "switch_position".to_owned())] {
            let (ids, next) = (if side == "left" { "x, y" } else { "on, off" }, at + 1);
            let _ = writeln!(
                steps,
                "  {side}{at}:\n    ask: {fact}\n    because: It tells.\n    answers:\n      \
                 - {{is: [{ids}], means: so it is, go: q{next}}}\n    cannot: {{go: q{next}}}"
            );
        }
    }
    // Every call has answered the first question; only some were on the first left side.
    let _ = writeln!(
        steps,
        "  q1000:\n    if known: q0\n    answers:\n      - {{is: [x, y], means: so it is, go: last}}\n    \
         not known: {{go: last}}\n  last:\n    if known: side0\n    answers:\n      \
         - {{is: [x, y], means: so it is, end: pump-in-order}}\n    not known: {{end: pump-in-order}}"
    );
    let book = pond::with_tree("q0", &steps, &readings);
    let paths = book.paths();
    let id = |name: &str| book.step_ids().find(|id| book.step(*id).id == name).unwrap();
    let took = |step: &str, line: Line| paths.takes(id(step), line);
    assert!(took("q1000", Line::Value(0)) && !took("q1000", Line::Otherwise));
    assert!(took("last", Line::Value(0)) && took("last", Line::Otherwise));
}

/// What a step goes by.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Kind {
    Choice,
    Plain,
    Share,
    Working,
}

fn kind(book: &Rulebook, step: StepId) -> Kind {
    let step = book.step(step);
    match &step.ways {
        Ways::Answers(_) => Kind::Choice,
        Ways::Bands(_) if book.fact(step.fact).working.is_some() => Kind::Working,
        Ways::Bands(_) if step.shares().is_empty() => Kind::Plain,
        Ways::Bands(_) => Kind::Share,
    }
}
