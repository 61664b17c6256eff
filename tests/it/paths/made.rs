//! A small rulebook made from a seed, as the text that a trainer would write.

use crate::pond::File;
use engine::finding::Place;
use proptest::prelude::Rng as _;
use proptest::test_runner::{RngAlgorithm, TestRng};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

const TREES: [&str; 3] = ["pump", "side", "far"];
const CHOICES: [&str; 3] = ["c0", "c1", "plate_supply"];
const NUMBERS: [&str; 3] = ["m0", "m1", "w0"];
const METERS: [&str; 3] = ["exact", "2 % + 1 counts of 0.1 V", "5 % + 3 counts of 0.1 V"];
const ENDINGS: [&str; 3] = ["pump-in-order", "too-little", "low-supply"];

/// A step of a tree, by the positions of both.
type At = (usize, usize);

#[derive(Clone)]
enum Way {
    Go(At),
    End(&'static str),
    ContinueIn(usize),
    Visit(usize, At),
}

struct Step {
    fact: &'static str,
    asks: bool,
    /// What the line is for, and where it leads.
    lines: Vec<(String, Way)>,
    /// A line that may be left out, where no call needs it.
    spare: Option<usize>,
    otherwise: Way,
    too_close: Option<Way>,
}

pub(super) struct Made {
    chance: TestRng,
    choices: BTreeMap<&'static str, Vec<&'static str>>,
    readings: String,
    trees: Vec<Vec<Step>>,
    leaves_out: bool,
}

impl Made {
    pub(super) fn new(seed: u64) -> Self {
        let mut bytes = [0; 32];
        bytes[..8].copy_from_slice(&seed.to_le_bytes());
        let chance = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
        let mut made = Self {
            chance,
            choices: BTreeMap::new(),
            readings: "readings:\n".to_owned(),
            trees: Vec::new(),
            leaves_out: true,
        };
        made.catalogue();
        let many: Vec<usize> = TREES.iter().map(|_| 2 + made.below(3)).collect();
        made.trees = (0..TREES.len())
            .map(|tree| (0..many[tree]).map(|step| made.step((tree, step), many[tree])).collect())
            .collect();
        made
    }

    fn below(&mut self, end: usize) -> usize {
        self.chance.next_u32() as usize % end
    }

    fn one_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }

    fn catalogue(&mut self) {
        self.choices.insert("plate_supply", vec!["24-volt", "110-volt"]);
        for fact in ["c0", "c1"] {
            let choices = ["x", "y", "z"][..2 + self.below(2)].to_vec();
            let listed: Vec<String> =
                choices.iter().map(|choice| format!("{choice}: it is {choice}")).collect();
            let extra = match self.below(6) {
                0 => "    several: allowed\n",
                1 => "    cannot means: y\n",
                _ => "",
            };
            let _ = write!(
                self.readings,
                "  {fact}:\n    name: {fact}\n    say: What is {fact}?\n    how: Look.\n    choices: {{{}}}\n{extra}    \
                 power: any\n    panel: any\n    lasts: now\n",
                listed.join(", ")
            );
            self.choices.insert(fact, choices);
        }
        for fact in ["m0", "m1"] {
            let meter = METERS[self.below(METERS.len())];
            let low = [0, 2][self.below(2)];
            let _ = write!(
                self.readings,
                "  {fact}:\n    name: {fact}\n    say: What is {fact}?\n    how: Read.\n    measures: voltage\n    \
                 unit: V\n    range: {low} V to 20 V\n    meter: {meter}\n    power: live\n    panel: on\n    lasts: now\n",
            );
        }
    }

    fn step(&mut self, at: At, many: usize) -> Step {
        if at == (0, 0) {
            return Step {
                fact: "danger_at_pump",
                asks: true,
                lines: vec![
                    ("is: none".to_owned(), Way::Go((0, 1))),
                    ("is: [shock, flood]".to_owned(), Way::End("keep-away")),
                ],
                spare: None,
                otherwise: Way::End("keep-away"),
                too_close: None,
            };
        }
        let choice = self.one_in(2);
        let fact = if choice { CHOICES[self.below(3)] } else { NUMBERS[self.below(NUMBERS.len())] };
        let names = if choice { self.answers(fact) } else { self.bands(fact) };
        let lines: Vec<_> = names.into_iter().map(|name| (name, self.way(at, many))).collect();
        let spare = (choice && lines.len() > 1 && self.one_in(3)).then(|| self.below(lines.len()));
        let too_close = (!choice && self.one_in(4)).then(|| self.way(at, many));
        let asks = fact != "w0" && !self.one_in(4);
        Step { fact, asks, lines, spare, otherwise: self.way(at, many), too_close }
    }

    /// The choices of a fact, each on one of a few lines.
    fn answers(&mut self, fact: &str) -> Vec<String> {
        let choices = self.choices[fact].clone();
        let mut lines: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
        for choice in choices {
            lines.entry(self.below(3)).or_default().push(choice);
        }
        lines.into_values().map(|choices| format!("is: [{}]", choices.join(", "))).collect()
    }

