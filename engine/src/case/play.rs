//! A case as an answerer: it says what the case says was found, and nothing else.

use super::{Case, Layer, Unproved};
use crate::call::{
    Answerer, Call, DeedResult, Ended, Event, EventId, Halt, Passed, Patience, Prompt, Purpose, Refusal,
    Reply, StepResult, Stop, Towards, Wants, drive,
};
use crate::rulebook::{
    Answer, EndingId, EndingKind, FactId, Line, PowerStepKind, RelationId, Rulebook, Value,
};
use std::collections::{BTreeMap, VecDeque};
use std::ops::Range;
use std::sync::Arc;

/// Answers a call out of a case.
#[derive(Debug)]
pub struct Player<'c> {
    case: &'c Case,
    laid: Vec<(Option<EventId>, &'c Layer)>,
    times: BTreeMap<EndingId, usize>,
    unasked: VecDeque<Reply>,
    unanswered: Vec<Unanswered>,
    broken: Vec<RelationId>,
    unproved: Vec<Unproved>,
    /// By which lines the rules led to each ending that was agreed to, the first time.
    led: BTreeMap<EndingId, Vec<Passed>>,
    patience: Patience,
}

impl<'c> Player<'c> {
    /// Starts a case from its beginning.
    #[must_use]
    pub fn new(book: &Rulebook, case: &'c Case) -> Self {
        let mut player = Self {
            case,
            laid: vec![(None, &case.answers)],
            times: BTreeMap::new(),
            unasked: VecDeque::new(),
            unanswered: Vec::new(),
            broken: Vec::new(),
            unproved: Vec::new(),
            led: BTreeMap::new(),
            patience: Patience::default(),
        };
        player.tell_unasked(book, &case.answers, false);
        player
    }

    /// Facts for which no question would be put are told as soon as they are found; so is danger, once the call runs.
    fn tell_unasked(&mut self, book: &Rulebook, layer: &Layer, danger_too: bool) {
        let (danger, safe) = book.roles().danger;
        for (fact, answer) in layer.facts() {
            let rule = book.fact(fact);
            match answer {
                Answer::Value(Value::Choices(what)) if fact == danger && danger_too && !what.within(safe) => {
                    self.unasked.push_front(Reply::Danger(what));
                }
                _ if fact == danger => {}
                _ if fact == book.power().proved_dead => {}
                _ if rule.asking.is_none() || !rule.given.is_empty() => {
                    self.unasked.push_back(Reply::Tell(fact, answer));
                }
                _ => {}
            }
        }
    }

    /// What the case says of a fact, in the layers laid since an event, when it was read so often before.
    fn newest(&self, fact: FactId, since: Option<EventId>, before: usize) -> Option<Answer> {
        let mut laid = self.laid.iter().rev().filter(|(laid, _)| *laid >= since);
        laid.find_map(|(_, layer)| layer.reading(fact, before))
    }

    /// Keeps a fact that was asked for and that the case does not speak of.
    fn note_unanswered(&mut self, call: &Call, fact: FactId) {
        let since = call.ledger().stale_since(fact);
        if self.newest(fact, since, 0).is_some() {
            return;
        }
        // What it says of the time before the deed counts no longer.
        let deed = since.filter(|_| self.newest(fact, None, 0).is_some());
        let unanswered = Unanswered { fact, after: deed.and_then(|deed| call.ending_of(deed)) };
        if !self.unanswered.contains(&unanswered) {
            self.unanswered.push(unanswered);
        }
    }

