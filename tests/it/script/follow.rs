//! A call gone through on paper: only what the sheet says, with the answers of a case.

use super::person::Person;
use super::sheet::{Jump, Question, Sheet};
use crate::house::BOOK;
use engine::case::Case;
use engine::quantity::{Dimension, Quantity};
use engine::rulebook::{Answer, Value};

/// The title of the ending that a case comes to.
pub(super) fn follow(sheet: &Sheet, case: &Case) -> String {
    let mut person = Person::new(sheet, case);
    let (mut at, mut back) = (1, Vec::new());
    loop {
        let question = &sheet.questions[&at];
        let jump = person.jump(question);
        if person.begins_again() {
            (at, back) = (1, Vec::new());
            continue;
        }
        match jump {
            Jump::Go(to) => at = to,
            Jump::Visit { to, back: then } => {
                back.push(then);
                at = to;
            }
            Jump::End(ending) => match back.pop().filter(|_| person.is_in_order(&ending)) {
                Some(then) => at = then,
                None => return person.ended(&ending),
            },
        }
    }
}

impl Person<'_> {
    /// Which line of a question fits.
    fn jump(&mut self, question: &Question) -> Jump {
        let answer = if question.asks { self.ask(&question.written) } else { self.look(&question.written) };
        let last = question.answers.last().unwrap().jump.clone();
        let Answer::Value(value) = answer else {
            return last;
        };
        let Value::Quantity(quantity) = value else {
            let line = question.answers.iter().find(|line| self.is_choice(question, &line.text, &value));
            return line.map_or(last, |line| line.jump.clone());
        };
        let Some(own) = self.band(question, quantity) else {
            return last;
        };
        if let Some(close) = question.answers.iter().find(|line| line.text.starts_with("too close")) {
            let doubt = self.doubt(question, quantity);
            let ends = [-doubt, doubt]
                .map(|doubt| Quantity::new(quantity.base() + doubt, quantity.dimension().base_unit()));
            let lines = ends.map(|end| self.band(question, end.unwrap()).unwrap());
            let met = &question.answers[lines[0]..=lines[1]];
            if met.iter().any(|line| line.jump != question.answers[own].jump) {
                return close.jump.clone();
            }
        }
        question.answers[own].jump.clone()
    }

    /// The first band that a value fits; `None` where nobody can tell an edge before that.
    fn band(&mut self, question: &Question, value: Quantity) -> Option<usize> {
        for (at, line) in question.answers[..question.answers.len() - 1].iter().enumerate() {
            if !line.text.starts_with("too close") && self.is_within(&line.text, value, question.asks)? {
                return Some(at);
            }
        }
        None
    }

    fn is_choice(&self, question: &Question, text: &str, value: &Value) -> bool {
        let found = BOOK.fact(self.fact(&question.written)).show(value).replace('_', " ");
        found.split(" + ").any(|found| text.split(" / ").any(|choice| choice == found))
    }

    /// Whether a value lies in a band; `None` where nobody can tell the edge.
    fn is_within(&mut self, band: &str, value: Quantity, asks: bool) -> Option<bool> {
        let (value, dimension) = (value.base(), value.dimension());
        let mut ends = (None, None);
        if let Some(high) = band.strip_prefix("below ") {
            ends.1 = Some((high, false));
        } else if let Some((low, high)) = band.split_once(" or more, below ") {
            ends = (Some((low, true)), Some((high, false)));
        } else if let Some(low) = band.strip_suffix(" or more") {
            ends.0 = Some((low, true));
        } else if let Some((low, high)) =
            band.strip_prefix("above ").and_then(|band| band.split_once(", below "))
        {
            ends = (Some((low, false)), Some((high, false)));
        } else if let Some((low, high)) =
            band.strip_prefix("above ").and_then(|band| band.split_once(", up to "))
        {
            ends = (Some((low, false)), Some((high, true)));
        } else if let Some(low) = band.strip_prefix("above ") {
            ends.0 = Some((low, false));
        } else if let Some(high) = band.strip_prefix("up to ") {
            ends.1 = Some((high, true));
        } else if let Some((low, high)) = band.split_once(" up to ") {
            ends = (Some((low, true)), Some((high, true)));
        } else {
            assert_eq!(band, "any value");
        }
        let same = |edge: f64| (value - edge).abs() <= 1e-9 * edge.abs() || value.total_cmp(&edge).is_eq();
        if let Some((low, included)) = ends.0 {
            let low = self.edge(low, dimension, asks)?;
            if value < low && !same(low) || !included && same(low) {
                return Some(false);
            }
        }
        if let Some((high, included)) = ends.1 {
            let high = self.edge(high, dimension, asks)?;
            return Some(value < high && !same(high) || included && same(high));
        }
        Some(true)
    }

    /// An edge in base units: plain, off the table, or a share of what is on the record.
    fn edge(&mut self, text: &str, dimension: Dimension, asks: bool) -> Option<f64> {
        if let Some((_, place)) = text.trim_end_matches(')').split_once(" (P") {
            return Some(self.off_the_table(&format!("P{place}"), asks)?.base());
        }
        let (share, of) = match text.split_once(" % of ") {
            Some((share, of)) => (share.parse::<f64>().unwrap() / 100.0, of),
            None => (1.0, text),
        };
        if !of.starts_with('W') {
            let text = text.replace("deg ", "°");
            return Some(Quantity::parse_as(&text, dimension).unwrap().base());
        }
        let stands = if asks { self.ask(of) } else { self.on_record(of) };
        match stands {
            Answer::Value(Value::Quantity(whole)) => Some(whole.base() * share),
            _ => None,
        }
    }

    fn is_in_order(&self, ending: &str) -> bool {
        self.named(ending).kind == engine::rulebook::EndingKind::InOrder
    }

    fn named(&self, ending: &str) -> &'static engine::rulebook::Ending {
        let title = &self.sheet.endings[ending];
        BOOK.endings().iter().find(|rule| rule.name.eq_ignore_ascii_case(title)).unwrap()
    }

    /// The page after an ending that is in order: A7 and A8.
    fn ended(&mut self, ending: &str) -> String {
        let rule = self.named(ending);
        let roles = BOOK.roles();
        let complaint = self.place(BOOK.fact(roles.complaint)).unwrap();
        let answers = matches!(self.record.get(&complaint), Some(Answer::Value(Value::Choices(set))) if rule.answers.meets(*set));
        if !self.is_in_order(ending) || answers {
            return self.sheet.endings[ending].clone();
        }
        let gone = self.place(BOOK.fact(roles.gone.0)).unwrap();
        match self.ask(&gone) {
            Answer::Value(Value::Choices(set)) if set.within(roles.gone.1) => {
                self.sheet.endings[ending].clone()
            }
            _ => BOOK.ending(roles.not_enough_readings).name.clone(),
        }
    }
}
