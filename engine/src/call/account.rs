//! The account of a call so far: where each fact is from, and what has happened to it since.

use super::Call;
use super::event::{DeedResult, Event, EventId};
use super::walk::Got;
use crate::rulebook::{DeedId, Edge, FactId, Step, Upper, Ways};

/// Where a fact is from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Origin {
    /// Somebody told it, asked or not.
    Told(EventId),
    /// This deed settled it.
    Settled(DeedId),
    /// It comes with what these facts are.
    ComesWith(Vec<FactId>),
    /// It is worked out of these facts.
    WorkedOut(Vec<FactId>),
}

impl Call {
    /// Where a fact is from; `None` while nothing is known of it. What no longer holds still has its origin.
    #[must_use]
    pub fn origin(&self, fact: FactId) -> Option<Origin> {
        if let (Some(working), Got::Known(_)) =
            (self.state.working(&self.book, fact), self.state.get(&self.book, fact))
        {
            return Some(Origin::WorkedOut(working.of.clone()));
        }
        if let Some(version) = self.state.ledger.newest(fact) {
            return Some(match self.events.get(version.event.index()) {
                Some(Event::Deed { deed, .. }) => Origin::Settled(*deed),
                _ => Origin::Told(version.event),
            });
        }
        let given = self.state.comes_with(&self.book, fact)?;
        Some(Origin::ComesWith(given.when.iter().map(|(other, _)| *other).collect()))
    }

    /// What the walk has gone by so far that is worked out: each fact with the arithmetic, in trade units.
    #[must_use]
    pub fn worked_out(&self) -> Vec<(FactId, String)> {
        let worked = |fact: FactId| Some((fact, self.arithmetic(fact)?));
        self.gone_by().into_iter().filter_map(worked).collect()
    }

    /// Whether a telling of this fact was taken back before the one that stands now.
    #[must_use]
    pub fn was_corrected(&self, fact: FactId) -> bool {
        self.retracted().into_iter().any(
            |id| matches!(self.events.get(id.index()), Some(Event::Told { fact: told, .. }) if *told == fact),
        )
    }

    /// The last deed that was done since an event, if one was.
    #[must_use]
    pub fn deed_since(&self, event: EventId) -> Option<DeedId> {
        self.events.iter().skip(event.index() + 1).rev().find_map(|later| match later {
            Event::Deed { deed, result: DeedResult::Done, .. } => Some(*deed),
            _ => None,
        })
    }

    /// The facts that the walk has gone by so far: those of the steps passed, and those of their edges.
    #[must_use]
    pub fn gone_by(&self) -> Vec<FactId> {
        let steps = self.walk().trail.into_iter().map(|passed| self.book.step(passed.step));
        let mut facts: Vec<FactId> = steps.flat_map(|step| edges(step).chain([step.fact])).collect();
        facts.sort_unstable();
        facts.dedup();
        facts
    }
}

/// The facts that a step's edges are shares of.
fn edges(step: &Step) -> impl Iterator<Item = FactId> + '_ {
    let bands = match &step.ways {
        Ways::Bands(lines) => lines.as_slice(),
        Ways::Answers(_) => &[],
    };
    bands.iter().filter_map(|line| match line.upper {
        Upper::Below(Edge::Share { of, .. }) | Upper::UpTo(Edge::Share { of, .. }) => Some(of),
        _ => None,
    })
}
