//! How a conversation closes: at an end, or left open.

use super::screen::Label;
use super::understand;
use super::{Stopped, Talk, ending, note, power, so_far};
use engine::call::{Call, Ended, Outcome, Reply};
use std::io;

impl Talk<'_> {
    /// The call stays open: what is known is shown, so that nothing is lost without a word.
    pub(super) fn left_open(&mut self, call: &Call) -> io::Result<()> {
        self.screen.gap()?;
        let how = &self.seat.kept;
        self.open(
            call,
            &format!("The input ended, and the call is left open. {how} This is what stands so far."),
        )
    }

    /// A word could not be written down: what is known is shown, and how the unit stands.
    pub(crate) fn not_kept(&mut self, call: &Call, why: &str) {
        let why = format!("The last answer could not be written down: {why}. This is what stood before it.");
        // A screen that is gone as well cannot be told.
        if let Err(error) = self.open(call, &why) {
            tracing::debug!(%error, "a call that is not kept could not be shown");
        }
    }

    fn open(&mut self, call: &Call, why: &str) -> io::Result<()> {
        self.screen.row(Label::loud("OPEN"), why)?;
        self.seat.listed = so_far::listing(call);
        so_far::show(&mut self.screen, self.seat.desk(call))?;
        power::left_behind(call.book(), call.power(), &mut self.screen)?;
        if let Some(like) = power::left_like(call, None) {
            self.screen.row(Label::quiet("LEFT"), like)?;
        }
        self.screen.flush()
    }

    pub(super) fn end(&mut self, call: &Call, ended: &Ended) -> Result<Option<Reply>, Stopped> {
        // A word that it is not possible may be taken back: the work then goes on at its step.
        if !matches!(ended.last.outcome, Outcome::NotPossible | Outcome::Later) {
            self.asked = None;
        }
        self.warned = None;
        self.ended = Some(ended.clone());
        self.screen.gap()?;
        self.seat.listed = so_far::listing(call);
        let desk = self.seat.desk(call);
        ending::show(&mut self.screen, desk, ended)?;
        let urgent = call.book().ending(ended.last.ending).urgent;
        if !self.voice.is_typed() || ended.last.outcome == Outcome::Left {
            return if urgent { self.note_at_last(call, ended) } else { Ok(None) };
        }
        if let Some(again) = self.again.as_ref().filter(|_| !urgent) {
            self.screen.row(Label::quiet("KEPT"), again)?;
        }
        let back = if understand::may_go_back(call) { "; or back" } else { "" };
        self.screen.row(Label::TYPE, &format!("Enter, to close{back}"))?;
        match self.typed(call) {
            Ok(None) | Err(Stopped::Ended) if urgent => self.note_at_last(call, ended),
            Err(Stopped::Ended) => Ok(None),
            other => other,
        }
    }

    /// The note of an urgent end: nothing stands below the orders until whoever reads them closes the call.
    fn note_at_last(&mut self, call: &Call, ended: &Ended) -> Result<Option<Reply>, Stopped> {
        let desk = self.seat.desk(call);
        note::show(&mut self.screen, desk, Some(ended))?;
        self.screen.flush()?;
        Ok(None)
    }
}
