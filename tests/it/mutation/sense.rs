//! What a rulebook says, by name and without its wording: what decides where a call goes, and what keeps people safe.

use engine::rulebook::{
    Caution, Condition, Edge, Fact, FactId, Given, Holds, Kind, PanelNeed, PowerNeed, PowerStepKind,
    Rulebook, Step, Upper, Way, Ways,
};
use std::collections::BTreeMap;

/// A part of a rulebook, such as `step no-run/breaker`.
pub(super) type Part = String;

/// How the parts begin that hold limits.
const LIMITS: &str = "limits of ";

/// What a rulebook says.
pub(super) struct Sense {
    /// Each part that decides, with what it says.
    pub(super) decides: BTreeMap<Part, String>,
    /// What keeps people safe: each entry is a promise that must still be kept.
    pub(super) promises: BTreeMap<Part, Vec<String>>,
}

impl Sense {
    pub(super) fn of(book: &Rulebook) -> Self {
        let mut sense = Self { decides: BTreeMap::new(), promises: BTreeMap::new() };
        for step in book.steps() {
            let part = format!("step {}/{}", book.tree(step.tree).id, step.id);
            sense.decides.insert(part, step_says(book, step));
        }
        for tree in book.trees() {
            let says = format!("{:?} {}", tree.complaint, book.step(tree.start).id);
            sense.decides.insert(format!("tree {}", tree.id), says);
        }
        for fact in book.facts() {
            sense.fact(book, fact);
        }
        sense.limits(book);
        for deed in book.deeds() {
            let part = format!("deed {}", deed.id);
            let sets = deed.sets.iter().map(|(fact, value)| format!("{} = {value:?}", id(book, *fact)));
            let stales = deed.stales.iter().map(|fact| id(book, *fact).to_owned());
            let mut says: Vec<String> = sets.chain(stales).collect();
            says.sort();
            let state = format!("{:?} {:?} {}", deed.power, deed.panel, deed.energises);
            sense.decides.insert(part.clone(), format!("{state} {}", says.join(", ")));
            sense.state(&part, deed.power, deed.panel);
            if deed.energises {
                sense.promise(part, "it energises".to_owned());
            }
        }
        for ending in book.endings() {
            let part = format!("ending {}", ending.id);
            let deeds: Vec<&str> = ending.deeds.iter().map(|deed| book.deed(*deed).id.as_str()).collect();
            sense.decides.insert(part.clone(), format!("{:?} {deeds:?} {:?}", ending.kind, ending.answers));
            if ending.urgent {
                sense.promise(part.clone(), "it is urgent".to_owned());
            }
            sense.cautions(&part, &ending.cautions);
            sense.promises.entry(part).or_default().extend(conditions(book, &ending.proof));
        }
        for kind in PowerStepKind::ALL {
            sense.cautions(&format!("power step {}", kind.key()), &book.power().words(kind).cautions);
        }
        for hold_off in &book.power().hold_offs {
            let part = format!("hold-off {}", hold_off.id);
            let when = conditions(book, &hold_off.when).join(" or ");
            sense.promise(part, format!("{when} until {:?}", conditions(book, &hold_off.until)));
        }
        let power = book.power();
        let parts = [power.proved_dead, power.sources, power.stored_charge, power.live_work.0];
        let parts: Vec<&str> = parts.iter().map(|fact| id(book, *fact)).collect();
        let wait = format!("{parts:?} {:?} {}", power.live_work.1, power.longest_wait);
        sense.promise("power".to_owned(), wait);
        for relation in book.relations() {
            let facts =
                |facts: &[FactId]| facts.iter().map(|fact| id(book, *fact).to_owned()).collect::<Vec<_>>();
            let holds = match &relation.holds {
                Holds::NotAbove { left, right, factor, slack } => {
                    format!("{:?} {:?} {factor} {slack}", facts(left), facts(right))
                }
                Holds::Never(all) => conditions(book, all).join(", "),
            };
            let says = format!("{:?} {holds}", conditions(book, &relation.when));
            sense.decides.insert(format!("relation {}", relation.id), says);
        }
        let roles = book.roles();
        let parts = [roles.complaint, roles.gone.0, roles.danger.0].map(|fact| id(book, fact).to_owned());
        let sets = [roles.gone.1, roles.checks, roles.danger.1, roles.undoes_dead];
        let ends = [roles.cannot_prove_dead, roles.same_fault_again, roles.not_enough_readings, roles.left];
        let ends = ends.map(|ending| book.ending(ending).id.clone());
        sense.promise(
            "roles".to_owned(),
            format!("{} {parts:?} {sets:?} {ends:?}", book.tree(roles.start).id),
        );
        sense
    }

