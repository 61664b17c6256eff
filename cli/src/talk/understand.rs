//! From a typed line to what it means at a prompt.

mod answers;
mod consent;
mod danger;
mod dead;
mod fails;
mod on;
mod power;
mod question;
mod shorter;
mod waited;

pub(crate) use danger::{danger, dangers, in_the_menu};
pub(crate) use dead::{is_behind_a_test, is_test};
pub(crate) use power::{HANDS_OUT, grave, under_load};
pub(crate) use waited::{AS_TOLD, WAIT_TAKEN_BACK};

use super::desk::Desk;
use super::named;
use super::said::Said;
use super::{alarm, answer, ask};
use answers::answered;
use engine::call::{
    Call, DeedResult, Event, PowerState, PowerStep, Prompt, Reply, Routine, StepResult, Towards, Wants,
};
use engine::rulebook::{Answer, ChoiceSet, FactId};
use power::{Heard, power};
use question::{Question, question};
use std::time::Duration;

/// Where a line is typed.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Place<'p> {
    /// At a prompt.
    Prompt {
        /// The prompt.
        prompt: &'p Prompt,
        /// Of a deed, the step it has come to, from 0.
        at: usize,
        /// The grave word that was said just before, and may now be said for good.
        sure: Option<Grave>,
    },
    /// At the end of a call.
    End {
        /// The grave word that was said just before, and may now be said for good.
        sure: Option<Grave>,
    },
}

/// A word that counts when it is said once more.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Grave {
    /// A power step is not done.
    No,
    /// The test for dead read live.
    Live,
    /// The person leaves.
    Leave,
    /// A danger that was told is taken back.
    Safe,
    /// The wait for the stored charge is made shorter: to so much.
    Shorter(Duration),
    /// This choice may have been meant by a line that is none: a plain yes takes it.
    Meant(ChoiceSet),
}

/// A page that is shown without anything happening.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Page {
    /// Why this is asked.
    Why,
    /// How it is done.
    How,
    /// What is known and done.
    SoFar,
    /// Where the call is.
    Where,
    /// What can be read at one go.
    Plan,
    /// The note to send.
    NoteToSend,
    /// What can be typed.
    Help,
}

/// What a typed line means.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Understood {
    /// A reply for the engine.
    Reply(Reply),
    /// A page to show.
    Page(Page),
    /// A danger; which is still to be said.
    WhichDanger,
    /// Words of danger in a line that is no plain answer: the dangers they can mean, and what the line meant else.
    Alarm(ChoiceSet, Box<Self>),
    /// The supplies are to be counted again, and locked out anew.
    CountAgain,
    /// The next step of a deed.
    NextStep,
    /// The step of a deed before this one.
    StepBack,
    /// The person at the other end needs time, for this if anything was said.
    Wait(String),
    /// The end stands.
    Close,
    /// A grave word: said twice, it counts.
    Sure(Grave, String),
    /// The test for dead read live: what was read, if a number was said, and what to do now. Said twice, it counts.
    Live(Option<String>, String),
    /// The test for dead read so little that open leads may show it too.
    Stray(String),
    /// What it read so fell to nothing under load.
    FellToNothing(String),
    /// How long the unit has been off, where a wait is under way.
    Waited(Duration),
    /// The time that was told for the wait just behind is taken back: this remark of it.
    WaitAnew(String),
    /// Not understood, or not here: why, and what would be.
    Not(String),
    /// No choice, and near to this one: why, and what would be. A plain yes takes it.
    Near(ChoiceSet, String),
}

/// What a stray voltage comes to under load.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum UnderLoad {
    /// It falls to nothing.
    Fell,
    /// It does not, or that cannot be tried: what it means at the test for dead.
    Else(Box<Understood>),
    /// Neither was said.
    Neither,
}

/// What a line means. Words of danger are never passed over: where they are no plain answer, they are asked about.
pub(crate) fn understand(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    let meant = shorter::asked_twice(desk, place, by_words(desk, place, line));
    let book = desk.book();
    let (danger, _) = book.roles().danger;
    let alarm = match &meant {
        Understood::Reply(Reply::Danger(_)) | Understood::WhichDanger => return meant,
        Understood::Reply(Reply::Answer(answer)) => match asked(place) {
            Some(fact) if fact == danger => return meant,
            Some(fact) if *answer != Answer::Cannot => alarm::beside(book, book.fact(fact), line),
            _ => alarm::heard(book, line),
        },
        Understood::Reply(Reply::Tell(fact, _) | Reply::Correct(fact, _)) if *fact == danger => return meant,
        Understood::Reply(Reply::Tell(fact, _) | Reply::Correct(fact, _)) => {
            alarm::beside(book, book.fact(*fact), line)
        }
        // There, `hot` is a reading.
        Understood::Live(..) => alarm::without(book, line, &["hot"]),
        _ => alarm::heard(book, line),
    };
    if alarm.is_said { Understood::Alarm(alarm.dangers, Box::new(meant)) } else { meant }
}

