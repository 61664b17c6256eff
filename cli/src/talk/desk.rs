//! What the one at the keyboard has before them.

use super::units::Units;
use super::unrecorded::Unrecorded;
use engine::call::Call;
use engine::rulebook::{FactId, Rulebook};

/// The call, the units on the screen, and the numbers that stand on it.
#[derive(Clone, Copy)]
pub(crate) struct Desk<'d> {
    /// The call.
    pub(crate) call: &'d Call,
    /// The units shown and understood.
    pub(crate) units: Units,
    /// The facts of the list shown last, in the order of its numbers; empty where none was shown yet.
    pub(crate) listed: &'d [FactId],
    /// Whether the call is kept, and how it is gone on with, as a sentence.
    pub(crate) kept: &'d str,
    /// Where the call stopped being recorded, if it did.
    pub(crate) unrecorded: Option<Unrecorded>,
}

impl<'d> Desk<'d> {
    /// The rules.
    pub(crate) fn book(&self) -> &'d Rulebook {
        self.call.book()
    }
}

/// What is there besides the call, as long as the conversation goes on.
pub(crate) struct Seat {
    /// The units shown and understood.
    pub(crate) units: Units,
    /// The facts of the list shown last, by its numbers.
    pub(crate) listed: Vec<FactId>,
    /// Whether the call is kept, and how it is gone on with, as a sentence.
    pub(crate) kept: String,
    /// Where the call stopped being recorded, if it did.
    pub(crate) unrecorded: Option<Unrecorded>,
}

impl Seat {
    /// It, with a call before it.
    pub(crate) fn desk<'d>(&'d self, call: &'d Call) -> Desk<'d> {
        Desk { call, units: self.units, listed: &self.listed, kept: &self.kept, unrecorded: self.unrecorded }
    }
}
