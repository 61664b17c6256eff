//! Trees and their steps.

use super::{At, Resolver, all};
use crate::finding::{Code, Said, near};
use crate::gate::yaml::{OneOrMany, Word};
use crate::parsed::tree::{AnswerLine, BandLine, StepDoc, TreeDoc, WayKeys, WayLine};
use crate::quantity::Quantity;
use crate::rulebook::{
    AnswerWay, BandWay, ChoiceSet, Edge, FactId, Step, StepId, Tree, TreeId, Upper, Way, Ways,
};

/// The steps of one tree: their names, and where they begin in the list of all steps.
#[derive(Clone, Copy)]
struct Scope<'d> {
    tree: TreeId,
    first: usize,
    doc: &'d TreeDoc,
}

impl Resolver<'_> {
    pub(super) fn trees(&mut self) -> Result<(Vec<Tree>, Vec<Step>), Said> {
        let parsed = self.parsed;
        let mut trees = Vec::new();
        let mut steps = Vec::new();
        let mut first = 0;
        for (index, doc) in parsed.trees.iter().enumerate() {
            let scope = Scope { tree: TreeId::at(index), first, doc: &doc.body };
            first += doc.body.steps.len();
            let top = At::top(&doc.gated);
            trees.push(self.tree(scope, index, &top));
            let list = top.key("steps");
            for (id, step) in &doc.body.steps {
                steps.push(self.step(scope, id, step, &list.key(id)));
            }
        }
        let steps = all(steps.into_iter());
        Ok((all(trees.into_iter())?, steps?))
    }

    fn tree(&mut self, scope: Scope<'_>, index: usize, top: &At<'_>) -> Result<Tree, Said> {
        let start = self.step_id(scope, &scope.doc.start, &top.key("start"));
        let complaint = match (&scope.doc.complaint, self.parsed.calls.first()) {
            (Some(word), Some(call)) => {
                let at = top.key("complaint");
                let fact = self.fact_id(&call.body.call.complaint, &at)?;
                Some(self.choice(fact, word, &at)?)
            }
            _ => None,
        };
        Ok(Tree {
            id: scope.doc.tree.clone(),
            name: scope.doc.name.clone(),
            complaint,
            start: start?,
            doc: index,
        })
    }

    fn step_id(&mut self, scope: Scope<'_>, name: &str, at: &At<'_>) -> Result<StepId, Said> {
        if let Some(index) = scope.doc.steps.get_index_of(name) {
            return Ok(StepId::at(scope.first + index));
        }
        let draft =
            at.draft(Code::UnknownTarget, format!("no step `{name}` in the tree `{}`", scope.doc.tree));
        Err(self.say(match near(name, scope.doc.steps.keys().map(String::as_str)) {
            Some(step) => draft.help(format!("did you mean `{step}`?")),
            None => draft.help("name a step of this tree, or use `continue in` for another tree"),
        }))
    }

    fn step(&mut self, scope: Scope<'_>, id: &str, doc: &StepDoc, at: &At<'_>) -> Result<Step, Said> {
        let (fact, asks) = self.step_fact(doc, at)?;
        let because = match (&doc.because, asks) {
            (None, true) => Err(self.say(
                at.draft_key(Code::MissingKey, format!("the step `{id}` asks without saying why"))
                    .help("add `because:` with one sentence"),
            )),
            (because, _) => Ok(because.clone().unwrap_or_default()),
        };
        let ways = self.ways(scope, fact, doc, at);
        let otherwise = self.otherwise(scope, id, doc, asks, at);
        let too_close =
            doc.too_close.as_ref().map(|line| self.way(scope, line.way(), &at.key("too close"))).transpose();
        if doc.too_close.is_some() && doc.bands.is_none() {
            let draft =
                at.key("too close").draft_key(Code::UnknownKey, "`too close` on a step without bands");
            self.say(draft.help("delete it: choices are never too close"));
        }
        Ok(Step {
            id: id.to_owned(),
            tree: scope.tree,
            fact,
            asks,
            because: because?,
            ways: ways?,
            otherwise: otherwise?,
            too_close: too_close?,
        })
    }

    fn step_fact(&mut self, doc: &StepDoc, at: &At<'_>) -> Result<(FactId, bool), Said> {
        match (&doc.ask, &doc.if_known) {
            (Some(name), None) => Ok((self.fact_id(name, &at.key("ask"))?, true)),
            (None, Some(name)) => Ok((self.fact_id(name, &at.key("if known"))?, false)),
            _ => Err(self.say(
                at.draft_key(Code::MissingKey, "a step goes by exactly one fact")
                    .help("give it either `ask:` or `if known:`"),
            )),
        }
    }

    fn otherwise(
        &mut self,
        scope: Scope<'_>,
        id: &str,
        doc: &StepDoc,
        asks: bool,
        at: &At<'_>,
    ) -> Result<Way, Said> {
        let (wanted, key, other, other_key): (&Option<WayLine>, _, &Option<WayLine>, _) = if asks {
            (&doc.cannot, "cannot", &doc.not_known, "not known")
        } else {
            (&doc.not_known, "not known", &doc.cannot, "cannot")
        };
        if other.is_some() {
            let draft = at
                .key(other_key)
                .draft_key(Code::UnknownKey, format!("`{other_key}` does not belong on this step"));
            self.say(draft.help(format!("use `{key}` here")));
        }
        match wanted {
            Some(line) => self.way(scope, line.way(), &at.key(key)),
            None => Err(self.say(
                at.draft_key(Code::NoCannotRoute, format!("the step `{id}` has no `{key}` route"))
                    .help(format!("add `{key}:` with where to go when the answer cannot be had")),
            )),
        }
    }

    fn ways(&mut self, scope: Scope<'_>, fact: FactId, doc: &StepDoc, at: &At<'_>) -> Result<Ways, Said> {
        let measured = self.dimension(fact)?.is_some();
        let name = self.fact(fact)?.id.clone();
        match (&doc.answers, &doc.bands) {
            (Some(lines), None) if !measured => {
                let list = at.key("answers");
                let lines = all(lines
                    .iter()
                    .enumerate()
                    .map(|(index, line)| self.answer(scope, fact, line, &list.index(index))));
                Ok(Ways::Answers(lines?))
            }
            (None, Some(lines)) if measured => {
                let list = at.key("bands");
                let lines = all(lines
                    .iter()
                    .enumerate()
                    .map(|(index, line)| self.band(scope, fact, line, &list.index(index))));
                Ok(Ways::Bands(lines?))
            }
            _ => {
                let (key, is) = if measured { ("bands", "measured") } else { ("answers", "chosen") };
                Err(self.say(
                    at.draft_key(
                        Code::WrongQuantity,
                        format!("`{name}` is {is}: expected exactly `{key}` here"),
                    )
                    .help(format!("give the step `{key}:` and nothing else of the kind")),
                ))
            }
        }
    }

    fn answer(
        &mut self,
        scope: Scope<'_>,
        fact: FactId,
        line: &AnswerLine,
        at: &At<'_>,
    ) -> Result<AnswerWay, Said> {
        let is = self.choices(fact, &line.is, &at.key("is"));
        let way = self.way(scope, line.way(), at);
        Ok(AnswerWay { is: is?, means: line.means.clone(), way: way? })
    }

    fn choices(&mut self, fact: FactId, words: &OneOrMany<Word>, at: &At<'_>) -> Result<ChoiceSet, Said> {
        let many = words.as_slice().len() > 1;
        let choices = all(words.as_slice().iter().enumerate().map(|(index, word)| {
            if many { self.choice(fact, word, &at.index(index)) } else { self.choice(fact, word, at) }
        }))?;
        Ok(choices.into_iter().fold(ChoiceSet::default(), ChoiceSet::with))
    }

    fn band(
        &mut self,
        scope: Scope<'_>,
        fact: FactId,
        line: &BandLine,
        at: &At<'_>,
    ) -> Result<BandWay, Said> {
        let upper = match (&line.below, &line.up_to, &line.above) {
            (Some(edge), None, None) => self.edge(fact, edge, &at.key("below")).map(Upper::Below),
            (None, Some(edge), None) => self.edge(fact, edge, &at.key("up to")).map(Upper::UpTo),
            (None, None, Some(last)) if last.as_str() == "the last" => Ok(Upper::Last),
            _ => Err(self.say(
                at.draft(Code::MissingKey, "expected exactly one upper end on this band")
                    .help("use `below: EDGE`, `up to: EDGE`, or `above: the last` on the last band"),
            )),
        };
        let way = self.way(scope, line.way(), at);
        Ok(BandWay { upper: upper?, means: line.means.clone(), from: line.from.clone(), way: way? })
    }

    /// `10 V`, `supply_low`, or `60 % of rated_voltage`.
    fn edge(&mut self, fact: FactId, word: &Word, at: &At<'_>) -> Result<Edge, Said> {
        let text = word.as_str().trim();
        let (share, name) = match text.split_once(" of ") {
            Some((percent, name)) => match Quantity::parse_as(percent, crate::quantity::Dimension::Percent) {
                Ok(percent) => (percent.base(), name.trim()),
                Err(misread) => {
                    let draft = at.draft(Code::WrongQuantity, format!("cannot read this share: {misread}"));
                    return Err(self.say(draft.help("write it like `60 % of rated_voltage`")));
                }
            },
            None if text.starts_with(|first: char| first.is_ascii_lowercase() || first == '_') => (1.0, text),
            None => return self.quantity(fact, word, at).map(Edge::Plain),
        };
        let of = self.fact_id(name, at)?;
        if self.dimension(of)? == self.dimension(fact)? {
            return Ok(Edge::Share { of, share });
        }
        let title = format!("`{name}` is another quantity than `{}`", self.fact(fact)?.id);
        Err(self.say(
            at.draft(Code::WrongQuantity, title).help("compare a reading with a fact of the same quantity"),
        ))
    }

    fn way(&mut self, scope: Scope<'_>, keys: WayKeys<'_>, at: &At<'_>) -> Result<Way, Said> {
        match keys {
            WayKeys { go: Some(step), end: None, continue_in: None, visit: None, then: None } => {
                self.step_id(scope, step, &at.key("go")).map(Way::Go)
            }
            WayKeys { go: None, end: Some(ending), continue_in: None, visit: None, then: None } => {
                self.ending_id(ending, &at.key("end")).map(Way::End)
            }
            WayKeys { go: None, end: None, continue_in: Some(tree), visit: None, then: None } => {
                self.tree_id(tree, &at.key("continue in")).map(Way::ContinueIn)
            }
            WayKeys { go: None, end: None, continue_in: None, visit: Some(tree), then: Some(step) } => {
                let tree = self.tree_id(tree, &at.key("visit"));
                let then = self.step_id(scope, step, &at.key("then"))?;
                Ok(Way::Visit { tree: tree?, then })
            }
            _ => Err(self.say(
                at.draft(Code::MissingKey, "expected exactly one way out here")
                    .help("use one of `go`, `end`, `continue in`, or `visit` with `then`"),
            )),
        }
    }
}