fn by_words(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    let call = desk.call;
    if let Some(fact) = asked(place)
        && answer::is_choice_exactly(call.book().fact(fact), line)
    {
        return answered(desk, place, line);
    }
    match Said::of(line) {
        Said::Nothing => nothing(desk, place),
        Said::Why => Understood::Page(Page::Why),
        Said::How => Understood::Page(Page::How),
        Said::SoFar => Understood::Page(Page::SoFar),
        Said::Where => Understood::Page(Page::Where),
        Said::Plan => Understood::Page(Page::Plan),
        Said::NoteToSend => Understood::Page(Page::NoteToSend),
        // `Wait, it was live` puts right what was read.
        Said::Wait(_) if puts_a_test_right(place, line) => unless_asked(desk, place, line),
        Said::Wait(what) => Understood::Wait(what.to_owned()),
        Said::Help => Understood::Page(Page::Help),
        Said::Cannot => {
            let asked = no_question(desk, place, line).filter(|_| question(line) == Some(Question::Marked));
            asked.unwrap_or_else(|| cannot(desk, place, line))
        }
        Said::Back => back(call, place),
        Said::Correct("") => not("type correct, the fact and what it is, as in: correct breaker position on"),
        Said::Correct(rest) => correct(desk, rest),
        Said::Tell(rest) => told(desk, rest, Reply::Tell),
        Said::Note("") => not("type note and the remark, as in: note the attic is hot"),
        Said::Note(text) => Understood::Reply(Reply::Note(text.to_owned())),
        Said::Danger(rest) => danger(desk, rest).map_or(Understood::WhichDanger, Understood::Reply),
        Said::Leave | Said::Quit if matches!(place, Place::End { .. }) => Understood::Close,
        Said::Leave => leave(desk, place),
        Said::Quit => not("type leave to leave the call"),
        Said::Other(_) => unless_asked(desk, place, line),
    }
}

/// What a line answers, where it is no question. What makes less of the unit known counts without a mark too: `is
/// live`, `has tripped`.
fn unless_asked(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    let Some(asked) = no_question(desk, place, line) else {
        return answered(desk, place, line);
    };
    if question(line) == Some(Question::Begun)
        && let less @ (Understood::Live(..)
        | Understood::Sure(..)
        | Understood::Reply(Reply::Step(StepResult::Failed))) = answered(desk, place, line)
    {
        return less;
    }
    asked
}

/// Where something is to be done, a question answers nothing: what is said of one; `None` elsewhere.
fn no_question(desk: Desk<'_>, place: Place<'_>, line: &str) -> Option<Understood> {
    let Place::Prompt { prompt, at, .. } = place else {
        return None;
    };
    let is_done = matches!(prompt.wants(), Wants::Power { .. } | Wants::Deed { .. } | Wants::Consent { .. });
    question(line).filter(|_| is_done)?;
    let wanted = ask::what_to_type(desk, prompt, at);
    Some(Understood::Not(format!("that is a question: type {wanted}; how and why say more")))
}

fn puts_a_test_right(place: Place<'_>, line: &str) -> bool {
    let Place::Prompt { prompt, .. } = place else {
        return false;
    };
    let tested =
        matches!(prompt.wants(), Wants::Power { step, .. } if is_test(step) || is_behind_a_test(step));
    tested && dead::put_right(line).is_some()
}

/// Leaving is said twice: a caller may be on the line.
fn leave(desk: Desk<'_>, place: Place<'_>) -> Understood {
    let said = matches!(place, Place::Prompt { sure: Some(Grave::Leave), .. });
    // Somebody who left before the call was taken up again has not left since.
    let mut since = desk.call.events().iter().rev().take_while(|event| !matches!(event, Event::Resumed));
    if said || since.any(|event| matches!(event, Event::Left)) {
        return Understood::Reply(Reply::Leave);
    }
    let later = match place {
        Place::Prompt { prompt, .. } if matches!(prompt.wants(), Wants::Consent { .. }) => {
            " To leave the work for another visit, type later."
        }
        _ => "",
    };
    let how = desk.kept;
    let sure = format!("{how} To leave it, type leave once more; or go on where you were.{later}");
    Understood::Sure(Grave::Leave, sure)
}

/// One step back in a piece of work; at its first step, and anywhere else, the newest answer is taken back. Where
/// something read live, it is the count of the supplies that is in doubt.
fn back(call: &Call, place: Place<'_>) -> Understood {
    match place {
        Place::End { .. } if !may_go_back(call) => {
            not("a failed lock-out is not taken back by a word: Enter closes the call")
        }
        Place::Prompt { prompt, at, sure } => match prompt.wants() {
            Wants::Deed { .. } if at > 0 => Understood::StepBack,
            Wants::Power { step, .. } => back_in_a_routine(call, step, sure),
            _ => Understood::Reply(Reply::Back),
        },
        // Nobody goes back to the unit for one word.
        Place::End { sure } if call.danger().is_some() && sure != Some(Grave::Safe) => Understood::Sure(
            Grave::Safe,
            "It takes the danger back. If it was a slip, or is over and whoever came for it says so, type back \
             once more; else Enter, to close"
                .to_owned(),
        ),
        Place::End { .. } => Understood::Reply(Reply::Back),
    }
}

