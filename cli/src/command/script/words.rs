//! Values, bands, conditions and jumps in plain words.

use super::Script;
use crate::wording::{self, choices, share_of};
use engine::quantity::Quantity;
use engine::rulebook::{BandWay, Condition, Edge, Fact, FactId, PanelNeed, PowerNeed, Value, Way};

impl Script<'_> {
    /// Where an answer leads.
    pub(super) fn way(&self, way: Way) -> String {
        match way {
            Way::Go(step) => format!("go to {}", self.numbers.question(step)),
            Way::End(ending) => format!("ends in {}", self.numbers.ending(ending)),
            Way::ContinueIn(tree) => format!("go to {}", self.numbers.question(self.book.tree(tree).start)),
            Way::Visit { tree, then } => format!(
                "go to {}, come back to {}",
                self.numbers.question(self.book.tree(tree).start),
                self.numbers.question(then)
            ),
        }
    }

    /// A fact by its name and where it is written down.
    pub(super) fn fact(&self, fact: FactId) -> String {
        let name = &self.book.fact(fact).name;
        match self.numbers.written(fact) {
            Some(written) => format!("{written} {name}"),
            None => name.clone(),
        }
    }

    /// A band, by its own upper end and the one below it.
    pub(super) fn band(&self, before: Option<&BandWay>, band: &BandWay) -> String {
        wording::band(before, band, |edge| self.edge(edge))
    }

    fn edge(&self, edge: &Edge) -> String {
        match edge {
            Edge::Plain(quantity) => quantity.to_string(),
            Edge::Share { of, share } => match self.numbers.edge(*of, *share) {
                Some(place) => format!("{} ({place})", self.share(*of, *share)),
                None => share_of(&self.place(*of), *share),
            },
        }
    }

    /// Where a fact is written down, or read off the table of edges; else its name.
    pub(super) fn place(&self, fact: FactId) -> String {
        let edge = || self.numbers.edge(fact, 1.0);
        self.numbers.written(fact).or_else(edge).unwrap_or_else(|| self.book.fact(fact).name.clone())
    }

    /// A share of another fact, in words.
    pub(super) fn share(&self, of: FactId, share: f64) -> String {
        share_of(&self.fact(of), share)
    }

    /// What the share of a fact that comes with others is, one row for each of what it comes with.
    pub(super) fn rows(&self, of: FactId, share: f64) -> Vec<(String, String)> {
        let given = &self.book.fact(of).given;
        let rows = given.iter().filter_map(|given| {
            let whole = given.is.quantity()?;
            let part = Quantity::new(whole.number() * share, whole.unit())?;
            let when = given.when.iter().map(|(by, value)| shown(self.book.fact(*by), value));
            Some((when.collect::<Vec<_>>().join(" and "), part.to_string()))
        });
        rows.collect()
    }

    /// A demand of a proof or a hold-off.
    pub(super) fn condition(&self, (fact, wanted): &(FactId, Condition)) -> String {
        let wanted = wording::wanted(self.book.fact(*fact), wanted);
        format!("{}: {wanted}", self.fact(*fact))
    }
}

/// The state of power that a reading needs, and where to go when it is not so.
pub(super) fn power_to_read(fact: &Fact) -> String {
    if fact.is_led_out() {
        "LIVE, panel on, with what it is read on led out. If that is not so now: go to S1, come back."
            .to_owned()
    } else {
        power_words(fact.power, fact.panel)
    }
}

/// The state of power that something needs, in short.
pub(super) fn power_in_short(fact: &Fact) -> &'static str {
    if fact.is_led_out() {
        return "LIVE, panel on, led out";
    }
    match (fact.power, fact.panel) {
        (PowerNeed::Dead, _) => "LOCKED OUT AND PROVED DEAD",
        (PowerNeed::Live, PanelNeed::Off) => "LIVE, behind the panel",
        (PowerNeed::Live, _) => "LIVE, panel on",
        (PowerNeed::Any, _) => "any",
    }
}

/// The state of power that something needs, and where to go when it is not so.
pub(super) fn power_words(power: PowerNeed, panel: PanelNeed) -> String {
    match (power, panel) {
        (PowerNeed::Dead, PanelNeed::On) => {
            "LOCKED OUT AND PROVED DEAD, panel on. If it is not so now: go to L1, come back.".to_owned()
        }
        (PowerNeed::Dead, _) => {
            "LOCKED OUT AND PROVED DEAD. If it is not so now: go to L1, come back.".to_owned()
        }
        (PowerNeed::Live, PanelNeed::Off) => {
            "LIVE, behind the panel. If it is not made ready now: go to B1, come back.".to_owned()
        }
        (PowerNeed::Live, _) => "LIVE, panel on. If it is not so now: go to R1, come back.".to_owned(),
        (PowerNeed::Any, PanelNeed::Any) => "any. Leave it as it is.".to_owned(),
        (PowerNeed::Any, PanelNeed::On) => "any, panel on.".to_owned(),
        (PowerNeed::Any, PanelNeed::Off) => "any, panel off.".to_owned(),
    }
}

/// A value as it is written on the record.
pub(super) fn shown(fact: &Fact, value: &Value) -> String {
    match value {
        Value::Choices(set) => choices(fact, *set, " / "),
        Value::Quantity(quantity) => quantity.to_string(),
    }
}

/// The letter of an answer: a to z, then aa.
pub(super) fn letter(position: usize) -> String {
    let of = |index: usize| char::from(b'a' + u8::try_from(index % 26).unwrap_or_default());
    match position / 26 {
        0 => of(position).to_string(),
        round => format!("{}{}", of(round - 1), of(position)),
    }
}
