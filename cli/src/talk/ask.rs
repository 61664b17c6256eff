//! What is at the prompt: what to say, what can be typed, what can hurt.

use super::answer::{shown_back, word};
use super::desk::Desk;
use super::hint::Typing;
use super::power;
use super::screen::{Label, Screen};
use engine::call::{Call, Panel, PowerStep, Prompt, Purpose, Routine, Towards, Wants};
use engine::rulebook::{DeedId, EndingId, Fact, FactId, PowerStepKind, RelationId, Rulebook};
use std::io;

/// What a prompt's cautions are about: shown in full once in a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Warned {
    /// A reading.
    Fact(FactId),
    /// A kind of power step, for whichever supply.
    Step(Routine, PowerStepKind),
    /// Readings that cannot all be true.
    Conflict(RelationId),
    /// A repair.
    Consent(EndingId),
    /// A piece of work.
    Deed(DeedId),
}

impl Warned {
    /// What this prompt warns of.
    pub(crate) const fn by(prompt: &Prompt) -> Self {
        match prompt.wants() {
            Wants::Fact { fact, .. } => Self::Fact(*fact),
            Wants::Power { step, .. } => Self::Step(step.routine, step.kind),
            Wants::Conflict { relation } => Self::Conflict(*relation),
            Wants::Consent { ending } => Self::Consent(*ending),
            Wants::Deed { deed, .. } => Self::Deed(*deed),
        }
    }
}

/// How far a prompt has been shown.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Shown {
    /// Of a deed, the step it has come to, from 0.
    pub(crate) at: usize,
    /// Whether its cautions stand just above.
    pub(crate) warned: bool,
    /// Until when it takes its time, where it does.
    pub(crate) until: Option<String>,
}

/// Shows a prompt; of a deed, only the step it has come to.
pub(crate) fn show(
    screen: &mut Screen<'_>,
    desk: Desk<'_>,
    prompt: &Prompt,
    shown: &Shown,
) -> io::Result<()> {
    let call = desk.call;
    screen.warned(shown.warned);
    match prompt.wants() {
        Wants::Fact { fact, purpose } => fact_asked(screen, call, *fact, *purpose)?,
        Wants::Power { step, towards } => power_step(screen, call, step, *towards)?,
        Wants::Conflict { relation } => conflict(screen, desk, *relation)?,
        Wants::Consent { ending } => consent(screen, call.book(), *ending)?,
        Wants::Deed { ending, deed } => deed_step(screen, call, *ending, *deed, shown.at)?,
    }
    screen.warned(false);
    if let Some(until) = &shown.until {
        screen.row(Label::quiet("CLOCK"), until)?;
    }
    screen.row(Label::TYPE, &what_to_type(desk, prompt, shown.at))
}

/// A reading on leads led out: said with the question, and again with how it is taken.
pub(crate) fn staged(screen: &mut Screen<'_>, call: &Call, id: FactId) -> io::Result<()> {
    let leads = call.power().leads().filter(|leads| leads.facts.contains(&id));
    if leads.is_none() || call.power().panel() != Panel::On || !call.book().fact(id).can_be_led_out() {
        return Ok(());
    }
    let text = "Read it on what is led out and tagged. The panel stays on, and nobody opens it.";
    screen.row(Label::quiet("LEADS"), text)
}

fn fact_asked(screen: &mut Screen<'_>, call: &Call, id: FactId, purpose: Purpose) -> io::Result<()> {
    let book = call.book();
    let fact = book.fact(id);
    if let (Purpose::Proof, Some(ending)) = (purpose, call.being_proved()) {
        screen.row(Label::quiet("PROOF"), &format!("is it mended, after: {}", book.ending(ending).name))?;
    }
    if call.ledger().newest(id).is_some() {
        screen.row(Label::quiet("ANEW"), &super::explain::why_once_more(call, id, purpose))?;
    }
    screen.cautions(call.cautions_of(id))?;
    staged(screen, call, id)?;
    let say = fact.asking.as_ref().map_or(fact.name.as_str(), |asking| asking.say.as_str());
    screen.row(Label::SAY, say)?;
    choices(screen, fact)
}

