//! A call that is kept: each event is written down before it is taken in, and so before the next prompt.

use crate::failure::Failure;
use crate::store::{Fault, Number, Opening, Record, RulesUsed, Seat, Store, When, Written, typed_of};
use crate::talk::Talk;
use engine::call::{Answerer, Call, Ended, Event, Halt, Prompt, Refusal, Reply};
use engine::record::{Fingerprint, Names, Summary};
use engine::rulebook::Rulebook;
use std::collections::VecDeque;
use std::path::Path;

/// A call's place in the log, held by this process.
pub(crate) struct Keeper<'b> {
    store: Box<dyn Store>,
    /// What its words are written down in.
    names: Names<'b>,
    number: Number,
    seat: Seat,
    /// What could not be written down so far, each at its place, and why not.
    behind: VecDeque<(u32, Written)>,
    fault: Option<Fault>,
}

impl<'b> Keeper<'b> {
    /// Begins a call in a log.
    pub(crate) fn begin(
        mut store: Box<dyn Store>,
        book: &'b Rulebook,
        opening: &Opening,
    ) -> Result<Self, Fault> {
        let seat = Seat::of_this_process();
        let number = store.open(opening, &seat)?;
        Ok(Self::holding(store, book, number, seat))
    }

    /// Takes a call up that stands open.
    pub(crate) fn take_up(
        mut store: Box<dyn Store>,
        book: &'b Rulebook,
        number: Number,
        take_over: bool,
    ) -> Result<Self, Fault> {
        let seat = Seat::of_this_process();
        store.hold(number, &seat, When::now(), take_over)?;
        Ok(Self::holding(store, book, number, seat))
    }

    fn holding(store: Box<dyn Store>, book: &'b Rulebook, number: Number, seat: Seat) -> Self {
        Self { store, names: Names::of(book), number, seat, behind: VecDeque::new(), fault: None }
    }

    /// The call's number.
    pub(crate) const fn number(&self) -> Number {
        self.number
    }

    /// How the call is gone on with, as a sentence.
    pub(crate) fn how(&self) -> String {
        let number = self.number;
        format!("It is kept as call {number}: {} goes on with it.", typed_of("resume", number))
    }

    /// What can be done with the call once it is over, as a sentence.
    pub(crate) fn again(&self) -> String {
        let number = self.number;
        let (note, again) = (typed_of("note", number), typed_of("again", number));
        format!("as call {number}: {note} prints the note, {again} begins a callback")
    }

    /// Everything that is written down of the call.
    pub(crate) fn record(&mut self) -> Result<Record, Fault> {
        self.store.call(self.number)
    }

    /// Writes down what is about to happen, behind all that could not be written down before. It is tried twice: a
    /// server that was started anew is there again at the second.
    fn write(&mut self, call: &Call, event: &Event) -> Result<(), &Fault> {
        let place = u32::try_from(call.events().len()).unwrap_or(u32::MAX);
        let written = Written { at: When::now(), event: self.names.write(event) };
        self.behind.push_back((place, written));
        let tried = self.catch_up().or_else(|fault| {
            if Self::may_go_on(&fault) {
                self.fault = Some(fault);
                self.catch_up()
            } else {
                Err(fault)
            }
        });
        match tried {
            Ok(()) => {
                self.fault = None;
                Ok(())
            }
            Err(fault) => Err(self.fault.insert(fault)),
        }
    }

    /// Writes down what is not on record, oldest first.
    fn catch_up(&mut self) -> Result<(), Fault> {
        if self.fault.is_some() {
            self.pass_over_what_is_on_record()?;
        }
        while let Some((place, written)) = self.behind.front() {
            self.store.append(self.number, *place, written, &self.seat)?;
            self.behind.pop_front();
        }
        Ok(())
    }

    /// A word may have been taken though nobody heard so: the log went away in between.
    fn pass_over_what_is_on_record(&mut self) -> Result<(), Fault> {
        let number = self.number;
        match self.store.holder(number)? {
            Some(holder) if holder.seat.token == self.seat.token => {}
            Some(holder) => return Err(Fault::TakenOver { number, holder }),
            None => return Err(Fault::NotHeld(number)),
        }
        let on_record = self.store.call(number)?.events.len();
        self.behind.retain(|(place, _)| usize::try_from(*place).is_ok_and(|place| place >= on_record));
        Ok(())
    }

