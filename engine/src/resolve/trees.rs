//! Trees and their steps.

mod complaint;
mod renamed;
mod way;

use super::{At, Resolver, all};
use crate::finding::{Code, Draft, On, Said, listed};
use crate::gate::yaml::{OneOrMany, Word};
use crate::parsed::tree::{AnswerLine, BandLine, StepDoc, TreeDoc, WayLine};
use crate::quantity::{Dimension, Expected, Quantity, Unit};
use crate::rulebook::{
    AnswerWay, BandWay, ChoiceSet, Edge, Fact, FactId, Lasts, Step, Tree, TreeId, Upper, Way, Ways,
};

/// The mend for a band whose upper end cannot be told.
const ONE_UPPER_END: &str = "use one of `below: 10 V`, `up to: 10 V`, or `above: the last` on the last band";

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
        let complaint = self.complaint(scope, top)?;
        Ok(Tree {
            id: scope.doc.tree.clone(),
            name: scope.doc.name.clone(),
            complaint,
            start: start?,
            file: top.gated().source().name().to_owned(),
            doc: index,
        })
    }

    fn step(&mut self, scope: Scope<'_>, id: &str, doc: &StepDoc, at: &At<'_>) -> Result<Step, Said> {
        let fact = self.step_fact(doc, at);
        let asks = doc.if_known.is_none();
        let because = match (&doc.because, asks) {
            // What belongs on a step that looks a fact up is told of at its other keys.
            (None, true) if doc.not_known.is_some() && doc.cannot.is_none() => Ok(String::new()),
            (None, true) => Err(self.say(
                at.draft_key(Code::MissingKey, format!("the step `{id}` asks without saying why"))
                    .help("add `because:` with one sentence"),
            )),
            (because, _) => Ok(because.clone().unwrap_or_default()),
        };
        let ways = match fact {
            Ok(fact) => self.ways(scope, fact, doc, at),
            Err(said) => Err(self.ways_alone(scope, doc, at, said)),
        };
        let otherwise = self.otherwise(scope, id, doc, asks, at);
        let too_close =
            doc.too_close.as_ref().map(|line| self.way(scope, line.way(), &at.key("too close"))).transpose();
        if doc.too_close.is_some() && doc.bands.is_none() {
            let draft =
                at.key("too close").draft_key(Code::MisplacedKey, "`too close` on a step without bands");
            self.say(draft.help("delete it: choices are never too close"));
        }
        Ok(Step {
            id: id.to_owned(),
            tree: scope.tree,
            fact: fact?,
            asks,
            because: because?,
            ways: ways?,
            otherwise: otherwise?,
            too_close: too_close?,
        })
    }

    fn step_fact(&mut self, doc: &StepDoc, at: &At<'_>) -> Result<FactId, Said> {
        match (&doc.ask, &doc.if_known) {
            (Some(name), None) => self.fact_id(name, &at.key("ask")),
            (None, Some(name)) => self.fact_id(name, &at.key("if known")),
            (None, None) => Err(self.say(
                at.draft_key(Code::MissingKey, "this step asks nothing")
                    .help("add `ask:` with a reading, or `if known:` for one that is only looked up"),
            )),
            (Some(_), Some(_)) => {
                Err(self
                    .say(at.clash("ask", "if known", "`if known` beside `ask`").help("keep one of the two")))
            }
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
        // One in place of the other is one slip, and leads where it says.
        if let (None, Some(line)) = (wanted, other) {
            let draft = Self::other_route(doc, asks, at);
            self.say(draft);
            return self.way(scope, line.way(), &at.key(other_key));
        }
        if other.is_some() {
            let draft = at
                .key(other_key)
                .draft_key(Code::MisplacedKey, format!("`{other_key}` does not belong on this step"));
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

    /// What is said of `not known` on a step that asks, or of `cannot` on one that does not: which of the two keys is the
    /// wrong one is told by whether the step says why it asks.
    fn other_route(doc: &StepDoc, asks: bool, at: &At<'_>) -> Draft {
        let fact = doc.ask.as_ref().or(doc.if_known.as_ref()).map(String::as_str).unwrap_or_default();
        let (of, other, of_key, other_key) = if asks {
            ("ask", "if known", "cannot", "not known")
        } else {
            ("if known", "ask", "not known", "cannot")
        };
        let route = at.key(other_key).pointer();
        if asks == doc.because.is_some() {
            let title = format!("`{other_key}` does not belong on a step with `{of}`");
            let draft = at.key(other_key).draft_key(Code::MisplacedKey, title);
            let or = format!("or `{other}: {fact}` in place of `{of}: {fact}`");
            let why = if asks { "if it is only to be looked up" } else { "if it is to be asked" };
            return draft
                .also(at.gated(), at.key(of).pointer(), On::Key, "beside this")
                .help(format!("write `{of_key}` in its place; {or}, {why}"));
        }
        let title = if asks {
            format!("`ask` on a step that says nothing of why, and has `{other_key}`")
        } else {
            format!("`if known` on a step that says why it asks, and has `{other_key}`")
        };
        at.key(of)
            .draft_key(Code::MisplacedKey, title)
            .also(at.gated(), route, On::Key, "beside this")
            .help(format!("write `{other}: {fact}` in its place"))
    }

    /// The ways out of a step whose fact is not known: where they lead can be told all the same.
    fn ways_alone(&mut self, scope: Scope<'_>, doc: &StepDoc, at: &At<'_>, said: Said) -> Said {
        for (key, lines) in [
            ("answers", doc.answers.iter().flatten().map(AnswerLine::way).collect::<Vec<_>>()),
            ("bands", doc.bands.iter().flatten().map(BandLine::way).collect()),
        ] {
            let list = at.key(key);
            for (index, way) in lines.into_iter().enumerate() {
                let _ = self.way(scope, way, &list.index(index));
            }
        }
        said
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
            _ => Err(self.no_ways(&name, measured, doc, at)),
        }
    }

    /// The lines of a step do not suit its fact: the wrong kind of them, both kinds or none.
    fn no_ways(&mut self, name: &str, measured: bool, doc: &StepDoc, at: &At<'_>) -> Said {
        let (key, other, is) = if measured {
            ("bands", "answers", "measured, not chosen")
        } else {
            ("answers", "bands", "chosen, not measured")
        };
        let wrong = if measured { doc.answers.is_some() } else { doc.bands.is_some() };
        let draft = if wrong {
            let title = format!("`{other}` for `{name}`, which is {is}");
            at.key(other).draft_key(Code::WrongQuantity, title)
        } else {
            at.draft_key(Code::MissingKey, format!("`{name}` is asked, and no `{key}` follow"))
        };
        self.say(draft.help(format!("write `{key}:` here, and no `{other}`")))
    }

    fn answer(
        &mut self,
        scope: Scope<'_>,
        fact: FactId,
        line: &AnswerLine,
        at: &At<'_>,
    ) -> Result<AnswerWay, Said> {
        if let [word] = line.is.as_slice() {
            self.no_arrow(scope, word, line.way(), &at.key("is"))?;
        }
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
        for (key, edge) in [("below", &line.below), ("up to", &line.up_to), ("above", &line.above)] {
            if let Some(edge) = edge {
                self.no_arrow(scope, edge, line.way(), &at.key(key))?;
            }
        }
        let upper = match (&line.below, &line.up_to, &line.above) {
            (Some(edge), None, None) => self.edge(fact, edge, &at.key("below")).map(Upper::Below),
            (None, Some(edge), None) => self.edge(fact, edge, &at.key("up to")).map(Upper::UpTo),
            (None, None, Some(last)) if last.as_str() == "the last" => Ok(Upper::Last),
            (None, None, None) => {
                Err(self
                    .say(at.draft_key(Code::MissingKey, "this band has no upper end").help(ONE_UPPER_END)))
            }
            (None, None, Some(last)) if last.as_str().split_whitespace().eq(["the", "last"]) => {
                let title = format!("`{}` has more than one blank in it", last.as_str());
                Err(self.say(at.key("above").draft(Code::BadValue, title).help("write `above: the last`")))
            }
            (None, None, Some(_)) => {
                let draft =
                    at.key("above").draft(Code::BadValue, "a band has an upper end, never a lower one");
                Err(self.say(draft.help(ONE_UPPER_END)))
            }
            (below, up_to, _) => {
                let first = if below.is_some() { "below" } else { "up to" };
                let second = if below.is_some() && up_to.is_some() { "up to" } else { "above" };
                let title = format!("a second upper end: `{second}` beside `{first}`");
                Err(self.say(at.clash(first, second, title).help(ONE_UPPER_END)))
            }
        };
        let way = self.way(scope, line.way(), at);
        Ok(BandWay { upper: upper?, means: line.means.clone(), from: line.from.clone(), way: way? })
    }

    /// `10 V`, `supply_low`, or `60 % of rated_voltage`.
    fn edge(&mut self, fact: FactId, word: &Word, at: &At<'_>) -> Result<Edge, Said> {
        let text = word.as_str().trim();
        self.no_about(text, at)?;
        let (share, name) = match text.split_once(" of ") {
            Some((percent, name)) => (self.share(percent, name.trim(), at)?, name.trim()),
            None if text.starts_with(|first: char| first.is_ascii_lowercase() || first == '_') => (1.0, text),
            None => {
                self.no_share_without_of(text, at)?;
                self.no_bare_share(fact, text, at)?;
                return self.quantity(fact, word, at).map(Edge::Plain);
            }
        };
        let of = self.fact_of_an_edge(fact, name, at)?;
        if of == fact {
            let title = format!("`{name}` is judged by itself here");
            let usual = self.fact(fact)?.expected().map(Expected::unit);
            let number = format!("`10 {}`", usual.map(Unit::typed).unwrap_or_default());
            let by = match text.split_once(" of ") {
                Some((percent, _)) => self.share_of(fact, percent.trim())?,
                None => "another reading".to_owned(),
            };
            let help = format!("judge it by {by}, or by a number with its unit, such as {number}");
            return Err(self.say(at.draft(Code::WrongQuantity, title).help(help)));
        }
        if self.dimension(of)? == self.dimension(fact)? {
            return Ok(Edge::Share { of, share });
        }
        let title = format!("`{name}` is another quantity than `{}`", self.fact(fact)?.id);
        Err(self.say(
            at.draft(Code::WrongQuantity, title)
                .help("name a fact that measures the same, or write a number with its unit"),
        ))
    }

    /// The reading that an edge names: where there is none of that name, one of another quantity is not meant.
    fn fact_of_an_edge(&mut self, fact: FactId, name: &str, at: &At<'_>) -> Result<FactId, Said> {
        let dimension = self.dimension(fact)?;
        if self.fact_names.position(name).is_some() || self.findings.is_full(at.gated().source()) {
            return self.fact_id(name, at);
        }
        let same = |other: &&Fact| other.expected().map(Expected::dimension) == dimension;
        let facts = self.facts.iter().filter_map(|other| other.as_ref().ok()).filter(same);
        let names: Vec<&str> = facts.map(|other| other.id.as_str()).collect();
        let unit = self.fact(fact)?.expected().map(Expected::unit).map(Unit::typed).unwrap_or_default();
        let measures = dimension.map(Dimension::plain).unwrap_or_default();
        if let Some(digits) = in_digits(name)
            .filter(|digits| dimension.is_some_and(|dimension| Quantity::parse_as(digits, dimension).is_ok()))
        {
            let title = format!("`{name}` is a number in words");
            return Err(self
                .say(at.draft(Code::WrongQuantity, title).help(format!("write it in digits: `{digits}`"))));
        }
        let draft = at.draft(Code::UnknownId, format!("unknown reading `{name}`"));
        let meant = self.findings.did_you_mean(name, names.into_iter());
        let help = meant.unwrap_or_else(|| {
            format!("name a reading of {measures}, or write a number with its unit, such as `10 {unit}`")
        });
        Err(self.say(draft.help(help)))
    }

    /// Refuses a share that names what it is of without its `of`, as in `20% rated_voltage`.
    fn no_share_without_of(&mut self, text: &str, at: &At<'_>) -> Result<(), Said> {
        let Some((number, name)) = text.split_once('%').map(|(number, name)| (number.trim(), name.trim()))
        else {
            return Ok(());
        };
        if number.parse::<f64>().is_err() || self.fact_names.position(name).is_none() {
            return Ok(());
        }
        let title = format!("`of` is missing between the share and `{name}`");
        let help = format!("write `{number} % of {name}`");
        Err(self.say(at.draft(Code::WrongQuantity, title).help(help)))
    }

    /// Refuses a share that does not say of what.
    fn no_bare_share(&mut self, fact: FactId, text: &str, at: &At<'_>) -> Result<(), Said> {
        if self.dimension(fact)?.is_none_or(|dimension| dimension == Dimension::Percent) {
            return Ok(());
        }
        if Quantity::parse_as(text, Dimension::Percent).is_err() {
            return Ok(());
        }
        let help = self.share_of(fact, text)?;
        let title = format!("`{text}` does not say of what");
        Err(self.say(
            at.draft(Code::WrongQuantity, title).help(format!("name what it is a share of, as in {help}")),
        ))
    }

    /// How a share is written, of the facts that it is most probably of.
    ///
    /// What a share is taken of is mostly a rating: it comes with a plate or a profile, or is printed on the unit.
    fn share_of(&self, fact: FactId, percent: &str) -> Result<String, Said> {
        let dimension = self.dimension(fact)?;
        let mut of: Vec<(bool, &Fact)> = (0..self.facts.len())
            .filter(|index| *index != fact.index())
            .filter_map(|index| self.facts.get(index)?.as_ref().ok())
            .filter(|other| other.lasts == Lasts::Unit || !other.given.is_empty())
            .filter(|other| other.expected().map(Expected::dimension) == dimension)
            .map(|other| (other.given.is_empty(), other))
            .collect();
        of.sort_by_key(|(less, _)| *less);
        let of: Vec<String> =
            of.iter().take(3).map(|(_, other)| format!("{percent} of {}", other.id)).collect();
        Ok(if of.is_empty() { format!("`{percent} of READING`") } else { listed(&of) })
    }

    fn share(&mut self, percent: &str, name: &str, at: &At<'_>) -> Result<f64, Said> {
        Quantity::parse_as(percent, Dimension::Percent).map(Quantity::base).map_err(|_| {
            let draft = at.draft(Code::WrongQuantity, format!("`{percent}` is no share of `{name}`"));
            self.say(draft.help(format!("write it like `60 % of {name}`")))
        })
    }
}

/// Numbers in words, as far as an edge is written so.
const IN_WORDS: [(&str, u32); 20] = [
    ("zero", 0),
    ("one", 1),
    ("two", 2),
    ("three", 3),
    ("four", 4),
    ("five", 5),
    ("six", 6),
    ("seven", 7),
    ("eight", 8),
    ("nine", 9),
    ("ten", 10),
    ("eleven", 11),
    ("twelve", 12),
    ("fifteen", 15),
    ("twenty", 20),
    ("thirty", 30),
    ("forty", 40),
    ("fifty", 50),
    ("sixty", 60),
    ("hundred", 100),
];

/// A number in words and its unit, in digits: `five V` as `5 V`.
fn in_digits(text: &str) -> Option<String> {
    let (word, unit) = text.split_once(' ')?;
    let (_, number) = IN_WORDS.into_iter().find(|(known, _)| *known == word)?;
    Some(format!("{number} {}", unit.trim()))
}
