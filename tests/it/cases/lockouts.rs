//! How often a case locks the unit out before anything is mended.

use super::kinds::{fact, told};
use crate::house::{BOOK, CASES};
use engine::call::{Answerer, Call, DeedResult, Event, Halt, Prompt, Refusal, Reply, drive};
use engine::case::Player;
use engine::rulebook::Answer;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What a case cost in lock-outs until its first deed was done, or in all where nothing was mended.
struct Cost {
    case: &'static str,
    complaint: &'static str,
    live_work: bool,
    mended: bool,
    /// A try with the motor unplugged undoes the lock-out in which it was unplugged: that one no order saves.
    tried_unplugged: bool,
    lockouts: u32,
}

fn costs() -> impl Iterator<Item = Cost> {
    CASES.iter().map(|case| {
        let mut call = Call::new(Arc::clone(&BOOK));
        let mut counting = Counting { player: Player::new(&BOOK, case), at_first_deed: None };
        drive(&mut call, &mut counting).unwrap();
        let (live_work, _) = BOOK.power().live_work;
        let unplugged = fact("trips_with_motor_unplugged");
        let tries = |event: &Event| {
            matches!(event, Event::Told { fact, answer: Answer::Value(_), .. } if *fact == unplugged)
        };
        Cost {
            case: &case.name,
            complaint: told(case, BOOK.roles().complaint).unwrap_or("none told"),
            live_work: told(case, live_work) == Some("yes"),
            mended: counting.at_first_deed.is_some(),
            tried_unplugged: call.events().iter().any(tries),
            lockouts: counting.at_first_deed.unwrap_or(call.power().lockouts()),
        }
    })
}

#[test]
fn with_live_work_one_lock_out_finds_a_dead_motor_and_two_find_anything() {
    let mut many = Vec::new();
    for cost in costs().filter(|cost| cost.live_work && cost.mended) {
        let by_order = match cost.complaint {
            "no_run" | "wrong_link" => 1,
            _ => 2,
        };
        let allowed = by_order + u32::from(cost.tried_unplugged);
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
            ("wrong_rotation", _) | ("wrong_link", true) => 1,
            ("wrong_link", false) => 3,
            ("no_run", false) => 6,
            _ => 4,
        };
        assert!(cost.lockouts <= allowed, "{}: {} lock-outs, not {allowed}", cost.case, cost.lockouts);
    }
}

/// Plays a case and notes how many lock-outs there were when the first deed was done.
struct Counting<'c> {
    player: Player<'c>,
    at_first_deed: Option<u32>,
}

impl Answerer for Counting<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        if let Event::Deed { result: DeedResult::Done, .. } = event {
            self.at_first_deed.get_or_insert(call.power().lockouts());
        }
        self.player.happens(call, event)
    }
}
