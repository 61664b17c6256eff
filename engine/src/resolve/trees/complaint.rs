//! The complaint that a tree serves: a choice of the fact that the call names.

use super::Scope;
use crate::finding::{Code, On, Said, did_you_mean, listed};
use crate::parsed::Doc;
use crate::parsed::tree::TreeDoc;
use crate::resolve::{At, Resolver};
use crate::rulebook::{ChoiceSet, FactId};

impl Resolver<'_> {
    pub(super) fn complaint(&mut self, scope: Scope<'_>, top: &At<'_>) -> Result<Option<ChoiceSet>, Said> {
        let (Some(word), Some(call)) = (&scope.doc.complaint, self.parsed.calls.first()) else {
            return Ok(None);
        };
        let at = top.key("complaint");
        let fact = self.fact_id(&call.body.call.complaint, &at)?;
        let choices = self.fact(fact)?.choices();
        let ids: Vec<String> = choices.iter().map(|choice| choice.id.clone()).collect();
        let word = word.as_str();
        if ids.is_empty() || ids.iter().any(|id| id == word) || did_you_mean(word, &ids).is_some() {
            self.served_by_another(scope, word, &at);
            return self.choice(fact, word, &at).map(Some);
        }
        Err(self.new_complaint(fact, word, &ids, &at))
    }

    /// A tree that was made from another one easily keeps its complaint.
    fn served_by_another(&mut self, scope: Scope<'_>, word: &str, at: &At<'_>) {
        let serves =
            |doc: &Doc<TreeDoc>| doc.body.complaint.as_ref().is_some_and(|other| other.as_str() == word);
        let before = self.parsed.trees.iter().take(scope.tree.index()).find(|doc| serves(doc));
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
    fn new_complaint(&mut self, fact: FactId, word: &str, ids: &[String], at: &At<'_>) -> Said {
        let spot = self.fact_names.spot(fact.index());
        let name = self.fact_names.name(fact.index());
        let title = format!("`{word}` is not a choice of `{name}`");
        let mut draft = at
            .draft(Code::UnknownChoice, title)
            .help(format!("expected {}; a new one has to be written at the other places too", listed(ids)));
        if let Some(spot) = spot {
            draft = draft.also(
                &spot.file,
                format!("{}/choices", spot.pointer),
                On::Key,
                "its choices stand here",
            );
        }
        let start = self.parsed.calls.first().map(|call| &call.body.call.start);
        for doc in self.parsed.trees.iter().filter(|doc| Some(&doc.body.tree) == start) {
            let top = At::top(&doc.gated);
            let list = top.key("steps");
            for (id, step) in &doc.body.steps {
                if step.ask.as_deref().or(step.if_known.as_deref()) == Some(name) {
                    let pointer = list.key(id).key("answers").pointer();
                    draft = draft.also(&doc.gated, pointer, On::Key, "each choice has its line here");
                }
            }
        }
        self.say(draft)
    }
}
