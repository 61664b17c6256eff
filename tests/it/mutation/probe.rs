//! Calls that no case records: each case with one reading said otherwise, to find one that an edit sends elsewhere.

use super::sense::{Sense, edges};
use crate::house::{BOOK, CASES};
use engine::call::{Answerer, Call, Event, Halt, Prompt, Refusal, Reply, drive};
use engine::case::{Case, Player};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, ChoiceSet, FactId, Rulebook, Value};
use engine::source::Source;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::sync::Arc;

/// Cases that are varied for one edit.
const MOST_CASES: usize = 20;

/// The steps, deeds and endings that a case goes by, as parts of a rulebook.
pub(super) fn trail(book: &Arc<Rulebook>, case: &Case) -> BTreeSet<String> {
    let mut call = Call::new(Arc::clone(book));
    let mut watching = Watching { player: Player::new(book, case), seen: BTreeSet::new() };
    drive(&mut call, &mut watching).unwrap();
    watching.note(&call);
    watching.seen
}

struct Watching<'c> {
    player: Player<'c>,
    seen: BTreeSet<String>,
}

impl Watching<'_> {
    fn note(&mut self, call: &Call) {
        let book = call.book();
        for passed in call.walk().trail {
            let step = book.step(passed.step);
            self.seen.insert(format!("step {}/{}", book.tree(step.tree).id, step.id));
            self.seen.insert(format!("fact {}", book.fact(step.fact).id));
        }
    }
}

impl Answerer for Watching<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.note(call);
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.player.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        let book = call.book();
        match event {
            Event::Deed { ending, deed, .. } => {
                self.seen.insert(format!("deed {}", book.deed(*deed).id));
                self.seen.insert(format!("ending {}", book.ending(*ending).id));
            }
            Event::Told { fact, .. } => {
                self.seen.insert(format!("fact {}", book.fact(*fact).id));
            }
            _ => {}
        }
        self.player.happens(call, event)
    }
}

/// A call that ends elsewhere by the edited rules than by those that are shipped.
///
/// The facts that the edited parts go by are said otherwise, one at a time, in cases that come by one of the parts: as
/// each choice, on both sides of each edge, as what cannot be told. Where a deed was edited, they are said otherwise
/// after it, in a call in which the complaint is not gone.
pub(super) fn ends_elsewhere(
    book: &Arc<Rulebook>,
    parts: &[String],
    trails: &[BTreeSet<String>],
) -> Option<String> {
    let facts = facts_of(book, parts);
    let touched: Vec<usize> =
        (0..CASES.len()).filter(|at| parts.iter().any(|part| trails[*at].contains(part))).collect();
    let all: Vec<usize> = (0..CASES.len()).collect();
    let pool = if touched.is_empty() { &all } else { &touched };
    let deeds = parts.iter().any(|part| part.starts_with("deed ") || part.starts_with("ending "));
    let stride = pool.len().div_ceil(MOST_CASES).max(1);
    let cases = pool.iter().step_by(stride).map(|at| &CASES[*at]);
    let said = |case| {
        facts.iter().flat_map(move |(fact, values)| values.iter().map(move |value| (case, *fact, value)))
    };
    cases.flat_map(said).find_map(|(case, fact, value): (&Case, FactId, &Answer)| {
        let text = written(case, fact, value, case.ends.last().copied().filter(|_| deeds));
        // A value that is not plausible any more is asked again, and sends no call anywhere.
        let (as_shipped, as_edited) = (ends(&BOOK, &text)?, ends(book, &text)?);
        (as_shipped != as_edited).then(|| {
            format!(
                "{} with {}: {}: {} by the shipped rules, {} by the edited",
                case.name,
                BOOK.fact(fact).id,
                shown(fact, value),
                as_shipped.join(", "),
                as_edited.join(", ")
            )
        })
    })
}