    fn lookup(&self, call: &Call, fact: FactId, purpose: Purpose) -> Answer {
        let before = match (purpose, call.ledger().current(fact)) {
            (Purpose::Second | Purpose::Doubted, Some(version)) => 1 + version.again.len(),
            // A device that was reset is looked at once more: that is its second reading.
            (_, None) if call.ledger().was_reset(fact) => 1,
            _ => 0,
        };
        let newest = |since: Option<EventId>| self.newest(fact, since, before);
        let Some(deed) = call.ledger().stale_since(fact) else {
            return newest(None).unwrap_or_else(|| at_first(call.book(), fact));
        };
        // Never the old value: what was found since, what the deed settles, what a proof expects, or nothing.
        newest(Some(deed))
            .or_else(|| call.settled_by(deed, fact).map(Answer::Value))
            .or_else(|| expected(call, fact).filter(|_| purpose == Purpose::Proof))
            .unwrap_or(Answer::Cannot)
    }

    /// A fact that a step on the way only looks up, and that was found: told, since nothing asks for it.
    fn looked_up(&self, call: &Call) -> Option<Reply> {
        call.walk().trail.iter().find_map(|passed| {
            let step = call.book().step(passed.step);
            let vain = !step.asks && passed.line == Line::Otherwise && call.known(step.fact).is_none();
            match self.lookup(call, step.fact, Purpose::Unasked) {
                answer @ Answer::Value(_) if vain => Some(Reply::Tell(step.fact, answer)),
                _ => None,
            }
        })
    }

    /// Whether the person of the case leaves here: the case ends so, and says nothing of what is asked or agreed to.
    fn leaves(&self, call: &Call, prompt: &Prompt) -> bool {
        let has_left = call.events().contains(&Event::Left);
        if has_left || self.case.ends.last() != Some(&call.book().roles().left) {
            return false;
        }
        match prompt.wants() {
            Wants::Fact { fact, .. } => self.newest(*fact, call.ledger().stale_since(*fact), 0).is_none(),
            Wants::Consent { ending } => {
                !self.case.ends.contains(ending) && !self.case.after.contains_key(ending)
            }
            // Nothing more is asked: the unit is being left as it must be.
            Wants::Power { towards: Towards::CloseUp, .. } => true,
            Wants::Power { .. } | Wants::Conflict { .. } | Wants::Deed { .. } => false,
        }
    }

    fn step(&self, call: &Call, kind: PowerStepKind) -> StepResult {
        let proved_dead = call.book().power().proved_dead;
        if kind != PowerStepKind::TestDead {
            return StepResult::Done;
        }
        let said = self.laid.iter().rev().find_map(|(_, layer)| layer.reading(proved_dead, 0));
        let yes = call.book().fact(proved_dead).choice("yes");
        match said {
            None => StepResult::Done,
            Some(Answer::Value(Value::Choices(set))) if Some(set) == yes => StepResult::Done,
            Some(_) => StepResult::Failed,
        }
    }
}

/// What holds of a fact that the case says nothing of.
fn at_first(book: &Rulebook, fact: FactId) -> Answer {
    let (danger, safe) = book.roles().danger;
    let rule = book.fact(fact);
    if fact == danger {
        return Answer::Value(Value::Choices(safe));
    }
    rule.cannot_means.map_or(Answer::Cannot, Answer::Value)
}

/// What the proof under way expects of a fact.
fn expected(call: &Call, fact: FactId) -> Option<Answer> {
    let ending = call.being_proved()?;
    call.expected_in_proof(ending, fact).and_then(|condition| condition.example()).map(Answer::Value)
}

