//! What many trials come to.

use super::put_in::was_made;
use crate::command::share::Share;
use crate::command::spread::median;
use bench::Fault;
use bench::trial::{Trial, Verdict};
use engine::rulebook::{EndingId, EndingKind, Rulebook};
use std::collections::{BTreeMap, BTreeSet};

/// All that is shown of many trials.
pub(super) struct Figures {
    /// Of all calls.
    pub(super) all: Group,
    /// Of those with each fault and those with none, the one that was missed most often first.
    pub(super) by_fault: Vec<(Option<Fault>, Group)>,
    /// Of all calls, those in which every fault was named.
    pub(super) named: Share,
    /// Of all calls, those after which every fault is out of the unit and the house is right.
    pub(super) mended: Share,
    pub(super) visits: Spread,
    pub(super) questions: Spread,
    pub(super) lockouts: Spread,
    pub(super) minutes: Spread,
    /// Endings that answered nothing that was put in, with how many calls came to them; the most frequent first.
    pub(super) needless: Vec<(EndingId, u32)>,
    /// Calls with such an ending.
    pub(super) calls_with_needless: Share,
    /// Prompts that should not have been shown, with the call.
    pub(super) unsafe_prompts: Vec<(u64, String)>,
    /// Calls that came to no end, with why.
    pub(super) halted: Vec<(u64, String)>,
    /// Calls that were not made: no unit can have these faults.
    pub(super) not_made: u32,
    /// Facts that were asked for and that the model does not know, with how many calls asked.
    pub(super) unknown: BTreeMap<String, u32>,
    /// Answers that were something else than was found.
    pub(super) slips: u32,
}

/// Some calls.
pub(super) struct Group {
    /// In which every fault was named or mended.
    pub(super) found: Share,
    /// By verdict, the best first.
    pub(super) verdicts: [u32; Verdict::ALL.len()],
    /// The endings that they came to: those that are right first, then the most frequent.
    pub(super) endings: Vec<Cell>,
}

/// So many calls with a fault came to an ending.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Cell {
    pub(super) ending: EndingId,
    pub(super) calls: u32,
    /// Calls that it was the last word of, and in which not everything was named.
    pub(super) missed: u32,
    pub(super) is: Is,
}

/// What an ending is to what was put in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Is {
    /// Right for it.
    Right,
    /// It does no harm: on the way, or the call gave up.
    Passing,
    /// It answers nothing that was put in.
    Needless,
}

impl Cell {
    /// A word or two for it; nothing for what needs none.
    pub(super) fn word(self) -> String {
        match self {
            Self { is: Is::Right, .. } => "right".to_owned(),
            Self { is: Is::Needless, .. } => "needless".to_owned(),
            Self { missed: 0, .. } => String::new(),
            Self { missed, calls, .. } if missed == calls => "missed".to_owned(),
            Self { missed, .. } => format!("missed in {missed}"),
        }
    }
}

/// The middle, all but the dearest twentieth, and the dearest.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub(super) struct Spread {
    pub(super) median: f64,
    /// The 95th percentile by nearest rank.
    pub(super) most_of: f64,
    pub(super) most: f64,
}

impl Figures {
    pub(super) fn of(book: &Rulebook, trials: &[Trial]) -> Self {
        let made: Vec<&Trial> = trials.iter().filter(|trial| was_made(trial)).collect();
        let mut by_fault: Vec<(Option<Fault>, Group)> = Fault::all()
            .map(Some)
            .chain([None])
            .map(|fault| (fault, Group::of(book, fault, &with(&made, fault))))
            .collect();
        by_fault.retain(|(_, group)| group.found.of > 0);
        let share = |group: &Group| group.found.value.unwrap_or_default();
        by_fault.sort_by(|(_, left), (_, right)| share(left).total_cmp(&share(right)));
        let spread = |of: fn(&Trial) -> f64| Spread::of(made.iter().map(|trial| of(trial)).collect());
        let with_needless = made.iter().filter(|trial| !trial.needless.is_empty()).count();
        let mut needless: Vec<(EndingId, u32)> =
            counted(&made, |trial| &trial.needless).into_iter().collect();
        needless.sort_by_key(|(_, calls)| std::cmp::Reverse(*calls));
        let mut unknown: BTreeMap<String, u32> = BTreeMap::new();
        for fact in made.iter().flat_map(|trial| trial.unknown.iter().collect::<BTreeSet<_>>()) {
            *unknown.entry(fact.clone()).or_default() += 1;
        }
        Self {
            all: Group::of_all(&made),
            by_fault,
            named: share_of(&made, |trial| trial.named),
            mended: share_of(&made, |trial| trial.mended),
            visits: spread(|trial| f64::from(number(trial.visits.len()))),
            questions: spread(|trial| f64::from(trial.asked)),
            lockouts: spread(|trial| f64::from(trial.lockouts)),
            minutes: spread(|trial| trial.minutes),
            needless,
            calls_with_needless: Share::new(number(with_needless), number(made.len())),
            unsafe_prompts: told(&made, |trial| trial.unsafe_prompts.clone()),
            halted: told(&made, |trial| trial.halted.clone().into_iter().collect()),
            not_made: number(trials.len() - made.len()),
            unknown,
            slips: made.iter().map(|trial| trial.slips).sum(),
        }
    }

