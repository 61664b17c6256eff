//! What comes with a choice or with a motor's profile.

use super::{At, Resolver};
use crate::finding::{Code, Said};
use crate::gate::yaml::{OneOrMany, Word};
use crate::parsed::catalogue::{PowerDoc, ProfileDoc, ReadingDoc, TableDoc, TimeDoc};
use crate::quantity::Expected;
use crate::rulebook::{ChoiceSet, Fact, FactId, Given, Time, Value};

impl Resolver<'_> {
    pub(super) fn fact_beside_others(&mut self, id: &str, doc: &ReadingDoc, at: &At<'_>) -> Result<(), Said> {
        let own = self.own_id(id, at)?;
        if let Some(word) = &doc.cannot_means {
            let value = self.value(own, word, &at.key("cannot means"))?;
            self.edit(own, |fact| fact.cannot_means = Some(value));
        }
        if let Some(word) = &doc.feeds {
            let choice = self.choice(own, word, &at.key("feeds"))?;
            self.edit(own, |fact| fact.feeds = Some(choice));
        }
        if let Some(word) = &doc.yes_means {
            self.yes_means(own, doc, word, &at.key("yes means"))?;
        }
        let waits_at = at.key("waits");
        for (index, time) in doc.waits.iter().enumerate() {
            let _ = self.time(own, time, &waits_at.index(index));
        }
        if let Some(words) = &doc.live_until_told {
            self.live_until_told(own, doc, words, &at.key("live until told"))?;
        }
        if !doc.cautions_when.is_empty() {
            let at = at.key("cautions when");
            if !matches!(doc.power, PowerDoc::Any) {
                self.say(
                    at.draft_key(Code::MisplacedKey, "`cautions when` on a reading of live or dead parts")
                        .help("what can hurt there is always said: delete the key"),
                );
            }
            let when = self.conditions(&doc.cautions_when, &at)?;
            self.edit(own, |fact| fact.cautions_when = when);
        }
        let gives = at.key("gives");
        for (other, values) in &doc.gives {
            let at = gives.key(other);
            let Ok(target) = self.fact_id(other, &at.as_key()) else {
                continue;
            };
            for (choice, word) in values {
                let at = at.key(choice);
                let when = self.choice(own, choice, &at.as_key());
                let is = self.value(target, word, &at);
                if let (Ok(when), Ok(is)) = (when, is) {
                    self.give(target, vec![(own, Value::Choices(when))], is, &at);
                }
            }
        }
        Ok(())
    }

    /// A plain yes stands for one of two choices, and so a plain no for the other.
    fn yes_means(&mut self, own: FactId, doc: &ReadingDoc, word: &Word, at: &At<'_>) -> Result<(), Said> {
        if doc.choices.as_ref().is_none_or(|choices| choices.len() != 2) {
            return Err(self.say(
                at.draft_key(Code::MisplacedKey, "`yes means` on a reading that has not two choices")
                    .help("a plain no would not say which: delete the key"),
            ));
        }
        let choice = self.choice(own, word, at)?;
        if self.fact(own)?.choice("yes").is_some_and(|yes| yes != choice) {
            let title = format!("a plain yes would stand for `{}`, beside a choice `yes`", word.as_str());
            return Err(
                self.say(at.draft(Code::BadValue, title).help("delete the key: a plain yes is that choice"))
            );
        }
        self.edit(own, |fact| fact.yes_means = Some(choice));
        Ok(())
    }

    /// The choices that show the unit to have been live until they were told.
    fn live_until_told(
        &mut self,
        own: FactId,
        doc: &ReadingDoc,
        words: &OneOrMany<Word>,
        at: &At<'_>,
    ) -> Result<(), Said> {
        if !matches!(doc.power, PowerDoc::Any) {
            return Err(self.say(
                at.draft_key(Code::MisplacedKey, "`live until told` on a reading of live or dead parts")
                    .help("whether the unit is live there is known from its `power`: delete the key"),
            ));
        }
        let choices = self.either(own, words, at)?;
        self.edit(own, |fact| fact.live_until_told = choices);
        Ok(())
    }

    /// Any of these choices.
    fn either(&mut self, own: FactId, words: &OneOrMany<Word>, at: &At<'_>) -> Result<ChoiceSet, Said> {
        let choices = super::all(words.as_slice().iter().map(|word| self.choice(own, word, at)))?;
        Ok(choices.into_iter().fold(ChoiceSet::default(), ChoiceSet::with))
    }

    /// The time that an answer takes.
    fn time(&mut self, own: FactId, doc: &TimeDoc, at: &At<'_>) -> Result<(), Said> {
        if !(doc.minutes > 0.0 && doc.minutes.is_finite()) {
            return Err(self.say(
                at.key("minutes")
                    .draft(Code::BadValue, "a wait of no time")
                    .help("write the minutes that pass before it can be told"),
            ));
        }
        let is = match &doc.is {
            None => None,
            Some(words) => Some(self.either(own, words, &at.key("is"))?),
        };
        self.edit(own, |fact| fact.waits.push(Time { is, minutes: doc.minutes }));
        Ok(())
    }

    pub(super) fn profile(
        &mut self,
        of: FactId,
        choice: &str,
        doc: &ProfileDoc,
        at: &At<'_>,
    ) -> Result<(), Said> {
        let model = Value::Choices(self.choice(of, choice, &at.as_key())?);
        let gives = at.key("gives");
        for (other, word) in &doc.gives {
            let at = gives.key(other);
            let Ok(target) = self.fact_id(other, &at.as_key()) else {
                continue;
            };
            if let Ok(is) = self.value(target, word, &at) {
                self.give(target, vec![(of, model)], is, &at);
            }
        }
        let tables = at.key("tables");
        for (other, table) in &doc.tables {
            let at = tables.key(other);
            let Ok(target) = self.fact_id(other, &at.as_key()) else {
                continue;
            };
            let _ = self.table(target, (of, model), table, &at);
        }
        Ok(())
    }

    fn table(
        &mut self,
        target: FactId,
        model: (FactId, Value),
        doc: &TableDoc,
        at: &At<'_>,
    ) -> Result<(), Said> {
        let by_at = at.key("by");
        let keys = super::all(
            doc.by.iter().enumerate().map(|(index, name)| self.fact_id(name, &by_at.index(index))),
        )?;
        let rows = at.key("rows");
        for (index, row) in doc.rows.iter().enumerate() {
            let at = rows.index(index);
            let Some((last, cells)) = row.split_last().filter(|(_, cells)| cells.len() == keys.len()) else {
                let draft = at.draft(
                    Code::BadValue,
                    format!("expected {} cells in this row, found {}", keys.len() + 1, row.len()),
                );
                self.say(draft.help("one cell for each fact under `by`, then the value"));
                continue;
            };
            let mut when = vec![model];
            for (column, (&key, word)) in keys.iter().zip(cells).enumerate() {
                if let Ok(value) = self.value(key, word, &at.index(column)) {
                    when.push((key, value));
                }
            }
            let at = at.index(keys.len());
            if let Ok(is) = self.value(target, last, &at) {
                self.give(target, when, is, &at);
            }
        }
        Ok(())
    }

    fn give(&mut self, target: FactId, when: Vec<(FactId, Value)>, is: Value, at: &At<'_>) {
        let range = self.fact(target).ok().and_then(Fact::expected).and_then(Expected::range);
        if let (Some((low, high)), Some(value)) = (range, is.quantity())
            && !(low.base()..=high.base()).contains(&value.base())
        {
            let draft = at.draft(
                Code::WrongQuantity,
                format!("`{value}` lies outside {low} to {high}, where this is read"),
            );
            self.say(draft.help("mend the number or its unit, or the `range` of the reading"));
        }
        self.edit(target, |fact| fact.given.push(Given { when, is }));
    }

    pub(super) fn edit(&mut self, fact: FactId, change: impl FnOnce(&mut Fact)) {
        if let Some(Ok(fact)) = self.facts.get_mut(fact.index()) {
            change(fact);
        }
    }
}
