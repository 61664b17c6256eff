//! The figures of a report: what its table, its JSON and its page all show.

use super::tally::{Ended, Tallies, Tally};
use crate::command::share::Share;
use crate::store::{CALLBACK_DAYS, Wanted, When};
use engine::record::Stands;
use serde::Serialize;
use std::collections::BTreeMap;

/// A report, as `--json` shows it.
#[derive(Serialize)]
pub(super) struct Report {
    pub(super) only: Only,
    /// How many calls are reported on.
    pub(super) calls: u32,
    /// When the first and the last of them were begun.
    pub(super) begun: Option<[When; 2]>,
    /// Calls that somebody is busy with; in no other figure.
    pub(super) under_way: u32,
    /// Calls that were left before the first answer; in no other figure.
    pub(super) dropped: u32,
    /// Calls that mean nothing to these rules; in no other figure.
    pub(super) by_other_rules: u32,
    /// Calls that name no unit.
    pub(super) without_unit: u32,
    /// For how many days a call on the same unit counts as a callback.
    pub(super) callback_days: i64,
    /// The one that most calls have stands first.
    pub(super) complaints: Vec<Group>,
    /// All of them together.
    pub(super) all: Group,
    pub(super) not_taken: Vec<NotTaken>,
    pub(super) left_at: Vec<LeftAt>,
}

/// Which calls were asked for.
#[derive(Serialize)]
pub(super) struct Only {
    pub(super) since: Option<When>,
    pub(super) before: Option<When>,
    pub(super) unit: Option<String>,
}

/// The calls with one complaint, or all.
#[derive(Serialize)]
pub(super) struct Group {
    /// None where none was told, and for all.
    pub(super) complaint: Option<String>,
    /// Of all calls.
    pub(super) calls: Share,
    /// By the last ending and how it came out; those that most calls come to stand first.
    pub(super) endings: Vec<Row>,
    /// All of these together.
    pub(super) ended: Row,
    /// Those that came to no ending, or that somebody left.
    pub(super) left_open: Row,
}

/// Calls that came to the same.
#[derive(Serialize)]
pub(super) struct Row {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) ending: Option<String>,
    /// How it came out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) outcome: Option<String>,
    /// Of the calls with this complaint.
    pub(super) calls: Share,
    /// Of all calls.
    pub(super) of_all: Share,
    /// Medians.
    pub(super) questions: Option<f64>,
    pub(super) lockouts: Option<f64>,
    pub(super) minutes: Option<f64>,
    /// Every callback that is known.
    pub(super) callbacks: u32,
    /// Callbacks, of the calls that name their unit and whose time for one is over.
    pub(super) followed: Share,
    /// Calls that were followed by the visit that a repair had been left for.
    pub(super) planned: u32,
}

/// A reading that was asked for and could not be had.
#[derive(Serialize)]
pub(super) struct NotTaken {
    pub(super) reading: String,
    /// Of all calls.
    pub(super) calls: Share,
}

/// Where calls were left open.
#[derive(Serialize)]
pub(super) struct LeftAt {
    #[serde(flatten)]
    pub(super) stands: Stands,
    /// Of the calls that were left open.
    pub(super) calls: Share,
}

impl Report {
    pub(super) fn of(tallies: Tallies, wanted: &Wanted) -> Self {
        let calls = tallies.came_to.values().map(|tally| tally.calls).sum();
        let mut by_complaint: BTreeMap<Option<String>, Vec<(Option<Ended>, Tally)>> = BTreeMap::new();
        let mut by_ending: BTreeMap<Option<Ended>, Tally> = BTreeMap::new();
        for ((complaint, ending), tally) in tallies.came_to {
            by_ending.entry(ending.clone()).or_default().add(&tally);
            by_complaint.entry(complaint).or_default().push((ending, tally));
        }
        let mut complaints: Vec<Group> = by_complaint
            .into_iter()
            .map(|(complaint, endings)| Group::of(complaint, endings, calls))
            .collect();
        complaints.sort_by_key(|complaint| std::cmp::Reverse(complaint.calls.count));
        let all = Group::of(None, by_ending.into_iter().collect(), calls);
        let open = all.left_open.calls.count;
        Self {
            only: Only { since: wanted.since, before: wanted.before, unit: wanted.unit.clone() },
            calls,
            begun: tallies.begun,
            under_way: tallies.under_way,
            dropped: tallies.dropped,
            by_other_rules: tallies.by_other_rules,
            without_unit: tallies.without_unit,
            callback_days: CALLBACK_DAYS,
            complaints,
            not_taken: most_first(tallies.not_taken)
                .map(|(reading, count)| NotTaken { reading, calls: Share::new(count, calls) })
                .collect(),
            left_at: most_first(tallies.left_at)
                .map(|(stands, count)| LeftAt { stands, calls: Share::new(count, open) })
                .collect(),
            all,
        }
    }

    /// How many calls are there and in no figure.
    pub(super) const fn left_out(&self) -> u32 {
        self.under_way + self.dropped + self.by_other_rules
    }
}

impl Group {
    fn of(complaint: Option<String>, groups: Vec<(Option<Ended>, Tally)>, all: u32) -> Self {
        let calls = groups.iter().map(|(_, tally)| tally.calls).sum();
        let (mut ended, mut open) = (Tally::default(), Tally::default());
        let mut endings: Vec<Row> = Vec::new();
        for (ending, tally) in groups {
            if ending.is_some() {
                ended.add(&tally);
                endings.push(Row::of(ending, tally, calls, all));
            } else {
                open.add(&tally);
            }
        }
        // Stable: those of the same count stay in the order of their names.
        endings.sort_by_key(|row| std::cmp::Reverse(row.calls.count));
        Self {
            complaint,
            calls: Share::new(calls, all),
            endings,
            ended: Row::of(None, ended, calls, all),
            left_open: Row::of(None, open, calls, all),
        }
    }
}

impl Row {
    fn of(ended: Option<Ended>, tally: Tally, calls: u32, all: u32) -> Self {
        let Tally { calls: count, callbacks, followed, came_back, planned, .. } = tally;
        let medians = tally.medians();
        let (ending, outcome) = ended.unzip();
        Self {
            ending,
            outcome,
            calls: Share::new(count, calls),
            of_all: Share::new(count, all),
            questions: medians.asked,
            lockouts: medians.lockouts,
            minutes: medians.minutes,
            callbacks,
            followed: Share::new(came_back, followed),
            planned,
        }
    }

    /// `2 of 15`; with what is known beside it, `2 of 15, +1`.
    pub(super) fn callbacks(&self) -> String {
        let besides = self.callbacks - self.followed.count;
        match (self.followed.of, besides) {
            (0, 0) => "–".to_owned(),
            (0, _) => format!("+{besides}"),
            (of, 0) => format!("{} of {of}", self.followed.count),
            (of, _) => format!("{} of {of}, +{besides}", self.followed.count),
        }
    }
}

/// The most frequent first; those of the same count in the order of their names.
fn most_first<K>(counts: BTreeMap<K, u32>) -> impl Iterator<Item = (K, u32)> {
    let mut counts: Vec<(K, u32)> = counts.into_iter().collect();
    counts.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    counts.into_iter()
}
