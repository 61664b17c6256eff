//! Trees: steps, what each answer leads to.

use super::ids::{EndingId, FactId, StepId, TreeId};
use super::value::ChoiceSet;
use crate::quantity::Quantity;

/// A fault tree.
#[derive(Clone, Debug)]
pub struct Tree {
    /// Its fixed id.
    pub id: String,
    /// What it is about, in a line.
    pub name: String,
    /// The complaint it serves, a choice of the complaint fact.
    pub complaint: Option<ChoiceSet>,
    /// Where it starts.
    pub start: StepId,
    /// The name of the file that it stands in.
    pub file: String,
    /// Which file that is, for findings.
    pub(crate) doc: usize,
}

/// Where an answer leads.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// Another step of the same tree.
    Go(StepId),
    /// An ending.
    End(EndingId),
    /// Another tree, for good.
    ContinueIn(TreeId),
    /// Another tree, and on at a step of this one if all is in order there.
    Visit {
        /// The tree to walk.
        tree: TreeId,
        /// Where to go on.
        then: StepId,
    },
}

/// The edge of a band.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Edge {
    /// A plain quantity.
    Plain(Quantity),
    /// A share of another fact of the same dimension; 1.0 is all of it.
    Share {
        /// The other fact.
        of: FactId,
        /// How much of it.
        share: f64,
    },
}

/// The upper end of a band.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Upper {
    /// Values below the edge.
    Below(Edge),
    /// Values up to the edge, and the edge itself.
    UpTo(Edge),
    /// All values above the bands before.
    Last,
}

/// One line of a step with choices.
#[derive(Clone, PartialEq, Debug)]
pub struct AnswerWay {
    /// The choices it is for.
    pub is: ChoiceSet,
    /// What it means when one of them holds.
    pub means: String,
    /// Where it leads.
    pub way: Way,
}

/// One line of a step with bands.
#[derive(Clone, PartialEq, Debug)]
pub struct BandWay {
    /// The upper end; the lower end is the band before.
    pub upper: Upper,
    /// What it means when the value lies here.
    pub means: String,
    /// Where the threshold comes from.
    pub from: Option<String>,
    /// Where it leads.
    pub way: Way,
}

/// The lines of a step.
#[derive(Clone, PartialEq, Debug)]
pub enum Ways {
    /// For a fact with choices.
    Answers(Vec<AnswerWay>),
    /// For a quantity: ascending upper edges.
    Bands(Vec<BandWay>),
}

/// A step: a fact, and what each of its values leads to.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its id within its tree.
    pub id: String,
    /// The tree it stands in.
    pub tree: TreeId,
    /// The fact it goes by.
    pub fact: FactId,
    /// Whether the fact is asked for; else it is only looked up.
    pub asks: bool,
    /// Why it is asked.
    pub because: String,
    /// What each value leads to.
    pub ways: Ways,
    /// Where it goes when the fact cannot be had (asked) or is not known (looked up).
    pub otherwise: Way,
    /// Where it goes when the value stays too close to an edge.
    pub too_close: Option<Way>,
}

impl Step {
    /// What it means that this line was taken; `None` for the lines of `cannot` and `too close`.
    #[must_use]
    pub fn means(&self, line: Line) -> Option<&str> {
        let Line::Value(index) = line else {
            return None;
        };
        match &self.ways {
            Ways::Answers(lines) => lines.get(index).map(|line| line.means.as_str()),
            Ways::Bands(lines) => lines.get(index).map(|line| line.means.as_str()),
        }
    }

    /// The choices by which a line is taken; `None` for a band, and for the lines of `cannot` and `too close`.
    #[must_use]
    pub fn choices(&self, line: Line) -> Option<ChoiceSet> {
        match (&self.ways, line) {
            (Ways::Answers(lines), Line::Value(index)) => lines.get(index).map(|line| line.is),
            _ => None,
        }
    }

    /// The facts that the edges of its bands go by, each with the shares of it, in file order.
    #[must_use]
    pub fn shares(&self) -> Vec<(FactId, f64)> {
        let Ways::Bands(lines) = &self.ways else {
            return Vec::new();
        };
        let mut shares = Vec::new();
        for line in lines {
            if let Upper::Below(Edge::Share { of, share }) | Upper::UpTo(Edge::Share { of, share }) =
                line.upper
                && !shares.contains(&(of, share))
            {
                shares.push((of, share));
            }
        }
        shares
    }

    /// Sends every line where `to` says.
    pub(crate) fn lead(&mut self, to: impl Fn(Way) -> Way) {
        match &mut self.ways {
            Ways::Answers(lines) => lines.iter_mut().for_each(|line| line.way = to(line.way)),
            Ways::Bands(lines) => lines.iter_mut().for_each(|line| line.way = to(line.way)),
        }
        self.otherwise = to(self.otherwise);
        self.too_close = self.too_close.map(to);
    }

    /// Every way out with the words that a finding would name it by, in file order.
    pub fn ways_out(&self) -> impl Iterator<Item = (Line, Way)> + '_ {
        let (answers, bands): (&[AnswerWay], &[BandWay]) = match &self.ways {
            Ways::Answers(lines) => (lines, &[]),
            Ways::Bands(lines) => (&[], lines),
        };
        answers
            .iter()
            .map(|line| line.way)
            .chain(bands.iter().map(|line| line.way))
            .enumerate()
            .map(|(index, way)| (Line::Value(index), way))
            .chain([(Line::Otherwise, self.otherwise)])
            .chain(self.too_close.map(|way| (Line::TooClose, way)))
    }
}

/// Which line of a step.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Line {
    /// The answer or band at this position.
    Value(usize),
    /// `cannot`, or `not known`.
    Otherwise,
    /// `too close`.
    TooClose,
}
