//! The person with the sheet: what they ask, what they write down, and what they work out.

use super::sheet::{Figure, Sheet};
use super::sum;
use crate::house::BOOK;
use engine::case::Case;
use engine::quantity::{Quantity, Unit};
use engine::rulebook::{Answer, Fact, FactId, PowerNeed, Value};
use std::collections::{BTreeMap, BTreeSet};

/// The person with the sheet.
pub(super) struct Person<'s> {
    pub(super) sheet: &'s Sheet,
    case: &'s Case,
    /// What stands on the record, by its number.
    pub(super) record: BTreeMap<String, Answer>,
    /// The places in the order in which they were written.
    written: Vec<String>,
    /// Readings that were taken anew, and devices that were reset.
    anew: BTreeSet<String>,
    reset: BTreeSet<String>,
    /// A reading was put right: question 1 is next.
    again: bool,
}

impl<'s> Person<'s> {
    /// What comes off a sheet that lies there is written down without a question.
    pub(super) fn new(sheet: &'s Sheet, case: &'s Case) -> Self {
        let (record, written) = (BTreeMap::new(), Vec::new());
        let (anew, reset) = (BTreeSet::new(), BTreeSet::new());
        let mut person = Self { sheet, case, record, written, anew, reset, again: false };
        for (fact, answer) in case.answers.facts() {
            let rule = BOOK.fact(fact);
            if !rule.given.is_empty()
                && let Some(place) = person.place(rule)
            {
                person.record.insert(place, answer);
            }
        }
        person
    }

    /// Whether question 1 is next, because a reading was put right.
    pub(super) fn begins_again(&mut self) -> bool {
        std::mem::take(&mut self.again)
    }

    /// Writes something down, and looks at what cannot be true together with it.
    fn write(&mut self, place: &str, answer: Answer) -> Answer {
        self.record.insert(place.to_owned(), answer);
        self.written.push(place.to_owned());
        for number in self.sheet.look_at[place].clone() {
            self.doubt_contradiction(&number);
        }
        self.record[place]
    }

    /// Crosses out a reading, and what was worked out of it.
    fn cross_out(&mut self, place: &str) {
        self.record.remove(place);
        let figures = self.sheet.figures.iter();
        let gone: Vec<String> = figures
            .filter(|(_, figure)| figure.parts.iter().any(|(part, _)| part == place))
            .map(|(figure, _)| figure.clone())
            .filter(|figure| self.is_figure(figure) && self.record.contains_key(figure))
            .collect();
        for figure in gone {
            self.cross_out(&figure);
        }
    }

    pub(super) fn written_at(&self, place: &str) -> Option<usize> {
        self.written.iter().rposition(|written| written == place)
    }

    pub(super) fn may_take_anew(&self, place: &str) -> bool {
        self.written_at(place).is_some() && self.record.contains_key(place) && !self.anew.contains(place)
    }

    /// Takes a reading once more because it lies too close to an edge, and writes the mean of both.
    pub(super) fn take_mean(&mut self, place: &str) -> bool {
        let second = self.case.answers.reading(self.fact(place), 1);
        let (Answer::Value(Value::Quantity(first)), Some(Answer::Value(Value::Quantity(second)))) =
            (self.record[place], second)
        else {
            return false;
        };
        if !self.anew.insert(place.to_owned()) {
            return false;
        }
        let mean = f64::midpoint(first.base(), second.base());
        let mean = Quantity::new(first.unit().from_base(mean), first.unit()).unwrap();
        self.cross_out(place);
        self.record.insert(place.to_owned(), Answer::Value(Value::Quantity(mean)));
        true
    }

    /// Takes a reading once more because it is in doubt.
    pub(super) fn take_anew(&mut self, place: &str) {
        self.anew.insert(place.to_owned());
        let before = self.record[place];
        let answer = match self.case.answers.reading(self.fact(place), 1) {
            Some(answer @ Answer::Value(_)) => answer,
            _ => before,
        };
        if answer != before {
            self.cross_out(place);
            self.again = true;
            self.write(place, answer);
        }
    }

    pub(super) fn place(&self, fact: &Fact) -> Option<String> {
        self.sheet.record.iter().find(|(_, name)| **name == fact.name).map(|(place, _)| place.clone())
    }

    pub(super) fn fact(&self, place: &str) -> FactId {
        let name = &self.sheet.record[place];
        BOOK.fact_ids().find(|fact| BOOK.fact(*fact).name == *name).unwrap()
    }

