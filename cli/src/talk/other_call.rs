//! Another call on the same unit that stands open: two people may stand at one unit.

use super::between::{Decided, Question};
use super::said::Said;
use super::screen::Label;
use super::{Stopped, Talk, spoken};
use engine::call::Call;
use engine::rulebook::Signal;

/// A call on the unit that is open still.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct OtherCall {
    /// Its number.
    pub(crate) number: i64,
    /// When it was begun, and by whom it is held, if it is.
    pub(crate) since: String,
    /// When its last word was.
    pub(crate) last: String,
    /// Power and panel as it left them.
    pub(crate) stands: String,
}

impl OtherCall {
    fn told(&self) -> String {
        let Self { number, since, last, stands } = self;
        format!("Call {number} on this unit is open, {since}. At its last word, {last}: {stands}.")
    }
}

impl Talk<'_> {
    /// Says that others may be at the unit, and asks for a plain yes to go on all the same.
    ///
    /// # Errors
    /// [`Stopped::Ended`] where nothing more is typed: nobody has said yes.
    pub(crate) fn goes_on_beside(&mut self, call: &Call, others: &[OtherCall]) -> Result<bool, Stopped> {
        let warning = Label::signal(Signal::Warning);
        for other in others {
            self.screen.row(warning, &other.told())?;
        }
        self.screen.row(
            warning,
            "Two people may be at one unit. Whoever has that call may have hands in it, or switch it on. Reach them \
             first. Nobody's lock or tag comes off but by the one who put it there.",
        )?;
        self.screen.row(
            Label::NONE,
            "This call takes nothing of power or panel from there: here they are not known, so the unit counts as live.",
        )?;
        self.screen.row(Label::SAY, "Does everybody at the unit know of this call, so that it can go on?")?;
        let wanted =
            "yes, to go on with this call; or no, and resume or show with its number tells more of the other";
        let question = Question {
            why: "a unit that one person has locked out, another may switch on",
            how: "call whoever is at the unit, and ask whose locks are on it and who works at it",
            wanted,
        };
        let read = |line: &str| {
            let leaves = matches!(Said::of(line), Said::Leave | Said::Quit | Said::Back);
            spoken::yes_or_no(line).or(leaves.then_some(false))
        };
        Ok(match self.decided(call, ["yes", "no"], question, read)? {
            Decided::Said(goes_on) => goes_on,
            Decided::Danger(dangers) => {
                // It is asked about before anything else, in the call.
                self.alarm = Some(dangers.unwrap_or_default());
                true
            }
        })
    }
}
