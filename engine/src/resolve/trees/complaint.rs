//! The complaint that a tree serves: a choice of the fact that the call names.

use super::Scope;
use crate::finding::{Code, On, Said, did_you_mean, listed};
use crate::gate::yaml::Word;
use crate::parsed::Doc;
use crate::parsed::tree::{StepDoc, TreeDoc};
use crate::resolve::{At, Resolver};
use crate::rulebook::{ChoiceSet, FactId};

impl Resolver<'_> {
    /// Tells of every complaint that a tree serves and that is not there yet, once each: its choice and its lines are
    /// missing for the same reason, or stand alone for it.
    pub(in crate::resolve) fn new_complaints(&mut self) {
        let parsed = self.parsed;
        let Some(call) = parsed.calls.first() else { return };
        let Some(fact) = self.fact_names.position(&call.body.call.complaint).map(FactId::at) else { return };
        let Some(ids) = self.choice_ids(fact).filter(|ids| !ids.is_empty()) else { return };
        for doc in &parsed.trees {
            let Some(word) = doc.body.complaint.as_ref().map(Word::as_str) else { continue };
            let told = self.told_choices.contains(&(fact, word.to_owned()));
            // What another tree serves already is not what is meant here, however near it is.
            let is_slip = || did_you_mean(word, &self.served_by_none(&ids)).is_some();
            if !told && !ids.iter().any(|id| id == word) && !is_slip() {
                self.new_complaint(fact, word, &ids, &At::top(&doc.gated).key("complaint"));
                self.told_choices.insert((fact, word.to_owned()));
            }
        }
    }

    pub(super) fn complaint(&mut self, scope: Scope<'_>, top: &At<'_>) -> Result<Option<ChoiceSet>, Said> {
        let (Some(word), Some(call)) = (&scope.doc.complaint, self.parsed.calls.first()) else {
            return Ok(None);
        };
        let at = top.key("complaint");
        let fact = self.fact_id(&call.body.call.complaint, &at)?;
        self.served_by_another(scope, word.as_str(), &at);
        self.choice(fact, word, &at).map(Some)
    }

    /// The choices of a fact; `None` where it could not be resolved itself.
    fn choice_ids(&self, fact: FactId) -> Option<Vec<String>> {
        let fact = self.fact(fact).ok()?;
        Some(fact.choices().iter().map(|choice| choice.id.clone()).collect())
    }

    /// The complaints that no tree serves.
    fn served_by_none(&self, ids: &[String]) -> Vec<String> {
        let serves = |id: &str| self.parsed.trees.iter().any(|doc| serves(doc, id));
        ids.iter().filter(|id| !serves(id)).cloned().collect()
    }

    /// A tree that was made from another one easily keeps its complaint.
    fn served_by_another(&mut self, scope: Scope<'_>, word: &str, at: &At<'_>) {
        // A tree under the same name is a copy, and told of as that.
        let before = self.parsed.trees.iter().take(scope.tree.index());
        let mut before = before.filter(|doc| serves(doc, word));
        let before = before.find(|doc| doc.body.tree != scope.doc.tree);
        if let Some(other) = before {
            let title = format!("the complaint `{word}` is given to two trees");
            let draft = at.draft(Code::DuplicateId, title);
            let draft = draft.also(
                &other.gated,
                "/complaint",
                On::Value,
                format!("`{}` serves it too", other.body.tree),
            );
            self.say(draft.help("give each tree the complaint that it serves, or take the line out of one"));
        }
    }

    /// A complaint that is not there yet: all the places at which it has to be written, at once.
    fn new_complaint(&mut self, fact: FactId, word: &str, ids: &[String], at: &At<'_>) {
        let spot = self.fact_names.spot(fact.index());
        let name = self.fact_names.name(fact.index());
        let title = format!("`{word}` is not a choice of `{name}`");
        let mut draft = at.draft(Code::UnknownChoice, title);
        if let Some(spot) = spot {
            draft = draft.also(
                &spot.file,
                format!("{}/choices", spot.pointer),
                On::Key,
                "its choices stand here",
            );
        }
        let mut lines = "";
        let start = self.parsed.calls.first().map(|call| &call.body.call.start);
        for doc in self.parsed.trees.iter().filter(|doc| Some(&doc.body.tree) == start) {
            let top = At::top(&doc.gated);
            let list = top.key("steps");
            for (id, step) in &doc.body.steps {
                let asks = step.ask.as_deref().or(step.if_known.as_deref()) == Some(name);
                if asks && !has_line(step, word) {
                    let pointer = list.key(id).key("answers").pointer();
                    draft = draft.also(&doc.gated, pointer, On::Key, "each choice has its line here");
                    lines = ", and a line for it to each of these steps";
                }
            }
        }
        let free = self.served_by_none(ids);
        let or_else =
            if free.is_empty() { String::new() } else { format!("; if not, expected {}", listed(&free)) };
        let help = format!("if it is new, add `{word}: …` to the choices of `{name}`{lines}{or_else}");
        self.say(draft.help(help));
    }
}

fn serves(doc: &Doc<TreeDoc>, complaint: &str) -> bool {
    doc.body.complaint.as_ref().is_some_and(|other| other.as_str() == complaint)
}

/// Whether a step has a line for a choice.
fn has_line(step: &StepDoc, choice: &str) -> bool {
    let lines = step.answers.iter().flatten();
    lines.flat_map(|line| line.is.as_slice()).any(|word| word.as_str() == choice)
}
