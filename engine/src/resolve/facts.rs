//! The catalogue's facts, and what comes with choices and profiles.

use super::{At, Resolver};
use crate::finding::{Code, Said, listed, quoted};
use crate::parsed::catalogue::{LastsDoc, PanelDoc, PowerDoc, ReadingDoc};
use crate::quantity::{Dimension, Expected, Meter, MisreadMeter, Quantity, Unit};
use crate::rulebook::{Asking, Choice, ChoiceSet, Fact, Kind, Lasts, PanelNeed, PowerNeed, StationId};

impl From<PowerDoc> for PowerNeed {
    fn from(doc: PowerDoc) -> Self {
        match doc {
            PowerDoc::Live => Self::Live,
            PowerDoc::Dead => Self::Dead,
            PowerDoc::Any => Self::Any,
        }
    }
}

impl From<PanelDoc> for PanelNeed {
    fn from(doc: PanelDoc) -> Self {
        match doc {
            PanelDoc::On => Self::On,
            PanelDoc::Off => Self::Off,
            PanelDoc::Any => Self::Any,
        }
    }
}

impl From<LastsDoc> for Lasts {
    fn from(doc: LastsDoc) -> Self {
        match doc {
            LastsDoc::Unit => Self::Unit,
            LastsDoc::UntilTouched => Self::UntilTouched,
            LastsDoc::Now => Self::Now,
        }
    }
}