impl Answerer for Player<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.patience.wear()?;
        if let Some(reply) = self.unasked.pop_front().or_else(|| self.looked_up(call)) {
            return Ok(reply);
        }
        if self.leaves(call, prompt) {
            return Ok(Reply::Leave);
        }
        Ok(match prompt.wants() {
            Wants::Fact { fact, purpose } => {
                let answer = self.lookup(call, *fact, *purpose);
                if answer == Answer::Cannot {
                    self.note_unanswered(call, *fact);
                }
                Reply::Answer(answer)
            }
            Wants::Power { step, .. } => Reply::Step(self.step(call, step.kind)),
            Wants::Conflict { relation } => {
                if !self.broken.contains(relation) {
                    self.broken.push(*relation);
                }
                Reply::Insist
            }
            Wants::Consent { ending } => {
                self.led.entry(*ending).or_insert_with(|| call.walk().trail);
                Reply::Deed(DeedResult::Now)
            }
            Wants::Deed { .. } => Reply::Deed(DeedResult::Done),
        })
    }

    fn refused(&mut self, refusal: Refusal) {
        tracing::warn!(case = self.case.name, %refusal, "a case's answer means nothing here");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.unproved.extend(Unproved::by(call, event));
        let Event::Deed { ending, deed, result: DeedResult::Done } = event else {
            return Ok(());
        };
        let times = self.times.entry(*ending).or_default();
        if call.book().ending(*ending).deeds.first() == Some(deed) {
            *times += 1;
        }
        let case = self.case;
        let layer = case.after.get(ending).and_then(|layers| layers.get(times.saturating_sub(1)));
        if let Some(layer) = layer {
            self.laid.push((Some(call.next_event()), layer));
            self.tell_unasked(call.book(), layer, true);
        }
        Ok(())
    }
}

/// A fact that was asked for and answered with `cannot`, because the case says nothing of it as it is then.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Unanswered {
    /// The fact.
    pub fact: FactId,
    /// The ending whose deed made stale what the case does say of it.
    pub after: Option<EndingId>,
}

/// What a case came to.
#[derive(Clone, PartialEq, Debug)]
pub struct Verdict {
    /// Its end.
    pub ended: Ended,
    /// Whether it reached the endings that it must.
    pub ok: bool,
    /// The call, for what it cost and what happened.
    pub asked: u32,
    /// Completed lock-outs.
    pub lockouts: u32,
    /// Minutes for everything.
    pub minutes: f64,
    /// Where it does not end as it must: the first ending that is another, or the last, with the lines that led to it;
    /// none where no line did.
    pub led: Option<(EndingId, Vec<Passed>)>,
    /// What was read after a repair and did not prove it, in order.
    pub unproved: Vec<Unproved>,
    /// What was asked for and is not in the case.
    pub unanswered: Vec<Unanswered>,
    /// The in-order ending that the rules led to, and that could not stand: it does not answer the complaint, and the
    /// case does not say whether that is gone.
    pub not_an_answer: Option<EndingId>,
    /// Relations that its readings break, also when each was taken anew: they cannot all be true.
    pub broken: Vec<RelationId>,
    /// What its `answers` state and was never asked for: nothing was gone by it.
    pub never_asked: Vec<FactId>,
    /// What it states after a deed of an ending, and nothing came of it, with that ending.
    pub never_asked_after: Vec<(FactId, EndingId)>,
}

/// Plays a case to its end.
///
/// # Errors
/// [`Halt`] if the case runs longer than any call may: a fault of the rules or the program, not of the case.
pub fn replay(book: &Arc<Rulebook>, case: &Case) -> Result<Verdict, Halt> {
    let mut call = Call::new(Arc::clone(book));
    case.begin(&mut call);
    let mut player = Player::new(book, case);
    let ended = drive(&mut call, &mut player)?;
    let ok = ended.all().map(|reached| reached.ending).eq(case.ends.iter().copied());
    let not_an_answer = not_an_answer(&call, &ended, &player.unanswered);
    let led = (!ok).then(|| led(&call, &ended, case, player.led));
    Ok(Verdict {
        ended,
        ok,
        led,
        asked: call.tally().asked,
        lockouts: call.power().lockouts(),
        minutes: call.tally().minutes,
        never_asked: never_asked(&call, case),
        never_asked_after: never_asked_after(&call, case, &player.laid),
        unproved: player.unproved,
        unanswered: player.unanswered,
        not_an_answer,
        broken: player.broken,
    })
}

