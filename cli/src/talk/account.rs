//! A call that is kept, shown as it went: each word with the time it was written down, and how it stands.

use super::desk::Desk;
use super::screen::{Label, Layout, Screen};
use super::units::Units;
use super::{ahead, ending, note, power, so_far, tell_event};
use engine::call::{Call, Ended, Next};
use std::io::{self, Write};
use std::sync::Arc;

/// Where an account goes, and in which units.
pub(crate) struct Account<'a> {
    screen: Screen<'a>,
    units: Units,
}

impl<'a> Account<'a> {
    pub(crate) fn new(out: Box<dyn Write + 'a>, units: Units, layout: Layout) -> Self {
        let mut screen = Screen::new(out, layout);
        screen.fit(super::lines::columns());
        Self { screen, units }
    }

    /// Everything that happened, each event with the time that it was written down, and how the call ended or stands.
    pub(crate) fn show(&mut self, call: &Call, head: &[String], times: &[String]) -> io::Result<()> {
        for (label, line) in
            [Label::quiet("CALL")].into_iter().chain(std::iter::repeat(Label::NONE)).zip(head)
        {
            self.screen.row(label, line)?;
        }
        self.screen.gap()?;
        let mut so_far = Call::with_meter(Arc::clone(call.book()), call.ledger().meter().cloned());
        let mut minute = "";
        for (at, event) in times.iter().zip(call.events()) {
            // Once for all that was said within a minute.
            if at != minute {
                self.screen.row(Label::quiet("AT"), at)?;
                minute = at;
            }
            tell_event::account(&mut self.screen, &so_far, self.units, event)?;
            so_far.apply(event.clone());
        }
        self.screen.gap()?;
        let listed = so_far::listing(call);
        let desk = Desk { call, units: self.units, listed: &listed, kept: "", unrecorded: None };
        match call.next() {
            Next::Ended(ended) => ending::show(&mut self.screen, desk, &ended)?,
            Next::Prompt(_) => {
                self.screen.row(Label::loud("OPEN"), "It came to no ending. This is where it stands.")?;
                ahead::place(&mut self.screen, call)?;
                so_far::rest(&mut self.screen, desk)?;
                let since =
                    "Where nobody is on the call now, nobody vouches for it: the unit counts as live.";
                self.screen.row(Label::NONE, since)?;
                power::left_behind(call.book(), call.power(), &mut self.screen)?;
            }
        }
        self.screen.flush()
    }
}

/// The note of a call, to be sent on.
pub(crate) fn note_of(call: &Call, units: Units) -> String {
    let listed = so_far::listing(call);
    let ended: Option<Ended> = match call.next() {
        Next::Ended(ended) => Some(ended),
        Next::Prompt(_) => None,
    };
    note::to_send(Desk { call, units, listed: &listed, kept: "", unrecorded: None }, ended.as_ref())
}