impl Resolver<'_> {
    /// Resolves all facts, first by themselves, then what they say of each other.
    pub(super) fn facts(&mut self) {
        let parsed = self.parsed;
        for doc in &parsed.readings {
            let top = At::top(&doc.gated);
            let list = top.key("readings");
            for (id, reading) in &doc.body.readings {
                // A name that stands in two files has been reported; its second reading has no place in the list.
                if self.fact_names.position(id) != Some(self.facts.len()) {
                    continue;
                }
                let fact = self.fact_alone(id, reading, &list.key(id));
                self.facts.push(fact);
            }
        }
        self.computed_facts();
        for doc in &parsed.readings {
            let top = At::top(&doc.gated);
            let list = top.key("readings");
            for (id, reading) in &doc.body.readings {
                let _ = self.fact_beside_others(id, reading, &list.key(id));
            }
        }
        self.workings();
        for doc in &parsed.profiles {
            let top = At::top(&doc.gated);
            let Ok(of) = self.fact_id(&doc.body.profiles, &top.key("profiles")) else {
                continue;
            };
            let list = top.key("of");
            for (choice, profile) in &doc.body.of {
                let _ = self.profile(of, choice, profile, &list.key(choice));
            }
        }
    }

    fn fact_alone(&mut self, id: &str, doc: &ReadingDoc, at: &At<'_>) -> Result<Fact, Said> {
        let kind = match (&doc.measures, &doc.choices) {
            (Some(measures), None) => self.measured(measures, doc, at),
            (None, Some(choices)) => self.chosen(choices, doc, at),
            (None, None) => Err(self.say(
                at.draft_key(Code::MissingKey, format!("`{id}` is neither measured nor chosen"))
                    .help("add `measures:` with a quantity, or `choices:` with a list"),
            )),
            (Some(_), Some(_)) => Err(self.say(
                at.clash("measures", "choices", format!("`{id}` is both measured and chosen"))
                    .help("delete `measures:` or `choices:`"),
            )),
        };
        let asking = self.asking(doc, at);
        let station = self.station(doc, at);
        let cautions = self.cautions(&doc.cautions, &at.key("cautions"));
        Ok(Fact {
            id: id.to_owned(),
            name: doc.name.clone(),
            asking: asking?,
            kind: kind?,
            power: doc.power.into(),
            panel: doc.panel.into(),
            station: station?,
            ahead_of_interlock: doc.ahead_of_interlock.is_some(),
            live_work: doc.live_work.is_some(),
            lasts: doc.lasts.into(),
            minutes: doc.minutes,
            waits: Vec::new(),
            live_until_told: ChoiceSet::default(),
            yes_means: None,
            tools: doc.tools.clone(),
            cautions: cautions?,
            cautions_when: Vec::new(),
            cannot_means: None,
            may_be_missing: doc.may_be_missing.is_some(),
            feeds: None,
            given: Vec::new(),
            working: None,
        })
    }

    fn measured(&mut self, measures: &str, doc: &ReadingDoc, at: &At<'_>) -> Result<Kind, Said> {
        let dimension = self.measures(measures, at)?;
        if let Some(other) = of_another_quantity(doc, dimension) {
            let title = format!("`measures: {measures}`, and its unit and range are of {}", other.plain());
            let help = format!("write `measures: {}` in its place", other.word());
            return Err(self.say(at.key("measures").draft(Code::WrongQuantity, title).help(help)));
        }
        let unit = self.unit(doc.unit.as_deref(), dimension, at);
        let usual = Expected::new(unit.unwrap_or_else(|_| dimension.base_unit()));
        let range = match &doc.range {
            None => Ok(None),
            Some(range) => self.range(range, dimension, doc.unit.as_deref(), &at.key("range")).map(Some),
        };
        let meter = match doc.meter.as_deref().map(|text| Meter::parse_written(text, &usual)) {
            None => Ok(Meter::EXACT),
            Some(Ok(meter)) => Ok(meter),
            Some(Err(misread)) => {
                let (title, help) = match misread {
                    MisreadMeter::Shape => (
                        "this does not say how good the meter is".to_owned(),
                        format!(
                            "write it like {}; what is read off a plate or counted is `exact`",
                            Meter::written_like(usual.unit())
                        ),
                    ),
                    _ => (
                        misread.to_string(),
                        format!(
                            "mend what one count is worth, behind `of`: it is so many `{}`",
                            usual.unit().typed()
                        ),
                    ),
                };
                Err(self.say(at.key("meter").draft(Code::BadValue, title).help(help)))
            }
        };
        let mut expected = Expected::new(unit?);
        if let Some((low, high)) = range?
            && let Some(within) = expected.within(low, high)
        {
            expected = within;
        }
        if doc.over_range.is_some() {
            expected = expected.or_over_range();
        }
        Ok(Kind::Quantity { expected, meter: meter? })
    }

    /// What a fact measures.
    pub(super) fn measures(&mut self, measures: &str, at: &At<'_>) -> Result<Dimension, Said> {
        Dimension::from_word(measures).ok_or_else(|| {
            let draft =
                at.key("measures").draft(Code::WrongQuantity, format!("unknown quantity `{measures}`"));
            self.say(draft.help(format!("expected {}", dimension_words())))
        })
    }

    /// The usual unit of a fact: as written, or the base unit where nobody would take a bare number otherwise.
    pub(super) fn unit(
        &mut self,
        unit: Option<&str>,
        dimension: Dimension,
        at: &At<'_>,
    ) -> Result<Unit, Said> {
        let units: Vec<_> = Unit::all(dimension).map(Unit::typed).filter(|unit| !unit.is_empty()).collect();
        let Some(unit) = unit else {
            let base = dimension.base_unit();
            if dimension.base_is_usual() {
                return Ok(base);
            }
            let of = dimension.with_article();
            let title = format!("{of} without its `unit`: a bare number would be in `{}`", base.typed());
            let draft = at.key("measures").draft_key(Code::MissingKey, title);
            return Err(self.say(draft.help(format!("add `unit:` with one of {}", listed(&units)))));
        };
        Unit::parse_in(unit, dimension).ok_or_else(|| {
            let title = format!("`{unit}` is not a unit of {}", dimension.plain());
            let draft = at.key("unit").draft(Code::WrongQuantity, title);
            self.say(if units.is_empty() {
                draft.help("it has no unit: leave the key out")
            } else {
                draft.help(format!("expected {}", listed(&units)))
            })
        })
    }

    fn range(
        &mut self,
        text: &str,
        dimension: Dimension,
        unit: Option<&str>,
        at: &At<'_>,
    ) -> Result<(Quantity, Quantity), Said> {
        let bare = text.split_once(" to ").filter(|(low, high)| {
            unit.is_some() && [low, high].iter().all(|end| end.trim().parse::<f64>().is_ok())
        });
        let shown = unit.and_then(|unit| Unit::parse_in(unit, dimension));
        let shown = Expected::new(shown.unwrap_or_else(|| dimension.base_unit()));
        let unit = unit.map(|unit| format!(" {unit}")).unwrap_or_default();
        if let Some((low, high)) = bare.map(|(low, high)| (low.trim(), high.trim())) {
            let draft = at.draft(Code::WrongQuantity, format!("`{low} to {high}` has no unit"));
            return Err(self.say(draft.help(format!("write it as in `{low}{unit} to {high}{unit}`"))));
        }
        let help = format!("write it like `0{unit} to 100{unit}`, the lower end first");
        let ends = text.split_once(" to ").map(|(low, high)| {
            (Quantity::parse_written(low.trim(), &shown), Quantity::parse_written(high.trim(), &shown))
        });
        match ends {
            Some((Ok(low), Ok(high))) if low.base() < high.base() => Ok((low, high)),
            Some((Err(misread), _) | (_, Err(misread))) => Err(self
                .say(at.draft(Code::WrongQuantity, format!("cannot read this range: {misread}")).help(help))),
            _ => Err(self
                .say(at.draft(Code::BadValue, "expected a range from a lower to a higher end").help(help))),
        }
    }

    fn chosen(
        &mut self,
        choices: &indexmap::IndexMap<String, String>,
        doc: &ReadingDoc,
        at: &At<'_>,
    ) -> Result<Kind, Said> {
        if choices.is_empty() || choices.len() > ChoiceSet::MOST {
            let draft = at.key("choices").draft_key(Code::BadValue, "expected between 1 and 32 choices");
            return Err(self.say(draft.help("split the reading in two")));
        }
        Ok(Kind::Choice {
            choices: choices
                .iter()
                .map(|(id, means)| Choice { id: id.clone(), means: means.clone() })
                .collect(),
            several: doc.several.is_some(),
        })
    }

    fn asking(&mut self, doc: &ReadingDoc, at: &At<'_>) -> Result<Option<Asking>, Said> {
        match (&doc.say, &doc.how) {
            (None, None) => Ok(None),
            (Some(say), Some(how)) => Ok(Some(Asking { say: say.clone(), how: how.clone() })),
            (Some(_), None) => Err(self.one_of_two("say", "how", at)),
            (None, Some(_)) => Err(self.one_of_two("how", "say", at)),
        }
    }

    fn one_of_two(&mut self, there: &str, missing: &str, at: &At<'_>) -> Said {
        let title = format!("`{there}` without `{missing}`");
        let draft = at.key(there).draft_key(Code::MissingKey, title);
        self.say(draft.help(format!("add `{missing}:`, or delete `{there}` of a fact that is never asked")))
    }

    fn station(&mut self, doc: &ReadingDoc, at: &At<'_>) -> Result<Option<StationId>, Said> {
        let inside = matches!((doc.power, doc.panel), (PowerDoc::Live, PanelDoc::Off));
        match &doc.station {
            Some(name) => {
                // Without power rules there is one thing to tell of, and it is not the stations.
                let Some(power) = self.parsed.powers.first() else { return Ok(None) };
                let stations = &power.body.power.stations;
                if let Some(index) = stations.get_index_of(name) {
                    return Ok(Some(StationId::at(index)));
                }
                let names: Vec<_> = stations.keys().collect();
                let draft = at.key("station").draft(Code::UnknownId, format!("unknown station `{name}`"));
                Err(self.say(draft.help(format!("expected {}", listed(&names)))))
            }
            None if inside => {
                let title =
                    "this makes it a live reading behind the panel, and no `station` says where its leads go";
                let help = if doc.choices.is_some() {
                    "make it `power: dead`, as what is looked at or felt in there; or, where it is read live, say \
                     `station:`"
                } else {
                    "say by `station:` where its leads would be fitted; or make it `power: dead`, where it is read so"
                };
                Err(self.say(at.key("power").draft(Code::MissingKey, title).help(help)))
            }
            None => Ok(None),
        }
    }
}

/// The quantity that the unit and the range of a reading are both of, where neither is of the one that it says.
fn of_another_quantity(doc: &ReadingDoc, says: Dimension) -> Option<Dimension> {
    let (unit, range) = (doc.unit.as_deref()?, doc.range.as_deref()?);
    let (low, high) = range.split_once(" to ")?;
    let ends = [low.trim(), high.trim()];
    let unit_of = |dimension: &Dimension| Unit::parse_in(unit, *dimension).is_some();
    let ends_of =
        |dimension: &Dimension| ends.iter().filter(|end| Quantity::parse_as(end, *dimension).is_ok()).count();
    let is_none = !unit_of(&says) && ends_of(&says) == 0;
    Dimension::ALL.into_iter().find(|other| is_none && unit_of(other) && ends_of(other) == ends.len())
}

fn dimension_words() -> String {
    let words: Vec<_> = Dimension::ALL.iter().map(|dimension| dimension.word()).collect();
    words.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(", ")
}