    /// Ascending edges: plain ones, or shares of another fact.
    fn bands(&mut self, fact: &str) -> Vec<String> {
        let of = ["m0", "m1", "rated_volts"][self.below(3)];
        let shares = of != fact && self.one_in(2);
        let many = 1 + self.below(3);
        // An edge beyond what a fact comes to is refused: readings begin at 2 V at the latest, and the working never comes
        // to more than what lies between them.
        let least = if fact == "w0" { 1 } else { 2 };
        let edges: BTreeSet<usize> = (0..many).map(|_| least + self.below(18)).collect();
        let edges = edges.into_iter().map(|edge| {
            let word = if self.one_in(2) { "below" } else { "up to" };
            if shares { format!("{word}: {} % of {of}", edge * 10) } else { format!("{word}: {edge} V") }
        });
        edges.collect::<Vec<_>>().into_iter().chain(["above: the last".to_owned()]).collect()
    }

    /// A way on: always forward, so that nothing leads round.
    fn way(&mut self, (tree, step): At, many: usize) -> Way {
        let later =
            |made: &mut Self| (step + 1 < many).then(|| (tree, step + 1 + made.below(many - step - 1)));
        let other =
            |made: &mut Self| (tree + 1 < TREES.len()).then(|| tree + 1 + made.below(TREES.len() - tree - 1));
        match self.below(8) {
            0..=4 => later(self).map(Way::Go),
            5 => other(self).map(Way::ContinueIn),
            6 => other(self).and_then(|tree| Some(Way::Visit(tree, later(self)?))),
            _ => None,
        }
        .unwrap_or_else(|| Way::End(ENDINGS[self.below(ENDINGS.len())]))
    }

    /// The lines of a step as they are written.
    fn lines<'s>(&self, step: &'s Step) -> impl Iterator<Item = &'s (String, Way)> {
        let spare = step.spare.filter(|_| self.leaves_out);
        step.lines.iter().enumerate().filter(move |(at, _)| Some(*at) != spare).map(|(_, line)| line)
    }

    /// The steps that something leads to; others are another finding.
    fn come_to(&self) -> BTreeSet<At> {
        let mut come_to = BTreeSet::new();
        let mut open = vec![(0, 0)];
        while let Some((tree, step)) = open.pop() {
            if !come_to.insert((tree, step)) {
                continue;
            }
            let step = &self.trees[tree][step];
            for way in self.lines(step).map(|(_, way)| way).chain([&step.otherwise]).chain(&step.too_close) {
                match way {
                    Way::Go(at) => open.push(*at),
                    Way::ContinueIn(tree) => open.push((*tree, 0)),
                    Way::Visit(tree, then) => open.extend([(*tree, 0), *then]),
                    Way::End(_) => {}
                }
            }
        }
        come_to
    }

    pub(super) const fn leaves_out(&self) -> bool {
        self.leaves_out
    }

    pub(super) const fn leave_nothing_out(&mut self) {
        self.leaves_out = false;
    }

    pub(super) fn files(&self) -> Vec<File> {
        let come_to = self.come_to();
        let trees = (0..TREES.len()).filter(|tree| come_to.contains(&(*tree, 0)));
        let workings =
            "workings:\n  w0: {name: w0, measures: voltage, unit: V, by: difference, of: [m0, m1]}\n";
        trees
            .map(|tree| File::new(&format!("{}.yaml", TREES[tree]), self.tree(tree, &come_to)))
            .chain([
                File::new("made.yaml", self.readings.as_str()),
                File::new("made-workings.yaml", workings),
            ])
            .collect()
    }

    pub(super) fn text(&self) -> String {
        self.files().iter().map(|file| file.text().into_owned()).collect()
    }

    fn tree(&self, tree: usize, come_to: &BTreeSet<At>) -> String {
        let name = TREES[tree];
        let mut text = format!("tree: {name}\nname: {name}\nstart: s{tree}0\nsteps:\n");
        for (at, step) in self.trees[tree].iter().enumerate().filter(|(at, _)| come_to.contains(&(tree, *at)))
        {
            let _ = writeln!(text, "  s{tree}{at}:");
            if step.asks {
                let _ = writeln!(text, "    ask: {}\n    because: It tells.", step.fact);
            } else {
                let _ = writeln!(text, "    if known: {}", step.fact);
            }
            let bands = NUMBERS.contains(&step.fact);
            let (list, from) = if bands { ("bands", "from: common practice, ") } else { ("answers", "") };
            let _ = writeln!(text, "    {list}:");
            for (what, way) in self.lines(step) {
                let from = if what.starts_with("above") { "" } else { from };
                let _ = writeln!(text, "      - {{{what}, means: so it is, {from}{}}}", written(way));
            }
            let otherwise = if step.asks { "cannot" } else { "not known" };
            let _ = writeln!(text, "    {otherwise}: {{{}}}", written(&step.otherwise));
            if let Some(way) = &step.too_close {
                let _ = writeln!(text, "    too close: {{{}}}", written(way));
            }
        }
        text
    }
}

/// The step that a place in a tree's file belongs to.
pub(super) fn step_at(place: &Place) -> String {
    let text = place.source().text();
    let above = text.lines().take(place.line()).filter(|line| line.starts_with("  s"));
    above.last().unwrap().trim().trim_end_matches(':').to_owned()
}

fn written(way: &Way) -> String {
    match way {
        Way::Go((tree, step)) => format!("go: s{tree}{step}"),
        Way::End(ending) => format!("end: {ending}"),
        Way::ContinueIn(tree) => format!("continue in: {}", TREES[*tree]),
        Way::Visit(tree, (own, step)) => format!("visit: {}, then: s{own}{step}", TREES[*tree]),
    }
}
