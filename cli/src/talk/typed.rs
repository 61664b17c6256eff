//! Typed lines, until one of them is a reply.

use super::clock::{self, Clock};
use super::desk::Desk;
use super::hint::Typing;
use super::lines::{Heard, LONGEST, Shows};
use super::screen::Label;
use super::understand::{Grave, Page, Place, Understood, is_test, understand};
use super::{Stopped, Talk, Voice, ahead, ask, explain, note, power, so_far};
use engine::call::{Call, Prompt, Reply, StepResult, Wants};
use engine::rulebook::{ChoiceSet, Signal};
use std::io;
use std::time::{Duration, Instant};

impl Talk<'_> {
    /// Lines at a prompt, until one of them is a reply.
    pub(super) fn typed_reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Stopped> {
        self.read_live &= matches!(prompt.wants(), Wants::Power { step, .. } if is_test(step));
        let since = Instant::now();
        let mut sure = None;
        loop {
            let at = self.at();
            let line = self.line(call, &ask::typing(self.desk(call), prompt))?;
            let meant = understand(self.desk(call), Place::Prompt { prompt, at, sure }, &line);
            let meant = self.held_back(prompt, meant, since.elapsed(), sure);
            sure = match &meant {
                Understood::Sure(grave, _) => Some(*grave),
                // A page or a wait in between takes nothing back; who waits has not said twice that it is over.
                Understood::Page(_) => sure,
                Understood::Wait(_) => sure.filter(|grave| *grave != Grave::Early),
                _ => None,
            };
            if let Some(reply) = self.meant_at(call, prompt, meant)? {
                return Ok(reply);
            }
        }
    }

    /// A step that is said to be done, and cannot be yet: what read live, and a wait that is not over.
    fn held_back(
        &mut self,
        prompt: &Prompt,
        meant: Understood,
        passed: Duration,
        sure: Option<Grave>,
    ) -> Understood {
        let Wants::Power { step, .. } = prompt.wants() else {
            return meant;
        };
        if let Understood::Alarm(dangers, inner) = meant {
            return Understood::Alarm(dangers, Box::new(self.held_back(prompt, *inner, passed, sure)));
        }
        self.read_live |= is_test(step) && matches!(meant, Understood::Sure(Grave::No, _));
        if meant != Understood::Reply(Reply::Step(StepResult::Done)) {
            return meant;
        }
        if self.read_live {
            let why = "it read live, so no word makes it dead: type back, then lock and test anew; or live, to \
                       end here";
            return Understood::Not(why.to_owned());
        }
        // Lines that are piped in were written beforehand: their clock says nothing.
        let typed = matches!(&self.voice, Voice::Typed(lines) if lines.shows() != Shows::Nothing);
        let wait = step.wait.map(|minutes| Duration::from_secs_f64(minutes.max(0.0) * 60.0));
        match wait.filter(|wait| typed && passed < *wait && sure != Some(Grave::Early)) {
            Some(wait) => Understood::Sure(
                Grave::Early,
                format!(
                    "The wait is {}, and here {} passed. If it was waited out all the same, type done once \
                     more; else wait, then type done",
                    clock::passed(wait),
                    clock::passed(passed),
                ),
            ),
            None => meant,
        }
    }

    /// What is done with a line at a prompt.
    fn meant_at(
        &mut self,
        call: &Call,
        prompt: &Prompt,
        meant: Understood,
    ) -> Result<Option<Reply>, Stopped> {
        match meant {
            Understood::NextStep => self.next_step(call, prompt)?,
            Understood::StepBack => self.step_back(call, prompt)?,
            Understood::WhichDanger => match self.which_danger(call, None)? {
                None => self.show(call, prompt)?,
                found => return Ok(found),
            },
            Understood::CountAgain => match self.count_again(call)? {
                None => self.show(call, prompt)?,
                found => return Ok(found),
            },
            Understood::Alarm(dangers, meant) => return self.alarmed(call, prompt, dangers, *meant),
            other => return self.hear(call, Some(prompt), other),
        }
        Ok(None)
    }

    /// Words of danger are asked about before anything else. A note is kept first: it is asked right behind it.
    fn alarmed(
        &mut self,
        call: &Call,
        prompt: &Prompt,
        dangers: ChoiceSet,
        meant: Understood,
    ) -> Result<Option<Reply>, Stopped> {
        if matches!(meant, Understood::Reply(Reply::Note(_))) {
            self.alarm = Some(dangers);
            return self.hear(call, Some(prompt), meant);
        }
        if let Some(found) = self.which_danger(call, Some(dangers))? {
            return Ok(Some(found));
        }
        // What they were to wait for was the danger that is none.
        let waits = matches!(meant, Understood::Wait(_));
        let reply = if waits { None } else { self.meant_at(call, prompt, meant)? };
        if reply.is_none() {
            self.show(call, prompt)?;
        }
        Ok(reply)
    }

    /// Lines at the end of a call; `None` where the end stands.
    pub(super) fn typed(&mut self, call: &Call) -> Result<Option<Reply>, Stopped> {
        let mut sure = None;
        loop {
            let line = self.line(call, &Typing::default())?;
            let mut meant = understand(self.desk(call), Place::End { sure }, &line);
            if let Understood::Alarm(dangers, inner) = meant {
                if let Some(reply) = self.which_danger(call, Some(dangers))? {
                    return Ok(Some(reply));
                }
                meant = *inner;
            }
            sure = match &meant {
                Understood::Sure(grave, _) => Some(*grave),
                _ => None,
            };
            let reply = match meant {
                Understood::Close => return Ok(None),
                Understood::WhichDanger => self.which_danger(call, None)?,
                other => self.hear(call, None, other)?,
            };
            if reply.is_some() {
                return Ok(reply);
            }
        }
    }

    /// What is done with a line in any place.
    fn hear(
        &mut self,
        call: &Call,
        prompt: Option<&Prompt>,
        heard: Understood,
    ) -> Result<Option<Reply>, Stopped> {
        match heard {
            Understood::Reply(reply) => return Ok(Some(reply)),
            Understood::Page(page) => self.page(call, prompt, page)?,
            Understood::Not(why) => self.screen.row(Label::AGAIN, &why)?,
            Understood::Wait(what) => {
                let clock = self.clock.insert(Clock::start(&what));
                self.screen.row(Label::quiet("WAITING"), &clock.started())?;
            }
            Understood::Sure(_, what) => self.screen.row(Label::SURE, &what)?,
            Understood::NextStep
            | Understood::StepBack
            | Understood::CountAgain
            | Understood::Alarm(..)
            | Understood::WhichDanger
            | Understood::Close => {}
        }
        Ok(None)
    }

    fn page(&mut self, call: &Call, prompt: Option<&Prompt>, page: Page) -> io::Result<()> {
        if page == Page::SoFar {
            self.listed = so_far::listing(call);
        }
        let desk = Desk { call, units: self.units, listed: &self.listed };
        let screen = &mut self.screen;
        match page {
            Page::Why => explain::why(screen, desk, prompt, self.ended.as_ref()),
            Page::How => explain::how(screen, call, prompt),
            Page::SoFar => so_far::show(screen, desk),
            Page::Where => ahead::place(screen, call),
            Page::Plan => ahead::plan(screen, call),
            Page::NoteToSend => note::show(screen, desk, self.ended.as_ref()),
            Page::Help => explain::help(screen),
        }
    }

    /// What the one at the keyboard has before them.
    pub(super) fn desk<'d>(&'d self, call: &'d Call) -> Desk<'d> {
        Desk { call, units: self.units, listed: &self.listed }
    }

    /// The next line that was typed.
    pub(super) fn line(&mut self, call: &Call, typing: &Typing) -> Result<String, Stopped> {
        let prompt = self.screen.prompt();
        let mut once = false;
        loop {
            let Voice::Typed(lines) = &mut self.voice else {
                return Err(Stopped::Ended);
            };
            let shows = lines.shows();
            if shows == Shows::PromptAndLine {
                self.screen.flush()?;
            } else {
                self.screen.show_prompt()?;
            }
            let heard = lines.next(Typing { prompt: prompt.clone(), ..typing.clone() })?;
            // The window may have been made wider or narrower meanwhile.
            self.screen.fit(lines.columns());
            match (&heard, shows) {
                (Heard::Line(line), Shows::Nothing) => self.screen.echo(line)?,
                (Heard::TooLong, Shows::Nothing) | (Heard::Ended, Shows::Nothing | Shows::Line) => {
                    self.screen.line_end()?;
                }
                _ => {}
            }
            if matches!(heard, Heard::Line(_))
                && let Some(clock) = self.clock.take()
            {
                self.screen.row(Label::quiet("CLOCK"), &clock.stopped())?;
            }
            let twice = std::mem::replace(&mut once, heard == Heard::Ended);
            match heard {
                Heard::Line(line) => return Ok(line),
                // A slip of the hand on a terminal ends no call; on a pipe there is nobody to go on.
                Heard::Ended if shows == Shows::Nothing || twice || self.ended.is_some() => {
                    return Err(Stopped::Ended);
                }
                Heard::Ended => self.still_here(call)?,
                Heard::TooLong => self.screen.row(
                    Label::AGAIN,
                    &format!("that line is longer than {LONGEST} characters: nothing of it was taken"),
                )?,
                Heard::Interrupted => self.screen.row(
                    Label::quiet("STILL"),
                    "The call is still here. Type leave to leave it, or go on where you were.",
                )?,
            }
        }
    }
    /// The end of the input on a terminal, said once.
    fn still_here(&mut self, call: &Call) -> io::Result<()> {
        let still = "The call is still here; Ctrl-D once more leaves it open. It is not kept.";
        self.screen.row(Label::quiet("STILL"), still)?;
        if !power::is_live_and_open(call.power()) {
            return Ok(());
        }
        let warning = Label::signal(Signal::Warning);
        self.screen.row(warning, "The unit is live and open. Have its supply switched off first.")
    }
}
