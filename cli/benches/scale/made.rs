//! Rulebooks of any size, as the text that a trainer would write, about the pump of `tests/it/wrong/base`.

use std::fmt::Write as _;
use std::path::Path;

/// A file by its name and its text.
pub(crate) type File = (String, String);

/// Steps of one tree: a tree is one file, and a file has an upper size.
const MOST_STEPS: usize = 3_000;

/// Readings of one file.
const MOST_READINGS: usize = 3_000;

/// How a rulebook is built up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Shape {
    /// Diamonds in series: a question, a step on either side of it, and on to the next. Every fact is asked once.
    Diamonds,
    /// The same, and every fact of the first half is looked up again in the second: all is to be kept in mind.
    Twice,
    /// A chain in which whatever cannot be told leads to one step, of a tree of its own.
    OneCannot,
    /// Trees of a hundred steps, each visited by a line of the first.
    Visits,
    /// Measured facts, with edges that are shares of a plate's value and of one another.
    Bands,
    /// Diamonds of readings that want the unit dead, live with the panel off or on, or with something led out, by turns.
    Power,
    /// Diamonds in which every reading that is asked for has another name than the one that is there.
    Misspelt,
}

impl Shape {
    pub(crate) const ALL: [Self; 7] = [
        Self::Diamonds,
        Self::Twice,
        Self::OneCannot,
        Self::Visits,
        Self::Bands,
        Self::Power,
        Self::Misspelt,
    ];

    /// Whether a call can be made with these rules.
    pub(crate) fn is_right(self) -> bool {
        self != Self::Misspelt
    }

    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Diamonds => "diamonds",
            Self::Twice => "twice",
            Self::OneCannot => "one-cannot",
            Self::Visits => "visits",
            Self::Bands => "bands",
            Self::Power => "power",
            Self::Misspelt => "misspelt",
        }
    }

    pub(crate) fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shape| shape.name() == name)
    }

    /// The rule files of a rulebook of about this many steps.
    pub(crate) fn files(self, steps: usize) -> Vec<File> {
        let mut files = base();
        let half = steps.div_ceil(2);
        let (readings, trees) = match self {
            Self::Diamonds => (looks(steps), in_trees(steps, &|at, way| diamond(at, at, false, way))),
            Self::Twice => (looks(half), in_trees(steps, &|at, way| diamond(at, at % half, at >= half, way))),
            Self::OneCannot => {
                files.push((
                    "untold.yaml".to_owned(),
                    format!("tree: untold\nname: made\nstart: done\nsteps:\n{DONE}"),
                ));
                (looks(steps), in_trees(steps, &one_cannot))
            }
            Self::Visits => (looks(steps), visits(steps)),
            Self::Bands => (volts(steps), in_trees(steps, &band)),
            Self::Power => (
                readings(steps, |fact| format!("{YES_NO}\n    {}", POWERS[fact / 3 % POWERS.len()])),
                in_trees(steps, &|at, way| diamond(at, at, false, way)),
            ),
            Self::Misspelt => {
                let trees = in_trees(steps, &|at, way| diamond(at, at, false, way));
                let misspelt = |(name, text): File| (name, text.replace("ask: f", "ask: g"));
                (looks(steps), trees.into_iter().map(misspelt).collect())
            }
        };
        files.extend(readings);
        files.extend(trees);
        files
    }
}

/// A step that only ends a call.
const DONE: &str = "  done:
    if known: impeller_turns
    answers:
      - {is: [free, stuck], means: it is looked at, end: pump-in-order}
    not known: {end: pump-in-order}
";

/// The other machine's rules without its trees.
fn base() -> Vec<File> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/it/wrong/base");
    let names = ["call", "deeds", "endings", "power", "profiles", "readings", "relations"];
    let read = |name| {
        let path = folder.join(format!("{name}.yaml"));
        (path.display().to_string(), std::fs::read_to_string(&path).unwrap())
    };
    names.into_iter().map(read).collect()
}

/// Readings, each with what is its own.
fn readings(many: usize, own: impl Fn(usize) -> String) -> Vec<File> {
    let file = |first: usize| {
        let mut text = "readings:\n".to_owned();
        for fact in first..many.min(first + MOST_READINGS) {
            let _ = write!(
                text,
                "  f{fact}:\n    name: reading {fact}\n    say: What is reading {fact}?\n    how: Look at it.\n    \
                 {}\n    lasts: now\n",
                own(fact)
            );
        }
        (format!("readings-{first}.yaml"), text)
    };
    (0..many).step_by(MOST_READINGS).map(file).collect()
}

const YES_NO: &str = "choices: {yes: it is so, no: it is not}";

/// What the unit has to be like for a reading.
const POWERS: [&str; 5] = [
    "power: any\n    panel: any",
    "power: dead\n    panel: off",
    "power: live\n    panel: on",
    "power: live\n    panel: off\n    station: lid\n    cautions: [{warning: Live terminals.}]",
    "power: live\n    panel: on\n    station: lid",
];

fn looks(many: usize) -> Vec<File> {
    readings(many, |_| format!("{YES_NO}\n    {}", POWERS[0]))
}

fn volts(many: usize) -> Vec<File> {
    let measured =
        "measures: voltage\n    unit: V\n    range: 2 V to 150 V\n    meter: 1 % + 3 counts of 0.1 V";
    // Volts are read live: here from outside, with the panel on.
    readings(many, |_| format!("{measured}\n    {}", POWERS[2]))
}

