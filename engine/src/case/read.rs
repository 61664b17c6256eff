//! From a case file to a case: names and values checked against the rulebook.

use super::doc::{CaseDoc, LayerDoc};
use super::goes_on::{goes_on, laid};
use super::{Case, EARLIER, Layer};
use crate::call::DeedResult;
use crate::finding::{Code, Findings, Reported, Said, clean, did_you_mean, quoted};
use crate::gate::yaml::{OneOrMany, Word};
use crate::gate::{Gated, Shaped};
use crate::mend::{self, Judge, Mended};
use crate::parsed::flaws::Flaws;
use crate::quantity::Quantity;
use crate::resolve::At;
use crate::rulebook::{Answer, ChoiceSet, Condition, EndingId, Fact, FactId, Kind, Rulebook, Value};
use crate::source::Source;
use std::collections::BTreeMap;

/// The word for a reading that could not be taken.
const CANNOT: &str = "cannot";

impl Case {
    /// Reads a case file.
    ///
    /// # Errors
    /// Everything in it that the rulebook does not know, and endings that its own readings rule out.
    pub fn read(book: &Rulebook, source: Source) -> Result<Self, Reported> {
        let mut flaws = Flaws::default();
        let (gated, doc) = match Self::doc(&mut flaws, source) {
            Ok(read) => read,
            Err(said) => return Err(flaws.with(Findings::new()).finish_with(said)),
        };
        let mut reader = Reader { book, findings: Findings::new() };
        let top = At::top(&gated);
        let case = reader.case(&doc, &top);
        // Whether its readings bear its endings out can be told of a whole case only.
        if flaws.said().is_none() {
            reader.proofs_that_fail(&case, &top.key("ends"));
        }
        flaws.with(reader.findings).finish().map(|()| case)
    }

    /// The case as it is written; one with slips is read past them.
    fn doc(flaws: &mut Flaws, source: Source) -> Result<(Gated, CaseDoc), Said> {
        if let Ok(gated) = Gated::check(source.clone())
            && let Shaped { body: Ok(doc), findings, .. } = gated.shaped()
            && findings.is_empty()
        {
            return Ok((gated, doc));
        }
        let Mended { gated, findings, about, cut } = mend::read(source, judge);
        flaws.note_mended(findings, about, &cut);
        let gated = gated?;
        let doc = flaws.note(&gated, gated.shaped())?;
        Ok((gated, doc))
    }
}

/// What reads a case.
fn judge(key: &str) -> Option<Judge> {
    (key == "case").then_some(|gated| gated.shaped::<CaseDoc>().findings)
}

struct Reader<'b> {
    book: &'b Rulebook,
    findings: Findings,
}