    fn fact(&mut self, book: &Rulebook, fact: &Fact) {
        let part = format!("fact {}", fact.id);
        let kind = match &fact.kind {
            Kind::Quantity { expected, meter } => format!("{expected:?} {meter:?}"),
            Kind::Choice { choices, several } => {
                let ids: Vec<&str> = choices.iter().map(|choice| choice.id.as_str()).collect();
                format!("{ids:?} {several}")
            }
        };
        let given = |given: &Given| {
            let when: Vec<String> =
                given.when.iter().map(|(fact, value)| format!("{} = {value:?}", id(book, *fact))).collect();
            format!("{when:?}: {:?}", given.is)
        };
        let given: Vec<String> = fact.given.iter().map(given).collect();
        let working = fact.working.as_ref().map(|working| {
            let of: Vec<&str> = working.of.iter().map(|fact| id(book, *fact)).collect();
            format!("{} {of:?}", working.formula.name())
        });
        let asked = fact.asking.is_some();
        let says = format!(
            "{kind} {asked} {:?} {:?} {:?} {:?} {} {given:?} {working:?}",
            fact.power, fact.panel, fact.lasts, fact.cannot_means, fact.may_be_missing
        );
        self.decides.insert(part.clone(), says);
        self.state(&part, fact.power, fact.panel);
        if let Some(station) = fact.station {
            self.promise(part.clone(), format!("led out from {}", book.power().stations[station.index()].id));
        }
        if fact.live_work {
            self.promise(part.clone(), "it is live work".to_owned());
        }
        if !fact.live_until_told.is_empty() {
            self.promise(part.clone(), format!("live until told {:?}", fact.live_until_told));
        }
        if fact.ahead_of_interlock || fact.feeds.is_some() {
            self.promise(
                part.clone(),
                format!("ahead {}, feeds at {:?}", fact.ahead_of_interlock, fact.feeds),
            );
        }
        if book.power().plans_by(book.fact_named(&fact.id).unwrap()) {
            self.promise(part.clone(), format!("{given:?} {:?}", fact.cannot_means));
        }
        self.cautions(&part, &fact.cautions);
    }

    /// The limits of every fact, each with its source and in how many places it stands. One that was changed in one
    /// place of several stands out beside the others.
    fn limits(&mut self, book: &Rulebook) {
        let mut limits: BTreeMap<(Part, String), usize> = BTreeMap::new();
        for step in book.steps() {
            let Ways::Bands(lines) = &step.ways else { continue };
            for line in lines.iter().filter(|line| line.upper != Upper::Last) {
                let edge = match line.upper {
                    Upper::Below(Edge::Plain(edge)) => format!("below {edge}"),
                    Upper::UpTo(Edge::Plain(edge)) => format!("up to {edge}"),
                    other => upper(book, other),
                };
                let from = line.from.as_deref().unwrap_or("as it stands there");
                let part = format!("{LIMITS}{}", id(book, step.fact));
                *limits.entry((part, format!("{edge}: {from}"))).or_default() += 1;
            }
        }
        for ((part, limit), many) in limits {
            self.promise(part, format!("{many} x {limit}"));
        }
    }

    /// What may be had in any state may be had in every one: to ask for it in one of them breaks nothing.
    fn state(&mut self, part: &Part, power: PowerNeed, panel: PanelNeed) {
        if power != PowerNeed::Any {
            self.promise(part.clone(), format!("power {power:?}").to_lowercase());
        }
        if panel != PanelNeed::Any {
            self.promise(part.clone(), format!("panel {panel:?}").to_lowercase());
        }
    }

    fn promise(&mut self, part: Part, what: String) {
        self.promises.entry(part).or_default().push(what);
    }

