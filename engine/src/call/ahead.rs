//! What lies ahead of a call: the ways on from where it stands, and the facts that they may ask for.

use super::Call;
use super::event::{Event, Purpose};
use super::walk::{Got, Stop};
use crate::quantity::Quantity;
use crate::rulebook::{Answer, BandWay, ChoiceSet, Edge, FactId, Line, Step, StepId, Upper, Value, Ways};
use std::collections::BTreeSet;

/// An edge, as far as it is known.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum EdgeNow {
    /// Its value.
    Known(Quantity),
    /// A share of a fact that nobody has told yet; 1.0 is all of it.
    Share {
        /// The fact.
        of: FactId,
        /// How much of it.
        share: f64,
    },
}

/// The values that a line of a measured fact is for: from one edge to the next.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Band {
    /// The lower end; `None` for the first band.
    pub from: Option<EdgeNow>,
    /// The upper end; `None` for the last band.
    pub to: Option<EdgeNow>,
}

/// One way on.
#[derive(Clone, PartialEq, Debug)]
pub struct Ahead<'c> {
    /// The line of the step.
    pub line: Line,
    /// What it means; `None` for `cannot`.
    pub means: Option<&'c str>,
    /// The choices that take it; empty for a measured fact, and for `cannot`.
    pub choices: ChoiceSet,
    /// The values that take it; `None` for a choice, and for `cannot`.
    pub band: Option<Band>,
    /// Where it leads: to the next fact that would be asked for, or to an ending. `None` where that hangs on more
    /// than this line: on which of its choices it is, or on an edge that nobody knows yet.
    pub to: Option<Stop>,
}

impl Call {
    /// Each way on from the step that the walk has stopped at, in the order of the rules, and `cannot` last.
    ///
    /// Empty at an ending.
    #[must_use]
    pub fn ways_ahead(&self) -> Vec<Ahead<'_>> {
        let Stop::Need { step, .. } = self.walk().stop else {
            return Vec::new();
        };
        let step = self.book.step(step);
        let lines = match &step.ways {
            Ways::Answers(lines) => lines.len(),
            Ways::Bands(lines) => lines.len(),
        };
        let lines = (0..lines).map(Line::Value).chain([Line::Otherwise]);
        lines.map(|line| self.way_ahead(step, line)).collect()
    }

    fn way_ahead<'c>(&'c self, step: &'c Step, line: Line) -> Ahead<'c> {
        let (mut choices, mut band) = (ChoiceSet::default(), None);
        if let Line::Value(index) = line {
            match &step.ways {
                Ways::Answers(lines) => choices = lines.get(index).map_or(choices, |line| line.is),
                Ways::Bands(lines) => {
                    let edge = |line: Option<&BandWay>| line.and_then(|line| self.edge(line.upper));
                    band = Some(Band {
                        from: index.checked_sub(1).and_then(|below| edge(lines.get(below))),
                        to: edge(lines.get(index)),
                    });
                }
            }
        }
        let answers: Vec<Answer> = match (line, band) {
            (Line::Value(_), Some(band)) => {
                self.inside(step.fact, band).into_iter().map(Answer::Value).collect()
            }
            (Line::Value(_), None) => {
                let each = choices.positions().map(ChoiceSet::only);
                each.map(|choice| Answer::Value(Value::Choices(choice))).collect()
            }
            (Line::Otherwise | Line::TooClose, _) => vec![Answer::Cannot],
        };
        let mut stops = answers.into_iter().map(|answer| self.supposing(step.fact, answer).walk().stop);
        let first = stops.next();
        let to = first.filter(|first| stops.all(|other| other == *first));
        Ahead { line, means: step.means(line), choices, band, to }
    }

    /// This call, had a fact just been told so.
    fn supposing(&self, fact: FactId, answer: Answer) -> Self {
        let mut supposed = self.clone();
        supposed.apply(Event::Told { fact, answer, purpose: Purpose::Step });
        supposed
    }

    fn edge(&self, upper: Upper) -> Option<EdgeNow> {
        let edge = match upper {
            Upper::Below(edge) | Upper::UpTo(edge) => edge,
            Upper::Last => return None,
        };
        Some(match edge {
            Edge::Plain(quantity) => EdgeNow::Known(quantity),
            Edge::Share { of, share } => {
                let whole = match self.state.get(&self.book, of) {
                    Got::Known(Value::Quantity(whole)) => Quantity::new(whole.number() * share, whole.unit()),
                    _ => None,
                };
                whole.map_or(EdgeNow::Share { of, share }, EdgeNow::Known)
            }
        })
    }

    /// Values that lie inside a band, near either end and between; none where an edge is not known.
    fn inside(&self, fact: FactId, band: Band) -> Vec<Value> {
        let Some(expected) = self.book.fact(fact).expected() else {
            return Vec::new();
        };
        let (lowest, highest) = expected.range().unzip();
        let (low, high) = match (band.from, band.to) {
            (Some(EdgeNow::Share { .. }), _) | (_, Some(EdgeNow::Share { .. })) => return Vec::new(),
            (Some(EdgeNow::Known(low)), Some(EdgeNow::Known(high))) => (low.base(), high.base()),
            (None, Some(EdgeNow::Known(high))) => {
                let (high, lowest) = (high.base(), lowest.map(Quantity::base));
                (lowest.filter(|low| *low < high).unwrap_or(high - high.abs().max(1.0)), high)
            }
            (Some(EdgeNow::Known(low)), None) => {
                let (low, highest) = (low.base(), highest.map(Quantity::base));
                (low, highest.filter(|high| *high > low).unwrap_or(low + low.abs().max(1.0)))
            }
            (None, None) => (lowest.map_or(0.0, Quantity::base), highest.map_or(1.0, Quantity::base)),
        };
        let unit = expected.dimension().base_unit();
        let parts = [0.01, 0.5, 0.99].into_iter();
        parts.filter_map(|part| Quantity::new(low + (high - low) * part, unit)).map(Value::Quantity).collect()
    }

    /// The facts that the steps ahead may ask for and that are still to be asked, in rule order; none at an ending.
    ///
    /// A step that only looks up asks for nothing, not even for the facts of its edges. Of a fact that is worked out,
    /// or that comes with others, those are asked for that it comes from.
    #[must_use]
    pub fn facts_ahead(&self) -> Vec<FactId> {
        let walked = self.walk();
        let Stop::Need { step: here, .. } = walked.stop else {
            return Vec::new();
        };
        // From where a visit comes back to, too.
        let steps: BTreeSet<StepId> =
            [here].into_iter().chain(walked.back_to).flat_map(|from| self.book.graph().ahead(from)).collect();
        let mut open: Vec<FactId> = steps
            .into_iter()
            .map(|step| self.book.step(step))
            .filter(|step| step.asks)
            .flat_map(|step| [step.fact].into_iter().chain(step.shares().into_iter().map(|(of, _)| of)))
            .collect();
        let (mut seen, mut asked) = (BTreeSet::new(), BTreeSet::new());
        while let Some(fact) = open.pop() {
            if !seen.insert(fact) {
                continue;
            }
            if let Got::Ask(first) = self.state.get(&self.book, fact) {
                asked.insert(first);
                open.extend(self.book.comes_from(fact));
            }
        }
        asked.into_iter().collect()
    }
}
