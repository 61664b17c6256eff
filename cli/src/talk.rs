//! A call as a conversation in plain lines: what is asked, what was understood, how it ended.
//!
//! One [`Talk`] shows everything, whoever answers: a person typing lines, a recorded case, or a call made already.

mod account;
mod ahead;
mod alarm;
mod answer;
mod aside;
mod ask;
mod between;
mod came_back;
mod clock;
mod closing;
mod complete;
mod desk;
mod done_since;
mod ending;
mod explain;
mod hint;
// The fuzz target that types brings its own lines.
pub(crate) mod lines;
mod named;
mod note;
mod off_since;
mod other_call;
mod passed;
mod pasted;
mod power;
mod said;
mod screen;
mod seen_to;
mod so_far;
mod spoken;
mod tell_event;
mod typed;
mod understand;
mod units;
mod unrecorded;
mod voice;

pub(crate) use account::{Account, note_of};
pub(crate) use complete::Words;
pub(crate) use lines::{columns, of_this_terminal};
pub(crate) use note::danger_told;
pub(crate) use other_call::OtherCall;
pub(crate) use power::{in_short, puts_on, work_left};
pub(crate) use screen::{Layout, wrapped};
pub(crate) use units::Units;
pub(crate) use voice::Voice;

use clock::Clock;
use desk::Seat;
use engine::call::{
    Answerer, Call, DeedResult, Ended, Event, Halt, Outcome, PowerStep, Prompt, Refusal, Reply, StepResult,
    Wants,
};
use engine::rulebook::{ChoiceSet, FactId, PowerNeed, Signal};
use off_since::LastLive;
use power::Status;
use screen::{Label, Screen};
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::time::{Duration, Instant};

/// Why no more answers can be had.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Stopped {
    /// Nobody types any more.
    #[error("the input ended")]
    Ended,
    /// The screen or the keyboard is gone.
    #[error("cannot talk: {0}")]
    Broken(#[from] io::Error),
    /// A case ran out.
    #[error(transparent)]
    Halted(#[from] Halt),
}

/// How a conversation closed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Closed {
    /// The call came to an ending.
    AtAnEnding,
    /// It is left open.
    Open,
}

/// A conversation.
pub(crate) struct Talk<'t> {
    screen: Screen<'t>,
    voice: Voice<'t>,
    seat: Seat,
    /// What can be done with a call that is kept once it is over, as a sentence.
    again: Option<String>,
    /// Runs while the other end needs time.
    clock: Option<Clock>,
    status: Option<Status>,
    /// What was worked out and shown.
    worked: BTreeMap<FactId, String>,
    /// How many repairs the call had gone on after when something was last asked.
    repairs: usize,
    /// Dangers that a note spoke of, to be asked about next.
    alarm: Option<ChoiceSet>,
    /// The remark of a danger that was told and taken back, until it is on the record.
    denied: Option<String>,
    /// What was warned of last.
    warned: Option<ask::Warned>,
    /// The prompt on the screen; of a deed, also the step it has come to.
    asked: Option<(Prompt, usize)>,
    /// Since when that is on the screen.
    step_since: Instant,
    /// Whether it was asked about the time that the step takes.
    hurried: bool,
    /// The end, while it is on the screen.
    ended: Option<Ended>,
    stopped: Option<Stopped>,
    /// What the test for dead under way, or just behind, was said to have come to, if not to dead.
    not_dead: Option<NotDead>,
    /// A reply that goes in behind the remark that comes with it.
    behind: Option<Reply>,
    /// The wait under way, since it was first asked for.
    wait: Option<(PowerStep, Instant)>,
    /// When the unit was last live in this call, as far as it is known.
    last_live: Option<LastLive>,
}

/// How a test for dead came out, if not dead.
#[derive(Clone, PartialEq, Eq, Debug)]
enum NotDead {
    /// It read live: what it read, if a number was said.
    Live(Option<String>),
    /// It read live, and that goes on the record now: what it means stands on the screen.
    Recording,
    /// It read live, and that is on the record.
    Recorded,
    /// It could not be done.
    NotDone,
}

impl<'t> Talk<'t> {
    pub(crate) fn new(out: Box<dyn Write + 't>, voice: Voice<'t>, units: Units, layout: Layout) -> Self {
        let mut talk = Self {
            screen: Screen::new(out, layout),
            voice,
            seat: Seat { units, listed: Vec::new(), kept: "It is not kept.".to_owned(), unrecorded: None },
            again: None,
            clock: None,
            status: None,
            worked: BTreeMap::new(),
            repairs: 0,
            alarm: None,
            denied: None,
            warned: None,
            asked: None,
            step_since: Instant::now(),
            hurried: false,
            ended: None,
            stopped: None,
            not_dead: None,
            behind: None,
            wait: None,
            last_live: None,
        };
        talk.screen.fit(talk.voice.columns());
        talk
    }

