//! The walk: from the start of the rulebook over the facts as they are now.
//!
//! A walk asks nothing and changes nothing. It says which step it stopped at, and for want of which fact, or where
//! it came to an end. What a fact is, it is told by whoever walks: the call, or a check that walks all calls at once.

mod bands;

use super::event::Purpose;
use crate::rulebook::{Edge, EndingId, EndingKind, FactId, Line, Rulebook, Step, StepId, Value, Way, Ways};

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
    /// Whether the meter left no doubt that it was this line.
    pub sure: bool,
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
        /// What for: the step, or a second reading.
        purpose: Purpose,
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
    /// Where the visits that it stopped in would come back to, the outermost first.
    pub back_to: Vec<StepId>,
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
        let (line, sure) = match line_taken(book, step, facts) {
            Ok(taken) => taken,
            Err((fact, purpose)) => break Stop::Need { step: at, fact, purpose },
        };
        trail.push(Passed { step: at, line, sure });
        match way_of(step, line) {
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
    Walked { trail, checked, back_to, stop }
}

/// The line of a step that the facts take, and whether that is sure; or which fact it waits for, and what for.
fn line_taken(book: &Rulebook, step: &Step, facts: &impl Facts) -> Result<(Line, bool), (FactId, Purpose)> {
    match (facts.get(step.fact), &step.ways) {
        (Got::Ask(fact), _) if step.asks => Err((fact, Purpose::Step)),
        (Got::Known(Value::Choices(set)), Ways::Answers(lines)) => {
            let line = lines.iter().position(|line| line.is.meets(set));
            Ok((line.map_or(Line::Otherwise, Line::Value), true))
        }
        // A step that only looks up asks for nothing: not for the facts of its edges, nor for a second reading.
        (Got::Known(Value::Quantity(_)), Ways::Bands(lines)) => match bands::met(lines, step.fact, facts) {
            Ok(met) => bands::decide(book, step, lines, met, facts),
            Err(Got::Ask(fact)) if step.asks => Err((fact, Purpose::Step)),
            Err(_) => Ok((Line::Otherwise, true)),
        },
        _ => Ok((Line::Otherwise, true)),
    }
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