    /// Asks what is not on the record, or works it out, and writes it there.
    pub(super) fn ask(&mut self, place: &str) -> Answer {
        let known = self.on_record(place);
        if known != Answer::Cannot || self.record.contains_key(place) {
            return known;
        }
        if let Some(answer) = self.by_rows(place, true) {
            return answer;
        }
        let fact = self.fact(place);
        let answer = if self.is_figure(place) {
            return self.work(place, true);
        } else if BOOK.fact(fact).power == PowerNeed::Live
            && (self.is_refused(BOOK.fact(fact), true) || !self.may_go_live(BOOK.fact(fact)))
        {
            // A hold-off stands: the last line, and it is not asked again.
            return self.work(place, true);
        } else {
            self.answered(fact)
        };
        let answer = self.write(place, answer);
        if answer == Answer::Cannot { self.work(place, true) } else { answer }
    }

    /// What the caller says.
    fn answered(&self, fact: FactId) -> Answer {
        // A device that was reset is looked at once more.
        let before =
            usize::from(self.place(BOOK.fact(fact)).is_some_and(|place| self.reset.contains(&place)));
        match self.case.answers.reading(fact, before) {
            Some(Answer::Value(value)) => Answer::Value(value),
            None if fact == BOOK.roles().danger.0 => Answer::Value(Value::Choices(BOOK.roles().danger.1)),
            _ => BOOK.fact(fact).cannot_means.map_or(Answer::Cannot, Answer::Value),
        }
    }

    /// What a question that only looks finds: what was seen and nobody asked for is on the record by then.
    pub(super) fn look(&mut self, place: &str) -> Answer {
        let known = self.on_record(place);
        if known != Answer::Cannot || self.record.contains_key(place) || self.is_figure(place) {
            return known;
        }
        match self.case.answers.reading(self.fact(place), 0) {
            Some(answer @ Answer::Value(_)) => self.write(place, answer),
            _ => Answer::Cannot,
        }
    }

    /// What stands on the record, or comes of what stands there, without a question.
    pub(super) fn on_record(&mut self, place: &str) -> Answer {
        match self.record.get(place) {
            Some(answer @ Answer::Value(_)) => *answer,
            Some(Answer::Cannot) => self.work(place, false),
            None => self.by_rows(place, false).unwrap_or_else(|| self.work(place, false)),
        }
    }

    /// Whether the sheet has nobody asked for it.
    pub(super) fn is_figure(&self, place: &str) -> bool {
        self.sheet.figures.contains_key(place) && !self.sheet.asked.contains(place)
    }

    /// The first row that fits, for what comes with other things.
    fn by_rows(&mut self, place: &str, asks: bool) -> Option<Answer> {
        let rows = self.sheet.rows.get(place)?;
        for (when, is) in rows {
            let fits = when.iter().all(|(by, wanted)| {
                let stands = if asks { self.ask(by) } else { self.on_record(by) };
                matches!(stands, Answer::Value(value)
                    if BOOK.fact(self.fact(by)).show(&value).replace('_', " ") == *wanted)
            });
            if fits {
                let dimension = BOOK.fact(self.fact(place)).expected().unwrap().dimension();
                let answer = Answer::Value(Value::Quantity(Quantity::parse_as(is, dimension).unwrap()));
                self.record.insert(place.to_owned(), answer);
                return Some(answer);
            }
        }
        None
    }

    /// What is read off the table of edges.
    pub(super) fn off_the_table(&mut self, place: &str, asks: bool) -> Option<Quantity> {
        let rows = self.sheet.edges[place].clone();
        let by = &rows[0].1;
        let stands = if asks { self.ask(by) } else { self.on_record(by) };
        let Answer::Value(value) = stands else {
            return None;
        };
        let shown = BOOK.fact(self.fact(by)).show(&value);
        let row = rows.iter().find(|(_, _, is)| *is == shown)?;
        Some(Quantity::parse_exact(&row.0).unwrap())
    }

    /// A figure, worked out and written down; with questions for its parts, or out of what is there.
    fn work(&mut self, place: &str, asks: bool) -> Answer {
        let Some(figure) = self.sheet.figures.get(place) else {
            return Answer::Cannot;
        };
        if asks && figure.parts.iter().any(|(part, _)| self.is_out_of_reach(part)) {
            return Answer::Cannot;
        }
        let mut parts = BTreeMap::new();
        for (part, unit) in &figure.parts {
            let value = match part.strip_prefix('P') {
                Some(_) => self.off_the_table(part, asks),
                None => match if asks { self.ask(part) } else { self.on_record(part) } {
                    Answer::Value(Value::Quantity(value)) => Some(value),
                    _ => None,
                },
            };
            let Some(value) = value else {
                return Answer::Cannot;
            };
            parts.insert(part.as_str(), in_unit(value, unit));
        }
        // A part was put right meanwhile: all of it begins again.
        if self.again {
            return Answer::Cannot;
        }
        match self.worked(place, figure, &parts) {
            Some(quantity) => {
                let answer = Answer::Value(Value::Quantity(quantity));
                self.record.insert(place.to_owned(), answer);
                answer
            }
            None => Answer::Cannot,
        }
    }