/// The top of a tree; the first one starts where every call does.
fn top(tree: usize, first: usize) -> String {
    if tree > 0 {
        return format!("tree: t{tree}\nname: made\nstart: s{first}\nsteps:\n");
    }
    format!(
        "tree: pump\nname: made\nstart: danger\nsteps:
  danger:
    ask: danger_at_pump
    because: Nobody goes near what can hurt.
    answers:
      - {{is: none, means: it is safe to go on, go: impeller}}
      - {{is: [shock, flood], means: it can hurt, end: keep-away}}
    cannot: {{end: keep-away}}
  impeller:
    ask: impeller_turns
    because: Stones are common.
    answers:
      - {{is: free, means: it is in order, go: s{first}}}
      - {{is: stuck, means: stones hold it, go: s{first}}}
    cannot: {{go: s{first}}}
"
    )
}

/// Writes one step, by its position and the words for the way to another.
type Step<'s> = dyn Fn(usize, &dyn Fn(usize) -> String) -> String + 's;

/// Steps in trees of a size, each tree going on in the next.
fn in_trees(steps: usize, step: &Step<'_>) -> Vec<File> {
    let tree = |(tree, first): (usize, usize)| {
        let behind = (first + MOST_STEPS).min(steps);
        let way = |to: usize| {
            if to >= steps {
                "end: pump-in-order".to_owned()
            } else if to >= behind {
                format!("continue in: t{}", tree + 1)
            } else {
                format!("go: s{to}")
            }
        };
        let lines: String = (first..behind).map(|at| step(at, &way)).collect();
        (format!("tree-{tree}.yaml"), top(tree, first) + &lines)
    };
    (0..steps).step_by(MOST_STEPS).enumerate().map(tree).collect()
}

/// One step of a diamond: its head, its left side, which may end in a repair, or its right side.
fn diamond(at: usize, fact: usize, looks_up: bool, way: &dyn Fn(usize) -> String) -> String {
    let (head, side) = (at - at % 3, at % 3);
    let (yes, no) = match side {
        0 => (way(head + 1), way(head + 2)),
        1 => ("end: clear-impeller".to_owned(), way(head + 3)),
        _ => (way(head + 3), way(head + 3)),
    };
    let (ask, otherwise) = if looks_up { ("if known", "not known") } else { ("ask", "cannot") };
    format!(
        "  s{at}:\n    {ask}: f{fact}\n    because: It tells two causes apart.\n    answers:\n      \
         - {{is: yes, means: it points to the one, {yes}}}\n      \
         - {{is: no, means: it points to the other, {no}}}\n    {otherwise}: {{{no}}}\n"
    )
}

/// A measured step: one edge on the plate's value, one on the reading before it, one plain.
fn band(at: usize, way: &dyn Fn(usize) -> String) -> String {
    let next = way(at + 1);
    let before = at
        .checked_sub(1)
        .map_or_else(|| "80 % of rated_volts".to_owned(), |before| format!("80 % of f{before}"));
    let edge = match at % 3 {
        0 => "80 % of rated_volts".to_owned(),
        1 => before,
        _ => format!("{} V", 20 + at % 100),
    };
    format!(
        "  s{at}:\n    ask: f{at}\n    because: It tells two causes apart.\n    bands:\n      \
         - {{below: {edge}, means: too little, from: common practice, {next}}}\n      \
         - {{above: the last, means: enough, {next}}}\n    cannot: {{{next}}}\n    too close: {{{next}}}\n"
    )
}

fn one_cannot(at: usize, way: &dyn Fn(usize) -> String) -> String {
    let next = way(at + 1);
    format!(
        "  s{at}:\n    ask: f{at}\n    because: It tells two causes apart.\n    answers:\n      \
         - {{is: yes, means: it points to the one, {next}}}\n      \
         - {{is: no, means: it points to the other, {next}}}\n    cannot: {{continue in: untold}}\n"
    )
}

/// A first tree that visits the others in turn, each of them a chain of a hundred steps.
fn visits(steps: usize) -> Vec<File> {
    const LONG: usize = 100;
    let trees = (steps / LONG).max(1);
    let mut first = top(0, 0);
    let mut files = Vec::new();
    for tree in 0..trees {
        let then = if tree + 1 < trees { format!("s{}", tree + 1) } else { "done".to_owned() };
        let _ = write!(
            first,
            "  s{tree}:\n    ask: f{}\n    because: It tells two causes apart.\n    answers:\n      \
             - {{is: yes, means: it has to be looked into, visit: t{}, then: {then}}}\n      \
             - {{is: no, means: it is in order, go: {then}}}\n    cannot: {{go: {then}}}\n",
            tree * LONG,
            tree + 1,
        );
        let mut text = top(tree + 1, 1);
        for at in 1..LONG {
            let next =
                if at + 1 < LONG { format!("go: s{}", at + 1) } else { "end: pump-in-order".to_owned() };
            let _ = write!(
                text,
                "  s{at}:\n    ask: f{}\n    because: It tells two causes apart.\n    answers:\n      \
                 - {{is: yes, means: it points to the one, {next}}}\n      \
                 - {{is: no, means: it is in order, end: pump-in-order}}\n    cannot: {{{next}}}\n",
                tree * LONG + at,
            );
        }
        files.push((format!("tree-{}.yaml", tree + 1), text));
    }
    first.push_str(DONE);
    files.push(("tree-0.yaml".to_owned(), first));
    files
}