/// The choices of a fact, numbered, with what they mean.
pub(crate) fn choices(screen: &mut Screen<'_>, fact: &Fact) -> io::Result<()> {
    let choices: Vec<String> =
        fact.choices().iter().map(|choice| format!("{}: {}", word(&choice.id), choice.means)).collect();
    screen.numbered(&choices)
}

fn power_step(screen: &mut Screen<'_>, call: &Call, step: &PowerStep, towards: Towards) -> io::Result<()> {
    power::heading(call, step, towards, screen)?;
    screen.cautions(&call.book().power().words(step.kind).cautions)?;
    screen.row(Label::SAY, &power::order(call.book(), step))?;
    screen.numbered(&call.book().power().words(step.kind).acts)?;
    power::list_readings(call.book(), step, screen)
}

/// Readings that cannot all be true, each of them read anew already.
fn conflict(screen: &mut Screen<'_>, desk: Desk<'_>, relation: RelationId) -> io::Result<()> {
    let (call, book) = (desk.call, desk.book());
    let rule = book.relation(relation);
    screen.row(Label::loud("DOUBT"), &rule.means)?;
    let readings: Vec<String> = rule
        .facts()
        .filter_map(|fact| call.known(fact).map(|answer| shown_back(book.fact(fact), &answer, desk.units)))
        .collect();
    screen.list(Label::NONE, &readings)?;
    screen.row(Label::SAY, "These cannot all be true. Do you stand by every one of them?")
}

fn consent(screen: &mut Screen<'_>, book: &Rulebook, ending: EndingId) -> io::Result<()> {
    let rule = book.ending(ending);
    screen.row(Label::loud("FOUND"), &rule.name)?;
    screen.row(Label::quiet("BECAUSE"), &rule.because)?;
    let minutes: f64 = rule.deeds.iter().map(|deed| book.deed(*deed).minutes).sum();
    let whose = if rule.whose.is_empty() { String::new() } else { format!(", for {}", rule.whose) };
    screen.row(Label::quiet("WORK"), &format!("about {}{whose}", power::many(minutes, "minute")))?;
    screen.list(Label::quiet("PARTS"), &rule.parts)?;
    screen.cautions(&rule.cautions)?;
    let what = if rule.deeds.len() == 1 { "This" } else { "All of this" };
    screen
        .row(Label::SAY, &format!("{what} has to be done: {}. Do it now, or leave it for later?", rule.name))
}

fn deed_step(
    screen: &mut Screen<'_>,
    call: &Call,
    ending: EndingId,
    deed: DeedId,
    at: usize,
) -> io::Result<()> {
    let book = call.book();
    let rule = book.deed(deed);
    let count = rule.steps.len();
    let place = (at + 1).min(count);
    screen.row(Label::quiet("WORK"), &format!("{}, step {place} of {count}", rule.name))?;
    let cut_off = at > 0 && call.is_taken_up_in_work();
    if cut_off {
        let done = if at == 1 { "step 1".to_owned() } else { format!("steps 1 to {at}") };
        let text =
            format!("{done}, before the call was cut off. See that each is still so; if not, type back");
        screen.row(Label::quiet("DONE"), &text)?;
        screen.numbered(&rule.steps[..at.min(count)])?;
    }
    if at == 0 || cut_off {
        if !rule.tools.is_empty() {
            screen.row(Label::quiet("TOOLS"), &rule.tools.join(", "))?;
        }
        screen.cautions(&book.ending(ending).cautions)?;
    }
    let step = rule.steps.get(at).map_or(rule.name.as_str(), String::as_str);
    screen.row(Label::SAY, step)
}

/// Whether a deed has come to its last step.
pub(crate) fn is_last_step(book: &Rulebook, deed: DeedId, at: usize) -> bool {
    at + 1 >= book.deed(deed).steps.len()
}