    /// The arithmetic as it is printed.
    pub(super) fn worked(
        &self,
        place: &str,
        figure: &Figure,
        parts: &BTreeMap<&str, f64>,
    ) -> Option<Quantity> {
        let (work, unit) = &figure.work;
        let number = sum::work(work, &mut |word| match &figure.table {
            Some((factor, by, rows)) if factor == word => sum::between(rows, parts[by.as_str()]),
            _ => parts.get(word).copied(),
        })?;
        let dimension = BOOK.fact(self.fact(place)).expected().unwrap().dimension();
        Quantity::new(sum::four_digits(number), unit_named(unit, dimension))
    }

    /// Looked over before anything is asked: it was said already that it cannot be told, or a hold-off stands.
    fn is_out_of_reach(&mut self, place: &str) -> bool {
        if place.starts_with('P') || matches!(self.on_record(place), Answer::Value(_)) {
            return false;
        }
        let figure = self.sheet.figures.get(place);
        let no_parts = |person: &mut Self| {
            figure.is_none_or(|figure| figure.parts.iter().any(|(part, _)| person.is_out_of_reach(part)))
        };
        if self.is_figure(place) {
            return no_parts(self);
        }
        let fact = BOOK.fact(self.fact(place));
        let never = fact.power == PowerNeed::Live && (self.is_refused(fact, false) || self.is_held_off());
        (never || self.record.contains_key(place)) && no_parts(self)
    }

    /// Whether it is read on open live parts, and that is not allowed; asked, or as it was said already.
    fn is_refused(&mut self, fact: &Fact, asks: bool) -> bool {
        let (live_work, yes) = BOOK.power().live_work;
        let place = self.place(BOOK.fact(live_work)).unwrap();
        if !fact.live_work || !asks && !self.record.contains_key(&place) {
            return false;
        }
        !matches!(self.ask(&place), Answer::Value(Value::Choices(set)) if set.within(yes))
    }

    /// Whether the record alone says that power may not come back.
    fn is_held_off(&mut self) -> bool {
        BOOK.power().hold_offs.iter().any(|rule| {
            let (bad, tests) = (&rule.when, &rule.until);
            let found = |person: &Self, fact: FactId| {
                person.record.get(&person.place(BOOK.fact(fact)).unwrap()).copied()
            };
            bad.iter().any(
                |(fact, bad)| matches!(found(self, *fact), Some(Answer::Value(value)) if bad.holds(&value)),
            ) && (tests.is_empty()
                || bad.iter().any(|(fact, _)| self.reset.contains(&self.place(BOOK.fact(*fact)).unwrap()))
                || tests.iter().any(|(fact, wanted)| match found(self, *fact) {
                    Some(Answer::Value(value)) => !wanted.holds(&value),
                    Some(Answer::Cannot) => true,
                    None => false,
                }))
        })
    }

    /// The page of hold-offs, and for a reading behind the panel B1.
    fn may_go_live(&mut self, fact: &Fact) -> bool {
        if fact.is_inside_live() {
            let live_work = self.place(BOOK.fact(BOOK.power().live_work.0)).unwrap();
            self.ask(&live_work);
        }
        for rule in &BOOK.power().hold_offs {
            let Some(place) = rule.when.iter().find_map(|(fact, bad)| {
                let place = self.place(BOOK.fact(*fact)).unwrap();
                let found = matches!(self.record.get(&place), Some(Answer::Value(value)) if bad.holds(value));
                found.then_some(place)
            }) else {
                continue;
            };
            let in_order = |person: &mut Self| {
                rule.until.iter().all(|(fact, wanted)| {
                    let place = person.place(BOOK.fact(*fact)).unwrap();
                    matches!(person.ask(&place), Answer::Value(value) if wanted.holds(&value))
                })
            };
            if rule.until.is_empty() || self.reset.contains(&place) || !in_order(self) {
                return false;
            }
            // R7 and R9: reset once, and looked at anew.
            self.reset.insert(place.clone());
            let before = self.record[&place];
            self.cross_out(&place);
            if self.ask(&place) == before {
                return false;
            }
            self.again = true;
        }
        true
    }
}

pub(super) fn unit_named(text: &str, dimension: engine::quantity::Dimension) -> Unit {
    let text = text.replace("deg ", "°");
    Unit::parse_in(&text, dimension).unwrap_or_else(|| dimension.base_unit())
}

/// The number that a value has in the unit that the sheet wants it in.
pub(super) fn in_unit(value: Quantity, unit: &str) -> f64 {
    value.in_unit(unit_named(unit, value.dimension())).unwrap().number()
}
