//! The endings: what it is, whose work, what can hurt, what is done.

use super::Script;
use super::numbers::is_worked_out;
use super::page::{Block, Section};
use super::text::INDENT;
use super::words::power_words;
use engine::rulebook::{DeedId, Ending, EndingId, EndingKind, FactId};
use std::fmt::Write;

impl Script<'_> {
    /// Every ending that is not on the danger page already.
    pub(super) fn endings(&self) -> Section {
        let mut section = Section::new("E: endings");
        for &ending in &self.numbers.endings {
            if !self.book.ending(ending).urgent {
                section.blocks.push(self.ending(ending));
            }
        }
        section
    }

    pub(super) fn ending(&self, id: EndingId) -> Block {
        let ending = self.book.ending(id);
        let number = self.numbers.ending(id);
        let mut block = Block::numbered(number.clone());
        block.para(
            1,
            &format!("{number:<5}"),
            &format!("{}: {}", kind(ending.kind), ending.name.to_uppercase()),
        );
        block.cautions(&ending.cautions);
        block.part("Why", &ending.because);
        block.part("Whose", &format!("{}.", ending.whose));
        block.list("Parts", &ending.parts);
        for (at, does) in ending.does.iter().enumerate() {
            block.para(INDENT, &format!("{:<4}", format!("{}.", at + 1)), does);
        }
        match ending.kind {
            EndingKind::Repair | EndingKind::Reset => self.repair(&mut block, ending, &number),
            EndingKind::InOrder => block.text("Then go to A6."),
            EndingKind::HandOver if ending.urgent => {
                block.text("The call ends here, and nothing more is asked.");
            }
            EndingKind::HandOver if id == self.book.roles().cannot_prove_dead => {
                block.text("Leads, panel and interlock stay as they are. Go to C6.");
            }
            EndingKind::HandOver | EndingKind::Open => block.text("Then go to C1."),
        }
        block
    }

    fn repair(&self, block: &mut Block, ending: &Ending, number: &str) {
        block.text("Say what it is, and ask whether it is done now. Later, or not possible: go to C1.");
        for (at, &deed) in ending.deeds.iter().enumerate() {
            self.deed(block, deed, &format!("{number}.{}", at + 1));
        }
        let (gone, yes) = self.book.roles().gone;
        let gone = (gone, engine::rulebook::Condition::Is(yes));
        let mut proof: Vec<String> = ending.proof.iter().map(|wanted| self.condition(wanted)).collect();
        proof.push(self.condition(&gone));
        proof.dedup();
        block.part("Proof", &format!("{}. Go to A1.", proof.join("; ")));
        if let Some(again) = ending.again {
            block.text(&format!(
                "A second time: ends in {}, and this is not done again.",
                self.numbers.ending(again)
            ));
        }
    }

    fn deed(&self, block: &mut Block, id: DeedId, number: &str) {
        let deed = self.book.deed(id);
        block.para(INDENT, &format!("{number}  "), &format!("{}.", deed.name));
        block.part("Power", &power_words(deed.power, deed.panel));
        if deed.energises {
            block.text(
                "This lets power through: go through the hold-offs from H1 first. If one stands, stop: not \
                 possible, power stays off. If the unit is DEAD or being locked out: go to R1, come back.",
            );
        }
        block.list("With", &deed.tools);
        for (at, step) in deed.steps.iter().enumerate() {
            block.para(INDENT, &format!("{:<4}", format!("{}.", at + 1)), step);
        }
        self.aftermath(block, id);
    }

    /// What a deed does to the record.
    fn aftermath(&self, block: &mut Block, id: DeedId) {
        let deed = self.book.deed(id);
        let written = |fact: &FactId| self.numbers.written(*fact);
        let set = deed.sets.iter().map(|(fact, _)| *fact);
        let changed: Vec<FactId> = deed.stales.iter().copied().chain(set).collect();
        let mut out: Vec<String> = changed.iter().filter_map(written).collect();
        // What was worked out of them goes with them.
        let figures = self.numbers.figures.iter().filter(|figure| {
            is_worked_out(self.book, **figure)
                && changed.iter().any(|fact| self.book.made_of(**figure).contains(fact))
        });
        out.extend(figures.filter_map(written));
        out.sort_by_key(|place| place[1..].parse::<usize>().unwrap_or_default());
        out.dedup();
        let sets: Vec<String> =
            deed.sets.iter().filter(|(fact, _)| written(fact).is_some()).map(|set| self.value(set)).collect();
        let mut text = "Done? ".to_owned();
        if !out.is_empty() {
            let _ = write!(text, "On the record cross out {}. ", out.join(", "));
        }
        if !sets.is_empty() {
            let _ = write!(text, "Write: {}. ", sets.join("; "));
        }
        if deed.energises {
            text.push_str("Power now: UNKNOWN, panel on.");
        }
        block.text(text.trim_end());
    }
}

const fn kind(kind: EndingKind) -> &'static str {
    match kind {
        EndingKind::Repair => "REPAIR",
        EndingKind::Reset => "RESET",
        EndingKind::HandOver => "HAND OVER",
        EndingKind::InOrder => "IN ORDER",
        EndingKind::Open => "LEFT OPEN",
    }
}
