//! What a call says of the ways ahead is what then happens.

use crate::house::{BOOK, CASES};
use engine::call::{Answerer, Call, Event, Halt, Prompt, Purpose, Refusal, Reply, Stop, drive};
use engine::case::Player;
use engine::rulebook::{FactId, Line, StepId};
use std::sync::Arc;

/// A step, and where each of its lines is said to lead.
type Foretold = (StepId, Vec<(Line, Option<Stop>)>);

/// A case, watched: what was foretold at the last question, and how often it was compared.
struct Watched<'c> {
    case: &'c str,
    player: Player<'c>,
    foretold: Option<Foretold>,
    ahead: Vec<FactId>,
    compared: usize,
}

impl Watched<'_> {
    /// What was foretold for the line that the answer then took, against where the walk stands now.
    fn compare(&mut self, call: &Call) {
        let Some((step, ways)) = self.foretold.take() else {
            return;
        };
        let walked = call.walk();
        // What is foretold is foretold of a value that the meter can tell.
        if matches!(walked.stop, Stop::Need { purpose: Purpose::Second, .. }) {
            return;
        }
        let Some(passed) = walked.trail.iter().find(|passed| passed.step == step) else {
            return;
        };
        let to = ways.iter().find(|(line, _)| *line == passed.line).and_then(|(_, to)| *to);
        if let Some(to) = to {
            assert_eq!(to, walked.stop, "{}", BOOK.step(step).id);
            self.compared += 1;
        }
        // A second reading is of a fact that is known already.
        if let Stop::Need { fact, purpose: Purpose::Step, .. } = walked.stop
            && BOOK.fact(fact).given.is_empty()
        {
            let foreseen = self.ahead.contains(&fact);
            let (case, fact) = (self.case, &BOOK.fact(fact).id);
            assert!(foreseen, "{case}: {fact} was not foreseen at {}", BOOK.step(step).id);
        }
    }
}

impl Answerer for Watched<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.compare(call);
        let reply = self.player.reply(call, prompt)?;
        if let (Reply::Answer(_), Stop::Need { step, fact, purpose: Purpose::Step }) =
            (&reply, call.walk().stop)
            && fact == BOOK.step(step).fact
            && call.being_proved().is_none()
        {
            let ways = call.ways_ahead();
            self.foretold = Some((step, ways.iter().map(|way| (way.line, way.to)).collect()));
            self.ahead = call.facts_ahead();
        }
        Ok(reply)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.player.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        // What is foretold is foretold of the step's own answer.
        if !matches!(event, Event::Told { purpose: Purpose::Step, .. }) {
            self.foretold = None;
        }
        self.player.happens(call, event)
    }
}

#[test]
fn each_way_ahead_leads_where_it_is_said_to_lead() {
    let mut compared = 0;
    for case in CASES.iter() {
        let player = Player::new(&BOOK, case);
        let mut watched =
            Watched { case: &case.name, player, foretold: None, ahead: Vec::new(), compared: 0 };
        let mut call = Call::new(Arc::clone(&BOOK));
        drive(&mut call, &mut watched).unwrap();
        compared += watched.compared;
    }
    assert!(compared > 10 * CASES.len() / 2, "only {compared}");
}
