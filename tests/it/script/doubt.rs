//! What the person does with readings that contradict each other, or lie close to an edge.

use super::person::{Person, in_unit, unit_named};
use super::sheet::{Broken, Question};
use crate::house::BOOK;
use engine::quantity::Quantity;
use engine::rulebook::{Answer, Fact, Kind, Lasts, Value};
use std::collections::BTreeMap;

impl Person<'_> {
    /// Takes the readings of a contradiction anew, one after the other, as long as it is broken.
    pub(super) fn doubt_contradiction(&mut self, number: &str) {
        while self.is_broken(number)
            && let Some(place) = self.next_in_doubt(number)
        {
            self.take_anew(&place);
        }
    }

    /// With a meter before looked at before off a plate; of two alike the one that was taken last.
    fn next_in_doubt(&self, number: &str) -> Option<String> {
        let weight = |fact: &Fact| match (&fact.kind, fact.lasts) {
            (_, Lasts::Unit) => 2,
            (Kind::Quantity { .. }, _) => 0,
            (Kind::Choice { .. }, _) => 1,
        };
        let mut open = self.named_in(number);
        open.retain(|place| self.may_take_anew(place));
        open.into_iter().min_by_key(|place| {
            (weight(BOOK.fact(self.fact(place))), std::cmp::Reverse(self.written_at(place)))
        })
    }

    /// The readings that a contradiction stands on: those whose rows on the record name it.
    fn named_in(&self, number: &str) -> Vec<String> {
        let named = self.sheet.look_at.iter().filter(|(_, at)| at.iter().any(|at| at == number));
        named.map(|(place, _)| place.clone()).collect()
    }

    fn is_broken(&mut self, number: &str) -> bool {
        let contradiction = self.sheet.contradictions[number].clone();
        let all = |person: &mut Self, conditions: &[(String, String)]| {
            conditions.iter().all(|(place, wanted)| person.meets(place, wanted))
        };
        if !all(self, &contradiction.when) {
            return false;
        }
        match contradiction.broken {
            Broken::Together(conditions) => all(self, &conditions),
            Broken::Above { left, right, factor, slack } => {
                let mut product = |side: &[(String, String)]| {
                    side.iter().try_fold(1.0, |product, (place, unit)| match self.on_record(place) {
                        Answer::Value(Value::Quantity(value)) => Some(product * in_unit(value, unit)),
                        _ => None,
                    })
                };
                let sides = product(&left).zip(product(&right));
                sides.is_some_and(|(left, right)| left > factor * right + slack)
            }
        }
    }

    /// Whether what stands there is as wanted: `right or wrong`, `at least 15 V`, `below 5 V`.
    fn meets(&mut self, place: &str, wanted: &str) -> bool {
        match self.on_record(place) {
            Answer::Value(value @ Value::Choices(_)) => {
                let found = BOOK.fact(self.fact(place)).show(&value).replace('_', " ");
                wanted.split(" or ").any(|wanted| wanted == found)
            }
            Answer::Value(Value::Quantity(value)) => wanted.split(" and ").all(|wanted| {
                let (word, edge) = ["at least ", "at most ", "below "]
                    .iter()
                    .find_map(|word| wanted.strip_prefix(word).map(|edge| (*word, edge)))
                    .unwrap();
                let edge = Quantity::parse_as(&edge.replace("deg ", "°"), value.dimension()).unwrap().base();
                match word {
                    "at least " => value.base() >= edge,
                    "at most " => value.base() <= edge,
                    _ => value.base() < edge,
                }
            }),
            Answer::Cannot => false,
        }
    }

    /// How far a value may be off, in its base unit, worked out as K0 says.
    pub(super) fn doubt(&mut self, place: &str, value: Quantity) -> f64 {
        // OL is above every edge.
        if value.is_over_range() {
            return 0.0;
        }
        if let Some((percent, more)) = self.sheet.meters.get(place) {
            return 1.155 * off(value, *percent, more);
        }
        let squares: f64 = self.counts(place).into_iter().map(|(_, counts)| counts * counts).sum();
        1.155 * squares.sqrt()
    }

    /// The readings of a figure, and how much of its doubt each counts.
    fn counts(&mut self, place: &str) -> Vec<(String, f64)> {
        let mut counts = Vec::new();
        for (reading, (percent, more)) in self.sheet.meters.clone() {
            if self.is_in(&reading, place)
                && let Answer::Value(Value::Quantity(read)) = self.on_record(&reading)
            {
                let off = off(read, percent, &more);
                let mut with = |by: f64| self.moved(place, (&reading, by)).map(Quantity::base);
                if let (Some(raised), Some(lowered)) = (with(off / 2.0), with(-off / 2.0)) {
                    counts.push((reading.clone(), raised - lowered));
                }
            }
        }
        counts
    }

    /// Whether a reading goes into a figure.
    fn is_in(&self, reading: &str, figure: &str) -> bool {
        let parts = self.sheet.figures.get(figure).filter(|_| self.is_figure(figure));
        parts.is_some_and(|figure| {
            figure.parts.iter().any(|(part, _)| part == reading || self.is_in(reading, part))
        })
    }

    /// Reads once more what counts most, and puts the mean on the record; not what was read again already.
    pub(super) fn read_again(&mut self, question: &Question) -> bool {
        let place = if self.is_figure(&question.written) {
            let counts = self.counts(&question.written);
            counts
                .into_iter()
                .max_by(|left, right| left.1.abs().total_cmp(&right.1.abs()))
                .map(|(place, _)| place)
        } else {
            Some(question.written.clone())
        };
        place.is_some_and(|place| self.take_mean(&place))
    }

    /// What a place comes to with one reading raised by so much; `None` where it cannot be worked out then.
    fn moved(&mut self, place: &str, moved: (&str, f64)) -> Option<Quantity> {
        let Answer::Value(Value::Quantity(value)) = self.on_record(place) else {
            panic!("{place} is not on the record");
        };
        if place == moved.0 {
            return Quantity::new(value.base() + moved.1, value.dimension().base_unit());
        }
        if !self.is_figure(place) {
            return Some(value);
        }
        let figure = &self.sheet.figures[place];
        let mut parts: BTreeMap<&str, f64> = BTreeMap::new();
        for (part, unit) in &figure.parts {
            parts.insert(part, in_unit(self.moved(part, moved)?, unit));
        }
        self.worked(place, figure, &parts)
    }
}

/// So many percent of a value, and so much more, in the base unit.
fn off(value: Quantity, percent: f64, more: &str) -> f64 {
    let (number, unit) = more.split_once(' ').unwrap();
    let unit = unit_named(unit, value.dimension());
    let number: f64 = number.parse().unwrap();
    let shown = value.in_unit(unit).unwrap().number().abs();
    unit.to_base(shown * percent / 100.0 + number) - unit.to_base(0.0)
}
