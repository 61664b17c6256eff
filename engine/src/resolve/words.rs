//! Words and numbers in rule files, as values of the fact they are about.

use super::{At, Resolver};
use crate::finding::{Code, Said, did_you_mean, listed};
use crate::gate::yaml::Word;
use crate::parsed::catalogue::{CautionDoc, ConditionDoc};
use crate::quantity::{Dimension, Expected, Misread, Quantity, Unit};
use crate::rulebook::{Caution, ChoiceSet, Condition, Fact, FactId, Kind, Signal, Value};

/// The mend for a caution whose signal word cannot be told.
const ONE_SIGNAL_WORD: &str = "use one of `danger`, `warning`, `caution`, `notice`";

/// Words and signs for what is only near to a number.
const ABOUT: [&str; 12] = [
    "~",
    "≈",
    "about",
    "approximately",
    "approx.",
    "approx",
    "around",
    "roughly",
    "circa",
    "ca.",
    "some",
    "nearly",
];

/// The number behind a word or a sign that takes its edge off.
fn behind_about(text: &str) -> Option<&str> {
    let number = ABOUT.into_iter().find_map(|word| text.trim().strip_prefix(word))?.trim_start();
    number.starts_with(|first: char| first.is_ascii_digit()).then_some(number)
}

impl Resolver<'_> {
    /// The fact behind an id; `Err` when it could not be resolved itself.
    pub(super) fn fact(&self, id: FactId) -> Result<&Fact, Said> {
        self.facts[id.index()].as_ref().map_err(|said| *said)
    }

    /// One value of a fact.
    pub(super) fn value(&mut self, fact: FactId, word: impl AsRef<str>, at: &At<'_>) -> Result<Value, Said> {
        match value_of(self.fact(fact)?, word.as_ref()) {
            Ok(value) => {
                if let Value::Choices(set) = value {
                    let used = self.used_choices.entry(fact).or_default();
                    *used = used.with(set);
                }
                Ok(value)
            }
            Err((code, title, help)) => {
                if code == Code::UnknownChoice {
                    self.lost_choices.insert((fact, word.as_ref().to_owned()));
                }
                Err(self.say(at.draft(code, title).help(help)))
            }
        }
    }

    /// One choice of a fact.
    pub(super) fn choice(
        &mut self,
        fact: FactId,
        word: impl AsRef<str>,
        at: &At<'_>,
    ) -> Result<ChoiceSet, Said> {
        let is_told = || self.told_choices.contains(&(fact, word.as_ref().to_owned()));
        if let Some(said) = self.findings.said().filter(|_| is_told()) {
            return Err(said);
        }
        match self.value(fact, word, at)? {
            Value::Choices(set) => Ok(set),
            Value::Quantity(_) => {
                let title = format!("`{}` is measured, not chosen", self.fact(fact)?.id);
                Err(self.say(at.draft(Code::WrongQuantity, title).help("use a fact with choices here")))
            }
        }
    }

    /// A quantity of the dimension of a fact.
    pub(super) fn quantity(&mut self, fact: FactId, word: &Word, at: &At<'_>) -> Result<Quantity, Said> {
        self.no_about(word.as_str(), at)?;
        let read = match self.fact(fact)? {
            Fact { id, kind: Kind::Quantity { expected, .. }, .. } => {
                Quantity::parse_written(word.as_str(), expected)
                    .map_err(|misread| (*at, misread_of(id, expected, &misread)))
            }
            Fact { id, kind: Kind::Choice { choices, .. }, .. } => {
                let ids: Vec<&str> = choices.iter().map(|choice| choice.id.as_str()).collect();
                let title = format!("`{id}` is chosen, not measured");
                let help =
                    format!("write `is:` in place of `{}:`, and {} behind it", at.name(), listed(&ids));
                Err((at.as_key(), (Code::WrongQuantity, title, help)))
            }
        };
        read.map_err(|(at, (code, title, help))| self.say(at.draft(code, title).help(help)))
    }

    /// Refuses a number that says of itself that it is only near to what is meant.
    pub(super) fn no_about(&mut self, text: &str, at: &At<'_>) -> Result<(), Said> {
        let Some(number) = behind_about(text) else { return Ok(()) };
        let title =
            format!("`{text}` is no number to judge by: nobody could say which side of it a reading is on");
        let help =
            format!("write `{number}`; how well it can be read is said once, under `meter` of its reading");
        Err(self.say(at.draft(Code::WrongQuantity, title).help(help)))
    }

    /// A size in the quantity of a fact, in base units: of a temperature, an interval.
    pub(super) fn interval(&mut self, fact: FactId, word: &Word, at: &At<'_>) -> Result<f64, Said> {
        let dimension = match self.dimension(fact)? {
            Some(Dimension::Temperature) => Dimension::TemperatureDifference,
            Some(dimension) => dimension,
            None => return self.quantity(fact, word, at).map(Quantity::base),
        };
        Quantity::parse_as(word.as_str(), dimension).map(Quantity::base).map_err(|misread| {
            let draft = at.draft(Code::WrongQuantity, format!("cannot read this size: {misread}"));
            self.say(draft.help("write a number and a unit, such as `1 V`"))
        })
    }

    /// What is measured by a fact.
    pub(super) fn dimension(&self, fact: FactId) -> Result<Option<Dimension>, Said> {
        Ok(match &self.fact(fact)?.kind {
            Kind::Quantity { expected, .. } => Some(expected.dimension()),
            Kind::Choice { .. } => None,
        })
    }

    /// A demand on a fact.
    pub(super) fn condition(
        &mut self,
        fact: FactId,
        doc: &ConditionDoc,
        at: &At<'_>,
    ) -> Result<Condition, Said> {
        if let Some(is) = &doc.is {
            let edges = [("at least", &doc.at_least), ("at most", &doc.at_most), ("below", &doc.below)];
            if let Some((edge, _)) = edges.into_iter().find(|(_, edge)| edge.is_some()) {
                let draft = at.clash("is", edge, format!("`{edge}` beside `is`"));
                return Err(self.say(draft.help("use `is` for choices, edges for quantities")));
            }
            if let Fact { id, kind: Kind::Quantity { expected, .. }, .. } = self.fact(fact)? {
                let typed = is.as_slice().first().map(Word::as_str);
                let value =
                    typed.and_then(|typed| Quantity::parse_written(typed, expected).ok().and(Some(typed)));
                let value = value.map_or_else(|| format!("1 {}", expected.unit().typed()), str::to_owned);
                let title = format!("`{id}` is measured, not chosen");
                let help = format!(
                    "write in place of `is:` what the value has to be: `below: {value}`, `at most: {value}` or \
                     `at least: {value}`"
                );
                return Err(self.say(at.key("is").as_key().draft(Code::WrongQuantity, title).help(help)));
            }
            let mut set = ChoiceSet::default();
            for word in is.as_slice() {
                set = set.with(self.choice(fact, word, &at.key("is"))?);
            }
            return Ok(Condition::Is(set));
        }
        if doc.at_least.is_none() && doc.at_most.is_none() && doc.below.is_none() {
            let draft = at.draft(Code::MissingKey, "a condition without a demand");
            return Err(self.say(draft.help("use `is`, `at least`, `at most` or `below`")));
        }
        let at_least = self.edge_of(fact, doc.at_least.as_ref(), &at.key("at least"))?;
        let at_most = self.edge_of(fact, doc.at_most.as_ref(), &at.key("at most"))?;
        let below = self.edge_of(fact, doc.below.as_ref(), &at.key("below"))?;
        Ok(Condition::Within { at_least, at_most, below })
    }

    fn edge_of(&mut self, fact: FactId, word: Option<&Word>, at: &At<'_>) -> Result<Option<Quantity>, Said> {
        word.map(|word| self.quantity(fact, word, at)).transpose()
    }

    /// Cautions, each with exactly one signal word.
    pub(super) fn cautions(&mut self, docs: &[CautionDoc], at: &At<'_>) -> Result<Vec<Caution>, Said> {
        super::all(docs.iter().enumerate().map(|(index, doc)| {
            let words = [
                (Signal::Danger, "danger", &doc.danger),
                (Signal::Warning, "warning", &doc.warning),
                (Signal::Caution, "caution", &doc.caution),
                (Signal::Notice, "notice", &doc.notice),
            ];
            let mut said = words
                .into_iter()
                .filter_map(|(signal, key, text)| text.clone().map(|text| (key, Caution { signal, text })));
            match (said.next(), said.next()) {
                (Some((_, caution)), None) => Ok(caution),
                (None, _) => Err(self.say(
                    at.index(index)
                        .draft_key(Code::MissingKey, "a caution without its signal word")
                        .help(ONE_SIGNAL_WORD),
                )),
                (Some((first, _)), Some((second, _))) => {
                    let title = format!("a second signal word: `{second}` beside `{first}`");
                    Err(self.say(at.index(index).clash(first, second, title).help(ONE_SIGNAL_WORD)))
                }
            }
        }))
    }
}

