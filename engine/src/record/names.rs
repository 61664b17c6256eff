//! From events to words and back, by the names of a rulebook.

use super::entry::{Entry, Said, Step};
use crate::call::{Event, EventId, Leads, PowerStep};
use crate::quantity::{Quantity, Unit};
use crate::rulebook::{
    Answer, ChoiceSet, DeedId, EndingId, Fact, FactId, RelationId, Rulebook, StationId, Value,
};
use std::collections::HashMap;

/// Why an entry means nothing to a rulebook: its rules are not those that the call went by.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum Unknown {
    /// No such name.
    #[error("these rules know no {kind} `{name}`")]
    Name {
        /// What is named.
        kind: &'static str,
        /// Its name in the record.
        name: String,
    },
    /// The fact has no such choice.
    #[error("in these rules `{fact}` has no choice `{choice}`")]
    Choice {
        /// The fact.
        fact: String,
        /// The choice in the record.
        choice: String,
    },
    /// The fact is of another kind, or has another quantity.
    #[error("in these rules `{fact}` takes no answer such as {said}")]
    Answer {
        /// The fact.
        fact: String,
        /// What was said of it.
        said: String,
    },
}

/// The names of a rulebook, looked up fast.
#[derive(Debug)]
pub struct Names<'b> {
    book: &'b Rulebook,
    facts: HashMap<&'b str, FactId>,
    endings: HashMap<&'b str, EndingId>,
    deeds: HashMap<&'b str, DeedId>,
    relations: HashMap<&'b str, RelationId>,
    stations: HashMap<&'b str, StationId>,
}

impl<'b> Names<'b> {
    /// The names of this rulebook.
    #[must_use]
    pub fn of(book: &'b Rulebook) -> Self {
        Self {
            book,
            facts: index(book.facts(), |fact| &fact.id, FactId::at),
            endings: index(book.endings(), |ending| &ending.id, EndingId::at),
            deeds: index(book.deeds(), |deed| &deed.id, DeedId::at),
            relations: index(book.relations(), |relation| &relation.id, RelationId::at),
            stations: index(&book.power().stations, |station| &station.id, StationId::at),
        }
    }

    /// The event in words.
    #[must_use]
    pub fn write(&self, event: &Event) -> Entry {
        let fact = |fact: &FactId| self.book.fact(*fact).id.clone();
        match event {
            Event::Told { fact: told, answer, purpose } => {
                Entry::Told { fact: fact(told), is: self.said(*told, answer), purpose: *purpose }
            }
            Event::Again { fact: read, answer } => {
                Entry::Again { fact: fact(read), is: self.said(*read, answer) }
            }
            Event::Retract { event } => Entry::Retract { event: event.number() },
            Event::Insist { relation } => {
                Entry::Insist { relation: self.book.relation(*relation).id.clone() }
            }
            Event::Power { step, result } => Entry::Power { step: self.step(step), result: *result },
            Event::Deed { ending, deed, result } => Entry::Deed {
                ending: self.book.ending(*ending).id.clone(),
                deed: self.book.deed(*deed).id.clone(),
                result: *result,
            },
            Event::Worked { ending, deed, steps } => Entry::Worked {
                ending: self.book.ending(*ending).id.clone(),
                deed: self.book.deed(*deed).id.clone(),
                steps: *steps,
            },
            Event::Danger { what } => {
                Entry::Danger { what: choices(self.book.fact(self.book.roles().danger.0), *what) }
            }
            Event::Note(text) => Entry::Note { text: text.clone() },
            Event::Left => Entry::Left {},
            Event::Resumed => Entry::Resumed {},
            Event::Earlier { ending, result, of } => Entry::Earlier {
                ending: self.book.ending(*ending).id.clone(),
                result: *result,
                of: of.clone(),
            },
        }
    }

    fn said(&self, fact: FactId, answer: &Answer) -> Said {
        match answer {
            Answer::Cannot => Said::Cannot,
            Answer::Value(Value::Choices(set)) => Said::Is(choices(self.book.fact(fact), *set)),
            Answer::Value(Value::Quantity(quantity)) => {
                let unit = quantity.unit().symbol().to_owned();
                if quantity.is_over_range() {
                    Said::OverRange(unit)
                } else {
                    Said::Read(quantity.number(), unit)
                }
            }
        }
    }

    fn step(&self, step: &PowerStep) -> Step {
        let leads = step.leads.as_ref().map(|leads| {
            let facts = leads.facts.iter().map(|fact| self.book.fact(*fact).id.clone()).collect();
            (self.book.power().stations[leads.station.index()].id.clone(), facts)
        });
        Step { routine: step.routine, kind: step.kind, source: step.source, wait: step.wait, leads }
    }