    /// Leaves unsaid what could not be written down, and with it the record as it is.
    fn give_up(&mut self) {
        self.behind.clear();
    }

    /// Writes an event down and takes it in.
    pub(crate) fn happens(&mut self, call: &mut Call, event: Event) -> Result<(), Fault> {
        if self.write(call, &event).is_err()
            && let Some(fault) = self.fault.take()
        {
            return Err(fault);
        }
        call.apply(event);
        Ok(())
    }

    /// Whether it can be gone on with though nothing more can be written down. A call that others have is theirs.
    fn may_go_on(fault: &Fault) -> bool {
        !matches!(fault, Fault::TakenOver { .. } | Fault::NotHeld(_) | Fault::Held { .. } | Fault::NoCall(_))
    }

    /// Lets the call go, with what it comes to; what went wrong before comes first.
    pub(crate) fn let_go(mut self, call: &Call) -> Result<(), Fault> {
        if let Some(fault) = self.fault.take_if(|_| self.behind.is_empty()) {
            return Err(fault);
        }
        self.catch_up()?;
        self.store.release(self.number, &Summary::of(call), &self.seat)
    }
}

/// A conversation whose every word is kept, where there is a log.
pub(crate) struct Kept<'k, 't, 'b> {
    pub(crate) talk: &'k mut Talk<'t>,
    pub(crate) keeper: Option<&'k mut Keeper<'b>>,
}

impl Answerer for Kept<'_, '_, '_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.talk.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.talk.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        if let Some(keeper) = &mut self.keeper {
            let was_behind = !keeper.behind.is_empty();
            match keeper.write(call, event) {
                Ok(()) if was_behind => self.talk.recorded_again(keeper.how(), keeper.again()),
                Ok(()) => {}
                Err(fault) => {
                    let (why, may) = (fault.to_string(), Keeper::may_go_on(fault));
                    let kept = format!("call {}", keeper.number());
                    // It was said once that the call goes on; what others have is theirs all the same.
                    let goes_on =
                        may && (was_behind || self.talk.goes_on_unrecorded(call, event, &kept, &why));
                    if !goes_on {
                        keeper.give_up();
                        self.talk.not_kept(call, &why);
                        return Err(Halt(why));
                    }
                }
            }
        }
        self.talk.happens(call, event)
    }

    fn ended(&mut self, call: &Call, ended: &Ended) -> Result<Option<Reply>, Halt> {
        self.talk.ended(call, ended)
    }
}

/// What a new call is begun with.
pub(crate) fn opening(
    book: &Rulebook,
    rules: Option<&Path>,
    unit: Option<&str>,
    meter: Option<String>,
) -> Opening {
    Opening {
        id: uuid::Uuid::new_v4().to_string(),
        at: When::now(),
        unit: unit.map(str::to_owned),
        again_of: None,
        rules: rules_used(book, rules),
        meter,
    }
}

fn rules_used(book: &Rulebook, folder: Option<&Path>) -> RulesUsed {
    let fingerprint = Fingerprint::of(book);
    RulesUsed {
        folder: folder.map(|folder| folder.display().to_string()),
        decide: fingerprint.rules,
        prose: fingerprint.prose,
        program: env!("CARGO_PKG_VERSION").to_owned(),
    }
}

/// The call that a record adds up to, by these rules.
///
/// # Errors
/// An event of it means nothing to them.
pub(crate) fn fold(
    book: &std::sync::Arc<Rulebook>,
    number: Number,
    opening: &Opening,
    events: &[Written],
) -> Result<Call, Failure> {
    let names = Names::of(book);
    let meter = opening.meter.as_deref().map(crate::command::call::meter_of).transpose()?;
    let mut call = Call::with_meter(std::sync::Arc::clone(book), meter);
    for (place, written) in (0..).zip(events) {
        let event = names.read(&written.event).map_err(|why| Fault::Rules { number, place, why })?;
        call.apply(event);
    }
    Ok(call)
}
