//! Questions that come in between: which danger it is, and how many supplies there are after all.

use super::hint::Typing;
use super::screen::Label;
use super::understand::in_the_menu;
use super::{Stopped, Talk, alarm, answer, ask};
use engine::call::{Call, Reply};
use engine::rulebook::{ChoiceSet, Value};

impl Talk<'_> {
    /// Asks which danger, those guessed from a line first; `None` where it was none after all.
    pub(super) fn which_danger(
        &mut self,
        call: &Call,
        guessed: Option<ChoiceSet>,
    ) -> Result<Option<Reply>, Stopped> {
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
            None => "a number or a word; several with commas".to_owned(),
            Some(_) => "yes, or no; or a number or a word of another danger".to_owned(),
        };
        self.screen.row(Label::TYPE, &wanted)?;
        let words: Vec<String> = danger.choices().iter().map(|choice| answer::word(&choice.id)).collect();
        loop {
            let line = self.line(call, &Typing { answers: words.clone(), ..Typing::default() })?;
            if line.trim() == "back" {
                return Ok(None);
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
        self.screen.row(Label::TYPE, "a whole number; the lock-out begins anew. Or back, to the test")?;
        loop {
            let typing = Typing { expected: self.seat.units.expected(fact), ..Typing::default() };
            let line = self.line(call, &typing)?;
            let alarm = alarm::heard(call.book(), &line);
            if alarm.is_said {
                match self.which_danger(call, Some(alarm.dangers))? {
                    None => continue,
                    found => return Ok(found),
                }
            }
            if line.trim() == "back" {
                return Ok(None);
            }
            match answer::parse(fact, &line, answer::Numbers::Shown, self.seat.units) {
                Ok(count) => return Ok(Some(Reply::Correct(id, count))),
                Err(why) => self.screen.row(Label::AGAIN, &format!("{why}; or back"))?,
            }
        }
    }
}
