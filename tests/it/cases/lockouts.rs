//! How often a case locks the unit out before anything is mended.

use super::kinds::{fact, told};
use crate::house::{BOOK, PLAYED};
use engine::call::Event;
use engine::rulebook::{Answer, PowerNeed};
use std::collections::BTreeMap;

/// What a case cost in lock-outs until its first deed was done, or in all where nothing was mended.
struct Cost {
    case: &'static str,
    complaint: &'static str,
    live_work: bool,
    mended: bool,
    /// Lock-outs that no order saves: one for a try with the motor unplugged, which undoes the one in which it was
    /// unplugged; one for a live reading that could not be taken, so that looks behind the panel say it later instead.
    unsaved: u32,
    lockouts: u32,
}

fn costs() -> impl Iterator<Item = Cost> {
    PLAYED.iter().map(|(case, played)| {
        let (live_work, _) = BOOK.power().live_work;
        let unplugged = fact("trips_with_motor_unplugged");
        let tries = |event: &Event| {
            matches!(event, Event::Told { fact, answer: Answer::Value(_), .. } if *fact == unplugged)
        };
        let untaken = |event: &Event| {
            matches!(event, Event::Told { fact, answer: Answer::Cannot, .. } if BOOK.fact(*fact).power == PowerNeed::Live)
        };
        Cost {
            case: &case.name,
            complaint: told(case, BOOK.roles().complaint).unwrap_or("none told"),
            live_work: told(case, live_work) == Some("yes"),
            mended: played.at_first_deed.is_some(),
            unsaved: [played.call.events().iter().any(tries), played.call.events().iter().any(untaken)]
                .into_iter()
                .map(u32::from)
                .sum(),
            lockouts: played.at_first_deed.unwrap_or(played.call.power().lockouts()),
        }
    })
}

#[test]
fn with_live_work_one_lock_out_finds_a_dead_motor_and_two_find_anything() {
    let mut many = Vec::new();
    for cost in costs().filter(|cost| cost.live_work && cost.mended) {
        let by_order = match cost.complaint {
            "no_run" | "wrong_link" => 1,
            // A check before leaving has a lock-out of its own looks, and then finds what anything else would.
            "start_up" => 3,
            _ => 2,
        };
        let allowed = by_order + cost.unsaved;
        if cost.lockouts > allowed {
            many.push(format!(
                "{}, {}: {} lock-outs, not {allowed}",
                cost.case, cost.complaint, cost.lockouts
            ));
        }
    }
    assert!(many.is_empty(), "{}", many.join("\n"));
}

/// Without live work each station that is read costs leads fitted dead, and taken off dead: the motor's plug, the board,
/// where the supply enters. What each complaint costs at most is held here, so that no change of a tree adds to it unseen.
#[test]
fn without_live_work_the_stagings_are_few() {
    let mut most: BTreeMap<(&str, bool), Cost> = BTreeMap::new();
    for cost in costs().filter(|cost| !cost.live_work) {
        let key = (cost.complaint, cost.mended);
        if most.get(&key).is_none_or(|other| cost.lockouts > other.lockouts) {
            most.insert(key, cost);
        }
    }
    for cost in most.values() {
        let what = if cost.mended { "before the first repair" } else { "and nothing mended" };
        println!("{}, {what}: {} lock-outs at most, {}", cost.complaint, cost.lockouts, cost.case);
    }
    for cost in most.values() {
        let allowed = match (cost.complaint, cost.mended) {
            ("wrong_rotation", _) => 1,
            // The link seen in the first, the supply measured, the link changed or the plug put home in the second.
            ("wrong_link", true) => 2,
            ("wrong_link", false) => 3,
            // A plate that says neither supply, so that every place is read by leads of its own.
            ("no_run", true) => 5,
            ("no_run", false) => 6,
            _ => 4,
        };
        assert!(cost.lockouts <= allowed, "{}: {} lock-outs, not {allowed}", cost.case, cost.lockouts);
    }
}