/// Where a call went another way than its case, and by which lines.
fn led(
    call: &Call,
    ended: &Ended,
    case: &Case,
    mut led: BTreeMap<EndingId, Vec<Passed>>,
) -> (EndingId, Vec<Passed>) {
    let mut pairs = ended.all().zip(case.ends.iter().map(Some).chain(std::iter::repeat(None)));
    let other = pairs.find(|(reached, due)| Some(&reached.ending) != *due);
    let ending = other.map_or(ended.last.ending, |(reached, _)| reached.ending);
    let last = || Some(call.walk()).filter(|walk| walk.stop == Stop::End(ending)).map(|walk| walk.trail);
    (ending, led.remove(&ending).or_else(last).unwrap_or_default())
}

/// What a case states to begin with, and no question of the call asked for.
fn never_asked(call: &Call, case: &Case) -> Vec<FactId> {
    stated(call, &case.answers).filter(|fact| !is_told(call, *fact, 0..call.events().len())).collect()
}

/// What a case states after deeds, and nothing came of it: a layer of which nothing was asked, and what is otherwise
/// than at first, of a fact that the call went on to hold for what it was. Most layers state more than is asked.
fn never_asked_after(
    call: &Call,
    case: &Case,
    laid: &[(Option<EventId>, &Layer)],
) -> Vec<(FactId, EndingId)> {
    let mut never = Vec::new();
    let layers =
        case.after.iter().flat_map(|(ending, layers)| layers.iter().map(move |layer| (*ending, layer)));
    for (ending, layer) in layers {
        let all = || layer.facts().map(|(fact, _)| fact);
        let asked = |fact: &FactId| was_asked_of(call, laid, layer, *fact);
        let deeds = &call.book().ending(ending).deeds;
        let is_held = |fact: &FactId| {
            let changed = deeds.iter().any(|deed| call.book().deed(*deed).changes(*fact));
            let otherwise = case.answers.reading(*fact, 0) != layer.reading(*fact, 0);
            otherwise && !changed && call.known(*fact).is_some()
        };
        let in_vain = !all().any(|fact| asked(&fact));
        let named = stated(call, layer).filter(|fact| !asked(fact) && (in_vain || is_held(fact)));
        never.extend(named.map(|fact| (fact, ending)));
    }
    never
}

/// Whether a fact was told out of a layer: from where it was laid until something else was stated of it.
fn was_asked_of(call: &Call, laid: &[(Option<EventId>, &Layer)], layer: &Layer, fact: FactId) -> bool {
    let mut from = laid.iter().skip_while(|(_, other)| !std::ptr::eq(*other, layer));
    let Some((Some(first), _)) = from.next() else { return false };
    let mut others = from.filter(|(_, other)| !std::ptr::eq(*other, layer));
    let next = others.find_map(|(event, other)| event.filter(|_| other.reading(fact, 0).is_some()));
    is_told(call, fact, first.index()..next.map_or(call.events().len(), EventId::index))
}

/// What is stated at one time and has to be asked for: the routines ask of danger and whether it is dead by themselves.
fn stated(call: &Call, layer: &Layer) -> impl Iterator<Item = FactId> {
    let own = [call.book().roles().danger.0, call.book().power().proved_dead];
    layer.facts().map(|(fact, _)| fact).filter(move |fact| !own.contains(fact))
}

/// Whether a fact was told by one of these events.
fn is_told(call: &Call, fact: FactId, within: Range<usize>) -> bool {
    let events = call.events().get(within).unwrap_or_default();
    events.iter().any(|event| match event {
        Event::Told { fact: told, .. } => *told == fact,
        Event::Danger { .. } => call.book().roles().danger.0 == fact,
        _ => false,
    })
}

/// The in-order ending that a call stopped at, where it ended in another for want of whether the complaint is gone.
fn not_an_answer(call: &Call, ended: &Ended, unanswered: &[Unanswered]) -> Option<EndingId> {
    let (gone, _) = call.book().roles().gone;
    let Stop::End(ending) = call.walk().stop else { return None };
    let in_order = call.book().ending(ending).kind == EndingKind::InOrder && ended.last.ending != ending;
    (in_order && unanswered.iter().any(|unanswered| unanswered.fact == gone)).then_some(ending)
}