    /// What was missed most often: what was put in, and the last word of those calls instead.
    pub(super) fn mistaken(&self) -> Vec<(Option<Fault>, Cell)> {
        let cells = |(fault, group): &(Option<Fault>, Group)| {
            let fault = *fault;
            group
                .endings
                .iter()
                .filter(|cell| cell.missed > 0)
                .map(move |cell| (fault, *cell))
                .collect::<Vec<_>>()
        };
        let mut mistaken: Vec<(Option<Fault>, Cell)> = self.by_fault.iter().flat_map(cells).collect();
        mistaken.sort_by_key(|(_, cell)| std::cmp::Reverse(cell.missed));
        mistaken
    }

    /// Whether every prompt was safe and every call came to an end.
    pub(super) fn is_sound(&self) -> bool {
        self.unsafe_prompts.is_empty() && self.halted.is_empty()
    }
}

impl Group {
    fn of_all(trials: &[&Trial]) -> Self {
        let count = |verdict: Verdict| number(trials.iter().filter(|trial| trial.verdict == verdict).count());
        let found = trials.iter().filter(|trial| found(trial)).count();
        Self {
            found: Share::new(number(found), number(trials.len())),
            verdicts: Verdict::ALL.map(count),
            endings: Vec::new(),
        }
    }

    /// Of calls that all have this fault, or none.
    fn of(book: &Rulebook, fault: Option<Fault>, trials: &[&Trial]) -> Self {
        let calls = counted(trials, |trial| trial.reached.iter().map(|(ending, _)| ending));
        let needless = counted(trials, |trial| &trial.needless);
        let is = |ending: EndingId| match ending {
            ending if is_right(book, fault, ending) => Is::Right,
            ending if needless.contains_key(&ending) => Is::Needless,
            _ => Is::Passing,
        };
        let mut missed: BTreeMap<EndingId, u32> = BTreeMap::new();
        let last = |trial: &Trial| trial.reached.last().map(|(ending, _)| *ending);
        for ending in trials.iter().filter(|trial| !found(trial)).filter_map(|trial| last(trial)) {
            *missed.entry(ending).or_default() += 1;
        }
        let cell = |(ending, calls): (EndingId, u32)| Cell {
            ending,
            calls,
            missed: missed.get(&ending).copied().unwrap_or_default(),
            is: is(ending),
        };
        let mut endings: Vec<Cell> = calls.into_iter().map(cell).collect();
        endings.sort_by_key(|cell| (cell.is != Is::Right, std::cmp::Reverse(cell.calls)));
        Self { endings, ..Self::of_all(trials) }
    }
}

impl Spread {
    fn of(mut numbers: Vec<f64>) -> Self {
        numbers.sort_by(f64::total_cmp);
        let rank = (numbers.len() * 19).div_ceil(20).saturating_sub(1);
        Self {
            most_of: numbers.get(rank).copied().unwrap_or_default(),
            most: numbers.last().copied().unwrap_or_default(),
            median: median(numbers).unwrap_or_default(),
        }
    }
}

fn share_of(trials: &[&Trial], is: impl Fn(&Trial) -> bool) -> Share {
    Share::new(number(trials.iter().filter(|trial| is(trial)).count()), number(trials.len()))
}

/// Whether every fault was named or mended, whatever else was done.
pub(super) fn found(trial: &Trial) -> bool {
    matches!(trial.verdict, Verdict::Right | Verdict::Detour)
}

/// Whether an ending is right for a fault; for none, that all is in order.
pub(super) fn is_right(book: &Rulebook, fault: Option<Fault>, ending: EndingId) -> bool {
    let rule = book.ending(ending);
    fault.map_or(rule.kind == EndingKind::InOrder, |fault| fault.right().any(|(right, _)| right == rule.id))
}

/// Those with this fault, or with none at all.
fn with<'t>(trials: &[&'t Trial], fault: Option<Fault>) -> Vec<&'t Trial> {
    let has = |trial: &Trial| fault.map_or(trial.faults.is_empty(), |fault| trial.faults.contains(&fault));
    trials.iter().copied().filter(|trial| has(trial)).collect()
}

/// In how many calls each ending is.
fn counted<'t, I>(trials: &[&'t Trial], endings: impl Fn(&'t Trial) -> I) -> BTreeMap<EndingId, u32>
where
    I: IntoIterator<Item = &'t EndingId>,
{
    let mut calls = BTreeMap::new();
    for trial in trials {
        for ending in endings(trial).into_iter().collect::<BTreeSet<_>>() {
            *calls.entry(*ending).or_default() += 1;
        }
    }
    calls
}

fn told(trials: &[&Trial], what: impl Fn(&Trial) -> Vec<String>) -> Vec<(u64, String)> {
    trials.iter().flat_map(|trial| what(trial).into_iter().map(|what| (trial.call, what))).collect()
}

fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::Spread;

    #[test]
    fn all_but_a_twentieth_cost_no_more_than_the_95th_percentile() {
        let of = Spread::of((1..=100).rev().map(f64::from).collect());
        assert_eq!(of, Spread { median: 50.5, most_of: 95.0, most: 100.0 });
        assert_eq!(Spread::of(vec![4.0]), Spread { median: 4.0, most_of: 4.0, most: 4.0 });
        assert_eq!(Spread::of(Vec::new()), Spread::default());
    }
}