    fn cautions(&mut self, part: &Part, cautions: &[Caution]) {
        for caution in cautions {
            self.promise(part.clone(), format!("{:?}: {}", caution.signal, caution.text));
        }
    }

    /// The parts that decide otherwise in the other.
    pub(super) fn decides_otherwise(&self, other: &Self) -> Vec<Part> {
        let parts: std::collections::BTreeSet<&Part> =
            self.decides.keys().chain(other.decides.keys()).collect();
        parts
            .into_iter()
            .filter(|part| self.decides.get(*part) != other.decides.get(*part))
            .cloned()
            .collect()
    }

    /// The first promise that the other does not keep, of those that it is harm by itself to break.
    pub(super) fn broken_by(&self, other: &Self) -> Option<String> {
        self.lost_in(other, |part| !part.starts_with(LIMITS))
    }

    /// The first limit that the other does not have in as many places.
    pub(super) fn limit_lost_in(&self, other: &Self) -> Option<String> {
        self.lost_in(other, |part| part.starts_with(LIMITS))
    }

    fn lost_in(&self, other: &Self, of: impl Fn(&str) -> bool) -> Option<String> {
        self.promises.iter().filter(|(part, _)| of(part)).find_map(|(part, promises)| {
            let kept = other.promises.get(part).map(Vec::as_slice).unwrap_or_default();
            let lost = promises.iter().find(|promise| !kept.contains(promise))?;
            Some(format!("{part}: {lost}"))
        })
    }
}

fn id(book: &Rulebook, fact: FactId) -> &str {
    &book.fact(fact).id
}

fn conditions(book: &Rulebook, conditions: &[(FactId, Condition)]) -> Vec<String> {
    let mut says: Vec<String> =
        conditions.iter().map(|(fact, is)| format!("{} {is:?}", id(book, *fact))).collect();
    says.sort();
    says
}

fn step_says(book: &Rulebook, step: &Step) -> String {
    let mut lines: Vec<String> = match &step.ways {
        Ways::Answers(lines) => {
            lines.iter().map(|line| format!("{:?} {}", line.is, way(book, line.way))).collect()
        }
        Ways::Bands(lines) => {
            lines.iter().map(|line| format!("{} {}", upper(book, line.upper), way(book, line.way))).collect()
        }
    };
    // The order of lines for choices says nothing; that of bands follows from their edges.
    lines.sort();
    let close = step.too_close.map(|close| way(book, close));
    format!("{} {} {lines:?} {} {close:?}", id(book, step.fact), step.asks, way(book, step.otherwise))
}

fn upper(book: &Rulebook, upper: Upper) -> String {
    let edge = |edge: Edge| match edge {
        Edge::Plain(quantity) => quantity.base().to_string(),
        // In percent, without the dust of binary fractions.
        Edge::Share { of, share } => format!("{} % of {}", (share * 1e8).round() / 1e6, id(book, of)),
    };
    match upper {
        Upper::Below(at) => format!("below {}", edge(at)),
        Upper::UpTo(at) => format!("up to {}", edge(at)),
        Upper::Last => "the rest".to_owned(),
    }
}

fn way(book: &Rulebook, way: Way) -> String {
    match way {
        Way::Go(step) => format!("go {}", book.step(step).id),
        Way::End(ending) => format!("end {}", book.ending(ending).id),
        Way::ContinueIn(tree) => format!("in {}", book.tree(tree).id),
        Way::Visit { tree, then } => format!("visit {} {}", book.tree(tree).id, book.step(then).id),
    }
}

/// The values at which a step's lines meet, for a fact: plain edges only.
pub(super) fn edges(book: &Rulebook, part: &str) -> Vec<f64> {
    let step =
        book.steps().iter().find(|step| format!("step {}/{}", book.tree(step.tree).id, step.id) == part);
    let Some(Ways::Bands(lines)) = step.map(|step| &step.ways) else { return Vec::new() };
    lines
        .iter()
        .filter_map(|line| match line.upper {
            Upper::Below(Edge::Plain(at)) | Upper::UpTo(Edge::Plain(at)) => Some(at.base()),
            _ => None,
        })
        .collect()
}
