//! `why`, `how` and `help`: pages for the one at the keyboard.

use super::ahead;
use super::ask;
use super::desk::Desk;
use super::power;
use super::said::COMMANDS;
use super::screen::{Label, Screen};
use engine::call::{Call, Ended, Prompt, Purpose, Routine, Stop, Towards, Wants};
use engine::formula::rounded;
use engine::rulebook::{EndingId, FactId};
use std::io;

const WHY: Label = Label::quiet("WHY");
const HOW: Label = Label::quiet("HOW");
const TOOLS: Label = Label::quiet("TOOLS");

/// Why this is at the prompt.
pub(crate) fn why(
    screen: &mut Screen<'_>,
    desk: Desk<'_>,
    prompt: Option<&Prompt>,
    ended: Option<&Ended>,
) -> io::Result<()> {
    let (call, book) = (desk.call, desk.book());
    match prompt.map(Prompt::wants) {
        Some(Wants::Fact { fact, purpose }) => {
            screen.row(WHY, &why_asked(call, *fact, *purpose))?;
            if *purpose == Purpose::Step { ahead::ways(screen, desk) } else { Ok(()) }
        }
        Some(Wants::Power { step, towards }) => screen.row(WHY, &why_routine(call, step.routine, *towards)),
        Some(Wants::Conflict { relation }) => screen.row(WHY, &book.relation(*relation).means),
        Some(Wants::Consent { ending } | Wants::Deed { ending, .. }) => {
            screen.row(WHY, &book.ending(*ending).because)
        }
        None => {
            let because = ended.map(|ended| book.ending(ended.last.ending).because.as_str());
            screen.row(WHY, because.unwrap_or("the call has come to its end"))
        }
    }
}

fn why_asked(call: &Call, fact: FactId, purpose: Purpose) -> String {
    let book = call.book();
    match (purpose, call.walk().stop) {
        (Purpose::Step | Purpose::Unasked, Stop::Need { step, .. }) => book.step(step).because.clone(),
        (Purpose::Second | Purpose::Doubted, _) => why_once_more(call, fact, purpose),
        (Purpose::Proof, _) => {
            let after = call.being_proved().map(|ending| book.ending(ending).name.clone());
            after.map_or_else(
                || "It tells whether the complaint is gone.".to_owned(),
                |name| format!("It proves whether the unit is mended, after: {name}"),
            )
        }
        _ => why_first(call, fact),
    }
}

/// Why a fact that was told already is asked for once more.
pub(crate) fn why_once_more(call: &Call, fact: FactId, purpose: Purpose) -> String {
    match purpose {
        Purpose::Second => match call.measured(fact) {
            Some((_, reach)) => {
                let reach = rounded(reach, 2);
                format!("it lies too close to a limit to tell, give or take {reach}: read it once more")
            }
            None => "it lies too close to a limit to tell: read it once more".to_owned(),
        },
        Purpose::Doubted => {
            let broken = call.broken_relations().map(|id| call.book().relation(id));
            let about = broken
                .into_iter()
                .find(|relation| relation.facts().any(|other| call.book().made_of(other).contains(&fact)));
            about.map_or_else(
                || "it does not go with the other readings: read it once more".to_owned(),
                |relation| {
                    format!("it does not go with the other readings: read it once more. {}", relation.means)
                },
            )
        }
        _ => "what was told before no longer holds".to_owned(),
    }
}

/// Why a routine or a hold-off needs a fact.
fn why_first(call: &Call, fact: FactId) -> String {
    let power = call.book().power();
    let hold_off = power.hold_offs.iter().find(|hold_off| {
        let mut facts = hold_off.when.iter().chain(&hold_off.until);
        facts.any(|(named, _)| *named == fact)
    });
    if fact == power.sources {
        "Every supply of the unit is locked out and tested by itself.".to_owned()
    } else if fact == power.stored_charge {
        "The motor's stored charge has to fall before anybody reaches in.".to_owned()
    } else if fact == power.live_work.0 {
        "It decides whether live parts are read directly, or from outside on leads fitted dead.".to_owned()
    } else if let Some(hold_off) = hold_off {
        hold_off.because.clone()
    } else {
        "It is needed first.".to_owned()
    }
}

fn why_routine(call: &Call, routine: Routine, towards: Towards) -> String {
    let goal = power::goal(call.book(), towards);
    let because = match (towards, call.walk().stop) {
        (Towards::Fact { purpose: Purpose::Step, .. }, Stop::Need { step, .. }) => {
            format!(". {}", call.book().step(step).because)
        }
        _ => String::new(),
    };
    match routine {
        Routine::LockOut => {
            format!("What comes next is only safe on a unit that is proved dead: {goal}{because}")
        }
        Routine::Staging => {
            format!("Nobody reaches into a live unit: it is read from outside, on leads: {goal}{because}")
        }
        Routine::Restore(_) => format!("What comes next needs the unit powered: {goal}{because}"),
        Routine::CloseUp => "The next person trusts the panel and its switch.".to_owned(),
    }
}

/// How it is taken or done.
pub(crate) fn how(screen: &mut Screen<'_>, call: &Call, prompt: Option<&Prompt>) -> io::Result<()> {
    let book = call.book();
    match prompt.map(Prompt::wants) {
        Some(Wants::Fact { fact, .. }) => {
            ask::staged(screen, call, *fact)?;
            screen.cautions(call.cautions_of(*fact))?;
            let fact = book.fact(*fact);
            screen.row(HOW, fact.asking.as_ref().map_or("", |asking| asking.how.as_str()))?;
            tools(screen, &fact.tools)
        }
        Some(Wants::Power { step, .. }) => screen.row(HOW, &book.power().words(step.kind).how),
        Some(Wants::Conflict { .. }) => {
            screen.row(HOW, "each was read anew already; correct the one that was wrong")
        }
        Some(Wants::Consent { ending }) => work(screen, call, *ending),
        Some(Wants::Deed { deed, .. }) => {
            let deed = book.deed(*deed);
            screen.row(HOW, "all the steps of this work:")?;
            screen.numbered(&deed.steps)?;
            tools(screen, &deed.tools)
        }
        None => screen.row(HOW, "nothing is to be done at the prompt any more; Enter closes the call"),
    }
}

fn work(screen: &mut Screen<'_>, call: &Call, ending: EndingId) -> io::Result<()> {
    for deed in &call.book().ending(ending).deeds {
        let deed = call.book().deed(*deed);
        screen.row(HOW, &format!("{}:", deed.name))?;
        screen.numbered(&deed.steps)?;
        tools(screen, &deed.tools)?;
    }
    Ok(())
}

fn tools(screen: &mut Screen<'_>, tools: &[String]) -> io::Result<()> {
    if tools.is_empty() {
        return Ok(());
    }
    screen.row(TOOLS, &tools.join(", "))
}

/// What can be typed.
pub(crate) fn help(screen: &mut Screen<'_>) -> io::Result<()> {
    screen.row(Label::quiet("HELP"), "Beside the answer, at any prompt:")?;
    for (word, means) in COMMANDS {
        screen.row(Label::NONE, &format!("{word}: {means}"))?;
    }
    screen.row(
        Label::NONE,
        "A choice is answered by its number or the start of its word. A value may carry any unit of its kind.",
    )
}
