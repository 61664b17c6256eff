//! Visits: a call, what is done after it, and where the house is still not right the next call.

use super::judge::Judged;
use super::since::Others;
use super::{Setup, Witness};
use crate::bystander::Bystander;
use crate::chance::Chance;
use crate::fault::Fault;
use crate::household::{Callback, Complaint, complaint_again};
use crate::technician::Technician;
use crate::unit::Unit;
use engine::call::{Answerer, Call, Ended, Event, Halt, Outcome, Prompt, Reached, Refusal, Reply, drive};
use engine::record::Carried;
use engine::rulebook::{EndingId, Rulebook};
use std::sync::Arc;

/// Visits after which nobody calls again: two faults may each be handed over, and a motor be fetched for one of them.
const MOST_VISITS: usize = 4;

/// One call to the unit, and what was done before the next.
#[derive(Clone, PartialEq, Debug)]
pub struct Visit {
    /// What the caller said: a choice of the complaint.
    pub complaint: &'static str,
    /// What earlier calls left to it: its first events.
    pub opening: Vec<Event>,
    /// The endings reached, in order.
    pub reached: Vec<(EndingId, Outcome)>,
    /// How often the technician replied.
    pub replies: usize,
    /// The ending whose work others did after it.
    pub since: Option<EndingId>,
}

/// What took a fault out of the unit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Taken {
    /// Work for an ending, the technician's or somebody else's.
    By(EndingId),
    /// A routine on the way, such as the panel put on.
    OnTheWay,
}

/// What came of all visits.
pub(super) struct Came {
    pub(super) visits: Vec<Visit>,
    /// What took each fault out, in their order; `None` for one that is still in.
    pub(super) taken: Vec<Option<Taken>>,
    /// Whether a call gave up before anything was named or mended.
    pub(super) gave_up: bool,
    /// Whether nothing is left that would be noticed in the house.
    pub(super) cured: bool,
    pub(super) asked: u32,
    pub(super) lockouts: u32,
    pub(super) minutes: f64,
    pub(super) unsafe_prompts: Vec<String>,
    pub(super) slips: u32,
    pub(super) unknown: Vec<String>,
    pub(super) halted: Option<String>,
}

/// Leads the calls on a unit, the one after the other.
pub(super) fn all(
    book: &Arc<Rulebook>,
    setup: &Setup,
    faults: &[Fault],
    callback: Callback,
    chance: &mut Chance,
    witness: &mut Witness<'_>,
) -> Came {
    let sound = callback.sound.clone();
    let mut complaint = callback.complaint;
    let technician = Technician::sent_to(callback, setup.care, chance);
    let taken = vec![None; faults.len()];
    let mut scene = Scene {
        technician,
        bystander: Bystander::default(),
        unsafe_prompts: Vec::new(),
        replies: 0,
        faults,
        sound: &sound,
        taken,
        witness,
    };
    let mut calls: Vec<Call> = Vec::new();
    let mut visits: Vec<Visit> = Vec::new();
    let mut halted = None;
    let mut came_to_nothing = false;
    while halted.is_none() && visits.len() < MOST_VISITS {
        let opening = opening(book, &calls, &visits);
        let mut call = Call::new(Arc::clone(book));
        opening.iter().cloned().for_each(|event| call.apply(event));
        scene.replies = 0;
        let ended = drive(&mut call, &mut scene);
        let last = ended.as_ref().ok().map(|ended| ended.last);
        let reached = match ended {
            Ok(ended) => reached(&ended),
            Err(halt) => {
                halted = Some(halt.to_string());
                Vec::new()
            }
        };
        let so_far: Vec<_> =
            visits.iter().flat_map(|visit: &Visit| &visit.reached).chain(&reached).copied().collect();
        visits.push(Visit { complaint, opening, reached, replies: scene.replies, since: None });
        calls.push(call);
        let Some(last) = last else { break };
        let judged = Judged { book, faults, taken: &scene.taken, reached: &so_far, came_to_nothing };
        came_to_nothing |= last.ending == book.roles().not_enough_readings && judged.answered() == 0;
        let Some(next) = scene.between(book, last, visits.last_mut(), chance) else {
            break;
        };
        complaint = next;
    }
    let tallies = calls.iter().map(Call::tally);
    let unit = &scene.technician.unit;
    Came {
        cured: unit.shows().is_empty() && unit.dangers.is_empty(),
        asked: tallies.clone().map(|tally| tally.asked).sum(),
        minutes: tallies.map(|tally| tally.minutes).sum(),
        lockouts: calls.iter().map(|call| call.power().lockouts()).sum(),
        taken: scene.taken,
        gave_up: came_to_nothing,
        visits,
        unsafe_prompts: scene.unsafe_prompts,
        slips: scene.technician.slips,
        unknown: scene.technician.unknown,
        halted,
    }
}

