//! A call that is kept: each event is written down before it is taken in, and so before the next prompt.

use crate::failure::Failure;
use crate::store::{Fault, Number, Opening, Record, RulesUsed, Seat, Store, When, Written};
use crate::talk::Talk;
use engine::call::{Answerer, Call, Ended, Event, Halt, Prompt, Refusal, Reply};
use engine::record::{Fingerprint, Names, Summary};
use engine::rulebook::Rulebook;
use std::path::Path;

/// A call's place in the log, held by this process.
pub(crate) struct Keeper<'b> {
    store: Box<dyn Store>,
    /// What its words are written down in.
    names: Names<'b>,
    /// What has to be said beside a command for it to find the log.
    beside: &'static str,
    number: Number,
    seat: Seat,
    fault: Option<Fault>,
}

impl<'b> Keeper<'b> {
    /// Begins a call in a log.
    pub(crate) fn begin(
        mut store: Box<dyn Store>,
        beside: &'static str,
        book: &'b Rulebook,
        opening: &Opening,
    ) -> Result<Self, Fault> {
        let seat = Seat::of_this_process();
        let number = store.open(opening, &seat)?;
        Ok(Self { store, names: Names::of(book), beside, number, seat, fault: None })
    }

    /// Takes a call up that stands open.
    pub(crate) fn take_up(
        mut store: Box<dyn Store>,
        beside: &'static str,
        book: &'b Rulebook,
        number: Number,
        take_over: bool,
    ) -> Result<Self, Fault> {
        let seat = Seat::of_this_process();
        store.hold(number, &seat, When::now(), take_over)?;
        Ok(Self { store, names: Names::of(book), beside, number, seat, fault: None })
    }

    /// The call's number.
    pub(crate) const fn number(&self) -> Number {
        self.number
    }

    /// How the call is gone on with, as a sentence.
    pub(crate) fn how(&self) -> String {
        let Self { number, beside, .. } = self;
        format!("It is kept as call {number}: motorwright resume {number} goes on with it{beside}.")
    }

    /// What can be done with the call once it is over, as a sentence.
    pub(crate) fn again(&self) -> String {
        let Self { number, beside, .. } = self;
        format!(
            "as call {number}: motorwright note {number} prints the note, motorwright again {number} begins a \
                 callback{beside}"
        )
    }

    /// Everything that is written down of the call.
    pub(crate) fn record(&mut self) -> Result<Record, Fault> {
        self.store.call(self.number)
    }

    /// Writes down what is about to happen.
    pub(crate) fn write(&mut self, call: &Call, event: &Event) -> Result<(), Fault> {
        let place = u32::try_from(call.events().len()).unwrap_or(u32::MAX);
        let written = Written { at: When::now(), event: self.names.write(event) };
        self.store.append(self.number, place, &written, &self.seat)
    }

    /// Writes an event down and takes it in.
    pub(crate) fn happens(&mut self, call: &mut Call, event: Event) -> Result<(), Fault> {
        self.write(call, &event)?;
        call.apply(event);
        Ok(())
    }

    /// Whether it can be gone on with though nothing more can be written down. A call that others have is theirs.
    fn may_go_on(fault: &Fault) -> bool {
        !matches!(fault, Fault::TakenOver { .. } | Fault::NotHeld(_) | Fault::Held { .. } | Fault::NoCall(_))
    }

    /// Lets the call go, with what it comes to; what went wrong before comes first.
    pub(crate) fn let_go(mut self, call: &Call) -> Result<(), Fault> {
        match self.fault.take() {
            Some(fault) => Err(fault),
            None => self.store.release(self.number, &Summary::of(call), &self.seat),
        }
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
        if let Some(keeper) = self.keeper.as_mut().filter(|keeper| keeper.fault.is_none())
            && let Err(fault) = keeper.write(call, event)
        {
            let why = fault.to_string();
            let may = Keeper::may_go_on(&fault);
            keeper.fault = Some(fault);
            let kept = format!("call {}", keeper.number());
            if !may || !self.talk.goes_on_unrecorded(call, event, &kept, &why) {
                self.talk.not_kept(call, &why);
                return Err(Halt(why));
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