/// What answers a prompt.
pub(crate) fn what_to_type(desk: Desk<'_>, prompt: &Prompt, at: usize) -> String {
    let book = desk.book();
    match prompt.wants() {
        Wants::Fact { fact, .. } => fact_to_type(desk, book.fact(*fact)),
        Wants::Power { step, towards } => {
            let answers = match step.kind {
                PowerStepKind::FitLeads => leads_to_type(book, step),
                PowerStepKind::TestDead => {
                    "dead, if everything reads dead; live, or the volts, if anything does not".to_owned()
                }
                PowerStepKind::ProveTesterAgain => {
                    "done, if it reads on the live source; not done, if not; live, if the unit was not dead"
                        .to_owned()
                }
                PowerStepKind::WaitOutCharge => {
                    "done, when it is over, or how many minutes it was off; or not done".to_owned()
                }
                PowerStepKind::ResetTrippedDevice => {
                    "done, if it stays on; tripped again, if it opens; or not done".to_owned()
                }
                _ => "done, or not done".to_owned(),
            };
            match towards {
                // Nothing goes round a lock-out: what cannot be done there is not done.
                Towards::Fact { .. } if step.routine != Routine::LockOut => {
                    format!("{answers}; or cannot, to go on without the reading")
                }
                _ => answers,
            }
        }
        Wants::Conflict { .. } => {
            "yes, to stand by them; or correct and the reading that was wrong".to_owned()
        }
        Wants::Consent { ending } if desk.call.is_planned(*ending) => {
            "now, or later; already done, to prove it; or not possible, to look for what is wrong".to_owned()
        }
        Wants::Consent { .. } => "now, or later".to_owned(),
        Wants::Deed { deed, .. } if is_last_step(book, *deed, at) => {
            "done, when all of it is done; or not possible".to_owned()
        }
        Wants::Deed { .. } => "Enter or done, for the next step; or not possible".to_owned(),
    }
}

fn fact_to_type(desk: Desk<'_>, fact: &Fact) -> String {
    match desk.units.expected(fact) {
        None if fact.allows_several() => "a number or a word; several with commas".to_owned(),
        None => "a number or a word; or cannot".to_owned(),
        Some(expected) => {
            let spoken = expected.unit().spoken();
            let number = if spoken.is_empty() {
                "a whole number".to_owned()
            } else {
                format!("a number, in {spoken}")
            };
            let likely =
                expected.range().map_or(String::new(), |(low, high)| format!(", likely {low} to {high}"));
            let over = if expected.over_range() { "; OL for over range" } else { "" };
            format!("{number}{likely}{over}; or cannot")
        }
    }
}

fn leads_to_type(book: &Rulebook, step: &PowerStep) -> String {
    match step.leads.as_ref().map(|leads| &leads.facts[..]) {
        Some([first, _, ..]) => {
            format!("done, for all; only this one, for the {}; or none", book.fact(*first).name)
        }
        _ => "done, or none".to_owned(),
    }
}

/// What a line at this prompt is typed for: words to complete, and what a number would mean.
pub(crate) fn typing(desk: Desk<'_>, prompt: &Prompt) -> Typing {
    let expected = match prompt.wants() {
        Wants::Fact { fact, .. } => desk.units.expected(desk.book().fact(*fact)),
        _ => None,
    };
    Typing { answers: words(desk.book(), prompt), expected, ..Typing::default() }
}

fn words(book: &Rulebook, prompt: &Prompt) -> Vec<String> {
    let words: &[&str] = match prompt.wants() {
        Wants::Fact { fact, .. } => {
            return book.fact(*fact).choices().iter().map(|choice| word(&choice.id)).collect();
        }
        Wants::Power { step, .. } if step.kind == PowerStepKind::FitLeads => {
            &["done", "only this one", "none"]
        }
        Wants::Power { step, .. } if step.kind == PowerStepKind::TestDead => &["dead", "live"],
        Wants::Power { step, .. } if step.kind == PowerStepKind::ProveTesterAgain => {
            &["done", "not done", "live"]
        }
        Wants::Power { step, .. } if step.kind == PowerStepKind::ResetTrippedDevice => {
            &["done", "tripped again", "not done"]
        }
        Wants::Power { .. } => &["done", "not done"],
        Wants::Conflict { .. } => &["yes", "correct"],
        Wants::Consent { .. } => &["now", "later", "already done"],
        Wants::Deed { .. } => &["done", "not possible"],
    };
    words.iter().map(|word| (*word).to_owned()).collect()
}
