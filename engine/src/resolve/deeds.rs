//! Deeds and endings.

use super::{At, Resolver, all};
use crate::finding::{Code, Said};
use crate::gate::yaml::Word;
use crate::parsed::catalogue::{ConditionDoc, DeedDoc, EndingDoc, EndingKindDoc};
use crate::rulebook::{ChoiceSet, Condition, Deed, Ending, EndingId, EndingKind, FactId};
use indexmap::IndexMap;

impl From<EndingKindDoc> for EndingKind {
    fn from(doc: EndingKindDoc) -> Self {
        match doc {
            EndingKindDoc::Repair => Self::Repair,
            EndingKindDoc::Reset => Self::Reset,
            EndingKindDoc::HandOver => Self::HandOver,
            EndingKindDoc::InOrder => Self::InOrder,
            EndingKindDoc::Open => Self::Open,
        }
    }
}

impl Resolver<'_> {
    pub(super) fn deeds(&mut self) -> Result<Vec<Deed>, Said> {
        let parsed = self.parsed;
        all(parsed
            .deeds
            .iter()
            .flat_map(|doc| {
                let gated = &doc.gated;
                doc.body.deeds.iter().map(move |(id, deed)| (gated, id, deed))
            })
            .map(|(gated, id, deed)| {
                let top = At::top(gated);
                let list = top.key("deeds");
                self.deed(id, deed, &list.key(id))
            }))
    }

    fn deed(&mut self, id: &str, doc: &DeedDoc, at: &At<'_>) -> Result<Deed, Said> {
        let sets_at = at.key("sets");
        let sets = all(doc.sets.iter().map(|(name, word)| {
            let at = sets_at.key(name);
            let fact = self.fact_id(name, &at.as_key())?;
            self.value(fact, word, &at).map(|value| (fact, value))
        }));
        let waits_at = at.key("waits");
        for (index, wait) in doc.waits.iter().enumerate() {
            let takes_time = wait.minutes > 0.0 && wait.minutes.is_finite();
            if wait.step == 0 || wait.step > doc.steps.len() || !takes_time {
                self.say(
                    waits_at
                        .index(index)
                        .draft(Code::BadValue, "a wait at no step, or of no time")
                        .help("write the number of a step, from 1, and the minutes that it takes"),
                );
            }
        }
        let stales_at = at.key("makes stale");
        let stales = all(doc
            .makes_stale
            .iter()
            .enumerate()
            .map(|(index, name)| self.fact_id(name, &stales_at.index(index))));
        Ok(Deed {
            id: id.to_owned(),
            name: doc.name.clone(),
            power: doc.power.into(),
            panel: doc.panel.into(),
            minutes: doc.minutes,
            tools: doc.tools.clone(),
            steps: doc.steps.clone(),
            waits: doc.waits.iter().map(|wait| (wait.step, wait.minutes)).collect(),
            energises: doc.energises.is_some(),
            sets: sets?,
            stales: stales?,
        })
    }

    pub(super) fn endings(&mut self) -> Result<Vec<Ending>, Said> {
        let parsed = self.parsed;
        all(parsed
            .endings
            .iter()
            .flat_map(|doc| {
                let gated = &doc.gated;
                doc.body.endings.iter().map(move |(id, ending)| (gated, id, ending))
            })
            .map(|(gated, id, ending)| {
                let top = At::top(gated);
                let list = top.key("endings");
                self.ending(id, ending, &list.key(id))
            }))
    }

    fn ending(&mut self, id: &str, doc: &EndingDoc, at: &At<'_>) -> Result<Ending, Said> {
        let kind = EndingKind::from(doc.kind);
        let is_repair = matches!(kind, EndingKind::Repair | EndingKind::Reset);
        if is_repair == doc.deeds.is_empty() {
            self.say(if is_repair && !doc.does.is_empty() {
                let known = doc.does.iter().all(|name| self.deed_names.position(name).is_some());
                at.key("does")
                    .draft_key(Code::MisplacedKey, "`does` on a repair, which is done by `deeds`")
                    .help(if known {
                        format!("write `deeds: [{}]` in its place", doc.does.join(", "))
                    } else {
                        "write the work down as a deed, and `deeds:` with its name in place of `does:`"
                            .to_owned()
                    })
            } else if is_repair {
                at.draft_key(Code::MissingKey, "a repair or reset without `deeds`")
                    .help("add `deeds:` with those that mend it, such as `deeds: [DEED]`")
            } else {
                at.key("deeds")
                    .draft_key(Code::MisplacedKey, "`deeds` on an ending that mends nothing")
                    .help("make it a repair, or delete its deeds")
            });
        }
        if doc.left_off.is_some() && kind != EndingKind::HandOver {
            self.say(
                at.key("left off")
                    .draft_key(Code::MisplacedKey, "`left off` on an ending that is no hand-over")
                    .help("make it a hand-over, or delete the key"),
            );
        }
        let again = doc.again.as_ref().map(|name| self.again(name, is_repair, &at.key("again"))).transpose();
        let deeds_at = at.key("deeds");
        let deeds =
            all(doc.deeds.iter().enumerate().map(|(index, name)| self.deed_id(name, &deeds_at.index(index))));
        let cautions = self.cautions(&doc.cautions, &at.key("cautions"));
        let proof = self.conditions(&doc.proof, &at.key("proof"));
        let answers = self.complaints(&doc.answers_complaint, &at.key("answers complaint"));
        Ok(Ending {
            id: id.to_owned(),
            kind,
            name: doc.name.clone(),
            because: doc.because.clone(),
            deeds: deeds?,
            does: doc.does.clone(),
            parts: doc.parts.clone(),
            cautions: cautions?,
            whose: doc.whose.clone(),
            proof: proof?,
            urgent: doc.urgent.is_some(),
            left_off: doc.left_off.is_some(),
            again: again?,
            answers: answers?,
        })
    }

    /// The hand-over where a repair comes round a second time.
    fn again(&mut self, name: &str, of_repair: bool, at: &At<'_>) -> Result<EndingId, Said> {
        if !of_repair {
            self.say(
                at.draft_key(Code::MisplacedKey, "`again` on an ending that mends nothing")
                    .help("make it a repair, or delete the key"),
            );
        }
        let ending = self.ending_id(name, at)?;
        let docs = self.parsed.endings.iter().flat_map(|doc| doc.body.endings.values());
        let kind = docs.map(|doc| EndingKind::from(doc.kind)).nth(ending.index());
        if kind != Some(EndingKind::HandOver) {
            self.say(
                at.draft(Code::BadValue, format!("`{name}` is no hand-over"))
                    .help("name a hand-over: what has not held twice is not done a third time"),
            );
        }
        Ok(ending)
    }

    /// Demands on several facts.
    pub(super) fn conditions(
        &mut self,
        docs: &IndexMap<String, ConditionDoc>,
        at: &At<'_>,
    ) -> Result<Vec<(FactId, Condition)>, Said> {
        all(docs.iter().map(|(name, doc)| {
            let at = at.key(name);
            let fact = self.fact_id(name, &at.as_key())?;
            self.condition(fact, doc, &at).map(|condition| (fact, condition))
        }))
    }

    /// Choices of the complaint.
    pub(super) fn complaints(&mut self, words: &[Word], at: &At<'_>) -> Result<ChoiceSet, Said> {
        let Some(call) = self.parsed.calls.first() else {
            return Ok(ChoiceSet::default());
        };
        let Some(complaint) = self.fact_names.position(&call.body.call.complaint) else {
            return Ok(ChoiceSet::default());
        };
        let complaint = FactId::at(complaint);
        let choices = all(words
            .iter()
            .enumerate()
            .map(|(index, word)| self.choice(complaint, word, &at.index(index))))?;
        Ok(choices.into_iter().fold(ChoiceSet::default(), ChoiceSet::with))
    }
}
