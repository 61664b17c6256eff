//! Readings that cannot be trusted as they stand: those that contradict each other, and those close to an edge.

use super::Script;
use super::page::{Block, Section};
use crate::wording::percent;
use engine::quantity::Expected;
use engine::rulebook::{FactId, Holds, Kind, Relation};

impl Script<'_> {
    /// What is too close to an edge, and what holds of readings that are all true, as far as they are on the record.
    pub(super) fn doubts(&self) -> Section {
        let mut section = Section::new("K: readings in doubt");
        let mut head = Block::new();
        for rule in [
            "Readings that cannot all be true. When something is written on the record whose W has a K behind it, look at those K at once, as far as \
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
        let mut blocks = vec![too_close()];
        if self.has_relations() {
            blocks.push(head);
        }
        section.blocks.extend(blocks);
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
            let unit = self.book.fact(fact).expected().map(Expected::unit);
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

    fn has_relations(&self) -> bool {
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

    /// What a meter may be off by, where a reading is asked for in full.
    pub(super) fn meter(&self, block: &mut Block, id: FactId) {
        if let Kind::Quantity { meter, .. } = &self.book.fact(id).kind
            && let Some((percent, more)) = meter.off_by()
        {
            let percent = if percent > 0.0 { format!("{percent} % of it + ") } else { String::new() };
            block.part("Meter", &format!("{} may be off by {percent}{more}.", self.place(id)));
        }
    }
}

/// What is done with a value that its meter cannot tell from an edge.
fn too_close() -> Block {
    let mut block = Block::numbered("K0");
    for (lead, rule) in [
        (
            " K0   ",
            "Too close to an edge. What a reading may be off by stands behind Meter; no Meter, nothing. Times 1.155, \
             that is its doubt. The doubt of a share is that share of the doubt.",
        ),
        (
            "",
            "The doubt of a figure: for each reading in it, work the figure and all on the way to it out with the \
             reading raised by half of what its meter may be off, and lowered by as much. The difference counts; \
             nothing, where one of the two cannot be worked out. Square these, add them, take the root, times 1.155.",
        ),
        (
            "",
            "Is an edge no further from the value than its doubt, and has the band behind it another way? For an \
             edge with a doubt of its own take the root of both squares. At LOOK read nothing again. Else read again \
             what counts most, put the mean on the record, and work anew what goes by it. Far apart? A third time.",
        ),
        (
            "",
            "Still too close? Take the line for that. No such line? Of the bands that it may be, take first one that \
             ends in a HAND OVER, then one that a page H holds power off for, then the one that it lies in. Write \
             \"too close\" behind it.",
        ),
    ] {
        block.para(if lead.is_empty() { super::text::INDENT } else { 0 }, lead, rule);
    }
    block
}
