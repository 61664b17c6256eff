//! The technician: stands before the unit with a meter, does what is asked, and says what was found.

mod meter;
mod steps;
mod time;
mod words;

use crate::chance::Chance;
use crate::deed;
use crate::household::{Callback, Complaint};
use crate::ranges::technician as ranges;
use crate::read::{Reading, read};
use crate::unit::{Symptom, Unit};
use engine::call::{Answerer, Call, DeedResult, Halt, Patience, Prompt, Purpose, Refusal, Reply, Wants};
use engine::rulebook::{Answer, ChoiceSet, DeedId, EndingId, FactId, Lasts, Rulebook, Value};
pub(crate) use meter::Meter;
use std::collections::BTreeMap;
use time::minutes;

/// How careful a technician is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Care {
    /// Takes every reading there is, and never slips.
    Perfect,
    /// Cannot take some readings, and never slips.
    Careful,
    /// Cannot take some readings, and now and then says something else than was found.
    Human,
}

/// What the technician has along.
#[derive(Debug)]
struct Brings {
    /// A new motor of the kind; else it has to be fetched.
    motor: bool,
    /// All that any reading takes, but for plates and papers that are not there.
    whatever_reads: bool,
}

/// A simulated technician before a simulated unit.
#[derive(Debug)]
pub(crate) struct Technician {
    pub(crate) unit: Unit,
    complaint: Complaint,
    care: Care,
    live_work: bool,
    licensed: bool,
    brings: Brings,
    meter: Meter,
    chance: Chance,
    /// Whether a fact can be taken at all, decided when it is first asked.
    takes: BTreeMap<FactId, bool>,
    prompts: u32,
    patience: Patience,
    /// A slip that has just been noticed: what was found in truth.
    noticed: Option<(FactId, Answer)>,
    /// Answers that were something else than was found.
    pub(crate) slips: u32,
    /// Replies that meant nothing.
    pub(crate) refused: u32,
    /// Facts that were asked for and that nothing here knows.
    pub(crate) unknown: Vec<String>,
}

impl Technician {
    /// Sends a technician to a callback.
    pub(crate) fn sent_to(callback: Callback, care: Care, chance: &mut Chance) -> Self {
        Self {
            unit: callback.unit,
            complaint: callback.complaint,
            care,
            live_work: chance.happens(ranges::LIVE_WORK),
            licensed: chance.happens(ranges::LICENSED),
            meter: Meter::draw(care, chance),
            chance: chance.branch(),
            brings: Brings { motor: chance.happens(ranges::HAS_MOTOR), whatever_reads: false },
            takes: BTreeMap::new(),
            prompts: 0,
            patience: Patience::default(),
            noticed: None,
            slips: 0,
            refused: 0,
            unknown: Vec::new(),
        }
    }

    /// Comes a second time, with what had to be fetched.
    pub(crate) fn comes_again(&mut self, complaint: Complaint) {
        self.complaint = complaint;
        self.brings.motor = true;
        self.prompts = 0;
        self.patience = Patience::default();
        self.noticed = None;
    }

    /// Sends somebody who can take what was missing, but for plates and papers that are not there. `false` where nothing
    /// else was missing.
    pub(crate) fn brings_what_was_missing(&mut self, book: &Rulebook) -> bool {
        let missing = |fact: FactId, takes: bool| !takes && book.fact(fact).lasts != Lasts::Unit;
        let some = self.takes.iter().any(|(fact, takes)| missing(*fact, *takes));
        self.takes.retain(|fact, takes| !missing(*fact, *takes));
        self.brings.whatever_reads = true;
        some
    }

    /// Whether a repair was left for later only to fetch a motor for it.
    pub(crate) fn fetches(&self, book: &Rulebook, ending: EndingId) -> bool {
        !self.brings.motor && is_a_new_motor(&book.ending(ending).id)
    }

    /// Whether live work is allowed to this person.
    pub(crate) const fn may_work_live(&self) -> bool {
        self.live_work
    }

    fn answer(&mut self, call: &Call, fact: FactId, purpose: Purpose) -> Answer {
        let rule = call.book().fact(fact);
        let id = rule.id.as_str();
        if !self.can_take(call, fact) {
            return Answer::Cannot;
        }
        let found = match id {
            "complaint" => Reading::Choice(self.complains()),
            "live_work_allowed" => Reading::Choice(if self.live_work { "yes" } else { "no" }),
            "measured_gas_rate" if !self.licensed => Reading::Cannot,
            "motor_line_plug" => {
                self.pull_the_plug_of_a_wrong_link();
                read(&self.unit, id).unwrap_or(Reading::Cannot)
            }
            _ => read(&self.unit, id).unwrap_or_else(|| {
                self.unknown.push(id.to_owned());
                Reading::Cannot
            }),
        };
        let told = self.meter.shows(rule, found, &mut self.chance);
        // Whatever is asked once more is read with care.
        let once_more = matches!(purpose, Purpose::Second | Purpose::Doubted);
        if self.care == Care::Human && !once_more && self.chance.happens(ranges::SLIP) {
            return self.slip(call, fact, told);
        }
        told
    }

