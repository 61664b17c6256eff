//! Danger, however it is said.

use crate::talk::answer::{self, Numbers};
use crate::talk::desk::Desk;
use crate::talk::{alarm, spoken};
use engine::call::{Call, Reply};
use engine::rulebook::{Answer, ChoiceSet, Value};

/// The danger that is named; nothing where none is, or where it is not understood.
pub(crate) fn danger(desk: Desk<'_>, text: &str) -> Option<Reply> {
    let (id, _) = desk.book().roles().danger;
    match answer::parse(desk.book().fact(id), text, Numbers::NotShown, desk.units) {
        Ok(Answer::Cannot) => Some(Reply::Tell(id, Answer::Cannot)),
        Ok(Answer::Value(Value::Choices(set))) => dangers(desk.call, set).map(Reply::Danger),
        Ok(Answer::Value(Value::Quantity(_))) => None,
        Err(_) => dangers(desk.call, alarm::heard(desk.book(), text).dangers).map(Reply::Danger),
    }
}

/// What of these choices is danger: `none` beside a danger does not count.
pub(crate) fn dangers(call: &Call, set: ChoiceSet) -> Option<ChoiceSet> {
    let (_, safe) = call.book().roles().danger;
    Some(set.without(safe)).filter(|set| !set.is_empty())
}

/// What is said where it was asked which danger it is: a danger, `None` where it is none, or why it is neither.
///
/// A yes takes what was guessed from a line; where that says not which, it counts as a danger that cannot be told.
pub(crate) fn in_the_menu(
    desk: Desk<'_>,
    line: &str,
    guessed: Option<ChoiceSet>,
) -> Result<Option<Reply>, String> {
    let (id, safe) = desk.book().roles().danger;
    let line = line.trim();
    let text = line.strip_prefix("danger").unwrap_or(line).trim_start_matches([':', ',', ' ']);
    let yes = if text.is_empty() && guessed.is_some() { Some(true) } else { spoken::yes_or_no(text) };
    match (yes, guessed) {
        (Some(false), _) => return Ok(None),
        (Some(true), Some(guessed)) if !line.is_empty() => {
            return Ok(Some(match dangers(desk.call, guessed) {
                Some(set) => Reply::Danger(set),
                None => Reply::Tell(id, Answer::Cannot),
            }));
        }
        _ => {}
    }
    let alarm = alarm::heard(desk.book(), text);
    match answer::parse(desk.book().fact(id), text, Numbers::Shown, desk.units) {
        Ok(Answer::Value(Value::Choices(set))) if set.within(safe) => Ok(None),
        Ok(Answer::Value(Value::Choices(set))) => Ok(dangers(desk.call, set).map(Reply::Danger)),
        // Another danger, told in place of a yes, takes nothing back of the first.
        _ if alarm.is_said && !alarm.dangers.is_empty() => {
            let first = guessed.filter(|_| !alarm.is_denied && !begins_with_no(text)).unwrap_or_default();
            Ok(Some(Reply::Danger(alarm.dangers.with(first))))
        }
        Ok(Answer::Cannot) if !alarm.is_denied => Ok(Some(Reply::Tell(id, Answer::Cannot))),
        Ok(_) => Err(super::answers::NOT_THAT.to_owned()),
        Err(why) => Err(why),
    }
}

fn begins_with_no(text: &str) -> bool {
    text.split(|sign: char| !sign.is_alphanumeric()).next().and_then(spoken::yes_or_no) == Some(false)
}
