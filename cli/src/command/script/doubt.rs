//! Readings that cannot be trusted as they stand: those that contradict each other, and those close to an edge.

use super::Script;
use super::numbers::is_worked_out;
use super::page::{Block, Section};
use super::words::percent;
use engine::rulebook::{FactId, Holds, Kind, Relation, Step};

impl Script<'_> {
    /// What holds of readings that are all true, as far as they are on the record.
    pub(super) fn contradictions(&self) -> Section {
        let mut section = Section::new("K: readings that cannot all be true");
        let mut head = Block::new();
        for rule in [
            "When something is written on the record whose W has a K behind it, look at those K at once, as far as \
             all that they name is on the record; a figure that is blank is worked out if its parts are there. A gap \
             that the meters themselves may leave is let pass.",
            "Is one broken? Take anew one of the readings that it stands on, as long as the unit is in the state for \
             it: first one read with a meter, then one that was looked at, last what is off a plate; of two alike \
             the one that was taken last. Cross out the old value and its figures, and write the new one. It was \
             another? Begin again at question 1, with the record as it stands. Still broken? Take the next one \
             anew, each once.",
            "All taken anew, and still so? Write that down, and go on with what was read. Danger, a lock-out that \
             failed and a hold-off are never argued away like that.",
        ] {
            head.para(0, "", rule);
        }
        section.blocks.push(head);
        for (number, relation) in self.relations() {
            let label = format!("K{number}");
            let mut block = Block::numbered(label.clone());
            block.para(1, &format!("{label:<5}"), &relation.means);
            if !relation.when.is_empty() {
                let when: Vec<String> = relation.when.iter().map(|wanted| self.condition(wanted)).collect();
                block.part("Where", &format!("{}.", when.join("; ")));
            }
            match &relation.holds {
                Holds::Never(all) => {
                    let all: Vec<String> = all.iter().map(|wanted| self.condition(wanted)).collect();
                    block.part("Broken", &format!("if all of these stand there: {}.", all.join("; ")));
                }
                Holds::NotAbove { left, right, factor, slack } => {
                    self.not_above(&mut block, (left, right), *factor, *slack);
                }
            }
            section.blocks.push(block);
        }
        section
    }

    fn not_above(&self, block: &mut Block, sides: (&[FactId], &[FactId]), factor: f64, slack: f64) {
        let plain = sides.0.len() == 1 && sides.1.len() == 1;
        let unit = |fact: FactId| {
            let unit = self.book.fact(fact).expected().map(|expected| expected.unit());
            if plain { unit } else { unit.map(|unit| unit.dimension().base_unit()) }
        };
        let side = |facts: &[FactId]| {
            let names = facts.iter().map(|fact| {
                let unit = unit(*fact).map_or("", |unit| unit.symbol());
                if unit.is_empty() { self.fact(*fact) } else { format!("{} ({unit})", self.fact(*fact)) }
            });
            names.collect::<Vec<_>>().join(" x ")
        };
        let factor = if factor.total_cmp(&1.0).is_eq() { String::new() } else { format!("{factor} x ") };
        let slack = sides.0.first().and_then(|fact| unit(*fact)).map_or(slack, |unit| {
            let nothing = unit.to_base(0.0);
            unit.from_base(nothing + slack)
        });
        let slack = percent(slack / 100.0);
        let slack = if slack == 0.0 { String::new() } else { format!(" + {slack}") };
        block.part("Broken", &format!("if {} is more than {factor}{}{slack}.", side(sides.0), side(sides.1)));
    }

    /// The relations that are printed, each with its number.
    fn relations(&self) -> impl Iterator<Item = (usize, &Relation)> {
        let here = |relation: &&Relation| relation.facts().all(|fact| self.numbers.written(fact).is_some());
        (1..).zip(self.book.relations().iter().filter(here))
    }

    pub(super) fn has_relations(&self) -> bool {
        self.relations().next().is_some()
    }

    /// The numbers of the relations that a reading is part of: ` K1, K3`.
    pub(super) fn relations_of(&self, fact: FactId) -> Vec<String> {
        let of = |relation: &Relation| relation.facts().any(|about| self.book.made_of(about).contains(&fact));
        self.relations()
            .filter(|(_, relation)| of(relation))
            .map(|(number, _)| format!("K{number}"))
            .collect()
    }

    /// How near to an edge is too close, for a question that has a line for that.
    pub(super) fn close(&self, block: &mut Block, step: &Step) {
        if step.too_close.is_none() {
            return;
        }
        let read: Vec<String> = self
            .book
            .made_of(step.fact)
            .into_iter()
            .filter_map(|fact| match &self.book.fact(fact).kind {
                Kind::Quantity { meter, .. } => meter.off_by().map(|off| (fact, off)),
                Kind::Choice { .. } => None,
            })
            .filter(|(fact, _)| !is_worked_out(self.book, *fact))
            .map(|(fact, (percent, more))| {
                let percent = if percent > 0.0 { format!("{percent} % of it + ") } else { String::new() };
                format!("{} may be off by {percent}{more}", self.place(fact))
            })
            .collect();
        if read.is_empty() {
            return;
        }
        let off = read.join("; ");
        let written = self.place(step.fact);
        let doubt = if is_worked_out(self.book, step.fact) {
            format!(
                "For each, work {written} and all on the way to it out with it raised by that, and with it lowered: \
                 half of the difference is its doubt. Square the doubts, add them, take the root, times 1.155."
            )
        } else {
            "The doubt is 1.155 times that.".to_owned()
        };
        block.part(
            "Close",
            &format!("{off}. {doubt} Is an edge that near, with another way behind it? Read again. The same: too close."),
        );
    }
}
