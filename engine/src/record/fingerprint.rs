//! What tells one set of rules from another.

use crate::rulebook::{
    AnswerWay, BandWay, Caution, ChoiceSet, Condition, Deed, Edge, Ending, Fact, FactId, Holds, Kind,
    PowerStepKind, Relation, Rulebook, Step, Upper, Value, Way, Ways,
};
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// Two hashes of a rulebook (SHA-256, in hexadecimal): of all that decides where a call goes, and of that and every
/// word of it. Neither changes when files are split, named anew or put in another order.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Fingerprint {
    /// Of the rules without their prose.
    pub rules: String,
    /// Of the rules and their prose.
    pub prose: String,
}

impl Fingerprint {
    /// The fingerprint of a rulebook.
    #[must_use]
    pub fn of(book: &Rulebook) -> Self {
        Self { rules: hash(book, false), prose: hash(book, true) }
    }
}

fn hash(book: &Rulebook, prose: bool) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut part = |write: &dyn Fn(&mut Text<'_>)| {
        let mut text = Text { book, prose, written: String::new() };
        write(&mut text);
        parts.push(text.written);
    };
    book.facts().iter().for_each(|fact| part(&|text| text.fact(fact)));
    book.deeds().iter().for_each(|deed| part(&|text| text.deed(deed)));
    book.endings().iter().for_each(|ending| part(&|text| text.ending(ending)));
    book.relations().iter().for_each(|relation| part(&|text| text.relation(relation)));
    book.steps().iter().for_each(|step| part(&|text| text.step(step)));
    for tree in book.trees() {
        part(&|text| {
            text.says("tree", (&tree.id, &book.step(tree.start).id, text.complaints(tree.complaint)));
            text.prose([&tree.name]);
        });
    }
    part(&|text| text.power());
    part(&|text| text.roles());
    parts.sort();
    let mut sum = Sha256::new();
    for part in parts {
        sum.update(part.len().to_le_bytes());
        sum.update(part);
    }
    sum.finalize().iter().fold(String::new(), |mut hex, byte| {
        // Writing to a string does not fail.
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}

/// One part of a rulebook as text, in which ids are names.
struct Text<'b> {
    book: &'b Rulebook,
    prose: bool,
    written: String,
}

impl<'b> Text<'b> {
    fn says(&mut self, key: &str, what: impl std::fmt::Debug) {
        // Writing to a string does not fail.
        let _ = writeln!(self.written, "{key} {what:?}");
    }

