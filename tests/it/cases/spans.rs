//! What the rules are said to need in lock-outs, against what every case needs.

use super::kinds::told;
use crate::house::{BOOK, CASES};
use engine::call::{
    Answerer, Call, DeedResult, Event, Halt, Prompt, Purpose, Refusal, Reply, Towards, Wants, drive,
};
use engine::case::{Case, Player};
use engine::paths::Calls;
use engine::rulebook::EndingId;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Plays a case, and keeps the lock-outs until its first deed or its last question.
struct Watch<'c> {
    player: Player<'c>,
    lockouts: u32,
    mended: bool,
    /// A reading was taken anew, or a fact was told that no step asked for.
    besides: bool,
}

impl Answerer for Watch<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        let closing = matches!(prompt.wants(), Wants::Power { towards: Towards::CloseUp, .. });
        if !self.mended && !closing {
            self.lockouts = call.power().lockouts();
        }
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        match event {
            Event::Deed { result: DeedResult::Done, .. } => self.mended = true,
            Event::Told { purpose: Purpose::Unasked | Purpose::Doubted, .. } if !self.mended => {
                self.besides = true;
            }
            _ => {}
        }
        self.player.happens(call, event)
    }
}

fn watched(case: &Case) -> (EndingId, Watch<'_>) {
    let mut watch = Watch { player: Player::new(&BOOK, case), lockouts: 0, mended: false, besides: false };
    let ended = drive(&mut Call::new(Arc::clone(&BOOK)), &mut watch).unwrap();
    let first = ended.all().next().unwrap().ending;
    (first, watch)
}

#[test]
fn no_case_needs_more_lock_outs_than_the_most_on_any_way_to_its_ending_or_fewer_than_the_least() {
    let paths = BOOK.paths();
    let complaint = BOOK.fact(BOOK.roles().complaint);
    let spans: BTreeMap<_, _> = complaint
        .choices()
        .iter()
        .flat_map(|choice| {
            let set = complaint.choice(&choice.id);
            [false, true].map(|live_work| {
                ((choice.id.as_str(), live_work), BOOK.lockouts(&paths, Calls { complaint: set, live_work }))
            })
        })
        .collect();
    let (mut wrong, mut at_most, mut at_least) = (Vec::new(), 0, 0);
    for case in CASES.iter() {
        let (ending, watch) = watched(case);
        let live_work = told(case, BOOK.power().live_work.0) == Some("yes");
        let Some(complaint) = told(case, BOOK.roles().complaint) else { continue };
        let Some(span) = spans[&(complaint, live_work)].until(ending) else {
            let roles = BOOK.roles();
            let by_the_call =
                [roles.left, roles.cannot_prove_dead, roles.same_fault_again, roles.not_enough_readings];
            let again = BOOK.endings().iter().filter_map(|ending| ending.again);
            assert!(again.chain(by_the_call).any(|ends| ends == ending), "{}", case.name);
            continue;
        };
        let lockouts = u8::try_from(watch.lockouts).unwrap();
        let few = lockouts < span.least && !watch.besides;
        let many = lockouts > span.most && span.most < engine::paths::MANY;
        if few || many {
            wrong.push(format!(
                "{} to {}: {lockouts}, not {} to {}",
                case.name,
                BOOK.ending(ending).id,
                span.least,
                span.most
            ));
        }
        at_most += usize::from(lockouts == span.most);
        at_least += usize::from(lockouts == span.least);
    }
    println!("{at_most} cases need the most, {at_least} the least, of {}", CASES.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
