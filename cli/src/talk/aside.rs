//! Questions that come in between: which danger it is, how many supplies there are after all, what a stray voltage
//! comes to under load.

use super::between::{Question, Typed};
use super::hint::Typing;
use super::said::Said;
use super::screen::Label;
use super::understand::{UnderLoad, Understood, in_the_menu, under_load};
use super::{Stopped, Talk, alarm, answer, ask};
use engine::call::{Call, PowerStep, Reply};
use engine::rulebook::{ChoiceSet, Value};

impl Talk<'_> {
    /// Asks which danger, those guessed from a line first; `None` where it was none after all, which goes on the record as a
    /// remark.
    pub(super) fn which_danger(
        &mut self,
        call: &Call,
        guessed: Option<ChoiceSet>,
    ) -> Result<Option<Reply>, Stopped> {
        let found = self.danger_asked(call, guessed)?;
        if found.is_none() {
            let danger = call.book().fact(call.book().roles().danger.0);
            let named =
                guessed.map(|set| answer::word(&danger.show(&Value::Choices(set))).replace(" + ", ", "));
            let named =
                named.filter(|named| !named.is_empty()).map_or(String::new(), |named| format!(": {named}"));
            self.denied = Some(format!("danger was told, and taken back{named}"));
        }
        Ok(found)
    }

    fn danger_asked(&mut self, call: &Call, guessed: Option<ChoiceSet>) -> Result<Option<Reply>, Stopped> {
        let danger = call.book().fact(call.book().roles().danger.0);
        self.screen.gap()?;
        let heard = guessed.unwrap_or_default();
        let named = answer::word(&danger.show(&Value::Choices(heard))).replace(" + ", ", ");
        if !heard.is_empty() {
            self.screen.row(Label::loud("HEARD"), &named)?;
        }
        let say = match guessed {
            None => "Which danger is it?".to_owned(),
            Some(_) if heard.is_empty() => "Is anybody in danger?".to_owned(),
            Some(_) => format!("Is there danger? I heard: {named}. Yes or no?"),
        };
        self.screen.row(Label::SAY, &say)?;
        ask::choices(&mut self.screen, danger)?;
        let wanted = match guessed {
            None => "a number or a word; several with commas",
            Some(_) => "yes, or no; or a number or a word of another danger",
        };
        self.screen.row(Label::TYPE, wanted)?;
        let question = Question {
            why: "danger comes before anything else: what is done then depends on which it is",
            how: danger.asking.as_ref().map_or("", |asking| asking.how.as_str()),
            wanted,
        };
        let words: Vec<String> = danger.choices().iter().map(|choice| answer::word(&choice.id)).collect();
        loop {
            let line = self.line(call, &Typing { answers: words.clone(), ..Typing::default() })?;
            let said = Said::of(&line);
            if said == Said::Back {
                return Ok(None);
            }
            if !alarm::heard(call.book(), &line).is_said && self.page_between(call, said, question)? {
                continue;
            }
            match in_the_menu(self.desk(call), &line, guessed) {
                Ok(found) => return Ok(found),
                Err(why) => self.screen.row(Label::AGAIN, &format!("{why}; or back"))?,
            }
        }
    }

    /// Asks how many supplies there are, where one more may feed the unit; `None` where nothing is said of it.
    pub(super) fn count_again(&mut self, call: &Call) -> Result<Option<Reply>, Stopped> {
        let id = call.book().power().sources;
        let fact = call.book().fact(id);
        self.screen.gap()?;
        let say = fact.asking.as_ref().map_or(fact.name.as_str(), |asking| asking.say.as_str());
        self.screen.row(Label::SAY, say)?;
        let question = Question {
            why: "something fed the unit after all: every supply is found, locked and tested anew",
            how: fact.asking.as_ref().map_or("", |asking| asking.how.as_str()),
            wanted: "a whole number; the lock-out begins anew. Or back, to the test",
        };
        self.screen.row(Label::TYPE, question.wanted)?;
        loop {
            let typing = Typing { expected: self.seat.units.expected(fact), ..Typing::default() };
            let line = match self.between(call, &typing, question)? {
                Typed::Line(line) => line,
                Typed::Danger(dangers) => match self.which_danger(call, dangers)? {
                    None => continue,
                    found => return Ok(found),
                },
            };
            if Said::of(&line) == Said::Back {
                return Ok(None);
            }
            match answer::parse(fact, &line, answer::Numbers::Shown, self.seat.units) {
                Ok(count) => return Ok(Some(Reply::Correct(id, count))),
                Err(why) => self.screen.row(Label::AGAIN, &format!("{why}; or back"))?,
            }
        }
    }

    /// Asks what a voltage that open leads may show as well comes to under load; only nought is dead.
    pub(super) fn under_load(
        &mut self,
        call: &Call,
        step: &PowerStep,
        read: &str,
    ) -> Result<Understood, Stopped> {
        self.screen.row(
            Label::SURE,
            &format!(
                "{read} is not dead yet. Open leads show as much beside live wires, and so does a second supply \
                 through a poor path: the figure does not tell which, a load does."
            ),
        )?;
        self.screen.row(
            Label::SAY,
            "Hands stay out. Same pair, on the meter's low-impedance range or with a tester that loads: what does it \
             read?",
        )?;
        let question = Question {
            why: "what only comes across falls to nothing under load; a supply stays, and is found and locked first",
            how: "leave the probes where they are and change the range, or put a two-pole tester with a load at the \
                  same pair. Look for a second supply where anything stays: a shared neutral, a control circuit, heat \
                  strips on a breaker of their own. Common practice",
            wanted: "0, if it falls to nothing; the volts, if they stay; or cannot, without such a tester",
        };
        self.screen.row(Label::TYPE, question.wanted)?;
        loop {
            let line = match self.between(call, &Typing::default(), question)? {
                Typed::Line(line) => line,
                Typed::Danger(dangers) => match self.which_danger(call, dangers)? {
                    None => continue,
                    Some(danger) => return Ok(Understood::Reply(danger)),
                },
            };
            match under_load(step, &line) {
                UnderLoad::Fell => return Ok(Understood::FellToNothing(read.to_owned())),
                UnderLoad::Else(meant) => return Ok(*meant),
                UnderLoad::Neither => {
                    self.screen.row(Label::AGAIN, &format!("type {}", question.wanted))?;
                }
            }
        }
    }
}
