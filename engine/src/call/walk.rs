//! The walk: from the start of the rulebook over the facts as they are now.
//!
//! A walk asks nothing and changes nothing. It says which step it stopped at, and for want of which fact, or where
//! it came to an end. What a fact is, it is told by whoever walks: the call, or a check that walks all calls at once.

use crate::rulebook::{
    ChoiceSet, Edge, EndingId, EndingKind, FactId, Line, Rulebook, Step, StepId, Upper, Value, Way, Ways,
};

/// What is known of a fact.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Got {
    /// Its value.
    Known(Value),
    /// It cannot be had.
    Cannot,
    /// This fact has to be asked for first: itself, or one that it comes from.
    Ask(FactId),
}

/// On which side of an edge a value lies; `sure` when the meter leaves no doubt of it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Side {
    /// Below it.
    Below {
        /// Whether there is no doubt.
        sure: bool,
    },
    /// On it.
    On {
        /// Whether there is no doubt.
        sure: bool,
    },
    /// Above it.
    Above {
        /// Whether there is no doubt.
        sure: bool,
    },
}

/// Whoever knows the facts.
pub trait Facts {
    /// What is known of a fact.
    fn get(&self, fact: FactId) -> Got;

    /// On which side of an edge a measured fact lies.
    ///
    /// # Errors
    /// What is known of the edge, when that is no quantity: it has to be asked for, or cannot be had.
    fn side(&self, fact: FactId, edge: &Edge) -> Result<Side, Got>;

    /// The reading to take again when a fact lies too close to an edge; `None` when another would not help.
    fn read_again(&self, fact: FactId, edge: &Edge) -> Option<FactId>;
}

/// A step that was passed, and by which line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Passed {
    /// The step.
    pub step: StepId,
    /// The line that was taken.
    pub line: Line,
}

/// Where a walk stopped.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Stop {
    /// At a step, for want of a fact.
    Need {
        /// The step.
        step: StepId,
        /// The fact to ask for.
        fact: FactId,
    },
    /// At an ending.
    End(EndingId),
}

/// A walk: the steps passed, in order, the in-order endings of visits, and where it stopped.
#[derive(Clone, PartialEq, Debug)]
pub struct Walked {
    /// The steps passed.
    pub trail: Vec<Passed>,
    /// What was visited and found in order.
    pub checked: Vec<EndingId>,
    /// Where it stopped.
    pub stop: Stop,
}

/// Walks from the start tree.
pub fn walk(book: &Rulebook, facts: &impl Facts) -> Walked {
    let mut trail = Vec::new();
    let mut checked = Vec::new();
    let mut back_to: Vec<StepId> = Vec::new();
    let mut at = book.tree(book.roles().start).start;
    let stop = loop {
        let step = book.step(at);
        let (line, way) = match line_taken(step, facts) {
            Ok(line) => (line, way_of(step, line)),
            Err(fact) => break Stop::Need { step: at, fact },
        };
        trail.push(Passed { step: at, line });
        match way {
            Way::Go(next) => at = next,
            Way::ContinueIn(tree) => at = book.tree(tree).start,
            Way::Visit { tree, then } => {
                back_to.push(then);
                at = book.tree(tree).start;
            }
            Way::End(ending) if book.ending(ending).kind == EndingKind::InOrder => match back_to.pop() {
                Some(then) => {
                    checked.push(ending);
                    at = then;
                }
                None => break Stop::End(ending),
            },
            Way::End(ending) => break Stop::End(ending),
        }
    };
    Walked { trail, checked, stop }
}

/// Which line of a step the facts take, or which fact it waits for.
fn line_taken(step: &Step, facts: &impl Facts) -> Result<Line, FactId> {
    match (facts.get(step.fact), &step.ways) {
        (Got::Ask(fact), _) if step.asks => Err(fact),
        (Got::Known(Value::Choices(set)), Ways::Answers(_)) => Ok(answer_line(step, set)),
        (Got::Known(Value::Quantity(quantity)), Ways::Bands(_)) => {
            // A step that only looks up asks for nothing, the facts of its edges neither.
            band_line(step, quantity.base(), facts)
                .or_else(|fact| if step.asks { Err(fact) } else { Ok(Line::Otherwise) })
        }
        _ => Ok(Line::Otherwise),
    }
}

fn answer_line(step: &Step, set: ChoiceSet) -> Line {
    let Ways::Answers(lines) = &step.ways else {
        return Line::Otherwise;
    };
    lines.iter().position(|line| line.is.meets(set)).map_or(Line::Otherwise, Line::Value)
}

/// The first band that the value lies in. Where an edge cannot be had, neither can the answer.
fn band_line(step: &Step, value: f64, facts: &impl Facts) -> Result<Line, FactId> {
    let Ways::Bands(lines) = &step.ways else {
        return Ok(Line::Otherwise);
    };
    for (index, line) in lines.iter().enumerate() {
        let (edge, includes) = match &line.upper {
            Upper::Below(edge) => (edge, false),
            Upper::UpTo(edge) => (edge, true),
            Upper::Last => return Ok(Line::Value(index)),
        };
        let edge = match edge_value(edge, facts) {
            Got::Known(Value::Quantity(edge)) => edge.base() * share_of(line.upper),
            Got::Ask(fact) => return Err(fact),
            _ => return Ok(Line::Otherwise),
        };
        let below = value < edge && !same(value, edge);
        if below || includes && same(value, edge) {
            return Ok(Line::Value(index));
        }
    }
    Ok(Line::Otherwise)
}

fn edge_value(edge: &Edge, facts: &impl Facts) -> Got {
    match edge {
        Edge::Plain(quantity) => Got::Known(Value::Quantity(*quantity)),
        Edge::Share { of, .. } => facts.get(*of),
    }
}

const fn share_of(upper: Upper) -> f64 {
    match upper {
        Upper::Below(Edge::Share { share, .. }) | Upper::UpTo(Edge::Share { share, .. }) => share,
        _ => 1.0,
    }
}

/// Equal but for the rounding of unit conversion: one part in 10⁹, far below any meter.
fn same(left: f64, right: f64) -> bool {
    // The same infinity is the same reading: `OL` beside `OL`.
    left.total_cmp(&right).is_eq() || (left - right).abs() <= 1e-9 * left.abs().max(right.abs())
}

fn way_of(step: &Step, line: Line) -> Way {
    let value = |index: usize| match &step.ways {
        Ways::Answers(lines) => lines.get(index).map(|line| line.way),
        Ways::Bands(lines) => lines.get(index).map(|line| line.way),
    };
    match line {
        Line::Value(index) => value(index).unwrap_or(step.otherwise),
        Line::TooClose => step.too_close.unwrap_or(step.otherwise),
        Line::Otherwise => step.otherwise,
    }
}
