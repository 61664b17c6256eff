//! A call gone through on paper: only what the sheet says, with the answers of a case.

use super::sheet::{Jump, Question, Sheet};
use crate::house::BOOK;
use engine::case::Case;
use engine::quantity::Quantity;
use engine::rulebook::{Answer, Fact, FactId, PowerNeed, Value};
use std::collections::BTreeMap;

/// The person with the sheet.
struct Person<'s> {
    sheet: &'s Sheet,
    case: &'s Case,
    /// What stands on the record, by its number.
    record: BTreeMap<String, Answer>,
}

/// The title of the ending that a case comes to.
pub(super) fn follow(sheet: &Sheet, case: &Case) -> String {
    let mut person = Person { sheet, case, record: BTreeMap::new() };
    person.told_at_once();
    let (mut at, mut back) = (1, Vec::new());
    loop {
        let question = &sheet.questions[&at];
        match person.jump(question) {
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
    /// What comes off a sheet that lies there is written down without a question.
    fn told_at_once(&mut self) {
        for (fact, answer) in self.case.answers.facts() {
            let rule = BOOK.fact(fact);
            if !rule.given.is_empty()
                && let Some(place) = self.place(rule)
            {
                self.record.insert(place, answer);
            }
        }
    }

    fn place(&self, fact: &Fact) -> Option<String> {
        self.sheet.record.iter().find(|(_, name)| **name == fact.name).map(|(place, _)| place.clone())
    }

    fn fact(&self, place: &str) -> FactId {
        let name = &self.sheet.record[place];
        BOOK.fact_ids().find(|fact| BOOK.fact(*fact).name == *name).unwrap()
    }

    /// Asks what is not on the record, and writes it there.
    fn ask(&mut self, place: &str) -> Answer {
        if let Some(answer) = self.record.get(place) {
            return *answer;
        }
        let fact = BOOK.fact(self.fact(place));
        let read = self.case.answers.reading(self.fact(place), 0);
        let answer = if fact.power == PowerNeed::Live && !self.may_go_live(fact) {
            // A hold-off stands: the last line, and it is not asked again.
            return Answer::Cannot;
        } else if let Some(Answer::Value(value)) = read {
            Answer::Value(value)
        } else if self.fact(place) == BOOK.roles().danger.0 && read.is_none() {
            Answer::Value(Value::Choices(BOOK.roles().danger.1))
        } else {
            fact.cannot_means.map_or(Answer::Cannot, Answer::Value)
        };
        self.record.insert(place.to_owned(), answer);
        answer
    }

    /// What was found and nobody asked for is on the record by the time it is looked at.
    fn tell(&mut self, place: &str) -> Answer {
        if let Some(answer) = self.record.get(place) {
            return *answer;
        }
        match self.case.answers.reading(self.fact(place), 0) {
            Some(answer @ Answer::Value(_)) => {
                self.record.insert(place.to_owned(), answer);
                answer
            }
            _ => Answer::Cannot,
        }
    }

    /// The page of hold-offs, and for a reading behind the panel B1.
    fn may_go_live(&mut self, fact: &Fact) -> bool {
        if fact.is_inside_live() {
            let live_work = self.place(BOOK.fact(BOOK.power().live_work.0)).unwrap();
            self.ask(&live_work);
        }
        let stands = BOOK.power().hold_offs.iter().any(|rule| {
            let bad = rule.when.iter().any(|(fact, bad)| {
                let place = self.place(BOOK.fact(*fact)).unwrap();
                matches!(self.record.get(&place), Some(Answer::Value(value)) if bad.holds(value))
            });
            bad && (rule.until.is_empty()
                || !rule.until.iter().all(|(fact, wanted)| {
                    let place = self.place(BOOK.fact(*fact)).unwrap();
                    matches!(self.ask(&place), Answer::Value(value) if wanted.holds(&value))
                }))
        });
        !stands
    }

    /// Which line of a question fits.
    fn jump(&mut self, question: &Question) -> Jump {
        let answer = if question.asks { self.ask(&question.written) } else { self.tell(&question.written) };
        let last = question.answers.last().unwrap().jump.clone();
        let Answer::Value(value) = answer else {
            return last;
        };
        for line in &question.answers[..question.answers.len() - 1] {
            let fits = match value {
                Value::Choices(_) => Some(self.is_choice(question, &line.text, &value)),
                Value::Quantity(quantity) => self.is_within(&line.text, quantity.base(), question.asks),
            };
            match fits {
                Some(true) => return line.jump.clone(),
                Some(false) => {}
                None => return last,
            }
        }
        last
    }

    fn is_choice(&self, question: &Question, text: &str, value: &Value) -> bool {
        let found = BOOK.fact(self.fact(&question.written)).show(value).replace('_', " ");
        found.split(" + ").any(|found| text.split(" / ").any(|choice| choice == found))
    }

    /// Whether a value lies in a band; `None` where nobody can tell the edge.
    fn is_within(&mut self, band: &str, value: f64, asks: bool) -> Option<bool> {
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
            let low = self.edge(low, asks)?;
            if value < low && !same(low) || !included && same(low) {
                return Some(false);
            }
        }
        if let Some((high, included)) = ends.1 {
            let high = self.edge(high, asks)?;
            return Some(value < high && !same(high) || included && same(high));
        }
        Some(true)
    }

    /// An edge in base units: plain, off the table, or a share of a reading.
    fn edge(&mut self, text: &str, asks: bool) -> Option<f64> {
        if let Some((_, place)) = text.trim_end_matches(')').split_once(" (P") {
            let rows = self.sheet.edges[&format!("P{place}")].clone();
            let by = &rows[0].1;
            let stands = if asks { Some(self.ask(by)) } else { self.record.get(by).copied() };
            let Some(Answer::Value(value)) = stands else {
                return None;
            };
            let shown = BOOK.fact(self.fact(by)).show(&value);
            let row = rows.iter().find(|(_, _, is)| *is == shown)?;
            return Some(Quantity::parse_exact(&row.0).unwrap().base());
        }
        let (share, of) = match text.split_once(" % of ") {
            Some((share, of)) => (share.parse::<f64>().unwrap() / 100.0, of),
            None => (1.0, text),
        };
        if !of.starts_with('W') {
            return Some(Quantity::parse_exact(text).unwrap().base());
        }
        let place = of.split(' ').next().unwrap();
        let stands = if asks { Some(self.ask(place)) } else { self.record.get(place).copied() };
        match stands {
            Some(Answer::Value(Value::Quantity(whole))) => Some(whole.base() * share),
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