    /// How a call that is kept is gone on with, and what can be done with it once it is over, as sentences.
    pub(crate) fn keep(&mut self, how: String, again: String) {
        self.seat.kept = how;
        self.again = Some(again);
    }

    /// How long ago the record has the unit live last: nothing was off for longer than that.
    pub(crate) const fn power_was_on(&mut self, known: Instant, before: Duration) {
        self.last_live = Some(LastLive::recorded(known, before));
    }

    /// The first lines of a call.
    pub(crate) fn greet(&mut self, title: &str) -> io::Result<()> {
        self.screen.row(Label::quiet("CALL"), title)?;
        self.screen.row(
            Label::NONE,
            "Read SAY and every warning aloud; the rest is for you. Type help for the words, danger at any time.",
        )
    }

    /// What stands already in a call that does not begin from nothing.
    pub(crate) fn recall(&mut self, call: &Call, warnings: &[String], what: &[String]) -> io::Result<()> {
        for warning in warnings {
            self.screen.row(Label::signal(Signal::Warning), warning)?;
        }
        for line in what {
            self.screen.row(Label::NONE, line)?;
        }
        self.screen.gap()?;
        self.seat.listed = so_far::listing(call);
        let desk = self.seat.desk(call);
        so_far::read(&mut self.screen, desk)?;
        so_far::done(&mut self.screen, call)?;
        self.screen.list(Label::quiet("NOTES"), call.notes())
    }