impl Reader<'_> {
    /// The case, less what was reported.
    fn case(&mut self, doc: &CaseDoc, top: &At<'_>) -> Case {
        self.name(doc.case.as_str(), &top.key("case"));
        let earlier = self.earlier(doc, &top.key("earlier"));
        let answers = self.layer(&doc.answers, &top.key("answers"));
        let ends = self.ends(&doc.ends, &top.key("ends"));
        let mut after: BTreeMap<EndingId, Vec<Layer>> = BTreeMap::new();
        let after_at = top.key("after");
        for (name, layers) in &doc.after {
            let at = after_at.key(name);
            let Some(ending) = self.repair(name, &at) else {
                continue;
            };
            let many = layers.as_slice().len() > 1;
            let layers = layers.as_slice().iter().enumerate().map(|(index, layer)| {
                if many { self.layer(layer, &at.index(index)) } else { self.layer(layer, &at) }
            });
            let layers = layers.collect();
            after.insert(ending, layers);
        }
        let name = doc.case.as_str().to_owned();
        Case { name, about: doc.about.clone(), earlier, answers, ends, after }
    }

    /// A case goes by the name of its file: what is said of one leads to the other.
    fn name(&mut self, name: &str, at: &At<'_>) {
        let file = at.gated().source().name();
        let file = file.rsplit(['/', '\\']).next().unwrap_or(file);
        let stem = file.strip_suffix(".yaml").or_else(|| file.strip_suffix(".yml")).unwrap_or(file);
        // `a-stuck-wheel` and `a_stuck_wheel` are one name to whoever reads them; on a command line, a blank parts a name.
        let plain = |name: &str| name.to_lowercase().replace('_', "-");
        if plain(name) != plain(stem) {
            let title = format!("this case goes by {}, its file by {}", quoted(name), quoted(stem));
            let draft = at.draft(Code::CaseNotAsFile, title);
            self.findings.push(
                draft.help(format!("write `case: {}`, or give the file the name of the case", clean(stem))),
            );
        }
    }

    /// What earlier calls on the unit came to.
    fn earlier(&mut self, doc: &CaseDoc, at: &At<'_>) -> Vec<(EndingId, DeedResult)> {
        let mut earlier = Vec::new();
        for (name, words) in &doc.earlier {
            let at = at.key(name);
            let Some(ending) = self.ending(name, &at.as_key()) else { continue };
            let is_carried =
                self.book.ending(ending).is_repair() || ending == self.book.roles().cannot_prove_dead;
            if !is_carried {
                let title = format!("of `{name}` no later call knows anything");
                let draft = at.draft_key(Code::MisplacedKey, title);
                self.findings.push(draft.help("delete it, or name a repair or reset"));
                continue;
            }
            let many = words.as_slice().len() > 1;
            for (index, word) in words.as_slice().iter().enumerate() {
                let known = EARLIER.iter().find(|(_, known)| *known == word.as_str());
                let Some((result, _)) = known else {
                    let at = if many { at.index(index) } else { at };
                    let title = format!("{} is nothing that an earlier call came to", quoted(word.as_str()));
                    let help = "write `done`, or `later` for what was left for this visit; `[later, done]` where \
                                somebody did it since";
                    self.findings.push(at.draft(Code::BadValue, title).help(help));
                    continue;
                };
                earlier.push((ending, *result));
            }
        }
        earlier
    }

    fn ends(&mut self, words: &OneOrMany<Word>, at: &At<'_>) -> Vec<EndingId> {
        let many = words.as_slice().len() > 1;
        words
            .as_slice()
            .iter()
            .enumerate()
            .filter_map(|(index, word)| {
                if many {
                    self.ending(word.as_str(), &at.index(index))
                } else {
                    self.ending(word.as_str(), at)
                }
            })
            .collect()
    }

    fn ending(&mut self, name: &str, at: &At<'_>) -> Option<EndingId> {
        let found = self.book.ending_named(name);
        if found.is_none() {
            let names = self.book.endings().iter().map(|ending| ending.id.as_str());
            let draft = at.draft(Code::UnknownId, format!("unknown ending `{name}`"));
            self.findings.push(match did_you_mean(name, names) {
                Some(question) => draft.help(question),
                None => draft.help("use an ending that the rules name"),
            });
        }
        found
    }

    /// An ending of which something can be done.
    fn repair(&mut self, name: &str, at: &At<'_>) -> Option<EndingId> {
        let ending = self.ending(name, &at.as_key())?;
        if self.book.ending(ending).is_repair() {
            return Some(ending);
        }
        let title = format!("nothing is done to the unit in `{name}`, so nothing comes after it");
        let draft = at.draft_key(Code::MisplacedKey, title);
        self.findings.push(draft.help("delete these readings, or name a repair or reset"));
        None
    }

    fn layer(&mut self, doc: &LayerDoc, at: &At<'_>) -> Layer {
        let mut layer = Layer::default();
        for (name, words) in doc {
            let at = at.key(name);
            if let Some(fact) = self.fact(name, &at)
                && let Some(readings) = self.readings(fact, words, &at)
            {
                layer.found.insert(fact, readings);
            }
        }
        layer
    }

    fn fact(&mut self, name: &str, at: &At<'_>) -> Option<FactId> {
        let found = self.book.fact_named(name);
        if found.is_none() {
            let names = self.book.facts().iter().map(|fact| fact.id.as_str());
            let draft = at.draft_key(Code::UnknownId, format!("unknown reading `{name}`"));
            self.findings.push(match did_you_mean(name, names) {
                Some(question) => draft.help(question),
                None => draft.help("use a reading that the catalogue has"),
            });
        }
        found
    }

    /// A list is a first and a second reading; of a fact that allows several choices, all that were found at once.
    fn readings(&mut self, fact: FactId, words: &OneOrMany<Word>, at: &At<'_>) -> Option<Vec<Answer>> {
        let rule = self.book.fact(fact);
        let words = words.as_slice();
        let mut readings = Vec::new();
        for (index, word) in words.iter().enumerate() {
            let place = if words.len() > 1 { at.index(index) } else { *at };
            readings.push(self.answer(rule, word.as_str(), &place)?);
        }
        if rule.allows_several() {
            let all = readings.iter().filter_map(|answer| match answer {
                Answer::Value(value) => value.choices(),
                Answer::Cannot => None,
            });
            let all = all.fold(ChoiceSet::default(), ChoiceSet::with);
            if !all.is_empty() {
                readings = vec![Answer::Value(Value::Choices(all))];
            }
        }
        Some(readings)
    }

    fn answer(&mut self, rule: &Fact, word: &str, at: &At<'_>) -> Option<Answer> {
        if word == CANNOT {
            return Some(Answer::Cannot);
        }
        let read = match &rule.kind {
            // A case is written as people type: the usual unit is assumed, and a value no meter would show is refused.
            Kind::Quantity { expected, .. } => {
                Quantity::parse(word, expected).map(Value::Quantity).map_err(|misread| {
                    let help = format!("write what the meter showed for `{}`, or `cannot`", rule.id);
                    (Code::WrongQuantity, misread.to_string(), help)
                })
            }
            Kind::Choice { .. } => crate::resolve::value_of(rule, word),
        };
        match read {
            Ok(value) => Some(Answer::Value(value)),
            Err((code, title, _)) if word.starts_with("cannot ") => {
                self.findings.push(at.draft(code, title).help("write `cannot` alone"));
                None
            }
            Err((code, title, help)) => {
                self.findings.push(at.draft(code, title).help(help));
                None
            }
        }
    }

    /// An ending that is not the last must be a repair whose proof the readings after it do not bear out.
    fn proofs_that_fail(&mut self, case: &Case, at: &At<'_>) {
        let Some((_, before)) = case.ends.split_last() else {
            return;
        };
        for (index, &ending) in before.iter().enumerate() {
            if goes_on(self.book, case, index) {
                continue;
            }
            let rule = self.book.ending(ending);
            let title = if rule.is_repair() {
                format!("`{}` is not the last ending, yet nothing after it fails its proof", rule.id)
            } else {
                format!("a call that ends in `{}` does not go on", rule.id)
            };
            let help = if rule.is_repair() {
                format!(
                    "under `after: {}:` say what is still wrong, such as `{}`",
                    rule.id,
                    self.example(case, index)
                )
            } else {
                "put it last".to_owned()
            };
            self.findings.push(at.index(index).draft(Code::ProofNotFailed, title).help(help));
        }
    }

    /// A line that would fail the proof behind the ending at this position: that the complaint is not gone, since every
    /// such proof asks for it; where that is told, the first of its own facts that is not.
    fn example(&self, case: &Case, position: usize) -> String {
        let (gone, yes) = self.book.roles().gone;
        let told = |fact: FactId| laid(case, position).is_some_and(|layer| layer.reading(fact, 0).is_some());
        let own = case.ends.get(position).map_or(&[][..], |ending| &self.book.ending(*ending).proof);
        let asked = std::iter::once((gone, Condition::Is(yes))).chain(own.iter().copied());
        let untold = asked.clone().find(|(fact, _)| !told(*fact));
        let (fact, condition) = untold.unwrap_or((gone, Condition::Is(yes)));
        let rule = self.book.fact(fact);
        let other = match condition {
            Condition::Is(set) => rule.every_choice().without(set).positions().next(),
            Condition::Within { .. } => None,
        };
        match other.and_then(|position| rule.choices().get(position)) {
            Some(choice) => format!("{}: {}", rule.id, choice.id),
            None => format!("{}: a value outside what the proof expects", rule.id),
        }
    }
}