/// What earlier calls leave to the next, as `motorwright again` has it.
fn opening(book: &Rulebook, calls: &[Call], visits: &[Visit]) -> Vec<Event> {
    let mut carried = Carried::default();
    for (call, visit) in calls.iter().zip(visits).rev() {
        let repaired = visit.since.filter(|ending| book.ending(*ending).is_repair());
        if let Some(ending) = repaired {
            carried.done_since(ending);
        }
        if visit.since.is_some() {
            carried.powered_since();
        }
        carried.plates(call);
        carried.repairs(call, true, "an earlier visit");
        carried.proving_dead(call, "an earlier visit");
    }
    carried.into_events(book)
}

fn reached(ended: &Ended) -> Vec<(EndingId, Outcome)> {
    ended.all().map(|reached| (reached.ending, reached.outcome)).collect()
}

/// The technician at the unit, with a bystander and a witness.
struct Scene<'w, 'f> {
    technician: Technician,
    bystander: Bystander,
    unsafe_prompts: Vec<String>,
    replies: usize,
    faults: &'w [Fault],
    sound: &'w Unit,
    taken: Vec<Option<Taken>>,
    witness: &'w mut Witness<'f>,
}

impl Scene<'_, '_> {
    /// What happens behind a call: the work of others, and what people say who call again. `None` where nobody does:
    /// all is well, the call came to nothing, or it left things so that nobody would do anything that could help.
    fn between(
        &mut self,
        book: &Rulebook,
        last: Reached,
        visit: Option<&mut Visit>,
        chance: &mut Chance,
    ) -> Option<Complaint> {
        let Reached { ending, outcome } = last;
        match outcome {
            Outcome::Later if self.technician.fetches(book, ending) => {}
            // Who takes what was missing comes. That the call came to nothing is judged all the same.
            Outcome::HandedOver if ending == book.roles().not_enough_readings => {
                if !self.technician.brings_what_was_missing(book) {
                    return None;
                }
            }
            Outcome::Later | Outcome::HandedOver => {
                let others = Others { book, faults: self.faults, sound: self.sound };
                if !others.carry_out(&mut self.technician.unit, ending, chance) {
                    return None;
                }
                self.look(Taken::By(ending));
                self.bystander = Bystander::default();
                if let Some(visit) = visit {
                    visit.since = Some(ending);
                }
            }
            Outcome::Proved | Outcome::NotProved => {}
            _ => return None,
        }
        // What nobody notices is found as it is where there is nothing else: at a check.
        let unnoticed = self.some_are_out() && self.taken.iter().any(Option::is_none);
        let complaint =
            complaint_again(&mut self.technician.unit, chance).or_else(|| unnoticed.then_some("start_up"))?;
        self.technician.comes_again(complaint);
        Some(complaint)
    }

    /// Whether a fault has been taken out, of several.
    fn some_are_out(&self) -> bool {
        self.taken.iter().any(Option::is_some)
    }

    /// Sees which faults went out just now, and whether one came back.
    fn look(&mut self, by: Taken) {
        for (fault, taken) in self.faults.iter().zip(&mut self.taken) {
            if fault.is_in(&self.technician.unit, self.sound) {
                *taken = None;
            } else {
                taken.get_or_insert(by);
            }
        }
    }
}

impl Answerer for Scene<'_, '_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        let live_work = self.technician.may_work_live();
        let objection = self.bystander.objects(call, &self.technician.unit, live_work, prompt);
        self.unsafe_prompts.extend(objection);
        let reply = self.technician.reply(call, prompt)?;
        self.replies += 1;
        (self.witness)(call, prompt, &reply);
        Ok(reply)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.technician.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.bystander.hears(call, event);
        match event {
            Event::Deed { ending, .. } => self.look(Taken::By(*ending)),
            Event::Power { .. } | Event::Told { .. } => self.look(Taken::OnTheWay),
            _ => {}
        }
        Ok(())
    }
}
