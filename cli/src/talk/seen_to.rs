//! A unit that an earlier call could not prove dead: whether that was seen to since.

use super::between::Question;
use super::passed::Passed;
use super::screen::Label;
use super::{Stopped, Talk};
use engine::call::Call;
use engine::rulebook::Signal;

impl Talk<'_> {
    /// Asks whether what kept a unit from being proved dead in an earlier call was seen to: only a plain yes is one.
    ///
    /// # Errors
    /// [`Stopped::Ended`] where nothing more is typed: nobody has said yes.
    pub(crate) fn was_seen_to(&mut self, call: &Call, found_as: &str) -> Result<bool, Stopped> {
        let warning = format!(
            "In {found_as} this unit could not be proved dead. Until that is seen to, it counts as live."
        );
        self.screen.row(Label::signal(Signal::Warning), &warning)?;
        let question = Question {
            why: "what fed it then, or a tester that did not prove itself, may hurt whoever comes next",
            how: "ask whoever saw to it since: what was found, what was done about it, and that it was tested dead",
            wanted: "yes, if somebody found what it was, put it right and proved the unit dead; no, if that is not known",
        };
        let say = "Has that been seen to since, and the unit proved dead?";
        match self.plain_yes(call, say, question)? {
            Passed::Yes => Ok(true),
            Passed::No => {
                self.screen.row(
                    Label::NONE,
                    "Then it is locked out and proved dead before anything brings power back, or handed over.",
                )?;
                Ok(false)
            }
            // It is told before anything else, in the call.
            Passed::Danger(danger) => {
                self.behind = Some(danger);
                Ok(false)
            }
        }
    }
}