    fn prose<'p>(&mut self, words: impl IntoIterator<Item = &'p String>) {
        if self.prose {
            words.into_iter().for_each(|word| self.says("prose", word));
        }
    }

    fn cautions(&mut self, cautions: &[Caution]) {
        if self.prose {
            self.says("cautions", cautions);
        }
    }

    fn id(&self, fact: FactId) -> &'b str {
        let book = self.book;
        &book.fact(fact).id
    }

    fn ids(&self, facts: &[FactId]) -> Vec<&'b str> {
        facts.iter().map(|fact| self.id(*fact)).collect()
    }

    fn value(&self, fact: FactId, value: &Value) -> String {
        let rule = self.book.fact(fact);
        format!("{} = {}", rule.id, rule.show(value))
    }

    fn values(&self, values: &[(FactId, Value)]) -> Vec<String> {
        let mut says: Vec<String> = values.iter().map(|(fact, value)| self.value(*fact, value)).collect();
        says.sort();
        says
    }

    fn conditions(&self, conditions: &[(FactId, Condition)]) -> Vec<String> {
        let says = |(fact, condition): &(FactId, Condition)| match condition {
            Condition::Is(set) => self.value(*fact, &Value::Choices(*set)),
            within @ Condition::Within { .. } => format!("{} {within:?}", self.id(*fact)),
        };
        let mut says: Vec<String> = conditions.iter().map(says).collect();
        says.sort();
        says
    }

    fn complaints(&self, set: Option<ChoiceSet>) -> Option<String> {
        set.map(|set| self.value(self.book.roles().complaint, &Value::Choices(set)))
    }

    fn fact(&mut self, fact: &Fact) {
        self.says("fact", &fact.id);
        match &fact.kind {
            Kind::Quantity { expected, meter } => self.says("quantity", (expected, meter)),
            Kind::Choice { choices, several } => {
                self.says("choices", choices.iter().map(|choice| &choice.id).collect::<Vec<_>>());
                self.says("several", several);
                self.prose(choices.iter().map(|choice| &choice.means));
            }
        }
        self.says("asked", fact.asking.is_some());
        self.says("power", (fact.power, fact.panel, fact.live_work, fact.ahead_of_interlock));
        self.says("station", fact.station.map(|station| &self.book.power().stations[station.index()].id));
        self.says("lasts", (fact.lasts, fact.minutes, fact.may_be_missing));
        self.says("cannot means", fact.cannot_means.map(|value| fact.show(&value)));
        self.says("feeds", fact.feeds.map(|set| fact.show(&Value::Choices(set))));
        for given in &fact.given {
            self.says("given", (self.values(&given.when), fact.show(&given.is)));
        }
        if let Some(working) = &fact.working {
            self.says("working", (working.formula.name(), self.ids(&working.of)));
        }
        self.prose([&fact.name].into_iter().chain(&fact.tools));
        self.prose(fact.asking.iter().flat_map(|asking| [&asking.say, &asking.how]));
        self.cautions(&fact.cautions);
        if self.prose {
            self.says("cautions when", self.conditions(&fact.cautions_when));
            let choices = |set: Option<ChoiceSet>| set.map(|set| fact.show(&Value::Choices(set)));
            self.says("yes means", choices(fact.yes_means));
            self.says("live until told", fact.show(&Value::Choices(fact.live_until_told)));
            for time in &fact.waits {
                self.says("waits", (choices(time.is), time.minutes));
            }
        }
    }

    fn deed(&mut self, deed: &Deed) {
        self.says("deed", (&deed.id, deed.power, deed.panel, deed.minutes, deed.energises));
        self.says("sets", self.values(&deed.sets));
        let mut stales = self.ids(&deed.stales);
        stales.sort_unstable();
        self.says("stales", stales);
        self.prose([&deed.name].into_iter().chain(&deed.tools).chain(&deed.steps));
        if self.prose {
            self.says("waits", &deed.waits);
        }
    }

    fn ending(&mut self, ending: &Ending) {
        self.says("ending", (&ending.id, ending.kind, ending.urgent, ending.left_off));
        let deeds: Vec<&String> = ending.deeds.iter().map(|deed| &self.book.deed(*deed).id).collect();
        self.says("deeds", deeds);
        self.says("proof", self.conditions(&ending.proof));
        self.says("answers", self.complaints(Some(ending.answers)));
        if let Some(again) = ending.again {
            self.says("again", &self.book.ending(again).id);
        }
        self.prose([&ending.name, &ending.because, &ending.whose].into_iter().chain(&ending.does));
        self.prose(&ending.parts);
        self.cautions(&ending.cautions);
    }

    fn relation(&mut self, relation: &Relation) {
        self.says("relation", &relation.id);
        self.says("when", self.conditions(&relation.when));
        match &relation.holds {
            Holds::NotAbove { left, right, factor, slack } => {
                self.says("not above", (self.ids(left), self.ids(right), factor, slack));
            }
            Holds::Never(all) => self.says("never", self.conditions(all)),
        }
        self.prose([&relation.means]);
    }

    fn step(&mut self, step: &Step) {
        let tree = &self.book.tree(step.tree).id;
        self.says("step", (tree, &step.id, self.id(step.fact), step.asks));
        match &step.ways {
            // The order of lines for choices says nothing.
            Ways::Answers(lines) => {
                let says =
                    |line: &AnswerWay| (self.value(step.fact, &Value::Choices(line.is)), self.way(line.way));
                let mut says: Vec<_> = lines.iter().map(says).collect();
                says.sort();
                self.says("answers", says);
                self.prose(lines.iter().map(|line| &line.means));
            }
            Ways::Bands(lines) => {
                let says = |line: &BandWay| (self.upper(line.upper), self.way(line.way));
                self.says("bands", lines.iter().map(says).collect::<Vec<_>>());
                self.prose(lines.iter().map(|line| &line.means));
                self.prose(lines.iter().filter_map(|line| line.from.as_ref()));
            }
        }
        self.says("otherwise", self.way(step.otherwise));
        self.says("too close", step.too_close.map(|way| self.way(way)));
        self.prose([&step.because]);
    }

    fn upper(&self, upper: Upper) -> String {
        let edge = |edge: Edge| match edge {
            Edge::Plain(quantity) => format!("{quantity:?}"),
            Edge::Share { of, share } => format!("{share} of {}", self.id(of)),
        };
        match upper {
            Upper::Below(at) => format!("below {}", edge(at)),
            Upper::UpTo(at) => format!("up to {}", edge(at)),
            Upper::Last => "last".to_owned(),
        }
    }

    fn way(&self, way: Way) -> String {
        let book = self.book;
        match way {
            Way::Go(step) => format!("go {}", book.step(step).id),
            Way::End(ending) => format!("end {}", book.ending(ending).id),
            Way::ContinueIn(tree) => format!("continue in {}", book.tree(tree).id),
            Way::Visit { tree, then } => format!("visit {} then {}", book.tree(tree).id, book.step(then).id),
        }
    }

    fn power(&mut self) {
        let power = self.book.power();
        let facts = [power.proved_dead, power.sources, power.stored_charge, power.live_work.0];
        self.says("power", self.ids(&facts));
        self.says("live work", self.value(power.live_work.0, &Value::Choices(power.live_work.1)));
        self.says("longest wait", power.longest_wait);
        for hold_off in &power.hold_offs {
            let (when, until) = (self.conditions(&hold_off.when), self.conditions(&hold_off.until));
            self.says("hold-off", (&hold_off.id, when, until));
            self.prose([&hold_off.because]);
        }
        for station in &power.stations {
            self.says("station", &station.id);
            self.prose([&station.name]);
        }
        for kind in PowerStepKind::ALL {
            let words = power.words(kind);
            self.says(kind.key(), words.minutes);
            self.prose([&words.say, &words.how].into_iter().chain(&words.acts));
            self.cautions(&words.cautions);
        }
    }

    fn roles(&mut self) {
        let book = self.book;
        let roles = book.roles();
        self.says("start", &book.tree(roles.start).id);
        self.says("complaint", self.id(roles.complaint));
        self.says("checks", self.complaints(Some(roles.checks)));
        self.says("gone", self.value(roles.gone.0, &Value::Choices(roles.gone.1)));
        self.says("no danger", self.value(roles.danger.0, &Value::Choices(roles.danger.1)));
        self.says("undoes dead", self.value(roles.danger.0, &Value::Choices(roles.undoes_dead)));
        let endings =
            [roles.cannot_prove_dead, roles.same_fault_again, roles.not_enough_readings, roles.left];
        self.says("endings", endings.map(|ending| &book.ending(ending).id));
    }
}
