//! Calls, counted as they go by; none of them is kept.

use super::callbacks::After;
use crate::command::spread::median;
use crate::store::{Listed, When};
use engine::record::{Stands, Summary};
use std::collections::BTreeMap;

/// How a repair is recorded that was left for another visit.
const LATER: &str = "later";

/// What calls cost that came to the same, and what came after them.
#[derive(Clone, Default)]
pub(super) struct Tally {
    asked: Vec<f64>,
    lockouts: Vec<f64>,
    minutes: Vec<f64>,
    pub(super) calls: u32,
    /// Calls that another one on the unit followed in time, where none was due.
    pub(super) callbacks: u32,
    /// Calls after which one on the unit would be known, and its time is over.
    pub(super) followed: u32,
    /// How many of those were followed by one.
    pub(super) came_back: u32,
    /// Calls that another one followed in time to do what had been left for later.
    pub(super) planned: u32,
}

/// The medians of what calls cost; none of no calls.
pub(super) struct Medians {
    pub(super) asked: Option<f64>,
    pub(super) lockouts: Option<f64>,
    pub(super) minutes: Option<f64>,
}

impl Tally {
    fn count(&mut self, summary: &Summary, after: After, is_planned: bool) {
        self.calls = self.calls.saturating_add(1);
        self.asked.push(f64::from(summary.asked));
        self.lockouts.push(f64::from(summary.lockouts));
        self.minutes.push(summary.minutes);
        if is_planned {
            self.planned += u32::from(after.callback);
        } else {
            self.callbacks += u32::from(after.callback);
            self.followed += u32::from(after.followed);
            self.came_back += u32::from(after.followed && after.callback);
        }
    }

    pub(super) fn add(&mut self, other: &Self) {
        self.asked.extend(&other.asked);
        self.lockouts.extend(&other.lockouts);
        self.minutes.extend(&other.minutes);
        self.calls = self.calls.saturating_add(other.calls);
        self.callbacks += other.callbacks;
        self.followed += other.followed;
        self.came_back += other.came_back;
        self.planned += other.planned;
    }

    pub(super) fn medians(self) -> Medians {
        Medians { asked: median(self.asked), lockouts: median(self.lockouts), minutes: median(self.minutes) }
    }
}

/// A complaint and the last ending: either may be missing, the ending where a call was left open.
pub(super) type CameTo = (Option<String>, Option<String>);

/// All calls that are reported on.
#[derive(Default)]
pub(super) struct Tallies {
    pub(super) came_to: BTreeMap<CameTo, Tally>,
    /// In how many calls each reading was asked for and could not be had.
    pub(super) not_taken: BTreeMap<String, u32>,
    /// At how many calls' place each call was left.
    pub(super) left_at: BTreeMap<Stands, u32>,
    /// When the first and the last of them were begun.
    pub(super) begun: Option<[When; 2]>,
    pub(super) without_unit: u32,
    /// Calls that a seat is busy with; not counted.
    pub(super) under_way: u32,
    /// Calls that mean nothing to these rules; not counted.
    pub(super) by_other_rules: u32,
}

impl Tallies {
    /// Counts a call.
    pub(super) fn count(&mut self, listed: Listed, after: After) {
        if listed.holder.is_some_and(|holder| !holder.seat.is_gone()) {
            self.under_way += 1;
            return;
        }
        let Some(mut summary) = listed.summary else {
            self.by_other_rules += 1;
            return;
        };
        let at = listed.opening.at;
        let [first, last] = self.begun.unwrap_or([at, at]);
        self.begun = Some([first.min(at), last.max(at)]);
        self.without_unit += u32::from(listed.opening.unit.is_none());
        for reading in std::mem::take(&mut summary.not_taken) {
            *self.not_taken.entry(reading).or_default() += 1;
        }
        let is_open = summary.is_open();
        if let Some(stands) = summary.stands.take().filter(|_| is_open) {
            *self.left_at.entry(stands).or_default() += 1;
        }
        let end = summary.ends.pop().filter(|_| !is_open);
        let is_planned = end.as_ref().is_some_and(|end| end.outcome == LATER);
        let came_to = (summary.complaint.take(), end.map(|end| end.ending));
        self.came_to.entry(came_to).or_default().count(&summary, after, is_planned);
    }
}