    /// What is said to be wrong: at first what the caller said, later what is seen now.
    fn complains(&self) -> &'static str {
        let shown = self.unit.shows();
        if self.prompts < 8 || shown.is_empty() {
            return self.complaint;
        }
        match shown[0] {
            Symptom::NoRun => "no_run",
            Symptom::WrongRotation => "wrong_rotation",
            Symptom::LowAirflow => "low_airflow",
            Symptom::Trips => "trips",
            Symptom::TooNoisy => "too_noisy",
        }
    }

    /// A link for 115 volts in sight on a supply of twice that: the plug is pulled before power comes.
    fn pull_the_plug_of_a_wrong_link(&mut self) {
        let bursts =
            self.unit.motor.link == crate::motor::Link::V115 && self.unit.supply.system.has_two_legs();
        if bursts {
            self.unit.stand.unplugged = true;
        }
    }

    /// Whether a fact can be taken, the same all through a call.
    fn can_take(&mut self, call: &Call, fact: FactId) -> bool {
        if self.care == Care::Perfect {
            return true;
        }
        if let Some(takes) = self.takes.get(&fact) {
            return *takes;
        }
        let rule = call.book().fact(fact);
        let often =
            if self.brings.whatever_reads && rule.lasts != Lasts::Unit { 0.0 } else { words::cannot(rule) };
        let takes = !self.chance.happens(often);
        self.takes.insert(fact, takes);
        takes
    }

    fn slip(&mut self, call: &Call, fact: FactId, told: Answer) -> Answer {
        let rule = call.book().fact(fact);
        // Nobody mistakes a danger, or what they may do themselves.
        let known_well = fact == call.book().roles().danger.0 || fact == call.book().power().live_work.0;
        let slipped = match told {
            Answer::Value(Value::Choices(_)) if !known_well => {
                let pick = self.chance.below(rule.choices().len());
                Answer::Value(Value::Choices(ChoiceSet::only(pick)))
            }
            Answer::Value(Value::Quantity(_)) => words::misread(rule, told, &mut self.chance),
            other => other,
        };
        if slipped != told {
            self.slips += 1;
            self.noticed = self.chance.happens(ranges::NOTICES).then_some((fact, told));
        }
        slipped
    }

    fn consent(&self, call: &Call, ending: EndingId) -> DeedResult {
        let others_work = match call.book().ending(ending).id.as_str() {
            "restore-open-supply" | "replace-limit-switch" => true,
            "replace-control-board" => self.unit.heater.source.burns(),
            _ => false,
        };
        let to_fetch = self.fetches(call.book(), ending);
        if to_fetch || (others_work && !self.licensed) { DeedResult::Later } else { DeedResult::Now }
    }

    fn does(&mut self, call: &Call, deed: DeedId) -> DeedResult {
        let id = call.book().deed(deed).id.as_str();
        if id == "switch-supply-on" && self.unit.told.off_for_trips {
            return DeedResult::NotPossible;
        }
        if deed::apply(&mut self.unit, id, &mut self.chance) {
            DeedResult::Done
        } else {
            DeedResult::NotPossible
        }
    }
}

/// Whether an ending replaces the motor.
fn is_a_new_motor(ending: &str) -> bool {
    ending.starts_with("replace-motor-")
}

impl Answerer for Technician {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.prompts += 1;
        self.patience.wear()?;
        // "No, sorry, that was …": in place of the next answer.
        if let Some((fact, found)) = self.noticed.take() {
            return Ok(Reply::Correct(fact, found));
        }
        if let Some(tripped) = self.sees_that_it_died(call, prompt) {
            return Ok(tripped);
        }
        // A step or a deed is done when its time is over, and a figure is read when its time begins.
        let reads = matches!(prompt.wants(), Wants::Fact { .. });
        if !reads {
            self.unit.passes(minutes(call, prompt));
        }
        let reply = match prompt.wants() {
            Wants::Fact { fact, purpose } => Reply::Answer(self.answer(call, *fact, *purpose)),
            Wants::Power { step, .. } => Reply::Step(self.step(step)),
            Wants::Conflict { .. } => Reply::Insist,
            Wants::Consent { ending } => Reply::Deed(self.consent(call, *ending)),
            Wants::Deed { deed, .. } => Reply::Deed(self.does(call, *deed)),
        };
        if reads {
            self.unit.passes(minutes(call, prompt));
        }
        Ok(reply)
    }

    fn refused(&mut self, refusal: Refusal) {
        let _ = refusal;
        self.refused += 1;
    }
}
