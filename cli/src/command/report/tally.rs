//! Calls, counted as they go by; none of them is kept.

use super::callbacks::After;
use crate::command::spread::median;
use crate::store::{Listed, When};
use engine::record::{End, Stands, Summary};
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

/// An ending's id and how it came out.
pub(super) type Ended = (String, String);

/// A complaint and the last ending: either may be missing, the ending where a call was left open.
pub(super) type CameTo = (Option<String>, Option<Ended>);

/// All calls that are reported on.
#[derive(Default)]
pub(super) struct Tallies {
    pub(super) came_to: BTreeMap<CameTo, Tally>,
    /// In how many calls each reading was asked for and could not be had.
    pub(super) not_taken: BTreeMap<String, u32>,
    /// Where calls were left open, and how many.
    pub(super) left_at: BTreeMap<Stands, u32>,
    /// When the first and the last of them were begun.
    pub(super) begun: Option<[When; 2]>,
    pub(super) without_unit: u32,
    /// Calls that a seat is busy with; not counted.
    pub(super) under_way: u32,
    /// Calls that were left before the first answer; not counted.
    pub(super) dropped: u32,
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
        let is_open = summary.is_open();
        if is_open && summary.asked == 0 {
            self.dropped += 1;
            return;
        }
        let at = listed.opening.at;
        let [first, last] = self.begun.unwrap_or([at, at]);
        self.begun = Some([first.min(at), last.max(at)]);
        self.without_unit += u32::from(listed.opening.unit.is_none());
        for reading in std::mem::take(&mut summary.not_taken) {
            *self.not_taken.entry(reading).or_default() += 1;
        }
        if let Some(stands) = summary.stands.take().filter(|_| is_open) {
            *self.left_at.entry(stands).or_default() += 1;
        }
        let end = summary.ends.pop().filter(|_| !is_open);
        let is_planned = end.as_ref().is_some_and(|end| end.outcome == LATER);
        let came_to = (summary.complaint.take(), end.map(|End { ending, outcome }| (ending, outcome)));
        self.came_to.entry(came_to).or_default().count(&summary, after, is_planned);
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{After, CameTo, Tallies};
    use crate::store::{Holder, Listed, Opening, RulesUsed, Seat, When};
    use engine::record::{End, Stands, Summary};

    const AFTER: After = After { callback: true, followed: true };

    /// A call that came to these endings, as pairs of an ending and how it came out.
    fn call(ends: &[[&str; 2]]) -> Listed {
        let (decide, prose, program) = (String::new(), String::new(), String::new());
        let rules = RulesUsed { folder: None, decide, prose, program };
        let at = When::from_millis(0);
        let opening = Opening { id: String::new(), at, unit: None, again_of: None, rules, meter: None };
        let end = |[ending, outcome]: &[&str; 2]| End {
            ending: (*ending).to_owned(),
            outcome: (*outcome).to_owned(),
        };
        let stands = Some(Stands { at: "reading".to_owned(), of: "flow".to_owned() });
        let summary =
            Summary { ends: ends.iter().map(end).collect(), stands, asked: 1, ..Summary::default() };
        Listed { number: 1, opening, last: at, events: 0, summary: Some(summary), holder: None }
    }

    fn ended(ending: &str, outcome: &str) -> CameTo {
        (None, Some((ending.to_owned(), outcome.to_owned())))
    }

    fn counted(calls: Vec<Listed>) -> Tallies {
        let mut tallies = Tallies::default();
        for call in calls {
            tallies.count(call, AFTER);
        }
        tallies
    }

    #[test]
    fn the_visit_that_a_repair_was_left_for_is_no_callback() {
        let tallies = counted(vec![call(&[["fix", "later"]]), call(&[["fix", "proved"]])]);
        let of = |outcome: &str| {
            let fix = &tallies.came_to[&ended("fix", outcome)];
            [fix.calls, fix.callbacks, fix.followed, fix.planned]
        };
        assert_eq!((of("later"), of("proved")), ([1, 0, 0, 1], [1, 1, 1, 0]));
    }

    #[test]
    fn a_call_that_was_left_before_the_first_answer_is_in_no_other_figure() {
        let mut dropped = call(&[]);
        dropped.summary.as_mut().unwrap().asked = 0;
        let mut at_once = call(&[["stop", "handed over"]]);
        at_once.summary.as_mut().unwrap().asked = 0;
        let tallies = counted(vec![dropped, at_once]);
        assert_eq!((tallies.dropped, tallies.left_at.len()), (1, 0));
        assert_eq!(tallies.came_to.keys().collect::<Vec<_>>(), [&ended("stop", "handed over")]);
    }

    #[test]
    fn a_call_that_somebody_left_counts_as_left_open_where_it_stood() {
        let over = call(&[["fix", "failed"], ["stop", "handed over"]]);
        let tallies = counted(vec![over, call(&[["fix", "failed"], ["left", "left"]]), call(&[])]);
        assert_eq!(tallies.came_to[&(None, None)].calls, 2);
        assert_eq!(tallies.came_to[&ended("stop", "handed over")].calls, 1);
        assert_eq!(tallies.left_at.into_values().collect::<Vec<_>>(), [2]);
    }

    #[test]
    fn what_is_under_way_or_means_nothing_to_these_rules_is_in_no_figure() {
        let seat = |token: &str| Seat { name: "ann on desk-3".to_owned(), token: token.to_owned() };
        let holder = Holder { seat: seat("another-machine/1/1/1"), since: When::from_millis(0) };
        let busy = Listed { holder: Some(holder), ..call(&[]) };
        let unknown = Listed { summary: None, ..call(&[]) };
        let tallies = counted(vec![busy, unknown]);
        assert_eq!((tallies.under_way, tallies.by_other_rules), (1, 1));
        assert!(tallies.came_to.is_empty() && tallies.begun.is_none());
    }
}
