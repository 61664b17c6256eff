//! `motorwright outline --ids`: what trees, cases and other rules name, and what it stands for.

use crate::args::Ids;
use crate::failure::Failure;
use crate::harmless::harmless;
use engine::formula::FORMULAS;
use engine::rulebook::{Fact, Rulebook};
use serde::Serialize;
use std::io::Write;

/// The kinds, each with the word for one of them.
const KINDS: [(Ids, &str, &str); 5] = [
    (Ids::Readings, "readings", "reading"),
    (Ids::Deeds, "deeds", "deed"),
    (Ids::Endings, "endings", "ending"),
    (Ids::Trees, "trees", "tree"),
    (Ids::Formulas, "formulas", "formula"),
];

/// One id, as `--json` shows it.
#[derive(Serialize)]
struct Row<'b> {
    kind: &'static str,
    id: &'b str,
    name: &'b str,
    /// Of a reading that is looked at.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    choices: Vec<&'b str>,
    /// Of a reading that is measured: its usual unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<&'static str>,
    /// Of an ending: its kind.
    #[serde(rename = "ending", skip_serializing_if = "Option::is_none")]
    ends: Option<&'static str>,
}

pub(super) fn show(out: &mut impl Write, book: &Rulebook, wanted: Ids, json: bool) -> Result<(), Failure> {
    let mut first = true;
    for (kind, heading, one) in KINDS.into_iter().filter(|(kind, ..)| [*kind, Ids::All].contains(&wanted)) {
        let rows = rows(book, kind, one);
        if json {
            for row in &rows {
                serde_json::to_writer(&mut *out, row).map_err(std::io::Error::from)?;
                writeln!(out)?;
            }
            continue;
        }
        if wanted == Ids::All {
            writeln!(out, "{}{heading}", if first { "" } else { "\n" })?;
        }
        first = false;
        list(out, &rows, if wanted == Ids::All { "  " } else { "" })?;
    }
    Ok(())
}

fn rows<'b>(book: &'b Rulebook, kind: Ids, word: &'static str) -> Vec<Row<'b>> {
    let row = |id: &'b str, name: &'b str| row(word, id, name);
    match kind {
        Ids::All => Vec::new(),
        Ids::Readings => book.facts().iter().map(reading).collect(),
        Ids::Deeds => book.deeds().iter().map(|deed| row(&deed.id, &deed.name)).collect(),
        Ids::Endings => {
            let endings = book.endings().iter();
            endings
                .map(|ending| Row { ends: Some(ending.kind.word()), ..row(&ending.id, &ending.name) })
                .collect()
        }
        Ids::Trees => book.trees().iter().map(|tree| row(&tree.id, &tree.name)).collect(),
        Ids::Formulas => FORMULAS.iter().map(|formula| row(formula.name(), formula.meaning())).collect(),
    }
}

fn reading(fact: &Fact) -> Row<'_> {
    Row {
        choices: fact.choices().iter().map(|choice| choice.id.as_str()).collect(),
        unit: fact.expected().map(|expected| expected.unit().symbol()).filter(|unit| !unit.is_empty()),
        ..row("reading", &fact.id, &fact.name)
    }
}

fn row<'b>(kind: &'static str, id: &'b str, name: &'b str) -> Row<'b> {
    Row { kind, id, name, choices: Vec::new(), unit: None, ends: None }
}

/// The ids below each other, what they stand for beside them.
fn list(out: &mut impl Write, rows: &[Row<'_>], margin: &str) -> std::io::Result<()> {
    let widest = rows.iter().map(|row| row.id.chars().count()).max().unwrap_or_default();
    for Row { id, name, choices, unit, ends, .. } in rows {
        let more = match (choices.as_slice(), unit, ends) {
            ([], Some(unit), _) => format!(", in {unit}"),
            ([], None, Some(ends)) => format!(" ({ends})"),
            ([], None, None) => String::new(),
            (choices, ..) => format!(": {}", choices.join(", ")),
        };
        writeln!(out, "{margin}{id:<widest$}  {}", harmless(&format!("{name}{more}")))?;
    }
    Ok(())
}
