//! A case as the text of its file.

mod scalar;

use super::{Case, Layer, Recorded, earlier_word};
use crate::finding::clean;
use crate::quantity::Quantity;
use crate::rulebook::{Answer, EndingId, Fact, FactId, Kind, Lasts, PowerNeed, Rulebook, Value};
use indexmap::IndexMap;
use scalar::{choice, one_or_list, quantity, running_text, word};

impl Case {
    /// The text of its file, as a trainer would write it; [`Case::read`] gives the same case again, if the file is named
    /// after it.
    ///
    /// The complaint comes first, then danger, plates, and what is read in any state of power, live and dead. Names and
    /// texts that YAML tools would take for a number or a truth are quoted.
    #[must_use]
    pub fn to_yaml(&self, book: &Rulebook) -> String {
        lines(self.written(book))
    }

    fn written(&self, book: &Rulebook) -> Vec<String> {
        let mut out = vec![format!("case: {}", word(&self.name))];
        out.extend(self.about.iter().map(|about| running_text("about", about)));
        out.extend(self.earlier_written(book));
        out.extend(entry(book, "", "answers", &self.answers));
        let ends: Vec<String> = self.ends.iter().map(|id| word(&book.ending(*id).id)).collect();
        out.push(format!("ends: {}", one_or_list(&ends)));
        if !self.after.is_empty() {
            out.push("after:".to_owned());
        }
        for (ending, layers) in &self.after {
            let key = word(&book.ending(*ending).id);
            match &layers[..] {
                [layer] => out.extend(entry(book, "  ", &key, layer)),
                many => {
                    out.push(format!("  {key}:"));
                    out.extend(many.iter().flat_map(|layer| item(book, layer)));
                }
            }
        }
        out
    }
}

impl Case {
    fn earlier_written(&self, book: &Rulebook) -> Vec<String> {
        let mut all: IndexMap<EndingId, Vec<String>> = IndexMap::new();
        for (ending, result) in &self.earlier {
            all.entry(*ending).or_default().extend(earlier_word(*result).map(str::to_owned));
        }
        let rows = all
            .iter()
            .map(|(ending, words)| format!("  {}: {}", word(&book.ending(*ending).id), one_or_list(words)));
        let head = (!all.is_empty()).then(|| "earlier:".to_owned());
        head.into_iter().chain(rows).collect()
    }
}

impl Recorded {
    /// The text of its file: the case, below comments that say that nobody has judged it yet, and what it cannot say.
    #[must_use]
    pub fn to_yaml(&self, book: &Rulebook) -> String {
        let mut out = vec!["# kind: recorded call, not yet judged by the trade".to_owned()];
        out.extend(self.unsaid.iter().map(|text| format!("# cannot say: {}", clean(text))));
        out.extend(self.case.written(book));
        lines(out)
    }
}

fn lines(mut lines: Vec<String>) -> String {
    lines.push(String::new());
    lines.join("\n")
}

/// Whether a case file may hold this answer of a fact: one of its choices, or a quantity that is plausible.
pub(super) fn is_writable(rule: &Fact, answer: &Answer) -> bool {
    match (answer, &rule.kind) {
        (Answer::Cannot, _) => true,
        (Answer::Value(Value::Choices(set)), Kind::Choice { several, .. }) => {
            !set.is_empty() && set.within(rule.every_choice()) && (*several || set.len() == 1)
        }
        (Answer::Value(Value::Quantity(found)), Kind::Quantity { expected, .. }) => {
            Quantity::parse(&quantity(*found, expected), expected).is_ok_and(|read| read == *found)
        }
        _ => false,
    }
}

/// One layer as the value of a key: below it, or behind it where it is short.
fn entry(book: &Rulebook, indent: &str, key: &str, layer: &Layer) -> Vec<String> {
    let rows = rows(book, layer);
    match &rows[..] {
        [] => vec![format!("{indent}{key}: {{}}")],
        [only] if !indent.is_empty() => vec![format!("{indent}{key}: {{{only}}}")],
        many => {
            let below = many.iter().map(|row| format!("{indent}  {row}"));
            std::iter::once(format!("{indent}{key}:")).chain(below).collect()
        }
    }
}

/// One layer as an item of a list.
fn item(book: &Rulebook, layer: &Layer) -> Vec<String> {
    let rows = rows(book, layer);
    if rows.is_empty() {
        return vec!["    - {}".to_owned()];
    }
    let begin = |position| if position == 0 { "    - " } else { "      " };
    rows.into_iter().enumerate().map(|(position, row)| format!("{}{row}", begin(position))).collect()
}

/// Each fact of a layer with its readings, in the order in which a case is read.
fn rows(book: &Rulebook, layer: &Layer) -> Vec<String> {
    let mut facts: Vec<(&FactId, &Vec<Answer>)> = layer.found.iter().collect();
    facts.sort_by_key(|(fact, _)| (rank(book, **fact), **fact));
    facts
        .into_iter()
        .map(|(fact, all)| {
            let rule = book.fact(*fact);
            let all: Vec<String> = all.iter().flat_map(|answer| words(rule, answer)).collect();
            format!("{}: {}", word(&rule.id), one_or_list(&all))
        })
        .collect()
}

fn rank(book: &Rulebook, fact: FactId) -> u8 {
    let rule = book.fact(fact);
    match (rule.lasts, rule.power) {
        _ if fact == book.roles().complaint => 0,
        _ if fact == book.roles().danger.0 => 1,
        (Lasts::Unit, _) => 2,
        (_, PowerNeed::Any) => 3,
        (_, PowerNeed::Live) => 4,
        (_, PowerNeed::Dead) => 5,
    }
}

fn words(rule: &Fact, answer: &Answer) -> Vec<String> {
    match answer {
        Answer::Cannot => vec!["cannot".to_owned()],
        Answer::Value(Value::Quantity(found)) => {
            vec![rule.expected().map_or_else(|| found.written(), |expected| quantity(*found, expected))]
        }
        Answer::Value(Value::Choices(set)) => {
            let chosen = set.positions().filter_map(|position| rule.choices().get(position));
            chosen.map(|one| choice(&one.id)).collect()
        }
    }
}
