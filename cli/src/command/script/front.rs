//! What stands in front of the questions: danger, how to go on, the record, the plates.

use super::Script;
use super::numbers::{Place, danger_step, is_worked_out};
use super::page::{Block, Section};
use super::text::{INDENT, WIDTH};
use crate::wording::choices;
use engine::rulebook::{FactId, Step, Ways};

impl Script<'_> {
    /// The first page: what counts as danger, and what is done then, in full.
    pub(super) fn danger_page(&self) -> Section {
        let mut section = Section::new("DANGER FIRST, AND AT ANY TIME IN THE CALL");
        let mut block = Block::new();
        block.para(0, "", "The moment anybody tells of one of these, stop where you are and go there:");
        block.gap();
        if let Some(step) = danger_step(self.book) {
            self.dangers(&mut block, step);
        }
        block.gap();
        let fact = self.book.fact(self.book.roles().danger.0);
        if let Some(asking) = &fact.asking {
            block.part("Say", &format!("\"{}\"", asking.say));
            block.part("How", &asking.how);
        }
        section.blocks.push(block);
        for &ending in &self.numbers.endings {
            if self.book.ending(ending).urgent {
                section.blocks.push(self.ending(ending));
            }
        }
        section
    }

    fn dangers(&self, block: &mut Block, step: &Step) {
        let (danger, safe) = self.book.roles().danger;
        let fact = self.book.fact(danger);
        let Ways::Answers(lines) = &step.ways else {
            return;
        };
        for line in lines.iter().filter(|line| !line.is.within(safe)) {
            block.jump("", &choices(fact, line.is, " / ").to_uppercase(), &self.way(line.way));
            for choice in line.is.positions().filter_map(|position| fact.choices().get(position)) {
                block.para(INDENT + 2, "", &choice.means);
            }
        }
        block.jump("", "cannot be told", &self.way(step.otherwise));
    }

    /// How a call is gone through, and where everything stands. `firsts` has the first page of every section.
    pub(super) fn how(&self, firsts: &[usize]) -> Vec<Block> {
        let mut blocks = vec![self.aid()];
        blocks.extend(self.beforehand());
        for (at, rule) in self.how_rules().iter().enumerate() {
            let mut block = Block::new();
            block.para(1, &format!("{:<4}", format!("{}.", at + 1)), rule);
            blocks.push(block);
        }
        blocks.push(self.contents(firsts));
        blocks
    }

    fn aid(&self) -> Block {
        let mut block = Block::new();
        block.para(
            0,
            "",
            "For the day the computer is down. An aid to qualified people: local codes, the maker's sheet and \
             your employer's rules come first.",
        );
        let (name, lines) = (self.paper.name(), self.paper.lines());
        block.para(
            0,
            "",
            &format!(
                "For {name} paper: {lines} lines a page, {WIDTH} columns, at six lines and ten letters to the inch."
            ),
        );
        block
    }

    /// What a sheet that begins inside a call does not ask for, and still goes by.
    fn beforehand(&self) -> Option<Block> {
        let looked_at =
            self.numbers.steps.iter().flat_map(|step| self.book.made_of(self.book.step(*step).fact));
        let looked_at = looked_at.filter(|fact| !is_worked_out(self.book, *fact));
        let given = self.numbers.edges.iter().flat_map(|(of, _)| &self.book.fact(*of).given);
        let mut facts: Vec<FactId> = looked_at
            .chain(given.flat_map(|given| given.when.iter().map(|(by, _)| *by)))
            .filter(|fact| self.numbers.asked_first(*fact).is_none())
            .collect();
        if danger_step(self.book).is_some_and(|step| self.numbers.asked_first(step.fact).is_none()) {
            facts.push(self.book.roles().danger.0);
        }
        facts.sort_by_key(|fact| self.numbers.record.iter().position(|other| other == fact));
        facts.dedup();
        let names: Vec<String> = facts.into_iter().map(|fact| self.fact(fact)).collect();
        (!names.is_empty()).then(|| {
            let mut block = Block::new();
            let text = format!(
                "This sheet begins inside a call. Before question 1 go through the danger page, and write down \
                 what is known of: {}.",
                names.join(", ")
            );
            block.para(0, "", &text);
            block
        })
    }

    fn how_rules(&self) -> Vec<String> {
        let left = self.numbers.ending(self.book.roles().left);
        [
            "Start at question 1. Find the answer, and go where its line says: go to a question, or ends in an \
             ending. Questions only lead to higher numbers: a lower one is only ever come back to. Nothing is \
             skipped, nothing is guessed.",
            "Say what stands behind Say, word by word. Hear the answer, say it back with its unit, and write it \
             on the record behind its W number.",
            "What is on the record and not crossed out is not asked again: go by it. That goes for \"cannot\" \
             too. What somebody tells unasked is written down as well. Cross out with one line, so that it can \
             still be read: the hold-offs need it.",
            "Once it is written, look at the K behind its W. Was a reading put right, by the caller or by a K? Cross \
             out the old one and what was worked out of it, and begin again at question 1, with the record as it \
             stands.",
            "At LOOK ask nobody. Go by the record. Blank, crossed out or \"cannot\" there is \"not known\".",
            "At FIGURE ask for what it is worked out of, as its F says, and work it out. F has every word that is \
             needed. Mind the power of each part, as at any question.",
            "Bands: from the top, the first that fits. P is worked out at the foot of the question. W is what is \
             written there; Edge says where it comes from and how its share is worked out. Is it blank at ASK or \
             FIGURE? Ask for it, or work it out. At LOOK take \"not known\". Can nobody tell it? Take the last line. Is it close to an edge? See K0.",
            "\"Come back to\" a question: write its number on the record, behind those that stand there. An ending \
             that is in order sends you to the last of them. Begin again at question 1? Then cross \
             them all out.",
            "Power: keep the line \"power now\" on the record true. It starts as UNKNOWN. DEAD is only what L1 \
             to the end of L made so, whole, in order, without a break. When a switch or breaker may have been \
             moved, when one of them is found off or tripped, when more supplies turn up, or \
             when in any doubt: UNKNOWN. Unknown counts as live for hands, and as off for readings that need power.",
            "\"Go to L1, come back\" means: do all steps of L, then take up the question where you left it. Go \
             there for nothing else than to change the state. B and R likewise.",
            "Power never comes back onto a fault: R1 and V1 send you through the page of hold-offs first.",
        ]
        .into_iter()
        .map(str::to_owned)
        .chain([format!(
            "The person leaves, or the repair waits for another day: go to C1, then the call ends in {left}."
        )])
        .collect()
    }

    fn contents(&self, firsts: &[usize]) -> Block {
        let mut block = Block::new();
        block.para(0, "", "Where everything stands:");
        for (at, title) in self.sections_in_short().iter().enumerate() {
            let page = firsts.get(at).copied().unwrap_or_default();
            block.jump("", title, &format!("page {page:>3}"));
        }
        block
    }

    /// The titles of all sections, with the numbers of what stands in them.
    fn sections_in_short(&self) -> Vec<String> {
        let mut titles = vec!["danger".to_owned(), "how to go through a call".to_owned()];
        titles.push("record of the call, W".to_owned());
        if self.numbers.has_edges() {
            titles.push("edges that go by a plate, P".to_owned());
        }
        titles.extend(
            self.questions()
                .iter()
                .map(|section| format!("questions {}: {}", section.range(), section.title)),
        );
        let last = self.numbers.endings.len();
        if !self.numbers.figures.is_empty() {
            let last = self.numbers.figures.len();
            titles.push(format!("F1 to F{last}: what is worked out"));
        }
        titles.extend([
            "K: readings in doubt".to_owned(),
            "L: locking out and proving dead".to_owned(),
            "B, V, S: reading live behind the panel".to_owned(),
            "R: bringing power back; C: closing up".to_owned(),
            "H: what holds power off".to_owned(),
            "A: after a repair, and its proof".to_owned(),
            format!("E1 to E{last}: endings"),
            "other readings".to_owned(),
        ]);
        titles
    }

    /// The form to write on.
    pub(super) fn record(&self) -> Section {
        let mut section = Section::new("record of the call");
        let mut head = Block::new();
        for line in ["Date and time", "Who calls, and the place", "Power now (cross out, write anew)"] {
            head.lines.push(filled(&format!("{line} "), WIDTH));
        }
        for line in ["Leads out at, for", "Come back to question", "Repairs done"] {
            head.lines.push(filled(&format!("{line} "), WIDTH));
        }
        head.lines.push("Power now is one of: UNKNOWN, DEAD, LIVE PANEL ON, LIVE INSIDE.".to_owned());
        head.lines
            .push("In brackets: where it is asked for. Then its unit, and the K to look at.".to_owned());
        section.blocks.push(head);
        for &fact in &self.numbers.record {
            section.blocks.push(self.row(fact));
        }
        section
    }

    /// A row of the record, with room for a reading after a repair and after another.
    fn row(&self, fact: FactId) -> Block {
        let written = self.numbers.written(fact).unwrap_or_default();
        let place = match self.numbers.asked_first(fact) {
            Some(Place::Question(number)) => number.to_string(),
            Some(figure @ Place::Figure(_)) => figure.to_string(),
            None => "other".to_owned(),
        };
        let rule = self.book.fact(fact);
        let unit = rule.expected().map_or("", |expected| expected.unit().symbol());
        let unit = if unit.is_empty() { String::new() } else { format!(", {unit}") };
        let relations = self.relations_of(fact);
        let relations =
            if relations.is_empty() { String::new() } else { format!("; {}", relations.join(", ")) };
        let mut block = Block::numbered(written.clone());
        block.para(1, &format!("{written:<5}"), &format!("{} ({place}){unit}{relations}", rule.name));
        let blank = "_".repeat(17);
        block.text(&format!("first {blank} then {blank} then {blank}"));
        block
    }

    /// What the edges come to that go by plates and profiles.
    pub(super) fn plates(&self) -> Section {
        let mut section = Section::new("edges that go by a plate");
        let mut block = Block::new();
        block.para(0, "", "Where a band names P, read its value off the row that is on the record.");
        section.blocks.push(block);
        for (at, &(of, share)) in self.numbers.edges.iter().enumerate() {
            let place = format!("P{}", at + 1);
            let mut block = Block::numbered(place.clone());
            block.para(1, &format!("{place:<5}"), &self.share(of, share));
            for (given, (_, edge)) in self.book.fact(of).given.iter().zip(self.rows(of, share)) {
                let when: Vec<String> = given.when.iter().map(|when| self.value(when)).collect();
                block.text(&format!("{edge} where {}", when.join(" and ")));
            }
            section.blocks.push(block);
        }
        section
    }
}

/// A label with a line to write on behind it.
fn filled(label: &str, width: usize) -> String {
    format!("{label}{}", "_".repeat(width.saturating_sub(label.len())))
}
