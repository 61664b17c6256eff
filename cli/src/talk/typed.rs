//! Typed lines, until one of them is a reply.

use super::clock::{self, Clock};
use super::desk::Desk;
use super::hint::Typing;
use super::lines::{Heard, LONGEST, Shows};
use super::note::READ_LIVE;
use super::passed::Passed;
use super::screen::Label;
use super::understand::{
    AS_TOLD, Grave, HANDS_OUT, Page, Place, Understood, WAIT_TAKEN_BACK, is_behind_a_test, is_test,
    understand,
};
use super::{NotDead, Stopped, Talk, Voice, ahead, ask, explain, note, power, so_far};
use engine::call::{Call, DeedResult, PowerStep, Prompt, Reply, StepResult, Wants};
use engine::rulebook::{Answer, ChoiceSet, Signal};
use std::io;
use std::time::{Duration, Instant};

impl Talk<'_> {
    /// Lines at a prompt, until one of them is a reply.
    pub(super) fn typed_reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Stopped> {
        self.begin(prompt);
        let mut sure = self.not_dead.as_ref().map(|_| Grave::Live);
        loop {
            let at = self.at();
            let line = self.line(call, &ask::typing(self.desk(call), prompt))?;
            let meant = understand(self.desk(call), Place::Prompt { prompt, at, sure }, &line);
            let meant = match (meant, prompt.wants()) {
                (Understood::Stray(read), Wants::Power { step, .. }) => self.under_load(call, step, &read)?,
                (meant, _) => meant,
            };
            let meant = self.held_back(call, prompt, meant);
            sure = match &meant {
                Understood::Sure(grave, _) => Some(*grave),
                Understood::Near(set, _) => Some(Grave::Meant(*set)),
                // A page or a wait in between takes nothing back.
                Understood::Page(_) | Understood::Wait(_) => sure,
                _ => None,
            };
            // What read live stays so, whatever is typed in between.
            sure = sure.or_else(|| self.not_dead.as_ref().map(|_| Grave::Live));
            if let Some(reply) = self.meant_at(call, prompt, meant)? {
                return Ok(self.behind_the_remark(reply));
            }
            if let Some(remark) = self.read_live().or_else(|| self.denied.take().map(Reply::Note)) {
                return Ok(remark);
            }
        }
    }

    /// What is kept of a power step begins anew with another one.
    fn begin(&mut self, prompt: &Prompt) {
        let step = match prompt.wants() {
            Wants::Power { step, .. } => Some(step),
            _ => None,
        };
        if !step.is_some_and(|step| is_test(step) || is_behind_a_test(step)) {
            self.not_dead = None;
        }
        if self.wait.as_ref().map(|(step, _)| step) != step {
            self.wait = step.map(|step| (step.clone(), Instant::now()));
        }
    }

    /// A test for dead that read live goes on the record at once, with what it read: whatever is said or cut off next.
    fn read_live(&mut self) -> Option<Reply> {
        let Some(NotDead::Live(read)) = &self.not_dead else { return None };
        let note = format!("{READ_LIVE}{}", read.as_deref().unwrap_or("live"));
        self.not_dead = Some(NotDead::Recording);
        Some(Reply::Note(note))
    }

    /// The remark of a danger that was taken back goes on the record before what is said next; a danger waits for nothing.
    fn behind_the_remark(&mut self, reply: Reply) -> Reply {
        if self.behind.is_some() || matches!(reply, Reply::Danger(_)) {
            return reply;
        }
        match self.denied.take() {
            Some(remark) => {
                self.behind = Some(reply);
                Reply::Note(remark)
            }
            None => reply,
        }
    }

    /// A step that is said to be done, and cannot be yet: what read live, and a wait that is not over.
    fn held_back(&mut self, call: &Call, prompt: &Prompt, meant: Understood) -> Understood {
        let step = match prompt.wants() {
            Wants::Power { step, .. } => step,
            Wants::Deed { .. } => return self.hurries(call, prompt, meant),
            _ => return meant,
        };
        match meant {
            Understood::Alarm(dangers, inner) => {
                Understood::Alarm(dangers, Box::new(self.held_back(call, prompt, *inner)))
            }
            Understood::Live(read, what) => {
                self.not_dead = Some(NotDead::Live(read.clone()));
                Understood::Live(read, what)
            }
            Understood::Sure(Grave::No, what) if is_test(step) || is_behind_a_test(step) => {
                self.not_dead.get_or_insert(NotDead::NotDone);
                Understood::Sure(Grave::No, what)
            }
            Understood::Reply(Reply::Step(StepResult::Done)) if self.not_dead == Some(NotDead::NotDone) => {
                Understood::Not(
                    "it was not tested with a tester that works, so no word makes it dead: type back, then lock and \
                     test anew; or not done, to end here"
                        .to_owned(),
                )
            }
            Understood::Reply(Reply::Step(StepResult::Done)) if self.not_dead.is_some() => Understood::Not(
                "it read live, so no word makes it dead: type back, then lock and test anew; or live, to end here"
                    .to_owned(),
            ),
            Understood::Reply(Reply::Step(StepResult::Done)) => match self.too_early(step) {
                Some(why) => Understood::Not(why),
                None => meant,
            },
            Understood::Waited(told) => {
                let wait = clock::wait(step).unwrap_or_default();
                if told < wait {
                    return Understood::Not(clock::not_over(wait, told));
                }
                self.cannot_be(told, wait).map_or(meant, Understood::Not)
            }
            other => other,
        }
    }

    /// A step of a piece of work that takes its time, said to be done sooner: it is asked about once.
    fn hurries(&mut self, call: &Call, prompt: &Prompt, meant: Understood) -> Understood {
        let Wants::Deed { deed, .. } = prompt.wants() else { return meant };
        if !matches!(meant, Understood::NextStep | Understood::Reply(Reply::Deed(DeedResult::Done))) {
            return meant;
        }
        let wait = call.book().deed(*deed).wait(self.at()).and_then(clock::minutes);
        let passed = self.step_since.elapsed();
        match wait.filter(|wait| passed < *wait && self.has_a_clock() && !self.hurried) {
            Some(wait) => {
                self.hurried = true;
                Understood::Not(clock::too_soon(wait, passed))
            }
            None => meant,
        }
    }

    /// Whether somebody types. Lines that are piped in were written beforehand: their clock says nothing.
    pub(super) fn has_a_clock(&self) -> bool {
        matches!(&self.voice, Voice::Typed(lines) if lines.shows() != Shows::Nothing)
    }

    /// How long the step on the screen has stood there.
    pub(super) fn waited(&self) -> Duration {
        self.wait.as_ref().map_or(Duration::ZERO, |(_, since)| since.elapsed())
    }

    /// Why a wait is not over yet.
    fn too_early(&self, step: &PowerStep) -> Option<String> {
        let wait = clock::wait(step).filter(|_| self.has_a_clock())?;
        let passed = self.waited();
        (passed < wait).then(|| clock::not_over(wait, passed))
    }

    /// What is done with a line at a prompt.
    fn meant_at(
        &mut self,
        call: &Call,
        prompt: &Prompt,
        meant: Understood,
    ) -> Result<Option<Reply>, Stopped> {
        match meant {
            Understood::NextStep => return Ok(Some(Reply::Worked(self.at() + 1))),
            Understood::StepBack => return Ok(Some(Reply::Worked(self.at().saturating_sub(1)))),
            Understood::WhichDanger => return self.which_danger(call, None),
            Understood::CountAgain => match self.count_again(call)? {
                None => self.show(call, prompt)?,
                found => return Ok(found),
            },
            Understood::Alarm(dangers, meant) => return self.alarmed(call, prompt, dangers, *meant),
            // Long enough, or it would not have come this far: the word for it goes on the record.
            Understood::Waited(told) => match self.off_since(call, told)? {
                (Passed::Yes, counts) => {
                    self.behind = Some(Reply::Step(StepResult::Done));
                    return Ok(Some(Reply::Note(format!("waited {}{AS_TOLD}", clock::passed(counts)))));
                }
                (Passed::No, _) => self.show(call, prompt)?,
                (Passed::Danger(danger), _) => return Ok(Some(danger)),
            },
            Understood::FellToNothing(read) => {
                self.behind = Some(Reply::Step(StepResult::Done));
                return Ok(Some(Reply::Note(format!(
                    "the test for dead read {read}, and nothing on the low-impedance range or under load"
                ))));
            }
            Understood::WaitAnew(told) => {
                self.screen.row(
                    Label::NONE,
                    "The lock-out begins anew, and its wait with it; whoever opened the panel stays out of it.",
                )?;
                // The supplies counted anew begin it again.
                let sources = call.book().power().sources;
                let count = call.known(sources).unwrap_or(Answer::Cannot);
                self.behind = Some(Reply::Correct(sources, count));
                return Ok(Some(Reply::Note(format!("{WAIT_TAKEN_BACK}{told}"))));
            }
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
        if waits { Ok(None) } else { self.meant_at(call, prompt, meant) }
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
            let reply = reply.or_else(|| self.denied.take().map(Reply::Note));
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
            Understood::Reply(Reply::Answer(answer))
                if let Some(prompt) = prompt
                    && let Some(wait) = self.still_takes(call, prompt, &answer) =>
            {
                match self.has_passed(call, wait)? {
                    Passed::Yes => return Ok(Some(Reply::Answer(answer))),
                    Passed::No => self.show(call, prompt)?,
                    Passed::Danger(danger) => return Ok(Some(danger)),
                }
            }
            Understood::Reply(reply) => return Ok(Some(reply)),
            Understood::Page(page) => self.page(call, prompt, page)?,
            Understood::Not(why) | Understood::Near(_, why) => self.screen.row(Label::AGAIN, &why)?,
            Understood::Wait(what) => {
                let clock = self.clock.insert(Clock::start(&what));
                self.screen.row(Label::quiet("WAITING"), &clock.started())?;
            }
            Understood::Sure(grave, what) => {
                let tested =
                    |prompt: &Prompt| matches!(prompt.wants(), Wants::Power { step, .. } if is_test(step));
                if grave == Grave::No && prompt.is_some_and(tested) {
                    self.screen.row(Label::SAY, HANDS_OUT)?;
                }
                self.screen.row(Label::SURE, &what)?;
            }
            Understood::Live(_, what) => {
                self.screen.row(Label::SAY, HANDS_OUT)?;
                self.screen.row(Label::SURE, &what)?;
            }
            Understood::NextStep
            | Understood::Waited(_)
            | Understood::WaitAnew(_)
            | Understood::StepBack
            | Understood::Stray(_)
            | Understood::FellToNothing(_)
            | Understood::CountAgain
            | Understood::Alarm(..)
            | Understood::WhichDanger
            | Understood::Close => {}
        }
        Ok(None)
    }

    pub(super) fn page(&mut self, call: &Call, prompt: Option<&Prompt>, page: Page) -> io::Result<()> {
        if page == Page::SoFar {
            self.seat.listed = so_far::listing(call);
        }
        let desk = self.seat.desk(call);
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
        self.seat.desk(call)
    }

    /// The next line that was typed.
    pub(super) fn line(&mut self, call: &Call, typing: &Typing) -> Result<String, Stopped> {
        let prompt = self.screen.prompt();
        let mut once = false;
        loop {
            if let Some(danger) = self.forget_ahead(call)? {
                return Ok(danger);
            }
            let Voice::Typed(lines) = &mut self.voice else {
                return Err(Stopped::Ended);
            };
            let shows = lines.shows();
            if shows == Shows::PromptAndLine {
                self.screen.flush()?;
            } else {
                self.screen.show_prompt()?;
            }
            let asked = Instant::now();
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
                Heard::Line(line) if !self.is_typed_for_it(call, &line, asked.elapsed())? => {}
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
        let how = &self.seat.kept;
        let still = format!("The call is still here; Ctrl-D once more leaves it open. {how}");
        self.screen.row(Label::quiet("STILL"), &still)?;
        if !power::is_live_and_open(call.power()) {
            return Ok(());
        }
        let warning = Label::signal(Signal::Warning);
        self.screen.row(warning, "The unit is live and open. Have its supply switched off first.")
    }
}
