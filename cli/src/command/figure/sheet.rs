//! The formulas as they are listed and shown.

use engine::formula::{Formula, Input, grouped};
use engine::quantity::{Dimension, Unit};
use serde::Serialize;

/// Columns of a page.
const WIDTH: usize = 100;
/// Columns of the label of a row, its margin counted.
const LABEL: usize = 15;
/// A blank at which no line is broken.
const GLUE: char = '\u{a0}';

const FOOT: &str = "`motorwright figure NAME` shows what goes in, and where it is from. Where that is a standard, the \
                    current edition and the local code decide.";

/// A line for each formula.
pub(super) fn list(formulas: &[&Formula]) -> Vec<String> {
    let widest = formulas.iter().map(|formula| formula.name().len()).max().unwrap_or_default();
    let lines = formulas.iter().map(|formula| format!("{:widest$}  {}", formula.name(), formula.meaning()));
    lines.chain([String::new()]).chain(wrapped(FOOT, "", "")).collect()
}

/// All of one formula.
pub(super) fn page(formula: &Formula) -> Vec<String> {
    let mut lines = head(formula);
    lines.push(String::new());
    for input in formula.inputs() {
        lines.extend(row(input.name(), &about(input)));
    }
    if formula.takes_more() {
        lines.extend(row("…", "and so on"));
    }
    lines.push(String::new());
    lines.extend(origin(formula));
    let inputs: Vec<_> = formula.inputs().iter().map(|input| format!("{}=…", input.name())).collect();
    lines.extend(row("to work it", &format!("motorwright figure {} {}", formula.name(), inputs.join(" "))));
    lines
}

/// The first lines of a page: the name, what it tells.
pub(super) fn head(formula: &Formula) -> Vec<String> {
    wrapped(&format!("{}: {}", formula.name(), formula.meaning()), "", "  ")
}

/// The last lines of a page: the formula, what it is good for, where it is from.
pub(super) fn origin(formula: &Formula) -> Vec<String> {
    [row("formula", formula.written()), row("good for", formula.limits()), row("source", formula.source())]
        .concat()
}

/// A label and its text, wrapped; a long label keeps a blank before its text.
pub(super) fn row(label: &str, text: &str) -> Vec<String> {
    wrapped(text, &format!("  {label:<width$} ", width = LABEL - 3), &" ".repeat(LABEL))
}

fn wrapped(text: &str, first: &str, further: &str) -> Vec<String> {
    let options = textwrap::Options::new(WIDTH).initial_indent(first).subsequent_indent(further);
    let glued = glued(text);
    textwrap::wrap(&glued, options).into_iter().map(|line| line.trim_end().replace(GLUE, " ")).collect()
}

/// The text with its thousands held together.
fn glued(text: &str) -> String {
    let mut glued = String::with_capacity(text.len());
    let mut signs = text.chars().peekable();
    let mut digit = false;
    while let Some(sign) = signs.next() {
        let between = sign == ' ' && digit && signs.peek().is_some_and(char::is_ascii_digit);
        glued.push(if between { GLUE } else { sign });
        digit = sign.is_ascii_digit();
    }
    glued
}

fn about(input: &Input) -> String {
    let range = input.range().map_or(String::new(), |(low, high)| {
        let unit = input.unit().map_or("", Unit::symbol);
        let low = grouped(low);
        let low = low.strip_suffix(unit).unwrap_or(&low).trim_end();
        format!("; {low} to {}", grouped(high))
    });
    format!("{}{range}", input.what())
}

#[derive(Serialize)]
struct Sheet {
    formula: &'static str,
    meaning: &'static str,
    written: &'static str,
    limits: &'static str,
    source: &'static str,
    gives: Option<&'static str>,
    inputs: Vec<Entry>,
    takes_more: bool,
}

#[derive(Serialize)]
struct Entry {
    name: &'static str,
    what: &'static str,
    measures: Option<&'static str>,
    unit: Option<&'static str>,
    low: Option<f64>,
    high: Option<f64>,
}

/// A JSON object for each formula.
pub(super) fn json(formulas: &[&'static Formula]) -> Result<Vec<String>, serde_json::Error> {
    formulas.iter().map(|formula| serde_json::to_string(&sheet(formula))).collect()
}

fn sheet(formula: &'static Formula) -> Sheet {
    let entry = |input: &'static Input| Entry {
        name: input.name(),
        what: input.what(),
        measures: input.dimension().map(Dimension::word),
        unit: input.unit().map(Unit::symbol),
        low: input.range().map(|(low, _)| low.number()),
        high: input.range().map(|(_, high)| high.number()),
    };
    Sheet {
        formula: formula.name(),
        meaning: formula.meaning(),
        written: formula.written(),
        limits: formula.limits(),
        source: formula.source(),
        gives: formula.gives().map(Dimension::word),
        inputs: formula.inputs().iter().map(entry).collect(),
        takes_more: formula.takes_more(),
    }
}
