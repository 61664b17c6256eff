//! What is worked out of other readings, with a pocket calculator: the figures F.

use super::Script;
use super::numbers::{Place, comes_only_with_others, is_worked_out};
use super::page::{Block, Section};
use super::text::INDENT;
use engine::formula::{ByHand, Table, rounded};
use engine::quantity::{Dimension, Expected, Quantity, System, Unit};
use engine::rulebook::{FactId, Working};
use std::collections::BTreeSet;

/// Digits of a number that a conversion goes by.
const DIGITS: usize = 4;

impl Script<'_> {
    /// Every figure, and above them how they are worked.
    pub(super) fn figures(&self) -> Section {
        let mut section = Section::new("F: what is worked out");
        let mut block = Block::new();
        for rule in [
            "Nobody is asked for a figure: it is worked out of its parts. First look over the parts, and the parts of \
             parts. Is one of them \"cannot\", with nothing to work it out of, or is it read live where power may not \
             come back? Then ask for none of the others. The figure cannot be told, and nothing is written at its W.",
            "Else take the parts in their order. What is on the record and not crossed out, go by it. What is blank, \
             ask for, or work out by its own F. One that then cannot be told ends it: the figure cannot be told.",
            "Put each number in in the unit that is named with it. Keep four digits. Write the result on the record, \
             with its unit, and go back to where you came from.",
            "A part that is crossed out or put right takes the figure with it: cross it out, and work it out anew.",
        ] {
            block.para(0, "", rule);
        }
        section.blocks.push(block);
        section.blocks.extend(self.conversions());
        for (at, &figure) in self.numbers.figures.iter().enumerate() {
            section.blocks.extend(self.figure(figure, at + 1));
        }
        section
    }

    fn figure(&self, id: FactId, number: usize) -> Option<Block> {
        let fact = self.book.fact(id);
        let working = fact.working.as_ref()?;
        let names: Vec<String> = working.of.iter().map(|part| self.place(*part)).collect();
        let by_hand = working.formula.by_hand(&names);
        let units = self.units(id, working, &by_hand);
        let label = format!("F{number}");
        let mut block = Block::numbered(label.clone());
        block.para(1, &format!("{label:<5}"), &format!("FIGURE {}", self.fact(id)));
        for (part, unit) in working.of.iter().zip(&units) {
            self.part_of(&mut block, *part, *unit, number);
        }
        let result = by_hand.gives.or_else(|| fact.expected().map(Expected::unit));
        let result = result.map(named).unwrap_or_default();
        block.part("Work", &format!("{} = {}{result}", self.place(id), by_hand.arithmetic));
        if let Some(table) = &by_hand.table {
            rows(&mut block, table);
        }
        block.part("From", working.formula.source());
        Some(block)
    }

    fn part_of(&self, block: &mut Block, part: FactId, unit: Option<Unit>, number: usize) {
        let unit = unit.map(named).unwrap_or_default();
        let (name, figure) = (self.fact(part), self.numbers.figure(part));
        if let Some(edge) = self.numbers.edge(part, 1.0).filter(|_| comes_only_with_others(self.book, part)) {
            block.part("Part", &format!("{edge} {name}{unit}: see the table of edges."));
        } else if let Some(figure) = figure.filter(|_| is_worked_out(self.book, part)) {
            block.part("Part", &format!("{name}{unit}. Blank? Work it out by {figure}."));
        } else {
            block.part("Part", &format!("{name}{unit}. Blank? Ask for it:"));
            self.asking(block, part, Some(Place::Figure(number)));
        }
    }

    /// The unit that each part goes in in.
    fn units(&self, id: FactId, working: &Working, by_hand: &ByHand) -> Vec<Option<Unit>> {
        let own = |fact: FactId| self.book.fact(fact).expected().map(Expected::unit);
        let owns: Vec<Option<Unit>> = working.of.iter().map(|part| own(*part)).collect();
        let alike = |unit: Unit| {
            let result = own(id).and_then(|result| in_its_terms(result, unit.dimension()));
            result.or_else(|| owns.iter().flatten().copied().find(|own| own.dimension() == unit.dimension()))
        };
        by_hand.units.iter().zip(&owns).map(|(unit, own)| unit.or_else(|| own.and_then(alike))).collect()
    }

    /// Other units that people read off their instruments, for those that figures are worked in.
    fn conversions(&self) -> Option<Block> {
        let figures = self.numbers.figures.iter().filter_map(|id| {
            let working = self.book.fact(*id).working.as_ref()?;
            let names = vec![String::new(); working.of.len()];
            Some(self.units(*id, working, &working.formula.by_hand(&names)))
        });
        let units: BTreeSet<(&str, &str)> = figures
            .flatten()
            .flatten()
            .filter(|unit| unit.in_system(System::Si) != *unit || unit.in_system(System::Us) != *unit)
            .map(|unit| (unit.dimension().word(), unit.typed()))
            .collect();
        let mut block = Block::new();
        for unit in units
            .into_iter()
            .filter_map(|(dimension, unit)| Unit::parse_in(unit, Dimension::from_word(dimension)?))
        {
            let others = Unit::all(unit.dimension()).filter(|other| *other != unit);
            let others: Vec<String> = others.filter_map(|other| converted(unit, other)).collect();
            if !others.is_empty() {
                block.para(
                    INDENT,
                    &format!("{} of {}: ", unit.symbol(), unit.dimension().plain()),
                    &others.join("; "),
                );
            }
        }
        (!block.lines.is_empty()).then(|| {
            block.lines.insert(0, "Other units than those on the record:".to_owned());
            block
        })
    }
}

/// The unit of this kind that goes with a result: its own, or for a temperature and a difference the same scale.
fn in_its_terms(result: Unit, dimension: Dimension) -> Option<Unit> {
    let scale = [Dimension::Temperature, Dimension::TemperatureDifference];
    if result.dimension() == dimension {
        return Some(result);
    }
    let both = scale.contains(&result.dimension()) && scale.contains(&dimension);
    Unit::parse_in(result.symbol(), dimension).filter(|_| both)
}

/// A unit behind a name; a count has none.
fn named(unit: Unit) -> String {
    if unit.symbol().is_empty() { String::new() } else { format!(" ({})", unit.symbol()) }
}

/// How a number in another unit becomes one in this.
fn converted(unit: Unit, other: Unit) -> Option<String> {
    let at = |number: f64| Some(unit.from_base(Quantity::new(number, other)?.base()));
    let (nothing, one) = (at(0.0)?, at(1.0)?);
    let times = rounded(Quantity::new(one - nothing, unit)?, DIGITS).number();
    let nothing = rounded(Quantity::new(nothing, unit)?, DIGITS).number();
    if nothing == 0.0 {
        return Some(format!("{} x {times}", other.symbol()));
    }
    let sign = if nothing < 0.0 { '-' } else { '+' };
    Some(format!("{} x {times} {sign} {}", other.symbol(), nothing.abs()))
}

/// A table, a few rows on a line.
fn rows(block: &mut Block, table: &Table) {
    let rows = table.rows.iter().map(|(by, number)| format!("{by} is {number:.3}"));
    let rows = rows.collect::<Vec<_>>().join("; ");
    let text = format!(
        "{} by {}: {rows}. Between two, take what lies between in the same way.",
        table.word, table.by
    );
    block.text(&text);
}
