//! A wait for the stored charge that is made shorter counts when it is said twice.

use super::{Grave, Place, Understood};
use crate::talk::desk::Desk;
use crate::talk::{clock, power};
use engine::call::Reply;

/// What is told of the wait, held back once where it makes it shorter: until then the longer one stands.
pub(super) fn asked_twice(desk: Desk<'_>, place: Place<'_>, meant: Understood) -> Understood {
    let rules = desk.book().power();
    let Understood::Reply(Reply::Tell(fact, answer) | Reply::Correct(fact, answer)) = &meant else {
        return meant;
    };
    if *fact != rules.stored_charge {
        return meant;
    }
    let (told, before) =
        (power::in_minutes(answer).unwrap_or(rules.longest_wait), power::charge_wait(desk.call));
    let Some(shorter) = clock::minutes(told).filter(|_| told < before) else {
        return meant;
    };
    let (Place::Prompt { sure, .. } | Place::End { sure }) = place;
    if sure == Some(Grave::Shorter(shorter)) {
        return meant;
    }
    let (told, before) = (power::many(told, "minute"), power::many(before, "minute"));
    let what = format!(
        "That makes the wait for the stored charge {told}, in place of {before}. Is it on the motor's own label or \
         sheet? If so, type the same once more; until then it stays {before}"
    );
    Understood::Sure(Grave::Shorter(shorter), what)
}
