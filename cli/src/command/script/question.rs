//! The questions: what to say, the power it needs, every answer and where it leads.

use super::Script;
use super::asking::only_look;
use super::numbers::{Place, is_worked_out};
use super::page::{Block, Section};
use super::text::INDENT;
use super::words::{letter, shown};
use crate::wording::{choices, word};
use engine::rulebook::{BandWay, ChoiceSet, Fact, FactId, Line, Step, StepId, Way, Ways};

impl Script<'_> {
    /// The questions, one section for each unbroken run of one tree.
    pub(super) fn questions(&self) -> Vec<Section> {
        let mut sections: Vec<Section> = Vec::new();
        let mut tree = None;
        for &step in &self.numbers.steps {
            let rule = self.book.step(step);
            if tree != Some(rule.tree) {
                sections.push(Section::new(&self.book.tree(rule.tree).name));
                tree = Some(rule.tree);
            }
            if let Some(section) = sections.last_mut() {
                section.blocks.push(self.question(step));
            }
        }
        sections
    }

    fn question(&self, id: StepId) -> Block {
        let step = self.book.step(id);
        let number = self.numbers.question(id);
        let mut block = Block::numbered(number.to_string());
        let fact = self.book.fact(step.fact);
        let written = self.numbers.written(step.fact).unwrap_or_default();
        let figure = self.numbers.figure(step.fact).filter(|_| is_worked_out(self.book, step.fact));
        if let Some(figure) = figure.as_ref().filter(|_| step.asks) {
            let lead = format!("FIGURE {}, write it at {written}", fact.name);
            block.para(1, &format!("{number:<5}"), &lead);
            self.to_be_worked_out(&mut block, step, figure);
        } else if step.asks {
            block.para(1, &format!("{number:<5}"), &format!("ASK    {}, write it at {written}", fact.name));
            self.asked(&mut block, step, number);
        } else {
            let look = format!("LOOK   at {written}, {}. Power: any. Ask nothing.", fact.name);
            block.para(1, &format!("{number:<5}"), &look);
            if let Some(figure) = figure {
                block.text(&format!("Blank? {}", only_look(&figure)));
            }
        }
        self.edges_by_readings(&mut block, step, Place::Question(number));
        self.answers(&mut block, step, number);
        self.edges(&mut block, step);
        block
    }

    /// What stands above the answers of a question that is put to somebody.
    fn asked(&self, block: &mut Block, step: &Step, number: usize) {
        let here = Place::Question(number);
        if self.numbers.asked_first(step.fact).is_some_and(|first| first != here) {
            let written = self.numbers.written(step.fact).unwrap_or_default();
            block.text(&format!("Is {written} filled in already? Then ask nothing and go by it."));
        }
        block.part("Why", &step.because);
        self.asking(block, step.fact, Some(here));
    }

    /// What stands above the bands of a question on a figure.
    fn to_be_worked_out(&self, block: &mut Block, step: &Step, figure: &str) {
        let written = self.numbers.written(step.fact).unwrap_or_default();
        block.part("Why", &step.because);
        block.part(
            "Work",
            &format!(
                "Is {written} filled in already? Go by it. Else work it out by {figure}, come back. It takes:"
            ),
        );
        self.parts_in_short(block, step.fact);
    }

    fn answers(&self, block: &mut Block, step: &Step, number: usize) {
        let fact = self.book.fact(step.fact);
        let label = |position: usize| format!("{number}{}", letter(position));
        match &step.ways {
            Ways::Answers(lines) => {
                for (at, line) in lines.iter().enumerate() {
                    block.jump(&label(at), &choices(fact, line.is, " / "), &self.way(line.way));
                    if step.asks {
                        meanings(block, fact, line.is);
                    }
                    so(block, &line.means, None);
                }
            }
            Ways::Bands(lines) => {
                let mut before: Option<&BandWay> = None;
                for (at, line) in lines.iter().enumerate() {
                    block.jump(&label(at), &self.band(before, line), &self.way(line.way));
                    so(block, &line.means, line.from.as_deref());
                    before = Some(line);
                }
            }
        }
        let mut at = step.ways_out().filter(|(line, _)| matches!(line, Line::Value(_))).count();
        if let Some(way) = step.too_close {
            block.jump(&label(at), "too close to an edge to say, read twice", &self.way(way));
            at += 1;
        }
        let (text, way) = self.otherwise(step);
        block.jump(&label(at), &text, &self.way(way));
    }

    /// The last line: for what nobody can tell, or nothing is known of.
    fn otherwise(&self, step: &Step) -> (String, Way) {
        if !step.asks {
            return ("not known".to_owned(), step.otherwise);
        }
        let fact = self.book.fact(step.fact);
        let counts = fact.cannot_means.and_then(|value| value.choices());
        match (counts, &step.ways) {
            (Some(set), Ways::Answers(lines)) => {
                let line = lines.iter().find(|line| line.is.meets(set));
                let counts = choices(fact, set, " / ");
                (format!("cannot be told: write {counts}"), line.map_or(step.otherwise, |line| line.way))
            }
            _ => ("cannot be told or taken".to_owned(), step.otherwise),
        }
    }

    /// What the edges that go by a plate come to.
    fn edges(&self, block: &mut Block, step: &Step) {
        for (of, share) in step.shares() {
            let Some(place) = self.numbers.edge(of, share) else {
                continue;
            };
            let rows = self.rows(of, share);
            if rows.len() > 4 {
                block.para(INDENT, &format!("{place}: "), "see the table of edges at the front");
            } else {
                let rows: Vec<String> = rows.iter().map(|(when, edge)| format!("{edge} at {when}")).collect();
                block.para(INDENT, &format!("{place}: "), &rows.join(", "));
            }
        }
    }

    /// A reading that no question asks for: all that is needed to take it.
    pub(super) fn other_readings(&self) -> Section {
        let mut section = Section::new("other readings, for routines and proofs");
        for &fact in &self.numbers.record {
            if self.numbers.asked_first(fact).is_none() && !is_worked_out(self.book, fact) {
                section.blocks.push(self.card(fact));
            }
        }
        section
    }

    fn card(&self, id: FactId) -> Block {
        let fact = self.book.fact(id);
        let written = self.numbers.written(id).unwrap_or_default();
        let mut block = Block::numbered(written.clone());
        block.para(1, &format!("{written:<5}"), &format!("ASK    {}", fact.name));
        self.asking(&mut block, id, None);
        for (at, choice) in fact.choices().iter().enumerate() {
            block.para(INDENT, &format!("{}: ", word(&choice.id)), &choice.means);
            if fact.cannot_means.and_then(|value| value.choices()) == Some(ChoiceSet::only(at)) {
                block.text("(This is what to write where it cannot be told.)");
            }
        }
        block
    }

    /// A fact and a value that it has.
    pub(super) fn value(&self, (fact, value): &(FactId, engine::rulebook::Value)) -> String {
        format!("{} is {}", self.fact(*fact), shown(self.book.fact(*fact), value))
    }
}

/// What each choice of a line means.
fn meanings(block: &mut Block, fact: &Fact, set: ChoiceSet) {
    for choice in set.positions().filter_map(|position| fact.choices().get(position)) {
        let lead = format!("{}: ", word(&choice.id));
        if set.len() == 1 {
            block.para(INDENT + 2, "", &choice.means);
        } else {
            block.para(INDENT + 2, &lead, &choice.means);
        }
    }
}

fn so(block: &mut Block, means: &str, from: Option<&str>) {
    let from = from.map(|from| format!(" ({from})")).unwrap_or_default();
    block.para(INDENT + 2, "So: ", &format!("{means}{from}"));
}