    /// What is told of a call once it is over, each row with the word beside it.
    pub(crate) fn tell_behind(&mut self, rows: &[(&'static str, String)]) -> io::Result<()> {
        self.screen.gap()?;
        rows.iter().try_for_each(|(word, text)| self.screen.row(Label::quiet(word), text))
    }

    /// How the conversation closed, once the call was led as far as it went.
    ///
    /// # Errors
    /// A broken screen or keyboard, or a case that ran out.
    pub(crate) fn closed(self, ended: Result<Ended, Halt>) -> Result<Closed, Stopped> {
        match (ended, self.stopped) {
            (_, Some(broken @ Stopped::Broken(_))) => Err(broken),
            (Ok(ended), _) if ended.last.outcome == Outcome::Left => Ok(Closed::Open),
            (Ok(_), _) => Ok(Closed::AtAnEnding),
            (Err(_), Some(Stopped::Ended)) => Ok(Closed::Open),
            (Err(halt), _) => Err(Stopped::Halted(halt)),
        }
    }

    /// Keeps why it stopped, and tells the engine that it did.
    fn stop(&mut self, stopped: Stopped) -> Halt {
        let halt = Halt(stopped.to_string());
        self.stopped = Some(stopped);
        halt
    }

    fn ask(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Stopped> {
        if let Some(reply) = self.behind.take() {
            return Ok(reply);
        }
        self.ended = None;
        self.comes_to(call, prompt);
        self.live_when_asked(call, prompt);
        if let Some(dangers) = self.alarm.take()
            && let Some(reply) = self.which_danger(call, Some(dangers))?
        {
            return Ok(reply);
        }
        if let Some(remark) = self.denied.take() {
            return Ok(Reply::Note(remark));
        }
        // What is said of a live reading is not pushed off by the step that it was read at.
        if self.not_dead == Some(NotDead::Recording) {
            self.not_dead = Some(NotDead::Recorded);
        } else {
            self.screen.gap()?;
            self.tell_proof(call)?;
            self.tell_worked(call)?;
            self.tell_status(call, prompt)?;
            self.show(call, prompt)?;
        }
        if self.voice.is_typed() { self.typed_reply(call, prompt) } else { self.played_reply(call, prompt) }
    }

    fn show(&mut self, call: &Call, prompt: &Prompt) -> io::Result<()> {
        let at = self.at();
        let until = self.until(call, prompt);
        let desk = self.seat.desk(call);
        let warned = self.warned.replace(ask::Warned::by(prompt)) == Some(ask::Warned::by(prompt));
        ask::show(&mut self.screen, desk, prompt, &ask::Shown { at, warned, until })
    }

    /// The step that a deed has come to.
    fn at(&self) -> usize {
        self.asked.as_ref().map_or(0, |(_, at)| *at)
    }

    /// What is on the screen begins anew with another prompt, or with another step of a deed.
    fn comes_to(&mut self, call: &Call, prompt: &Prompt) {
        let at = match prompt.wants() {
            Wants::Deed { ending, deed } => call.steps_done(*ending, *deed),
            _ => 0,
        };
        let now = Some((prompt.clone(), at));
        if self.asked != now {
            self.asked = now;
            self.step_begins();
        }
    }

    fn step_begins(&mut self) {
        self.step_since = Instant::now();
        self.hurried = false;
    }

    /// The next step of a deed that is played, which tells the call of the whole only.
    fn next_step(&mut self, call: &Call, prompt: &Prompt) -> io::Result<()> {
        if let Some((_, at)) = &mut self.asked {
            *at += 1;
        }
        self.screen.gap()?;
        self.tell_status(call, prompt)?;
        self.show(call, prompt)
    }

    /// How a proof came out is said before the call goes on.
    fn tell_proof(&mut self, call: &Call) -> io::Result<()> {
        let repairs = call.repairs_before();
        let before = std::mem::replace(&mut self.repairs, repairs.len());
        match repairs.last().filter(|_| repairs.len() > before) {
            Some(reached) => {
                let name = &call.book().ending(reached.ending).name;
                let text = if reached.outcome == Outcome::Proved {
                    format!("Mended and proved: {name}. The check goes on.")
                } else {
                    let found = answer::what_disproved(call, self.seat.units);
                    let found = found.map_or(String::new(), |found| format!(" Its proof failed, {found}."));
                    format!("It is not mended yet, after: {name}.{found} The search starts again.")
                };
                self.screen.row(Label::loud("RESULT"), &text)
            }
            None => Ok(()),
        }
    }

    /// What the answers so far come to, each once for the readings that it stands on.
    fn tell_worked(&mut self, call: &Call) -> io::Result<()> {
        for (fact, arithmetic) in call.worked_out() {
            if self.worked.get(&fact) != Some(&arithmetic) {
                let name = &call.book().fact(fact).name;
                self.screen.row(Label::quiet("WORKED"), &format!("{name}: {arithmetic}"))?;
                self.worked.insert(fact, arithmetic);
            }
        }
        Ok(())
    }

    /// Power and panel, whenever they have changed, and always beside a unit that is live and open; never ahead of
    /// the question of danger.
    fn tell_status(&mut self, call: &Call, prompt: &Prompt) -> io::Result<()> {
        let danger = call.book().roles().danger.0;
        if matches!(prompt.wants(), Wants::Fact { fact, .. } if *fact == danger) {
            return Ok(());
        }
        let status = Status::of(call);
        let beside = power::is_live_and_open(call.power())
            && match prompt.wants() {
                Wants::Fact { fact, .. } => call.book().fact(*fact).power == PowerNeed::Any,
                Wants::Consent { .. } | Wants::Deed { .. } => true,
                Wants::Power { .. } | Wants::Conflict { .. } => false,
            };
        if beside || self.status.as_ref() != Some(&status) {
            status.show(&mut self.screen, self.status.as_ref())?;
            self.status = Some(status);
        }
        Ok(())
    }

    /// Shows what a person would have typed.
    fn played_reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Stopped> {
        let reply = self.voice.reply(call, prompt)?;
        if let (Wants::Deed { deed, .. }, Reply::Deed(DeedResult::Done)) = (prompt.wants(), &reply) {
            while !ask::is_last_step(call.book(), *deed, self.at()) {
                self.screen.show_prompt()?;
                self.screen.echo("done")?;
                self.next_step(call, prompt)?;
            }
        }
        let typed = voice::as_typed(call, prompt, &reply);
        if let (Wants::Power { step, .. }, Reply::Step(StepResult::Failed)) = (prompt.wants(), &reply)
            && let Some(what) = understand::grave(step)
        {
            self.screen.show_prompt()?;
            self.screen.echo(&typed)?;
            if understand::is_test(step) {
                self.screen.row(Label::SAY, understand::HANDS_OUT)?;
            }
            self.screen.row(Label::SURE, what)?;
        }
        self.screen.show_prompt()?;
        self.screen.echo(&typed)?;
        Ok(reply)
    }
}

impl Answerer for Talk<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        let reply = match self.ask(call, prompt) {
            Err(Stopped::Ended) => self.left_open(call).map_err(Stopped::from).and(Err(Stopped::Ended)),
            other => other,
        };
        reply.map_err(|stopped| self.stop(stopped))
    }

    fn refused(&mut self, refusal: Refusal) {
        if let Voice::Played(player) = &mut self.voice {
            player.refused(refusal);
        }
        // A screen that is gone is found out at the next question.
        if let Err(error) = self.screen.row(Label::AGAIN, &refusal.to_string()) {
            tracing::debug!(%error, "a refusal could not be shown");
        }
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        tracing::debug!(id = call.next_event().index(), ?event, "event");
        if let Voice::Played(player) = &mut self.voice {
            player.happens(call, event)?;
        }
        self.live_by(call, event);
        tell_event::show(&mut self.screen, call, self.seat.units, event)
            .map_err(|error| self.stop(error.into()))
    }

    fn ended(&mut self, call: &Call, ended: &Ended) -> Result<Option<Reply>, Halt> {
        self.end(call, ended).map_err(|stopped| self.stop(stopped))
    }
}
