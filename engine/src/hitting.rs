//! Hitting sets: which things, at the least, must be wrong so that every conflict is explained.
//!
//! A conflict is a set of things that cannot all be right. A diagnosis is a smallest set that takes something out of
//! every conflict: a minimal hitting set (Reiter 1987, de Kleer and Williams 1987). The sets here are small: a few
//! conflicts over a few readings.

use std::collections::BTreeSet;

/// More diagnoses than are looked at: past this many, the conflicts say nothing of use.
const MOST: usize = 10_000;

/// Every minimal hitting set of these conflicts, smallest first.
///
/// No conflict gives the empty set: nothing has to be wrong. An empty conflict cannot be hit, and gives none at all.
///
/// ```
/// use engine::hitting::minimal;
/// let found = minimal(&[[1, 2].into(), [2, 3].into()]);
/// assert_eq!(found, [[2].into(), [1, 3].into()]);
/// assert!(minimal(&[std::collections::BTreeSet::<u8>::new()]).is_empty());
/// ```
#[must_use]
pub fn minimal<T: Ord + Clone>(conflicts: &[BTreeSet<T>]) -> Vec<BTreeSet<T>> {
    let mut sets = vec![BTreeSet::new()];
    for conflict in conflicts {
        let mut next: Vec<BTreeSet<T>> = Vec::new();
        for set in sets {
            if conflict.is_disjoint(&set) {
                next.extend(conflict.iter().map(|thing| {
                    let mut wider = set.clone();
                    wider.insert(thing.clone());
                    wider
                }));
            } else {
                next.push(set);
            }
        }
        sets = without_supersets(next);
        sets.truncate(MOST);
    }
    sets
}

/// A hitting set of the least weight; of several, the first in the order of their things.
///
/// `None` when some conflict cannot be hit. A weight is how unlikely it is that the thing is wrong.
#[must_use]
pub fn lightest<T: Ord + Clone>(
    conflicts: &[BTreeSet<T>],
    weight: impl Fn(&T) -> f64,
) -> Option<BTreeSet<T>> {
    let heavy = |set: &BTreeSet<T>| set.iter().map(&weight).sum::<f64>();
    minimal(conflicts)
        .into_iter()
        .min_by(|left, right| heavy(left).total_cmp(&heavy(right)).then_with(|| left.cmp(right)))
}

/// The sets that hold no other of them, smallest first, each once.
fn without_supersets<T: Ord + Clone>(mut sets: Vec<BTreeSet<T>>) -> Vec<BTreeSet<T>> {
    sets.sort_by(|left, right| left.len().cmp(&right.len()).then_with(|| left.cmp(right)));
    let mut kept: Vec<BTreeSet<T>> = Vec::new();
    for set in sets {
        if !kept.iter().any(|smaller| smaller.is_subset(&set)) {
            kept.push(set);
        }
    }
    kept
}
