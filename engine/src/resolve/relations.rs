//! Relations between readings.

use super::{At, Resolver, all};
use crate::finding::{Code, Said};
use crate::gate::yaml::OneOrMany;
use crate::parsed::relation::{NotAboveDoc, RelationDoc};
use crate::rulebook::{FactId, Holds, Relation};

impl Resolver<'_> {
    pub(super) fn relations(&mut self) -> Result<Vec<Relation>, Said> {
        let parsed = self.parsed;
        let docs = parsed
            .relations
            .iter()
            .flat_map(|doc| doc.body.relations.iter().map(move |(id, relation)| (doc, id, relation)));
        all(docs.map(|(doc, id, relation)| {
            let top = At::top(&doc.gated);
            let list = top.key("relations");
            self.relation(id, relation, &list.key(id))
        }))
    }

    fn relation(&mut self, id: &str, doc: &RelationDoc, at: &At<'_>) -> Result<Relation, Said> {
        let when = self.conditions(&doc.when, &at.key("when"));
        let holds = match (&doc.not_above, &doc.never) {
            (Some(not_above), None) => self.not_above(not_above, &at.key("not above")),
            (None, Some(never)) => self.conditions(never, &at.key("never")).map(Holds::Never),
            (None, None) => Err(self.say(
                at.draft_key(Code::MissingKey, "a relation that says nothing")
                    .help("give it either `not above:` or `never:`"),
            )),
            (Some(_), Some(_)) => Err(self.say(
                at.clash("not above", "never", "`never` beside `not above`").help("make two relations of it"),
            )),
        };
        Ok(Relation { id: id.to_owned(), means: doc.means.clone(), when: when?, holds: holds? })
    }

    fn not_above(&mut self, doc: &NotAboveDoc, at: &At<'_>) -> Result<Holds, Said> {
        let left = self.measured_facts(&doc.left, &at.key("left"));
        let right = self.measured_facts(&doc.right, &at.key("right"));
        let (left, right) = (left?, right?);
        if let ([one], [other]) = (&left[..], &right[..])
            && self.dimension(*one)? != self.dimension(*other)?
        {
            let draft =
                at.key("right").draft(Code::WrongQuantity, "the two sides are not of the same quantity");
            return Err(
                self.say(draft.help("compare readings of one quantity, or products that come to one"))
            );
        }
        let slack = match &doc.slack {
            None => 0.0,
            Some(word) => {
                let fact = *left.first().ok_or_else(|| self.nothing_on_the_left(at))?;
                // A slack is a size: of a temperature, an interval.
                self.interval(fact, word, &at.key("slack"))?
            }
        };
        Ok(Holds::NotAbove { left, right, factor: doc.factor.unwrap_or(1.0), slack })
    }

    fn nothing_on_the_left(&mut self, at: &At<'_>) -> Said {
        let draft = at.draft_key(Code::MissingKey, "nothing stands on the left");
        self.say(draft.help("name the reading that is not above the other"))
    }

    fn measured_facts(&mut self, names: &OneOrMany<String>, at: &At<'_>) -> Result<Vec<FactId>, Said> {
        let facts = all(names.as_slice().iter().map(|name| self.fact_id(name, at)))?;
        for &fact in &facts {
            if self.dimension(fact)?.is_none() {
                let title = format!("`{}` is chosen, not measured", self.fact(fact)?.id);
                return Err(self.say(at.draft(Code::WrongQuantity, title).help("use `never:` for choices")));
            }
        }
        Ok(facts)
    }
}
