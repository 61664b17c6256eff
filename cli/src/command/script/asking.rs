//! How a fact is had, on paper: asked for, come with others, or worked out.

use super::Script;
use super::numbers::{Place, comes_only_with_others, is_worked_out};
use super::page::Block;
use super::words::{power_in_short, power_to_read, shown};
use crate::wording::{choices, percent};
use engine::rulebook::{Fact, FactId, Kind, Step};

impl Script<'_> {
    /// All that is needed to ask for a fact; in full at its own place, in short elsewhere.
    pub(super) fn asking(&self, block: &mut Block, id: FactId, here: Option<Place>) {
        let fact = self.book.fact(id);
        let elsewhere = self.numbers.asked_first(id).filter(|first| Some(*first) != here);
        self.comes_with(block, id, elsewhere);
        if let Some(asking) = &fact.asking {
            self.power(block, fact);
            block.cautions(&fact.cautions);
            block.part("Say", &format!("\"{}\"", asking.say));
            if let Some(place) = elsewhere {
                block.part("How", &format!("as at {place}."));
            } else {
                block.part("How", &asking.how);
                block.list("With", &fact.tools);
            }
        }
        range(block, fact);
        if elsewhere.is_none() {
            self.meter(block, id);
        }
        if let Some(figure) = self.numbers.figure(id).filter(|_| fact.asking.is_some()) {
            block.text(&format!(
                "Cannot be told, or all that {figure} is made of is on the record already? Work it out by {figure}."
            ));
        }
    }

    /// The state of power for a reading.
    fn power(&self, block: &mut Block, fact: &Fact) {
        block.part("Power", &power_to_read(fact));
        if fact.ahead_of_interlock {
            block.text(
                "Read ahead of the panel switch: panel off and power on, it is ready though the switch is open.",
            );
        }
        let (live_work, yes) = self.book.power().live_work;
        if fact.live_work {
            let yes = choices(self.book.fact(live_work), yes, " / ");
            block.text(&format!(
                "Open live parts: only if {} is {yes}. Blank? Ask that first. Anything else: it cannot be taken, and \
                 nothing is written.",
                self.fact(live_work)
            ));
        }
    }

    /// What it is where it comes with other facts.
    fn comes_with(&self, block: &mut Block, id: FactId, elsewhere: Option<Place>) {
        let fact = self.book.fact(id);
        if fact.given.is_empty() {
            return;
        }
        let written = self.place(id);
        if let Some(place) = elsewhere {
            block.text(&format!("Go down the rows at {place} first: one that fits is written at {written}."));
            return;
        }
        block.text(&format!(
            "Go down these rows first. What a row names and is blank, ask for. One that fits is written at \
             {written}, and nothing more is asked."
        ));
        for given in &fact.given {
            let when = given.when.iter().map(|(by, value)| {
                let is = shown(self.book.fact(*by), value);
                format!("{} is {is}", self.place(*by))
            });
            let row = format!("{}: {}", when.collect::<Vec<_>>().join(", "), shown(fact, &given.is));
            block.para(super::text::INDENT + 2, "", &row);
        }
    }

    /// What the edges of a step go by, each with the way to it; those off a plate stand in their table.
    pub(super) fn edges_by_readings(&self, block: &mut Block, step: &Step, here: Place) {
        let shares = step.shares();
        let mut facts: Vec<FactId> = shares.iter().map(|(of, _)| *of).collect();
        facts.dedup();
        for id in facts.into_iter().filter(|of| !comes_only_with_others(self.book, *of)) {
            let figure = self.numbers.figure(id).filter(|_| is_worked_out(self.book, id));
            let elsewhere = self.numbers.asked_first(id).filter(|first| *first != here);
            let how = match (&figure, step.asks) {
                (Some(figure), true) => format!("Blank? Work it out by {figure}, come back."),
                (Some(figure), false) => format!("Blank? {}", only_look(figure)),
                (None, true) if elsewhere.is_some() => {
                    let place = elsewhere.map_or_else(String::new, |place| format!(" as at {place}"));
                    let power = power_in_short(self.book.fact(id));
                    format!("Blank? Ask for it,{place}; power {power}.")
                }
                (None, true) => "Blank? Ask for it, before the first band that names it:".to_owned(),
                (None, false) => "Blank? Not known.".to_owned(),
            };
            block.part("Edge", &format!("{}. {how}", self.fact(id)));
            if step.asks && figure.is_none() && elsewhere.is_none() {
                self.asking(block, id, Some(here));
            } else if step.asks && figure.is_some() {
                self.parts_in_short(block, id);
            }
            let written = self.place(id);
            for (_, share) in shares.iter().filter(|(of, share)| *of == id && share.total_cmp(&1.0).is_ne()) {
                let times = percent(share / 100.0);
                block.text(&format!("{} % of {written} is {times} x {written}.", percent(*share)));
            }
        }
    }

    /// Every reading that a figure comes from in the end, with the power that it needs.
    pub(super) fn parts_in_short(&self, block: &mut Block, id: FactId) {
        let parts = self.book.made_of(id).into_iter().filter(|part| self.book.fact(*part).asking.is_some());
        for part in parts {
            block.para(
                super::text::INDENT + 7,
                "",
                &format!("{}: power {}", self.fact(part), power_in_short(self.book.fact(part))),
            );
        }
    }
}

/// What is done where a step only looks at what is worked out.
pub(super) fn only_look(figure: &str) -> String {
    format!("Work it out by {figure} if all that it is made of is on the record. Else it is not known.")
}

/// What numbers would be believed, and in which unit they are written down.
fn range(block: &mut Block, fact: &Fact) {
    match &fact.kind {
        Kind::Quantity { expected, .. } => {
            let over = if expected.over_range() { " OL counts as above every edge." } else { "" };
            if let Some((low, high)) = expected.range() {
                block.part("Range", &format!("{low} to {high}; outside it, read again.{over}"));
            }
        }
        Kind::Choice { several: true, .. } => {
            block.text("Several may hold. Write all of them; the first line below that fits counts.");
        }
        Kind::Choice { several: false, .. } => {}
    }
}