/// The facts that the parts go by, each with what is to be said of it.
fn facts_of(book: &Rulebook, parts: &[String]) -> BTreeMap<FactId, Vec<Answer>> {
    let shipped = Sense::of(&BOOK);
    let edited = Sense::of(book);
    let mut facts = BTreeMap::new();
    for fact in BOOK.fact_ids() {
        let rule = BOOK.fact(fact);
        let names = |says: &String| {
            says.split(|sign: char| !sign.is_alphanumeric() && sign != '_').any(|word| word == rule.id)
        };
        let goes_by_it = parts.iter().any(|part| {
            part == &format!("fact {}", rule.id)
                || [&shipped, &edited].iter().filter_map(|sense| sense.decides.get(part)).any(names)
        });
        if !goes_by_it {
            continue;
        }
        // What is worked out is said by what it is worked out of.
        for base in BOOK.made_of(fact) {
            let limits: Vec<f64> =
                parts.iter().flat_map(|part| [edges(&BOOK, part), edges(book, part)].concat()).collect();
            facts.entry(base).or_insert_with(|| otherwise(base, &limits));
        }
    }
    facts
}

/// What a fact may be said to be: every choice, or values on both sides of each limit and between them.
fn otherwise(fact: FactId, limits: &[f64]) -> Vec<Answer> {
    let rule = BOOK.fact(fact);
    let mut values: Vec<Answer> = (0..rule.choices().len())
        .map(|position| Answer::Value(Value::Choices(ChoiceSet::only(position))))
        .collect();
    if let Some(expected) = rule.expected() {
        let unit = expected.unit();
        let (low, high) = expected.range().map_or((0.0, 100.0), |(low, high)| (low.base(), high.base()));
        let mut points: Vec<f64> = limits.iter().copied().filter(|at| (low..=high).contains(at)).collect();
        points.extend([low, high, low + (high - low) / 3.0]);
        points.sort_by(f64::total_cmp);
        points.dedup();
        let between: Vec<f64> = points.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])).collect();
        let said = points.into_iter().chain(between);
        values.extend(
            said.filter_map(|at| Quantity::new(unit.from_base(at), unit))
                .map(|quantity| Answer::Value(Value::Quantity(quantity))),
        );
    }
    values.push(Answer::Cannot);
    values
}

fn shown(fact: FactId, answer: &Answer) -> String {
    match answer {
        Answer::Value(value) => BOOK.fact(fact).show(value).replace(" + ", ", "),
        Answer::Cannot => "cannot".to_owned(),
    }
}

/// A case as text, with one reading said otherwise: at first, or after a repair that did not help.
fn written(case: &Case, fact: FactId, value: &Answer, after: Option<engine::rulebook::EndingId>) -> String {
    let mut text = String::from("case: probe\nanswers:\n");
    for (other, first) in case.answers.facts() {
        let told = if other == fact && after.is_none() { shown(fact, value) } else { shown(other, &first) };
        let _ = writeln!(text, "  {}: [{told}]", BOOK.fact(other).id);
    }
    if after.is_none() && case.answers.reading(fact, 0).is_none() {
        let _ = writeln!(text, "  {}: [{}]", BOOK.fact(fact).id, shown(fact, value));
    }
    let end = case.ends.last().map_or("left", |ending| BOOK.ending(*ending).id.as_str());
    let _ = writeln!(text, "ends: {end}");
    if let Some(ending) = after.filter(|ending| BOOK.ending(*ending).is_repair()) {
        let complaint = BOOK.roles().complaint;
        let first =
            case.answers.reading(complaint, 0).map(|first| shown(complaint, &first)).unwrap_or_default();
        let gone = &BOOK.fact(BOOK.roles().gone.0).id;
        let mut said = vec![format!("{gone}: no"), format!("{}: {first}", BOOK.fact(complaint).id)];
        if fact != complaint && fact != BOOK.roles().gone.0 {
            said.push(format!("{}: [{}]", BOOK.fact(fact).id, shown(fact, value)));
        }
        let _ = writeln!(text, "after: {{{}: {{{}}}}}", BOOK.ending(ending).id, said.join(", "));
    }
    text
}

/// The endings that a case comes to; nothing where it cannot be read.
fn ends(book: &Arc<Rulebook>, text: &str) -> Option<Vec<String>> {
    let case = Case::read(book, Source::new("probe.yaml", text).ok()?).ok()?;
    let verdict = engine::case::replay(book, &case).ok()?;
    Some(verdict.ended.all().map(|reached| book.ending(reached.ending).id.clone()).collect())
}