    /// The event that an entry tells of.
    ///
    /// # Errors
    /// A name, a choice or a kind of answer that these rules do not have.
    pub fn read(&self, entry: &Entry) -> Result<Event, Unknown> {
        Ok(match entry {
            Entry::Told { fact, is, purpose } => {
                let fact = self.fact(fact)?;
                Event::Told { fact, answer: self.answer(fact, is)?, purpose: *purpose }
            }
            Entry::Again { fact, is } => {
                let fact = self.fact(fact)?;
                Event::Again { fact, answer: self.answer(fact, is)? }
            }
            Entry::Retract { event } => Event::Retract { event: EventId::numbered(*event) },
            Entry::Insist { relation } => {
                Event::Insist { relation: found(&self.relations, "relation", relation)? }
            }
            Entry::Power { step, result } => Event::Power { step: self.power_step(step)?, result: *result },
            Entry::Deed { ending, deed, result } => Event::Deed {
                ending: self.ending(ending)?,
                deed: found(&self.deeds, "deed", deed)?,
                result: *result,
            },
            Entry::Worked { ending, deed, steps } => Event::Worked {
                ending: self.ending(ending)?,
                deed: found(&self.deeds, "deed", deed)?,
                steps: *steps,
            },
            Entry::Danger { what } => {
                let danger = self.book.fact(self.book.roles().danger.0);
                Event::Danger { what: chosen(danger, what)? }
            }
            Entry::Note { text } => Event::Note(text.clone()),
            Entry::Left {} => Event::Left,
            Entry::Resumed {} => Event::Resumed,
            Entry::Earlier { ending, result, of } => {
                Event::Earlier { ending: self.ending(ending)?, result: *result, of: of.clone() }
            }
        })
    }

    fn power_step(&self, step: &Step) -> Result<PowerStep, Unknown> {
        let leads = match &step.leads {
            None => None,
            Some((station, facts)) => Some(Leads {
                station: found(&self.stations, "station", station)?,
                facts: facts.iter().map(|fact| self.fact(fact)).collect::<Result<_, _>>()?,
            }),
        };
        Ok(PowerStep { routine: step.routine, kind: step.kind, source: step.source, wait: step.wait, leads })
    }

    /// The fact of this name.
    ///
    /// # Errors
    /// These rules have none.
    pub fn fact(&self, name: &str) -> Result<FactId, Unknown> {
        found(&self.facts, "reading", name)
    }

    /// The ending of this name.
    ///
    /// # Errors
    /// These rules have none.
    pub fn ending(&self, name: &str) -> Result<EndingId, Unknown> {
        found(&self.endings, "ending", name)
    }

    fn answer(&self, fact: FactId, said: &Said) -> Result<Answer, Unknown> {
        let rule = self.book.fact(fact);
        let value = match said {
            Said::Cannot => return Ok(Answer::Cannot),
            Said::Is(names) => Some(Value::Choices(chosen(rule, names)?)),
            Said::Read(number, unit) => {
                unit_of(rule, unit).and_then(|unit| Quantity::new(*number, unit)).map(Value::Quantity)
            }
            Said::OverRange(unit) => unit_of(rule, unit).map(Quantity::over_range).map(Value::Quantity),
        };
        value
            .map(Answer::Value)
            .ok_or_else(|| Unknown::Answer { fact: rule.id.clone(), said: in_words(said) })
    }
}

fn index<T, I>(all: &[T], name: fn(&T) -> &String, id: fn(usize) -> I) -> HashMap<&str, I> {
    all.iter().enumerate().map(|(place, one)| (name(one).as_str(), id(place))).collect()
}

fn found<I: Copy>(all: &HashMap<&str, I>, kind: &'static str, name: &str) -> Result<I, Unknown> {
    all.get(name).copied().ok_or_else(|| Unknown::Name { kind, name: name.to_owned() })
}

fn choices(fact: &Fact, set: ChoiceSet) -> Vec<String> {
    set.positions().filter_map(|at| fact.choices().get(at)).map(|choice| choice.id.clone()).collect()
}

fn chosen(fact: &Fact, names: &[String]) -> Result<ChoiceSet, Unknown> {
    names.iter().try_fold(ChoiceSet::default(), |set, name| {
        let choice = fact.choice(name);
        let choice = choice.ok_or_else(|| Unknown::Choice { fact: fact.id.clone(), choice: name.clone() })?;
        Ok(set.with(choice))
    })
}

/// A unit of the fact's own quantity. A count has no symbol.
fn unit_of(fact: &Fact, symbol: &str) -> Option<Unit> {
    let dimension = fact.expected()?.dimension();
    if symbol.is_empty() {
        return Some(dimension.base_unit()).filter(|unit| unit.symbol().is_empty());
    }
    Unit::parse_in(symbol, dimension)
}

fn in_words(said: &Said) -> String {
    match said {
        Said::Read(number, unit) => format!("{number} {unit}").trim_end().to_owned(),
        Said::OverRange(unit) => format!("OL {unit}").trim_end().to_owned(),
        Said::Is(names) => names.join(" + "),
        Said::Cannot => "cannot".to_owned(),
    }
}
