//! Typed lines, until one of them is a reply.

use super::clock::Clock;
use super::desk::Desk;
use super::hint::Typing;
use super::lines::{Heard, LONGEST, Shows};
use super::screen::Label;
use super::understand::{Page, Place, Understood, dangers, understand};
use super::{Stopped, Talk, Voice, ahead, answer, ask, explain, note, so_far};
use engine::call::{Call, Prompt, Reply};
use engine::rulebook::{Answer, Value};
use std::io;

impl Talk<'_> {
    /// Lines at a prompt, until one of them is a reply.
    pub(super) fn typed_reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Stopped> {
        let mut sure = false;
        loop {
            let at = self.at();
            let line = self.line(&ask::typing(self.desk(call), prompt))?;
            let place = Place::Prompt { prompt, at, sure };
            sure = false;
            match understand(self.desk(call), place, &line) {
                Understood::Sure(what) => {
                    sure = true;
                    self.screen.row(Label::SURE, what)?;
                }
                Understood::NextStep => self.next_step(call, prompt)?,
                Understood::WhichDanger => match self.which_danger(call)? {
                    Some(reply) => return Ok(reply),
                    None => self.show(call, prompt)?,
                },
                other => {
                    if let Some(reply) = self.hear(call, Some(prompt), other)? {
                        return Ok(reply);
                    }
                }
            }
        }
    }

    /// Lines at the end of a call; `None` where the end stands.
    pub(super) fn typed(&mut self, call: &Call, place: Place<'_>) -> Result<Option<Reply>, Stopped> {
        loop {
            let line = self.line(&Typing::default())?;
            match understand(self.desk(call), place, &line) {
                Understood::Close => return Ok(None),
                Understood::WhichDanger => {
                    if let Some(reply) = self.which_danger(call)? {
                        return Ok(Some(reply));
                    }
                }
                other => {
                    if let Some(reply) = self.hear(call, None, other)? {
                        return Ok(Some(reply));
                    }
                }
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
            Understood::Sure(_) | Understood::NextStep | Understood::WhichDanger | Understood::Close => {}
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

    /// Asks which danger; `None` where it was none after all.
    fn which_danger(&mut self, call: &Call) -> Result<Option<Reply>, Stopped> {
        let (id, _) = call.book().roles().danger;
        let danger = call.book().fact(id);
        self.screen.gap()?;
        self.screen.row(Label::SAY, "Which danger is it?")?;
        ask::choices(&mut self.screen, danger)?;
        self.screen.row(Label::TYPE, "a number or a word; several with commas")?;
        let words: Vec<String> = danger.choices().iter().map(|choice| answer::word(&choice.id)).collect();
        loop {
            let line = self.line(&Typing { answers: words.clone(), ..Typing::default() })?;
            let line = line.trim();
            if line == "back" {
                return Ok(None);
            }
            match answer::parse(danger, line, answer::Numbers::Shown, self.units) {
                Ok(Answer::Cannot) => return Ok(Some(Reply::Tell(id, Answer::Cannot))),
                Ok(Answer::Value(Value::Choices(set))) => return Ok(dangers(call, set).map(Reply::Danger)),
                Ok(Answer::Value(Value::Quantity(_))) => {}
                Err(why) => self.screen.row(Label::AGAIN, &format!("{why}; or back"))?,
            }
        }
    }

    /// The next line that was typed.
    fn line(&mut self, typing: &Typing) -> Result<String, Stopped> {
        let prompt = self.screen.prompt();
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
            match heard {
                Heard::Line(line) => return Ok(line),
                Heard::Ended => return Err(Stopped::Ended),
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
}