/// A lock-out that is under way is not left by a word: only the count of its supplies begins it anew.
fn back_in_a_routine(call: &Call, step: &PowerStep, sure: Option<Grave>) -> Understood {
    let is_test = dead::is_test(step);
    match sure {
        Some(Grave::Live) => Understood::CountAgain,
        Some(Grave::No) if is_test || dead::is_behind_a_test(step) => Understood::CountAgain,
        _ if dead::is_behind_a_test(step) => not(
            "the lock-out goes on: if the unit was not dead after all, type live, or no and the volts, as in: no, \
                 2 V; a fact is put right with correct",
        ),
        _ if let Some(told) = waited::just_told(call) => Understood::WaitAnew(told.to_owned()),
        _ if matches!(call.power().state(), PowerState::LockingOut { .. }) => not(
            "the lock-out goes on: a fact is put right with correct, as in: correct breaker position on; what \
                 cannot be done is not done",
        ),
        _ => Understood::Reply(Reply::Back),
    }
}

/// Whether taking an answer back would lead on from an ending: a lock-out that failed stays failed.
pub(crate) fn may_go_back(call: &Call) -> bool {
    !call.power().lockout_failed() || call.danger().is_some()
}

fn not(why: &str) -> Understood {
    Understood::Not(why.to_owned())
}

fn asked(place: Place<'_>) -> Option<FactId> {
    match place {
        Place::Prompt { prompt, .. } => match prompt.wants() {
            Wants::Fact { fact, .. } => Some(*fact),
            _ => None,
        },
        Place::End { .. } => None,
    }
}

/// A bare Enter: the next step of a deed, the end of a call, and never an answer.
fn nothing(desk: Desk<'_>, place: Place<'_>) -> Understood {
    match place {
        Place::End { .. } => Understood::Close,
        Place::Prompt { prompt, at, .. } => match prompt.wants() {
            Wants::Deed { deed, .. } if !ask::is_last_step(desk.book(), *deed, at) => Understood::NextStep,
            _ => Understood::Not(format!(
                "Enter alone is no answer: type {}",
                ask::what_to_type(desk, prompt, at)
            )),
        },
    }
}

fn cannot(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    match place {
        Place::End { .. } => {
            not("nothing is asked here: Enter closes the call, back takes the newest answer back")
        }
        Place::Prompt { prompt, sure, .. } => match prompt.wants() {
            Wants::Fact { fact, .. } => {
                // That a danger cannot be noticed is no word on whether it is there.
                let denied =
                    *fact == desk.book().roles().danger.0 && alarm::heard(desk.book(), line).is_denied;
                if denied { not(answers::NOT_THAT) } else { Understood::Reply(Reply::Answer(Answer::Cannot)) }
            }
            // A lock-out that cannot be done is never gone round.
            Wants::Power { step, .. } if step.routine == Routine::LockOut => power(step, Heard::No, sure),
            Wants::Power { towards: Towards::Fact { .. }, .. } => {
                Understood::Reply(Reply::Answer(Answer::Cannot))
            }
            Wants::Power { step, .. } => power(step, Heard::No, sure),
            Wants::Conflict { .. } => {
                not("type correct, and the reading that cannot be told, as in: correct call voltage cannot")
            }
            Wants::Consent { .. } => not("type now to do it, or later to leave it for another visit"),
            Wants::Deed { .. } => Understood::Reply(Reply::Deed(DeedResult::NotPossible)),
        },
    }
}

fn told(desk: Desk<'_>, text: &str, reply: fn(FactId, Answer) -> Reply) -> Understood {
    match named::told_on_purpose(desk, text) {
        Ok((fact, answer)) => Understood::Reply(reply(fact, answer)),
        Err(_) if text.is_empty() => {
            not("type tell, the fact and what it is, as in: tell breaker position on")
        }
        Err(why) => Understood::Not(why.why()),
    }
}

/// `correct`: by the number of the list shown last, or by name.
fn correct(desk: Desk<'_>, text: &str) -> Understood {
    let (first, value) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let Ok(number) = first.trim_end_matches([':', '.', '=']).parse::<usize>() else {
        return told(desk, text, Reply::Correct);
    };
    match number.checked_sub(1).and_then(|index| desk.listed.get(index)) {
        Some(fact) => match named::numbered(desk, *fact, value.trim()) {
            Ok((fact, answer)) => Understood::Reply(Reply::Correct(fact, answer)),
            Err(why) => Understood::Not(why.why()),
        },
        None if desk.listed.is_empty() => not("type so far first: the numbers stand there"),
        None => Understood::Not(format!("the list shown last ends at {}", desk.listed.len())),
    }
}