/// A word as a value of a fact, or why not: code, title, help.
pub(crate) fn value_of(fact: &Fact, word: &str) -> Result<Value, (Code, String, String)> {
    match &fact.kind {
        Kind::Choice { choices, .. } => fact.choice(word).map(Value::Choices).ok_or_else(|| {
            let ids: Vec<&str> = choices.iter().map(|choice| choice.id.as_str()).collect();
            let help = did_you_mean(word, ids.iter().copied())
                .unwrap_or_else(|| format!("expected {}", listed(&ids)));
            (Code::UnknownChoice, format!("`{word}` is not a choice of `{}`", fact.id), help)
        }),
        Kind::Quantity { expected, .. } => Quantity::parse_written(word, expected)
            .map(Value::Quantity)
            .map_err(|misread| misread_of(&fact.id, expected, &misread)),
    }
}

/// Why a text is no value of a measured fact: code, title, help.
fn misread_of(id: &str, expected: &Expected, misread: &Misread) -> (Code, String, String) {
    let dimension = expected.dimension();
    let (measures, usual) = (format!("`{id}` measures {}", dimension.plain()), expected.unit());
    let (title, help) = match misread {
        _ if dimension == Dimension::Count => {
            (misread.to_string(), format!("`{id}` is a count: write a whole number"))
        }
        // The unit that is usual for this reading, not the first of its kind.
        Misread::MissingUnit { typed, .. } => {
            let units: Vec<&str> =
                Unit::all(dimension).map(Unit::typed).filter(|unit| !unit.is_empty()).collect();
            let help =
                format!("{measures}: write `{typed} {}`; its units are {}", usual.typed(), listed(&units));
            (format!("`{typed}` has no unit"), help)
        }
        _ => (
            misread.to_string(),
            format!("{measures}: write a number and its unit, such as `{}`", usual.symbol()),
        ),
    };
    (Code::WrongQuantity, title, help)
}
