//! A call gone through on paper: only what the sheet says, with the answers of a case.

use super::person::Person;
use super::sheet::{Jump, Question, Sheet};
use crate::house::BOOK;
use engine::case::Case;
use engine::quantity::{Dimension, Quantity};
use engine::rulebook::{Answer, Condition, Value};

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

/// The bands that a value may lie in, and the one that it does.
struct Met {
    low: usize,
    own: usize,
    high: usize,
}

/// An end of a band, and whether the end itself belongs to it.
type End<'t> = Option<(&'t str, bool)>;

/// The lower and the upper end of a band.
fn ends(band: &str) -> (End<'_>, End<'_>) {
    if let Some(high) = band.strip_prefix("below ") {
        (None, Some((high, false)))
    } else if let Some((low, high)) = band.split_once(" or more, below ") {
        (Some((low, true)), Some((high, false)))
    } else if let Some(low) = band.strip_suffix(" or more") {
        (Some((low, true)), None)
    } else if let Some(above) = band.strip_prefix("above ") {
        match (above.split_once(", below "), above.split_once(", up to ")) {
            (Some((low, high)), _) => (Some((low, false)), Some((high, false))),
            (None, Some((low, high))) => (Some((low, false)), Some((high, true))),
            (None, None) => (Some((above, false)), None),
        }
    } else if let Some(high) = band.strip_prefix("up to ") {
        (None, Some((high, true)))
    } else if let Some((low, high)) = band.split_once(" up to ") {
        (Some((low, true)), Some((high, true)))
    } else {
        assert_eq!(band, "any value");
        (None, None)
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
        self.by_bands(question, quantity).map_or(last, |at| question.answers[at].jump.clone())
    }

    /// The line for a measured value; `None` where nobody can tell an edge.
    fn by_bands(&mut self, question: &Question, mut value: Quantity) -> Option<usize> {
        let too_close = question.answers.iter().position(|line| line.text.starts_with("too close"));
        let mut met = self.met(question, value)?;
        let ways = |met: &Met| question.answers[met.low..=met.high].iter().map(|line| line.jump.clone());
        let one_way = |met: &Met| ways(met).all(|way| way == question.answers[met.own].jump);
        if !one_way(&met) && question.asks && self.read_again(question) {
            let Answer::Value(Value::Quantity(mean)) = self.ask(&question.written) else { return None };
            value = mean;
            met = self.met(question, value)?;
        }
        if one_way(&met) {
            return Some(met.own);
        }
        let handed_over = |way: Jump| match way {
            Jump::End(ending) => self.named(&ending).kind == engine::rulebook::EndingKind::HandOver,
            _ => false,
        };
        let first = ways(&met).position(handed_over).map(|at| met.low + at);
        let holds = BOOK.power().hold_offs.iter().flat_map(|rule| &rule.when);
        let held =
            holds.filter(|(fact, _)| *fact == self.fact(&question.written)).find_map(|(_, bad)| match bad {
                Condition::Within { at_least: None, .. } => Some(met.low),
                Condition::Within { .. } => Some(met.high),
                Condition::Is(_) => None,
            });
        too_close.or(first).or(held).or(Some(met.own))
    }

    /// The bands that a value may lie in.
    fn met(&mut self, question: &Question, value: Quantity) -> Option<Met> {
        let doubt = self.doubt(&question.written, value);
        let bands: Vec<String> = question.answers[..question.answers.len() - 1]
            .iter()
            .map(|line| line.text.clone())
            .filter(|text| !text.starts_with("too close"))
            .collect();
        let (mut low, mut own) = (None, None);
        for (at, text) in bands.iter().enumerate() {
            let Some((high, included)) = ends(text).1 else { break };
            let (edge, off) = self.edge(high, value.dimension(), question.asks)?;
            let gap = value.base() - edge;
            let same = gap.abs() <= 1e-9 * edge.abs() || value.base().total_cmp(&edge).is_eq();
            let below = if same { included } else { gap < 0.0 };
            let doubt = doubt.hypot(off);
            let sure = doubt <= 0.0 || gap.abs() > doubt;
            if below || !sure {
                low = low.or(Some(at));
            }
            if below {
                own = own.or(Some(at));
            }
            if let Some(own) = own.filter(|_| below && sure) {
                return Some(Met { low: low.unwrap_or(own), own, high: at });
            }
        }
        let last = bands.len() - 1;
        Some(Met { low: low.unwrap_or(last), own: own.unwrap_or(last), high: last })
    }

    fn is_choice(&self, question: &Question, text: &str, value: &Value) -> bool {
        let found = BOOK.fact(self.fact(&question.written)).show(value).replace('_', " ");
        found.split(" + ").any(|found| text.split(" / ").any(|choice| choice == found))
    }

    /// An edge in base units, and its doubt: plain, off the table, or a share of what is on the record.
    fn edge(&mut self, text: &str, dimension: Dimension, asks: bool) -> Option<(f64, f64)> {
        if let Some((_, place)) = text.trim_end_matches(')').split_once(" (P") {
            return Some((self.off_the_table(&format!("P{place}"), asks)?.base(), 0.0));
        }
        let (share, of) = match text.split_once(" % of ") {
            Some((share, of)) => (share.parse::<f64>().unwrap() / 100.0, of),
            None => (1.0, text),
        };
        if !of.starts_with('W') {
            let text = text.replace("deg ", "°");
            return Some((Quantity::parse_as(&text, dimension).unwrap().base(), 0.0));
        }
        let stands = if asks { self.ask(of) } else { self.on_record(of) };
        match stands {
            Answer::Value(Value::Quantity(whole)) => {
                Some((whole.base() * share, self.doubt(of, whole) * share))
            }
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
