//! Questions of the conversation's own, between those of the call: whatever is typed at any prompt is understood at
//! them too, or it is said that here it is not.

use super::clock::Clock;
use super::hint::Typing;
use super::said::Said;
use super::screen::Label;
use super::understand::Page;
use super::{Stopped, Talk, alarm};
use engine::call::Call;
use engine::rulebook::ChoiceSet;
use std::io;

/// What is told of such a question.
#[derive(Clone, Copy, Debug)]
pub(super) struct Question<'q> {
    /// Why it is asked.
    pub(super) why: &'q str,
    /// How the answer is found.
    pub(super) how: &'q str,
    /// What can be typed.
    pub(super) wanted: &'q str,
}

/// What was typed at one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Typed {
    /// Words of danger: those that they can mean, or nothing yet.
    Danger(Option<ChoiceSet>),
    /// An answer, or not understood.
    Line(String),
}

/// What was said to a question with two answers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Decided {
    /// One of the two: whether it is the first.
    Said(bool),
    /// Words of danger instead: those that they can mean, or nothing yet.
    Danger(Option<ChoiceSet>),
}

impl Talk<'_> {
    /// Asks until one of two answers is read, or danger is told.
    pub(super) fn decided(
        &mut self,
        call: &Call,
        answers: [&str; 2],
        question: Question<'_>,
        read: fn(&str) -> Option<bool>,
    ) -> Result<Decided, Stopped> {
        self.screen.row(Label::TYPE, question.wanted)?;
        let typing = Typing { answers: answers.map(str::to_owned).into(), ..Typing::default() };
        loop {
            let line = match self.between(call, &typing, question)? {
                Typed::Line(line) => line,
                Typed::Danger(dangers) => return Ok(Decided::Danger(dangers)),
            };
            if let Some(first) = read(&line) {
                return Ok(Decided::Said(first));
            }
            let text = format!("nothing is answered here. Type {}", question.wanted);
            self.screen.row(Label::AGAIN, &text)?;
        }
    }

    /// The next line at such a question that is no page of its own.
    pub(super) fn between(
        &mut self,
        call: &Call,
        typing: &Typing,
        question: Question<'_>,
    ) -> Result<Typed, Stopped> {
        loop {
            let line = self.line(call, typing)?;
            let alarm = alarm::heard(call.book(), &line);
            if alarm.is_said {
                return Ok(Typed::Danger(Some(alarm.dangers)));
            }
            match Said::of(&line) {
                Said::Danger("") => return Ok(Typed::Danger(None)),
                said => {
                    if !self.page_between(call, said, question)? {
                        return Ok(Typed::Line(line));
                    }
                }
            }
        }
    }

    /// Shows what was asked for beside such a question; `false` where the line is none of that.
    pub(super) fn page_between(
        &mut self,
        call: &Call,
        said: Said<'_>,
        question: Question<'_>,
    ) -> io::Result<bool> {
        let wanted = question.wanted;
        match said {
            Said::Why => self.screen.row(Label::quiet("WHY"), question.why)?,
            Said::How => self.screen.row(Label::quiet("HOW"), question.how)?,
            Said::Help => {
                let text = format!("Here, type {wanted}. The other words are taken once this is answered.");
                self.screen.row(Label::quiet("HELP"), &text)?;
            }
            Said::SoFar => self.page(call, None, Page::SoFar)?,
            Said::Where => self.page(call, None, Page::Where)?,
            Said::Plan => self.page(call, None, Page::Plan)?,
            Said::NoteToSend => self.page(call, None, Page::NoteToSend)?,
            Said::Wait(what) => {
                let clock = self.clock.insert(Clock::start(what));
                self.screen.row(Label::quiet("WAITING"), &clock.started())?;
            }
            Said::Correct(_) | Said::Tell(_) | Said::Note(_) => {
                let text = format!("that word is not taken here, but at the next prompt. Type {wanted}");
                self.screen.row(Label::AGAIN, &text)?;
            }
            Said::Nothing
            | Said::Cannot
            | Said::Back
            | Said::Danger(_)
            | Said::Leave
            | Said::Quit
            | Said::Other(_) => return Ok(false),
        }
        Ok(true)
    }
}
