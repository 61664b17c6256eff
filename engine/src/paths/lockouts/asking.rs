//! What a step asks for, and how the unit stands when it has been told.

use super::{Calls, Seen, Stand, Stands, add, bears, dead};
use crate::graph::StepGraph;
use crate::paths::cell::{Cell, Values};
use crate::paths::env::Env;
use crate::paths::held::held;
use crate::paths::unit::{Leads, Unit};
use crate::rulebook::{ChoiceSet, Fact, FactId, PowerNeed, Rules, StepId, TreeId};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// A fact that a step may ask for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked {
    pub(super) fact: FactId,
    /// Whether the step may be passed without it.
    spared: bool,
    /// Whether the step goes by `cannot` when this one cannot be had.
    needed: bool,
}

/// The unit as it stands on one way, and what is known there.
type Way = (Stand, Seen);

/// The steps whose live questions are put, and those at which power is held off.
#[derive(Debug, Default)]
pub(super) struct Live {
    put: BTreeSet<StepId>,
    held: BTreeSet<StepId>,
}

impl Live {
    fn note(&mut self, step: StepId, put: bool, held: bool) {
        if put {
            self.put.insert(step);
        }
        if held {
            self.held.insert(step);
        }
    }

    /// The steps at which power is held off on every way that has not read their fact already.
    pub(super) fn never(&self) -> BTreeSet<StepId> {
        self.held.difference(&self.put).copied().collect()
    }
}

/// What is asked, and what power that takes, with live work allowed or not.
pub(super) struct Asking<'r> {
    rules: &'r Rules,
    graph: &'r StepGraph,
    of: Calls,
    /// What more than one step goes by, so that one says something of the other.
    met_again: BTreeSet<FactId>,
    /// What holds power off, and what lets go of it.
    holding: BTreeSet<FactId>,
    /// Of each tree, those that lead to it.
    led_from: BTreeMap<TreeId, BTreeSet<TreeId>>,
    soon: RefCell<BTreeMap<StepId, Rc<BTreeSet<FactId>>>>,
}

impl<'r> Asking<'r> {
    pub(super) fn new(rules: &'r Rules, graph: &'r StepGraph, of: Calls) -> Self {
        let hold_offs = rules.power.hold_offs.iter();
        let holding = hold_offs.flat_map(|hold_off| hold_off.when.iter().chain(&hold_off.until));
        let holding = holding.map(|(fact, _)| *fact).collect();
        let (mut met, mut met_again) = (BTreeSet::new(), BTreeSet::new());
        for step in &rules.steps {
            for fact in
                rules.made_of(step.fact).into_iter().chain(step.shares().into_iter().map(|(of, _)| of))
            {
                if !met.insert(fact) {
                    met_again.insert(fact);
                }
            }
        }
        let mut led_from: BTreeMap<TreeId, BTreeSet<TreeId>> = BTreeMap::new();
        for step in &rules.steps {
            for next in step.ways_out().flat_map(|(_, way)| rules.targets(way)) {
                led_from.entry(rules.step(next).tree).or_default().insert(step.tree);
            }
        }
        Self { rules, graph, of, met_again, holding, led_from, soon: RefCell::default() }
    }

    /// What is known before anything is asked, of facts that something goes by.
    pub(super) fn at_start(&self, is_used: impl Fn(FactId) -> bool) -> Env {
        let mut env = Env::default();
        for id in (0..self.rules.facts.len()).map(FactId::at) {
            let rule = self.rules.fact(id);
            let plain = rule.asking.is_some() && rule.working.is_none() && rule.given.is_empty();
            if plain && self.is_followed(id) && (self.holding.contains(&id) || is_used(id)) {
                env.set(id, unasked(rule));
            }
        }
        let (fact, yes) = self.rules.power.live_work;
        let all = self.rules.fact(fact).every_choice();
        // A routine may have asked for it already.
        let values = if self.of.live_work { all.and(yes) } else { all.without(yes) };
        env.set(fact, Cell { unknown: true, cannot: false, values: Values::Choices(values) });
        env
    }

    /// Whether it is kept what a fact is: it bears on the unit, or one step's word of it says something at another.
    fn is_followed(&self, fact: FactId) -> bool {
        bears(self.rules.fact(fact)) || self.holding.contains(&fact) || self.met_again.contains(&fact)
    }

    /// All that a fact may be once it has been asked for.
    fn told(&self, fact: FactId) -> Cell {
        let all = Cell { unknown: false, ..Cell::of(self.rules.fact(fact)) };
        match self.of.complaint.filter(|_| fact == self.rules.roles.complaint) {
            Some(complaint) => Cell { cannot: false, values: Values::Choices(complaint), ..all },
            None => all,
        }
    }

    /// Whether nothing behind a place goes by a fact.
    pub(super) fn is_over(&self, fact: FactId, last: Option<&usize>, place: usize) -> bool {
        let always = self.holding.contains(&fact) || fact == self.rules.power.live_work.0;
        !always && last.is_none_or(|last| *last <= place)
    }

    /// The facts that a step may ask for, in order; only those that bear on how the unit stands.
    pub(super) fn asked_of(&self, step: StepId) -> Vec<Asked> {
        let step = self.rules.step(step);
        let mut asked = Vec::new();
        if step.asks {
            self.collect(step.fact, false, true, &mut asked);
            for (of, _) in step.shares() {
                self.collect(of, true, true, &mut asked);
            }
        }
        asked.retain(|one| self.is_followed(one.fact));
        asked
    }

    /// The facts that a step goes by, as far as they bear on how the unit stands, and its own.
    pub(super) fn used_by(&self, step: StepId) -> BTreeSet<FactId> {
        let asked = self.asked_of(step);
        asked.iter().map(|asked| asked.fact).chain([self.rules.step(step).fact]).collect()
    }

    fn collect(&self, fact: FactId, spared: bool, needed: bool, asked: &mut Vec<Asked>) {
        if asked.iter().any(|one| one.fact == fact) {
            return;
        }
        let rule = self.rules.fact(fact);
        let comes_with = !rule.given.is_empty();
        for (with, _) in rule.given.iter().flat_map(|given| &given.when) {
            self.collect(*with, true, false, asked);
        }
        let asks = rule.asking.is_some();
        if asks {
            asked.push(Asked {
                fact,
                spared: spared || comes_with,
                needed: needed && rule.working.is_none(),
            });
        }
        // What can be told itself is worked out only where it cannot.
        for input in rule.working.iter().flat_map(|working| &working.of) {
            self.collect(*input, spared || asks || comes_with, needed && !asks, asked);
        }
    }

    /// How the unit may stand once a step's fact is told; and where it cannot be had as the unit stands.
    pub(super) fn ask(&self, step: StepId, stands: Stands, live: &mut Live) -> (Stands, Stands) {
        let (mut told, mut kept) = (stands, Stands::new());
        let last = self.asked_of(step);
        for asked in &last {
            let mut on = Stands::new();
            for (stand, seen) in told {
                let cell = seen.env.get(self.rules, asked.fact);
                let may_be_known = !cell.unknown || cell.cannot || !cell.no_value();
                if may_be_known || asked.spared {
                    let mut seen = seen.clone();
                    if !asked.spared {
                        seen.env.set(asked.fact, Cell { unknown: false, ..cell });
                    }
                    add(&mut on, stand, seen);
                }
                if !cell.unknown {
                    continue;
                }
                let is_live = self.rules.fact(asked.fact).power == PowerNeed::Live;
                let (ways, held) = self.reached(step, asked.fact, stand, seen);
                if is_live {
                    live.note(step, !ways.is_empty(), held.is_some());
                }
                for (stand, mut seen) in ways {
                    let rule = self.rules.fact(asked.fact);
                    seen.env.set(asked.fact, self.told(asked.fact));
                    if asked.needed && asked.fact != self.rules.step(step).fact {
                        let mut without = seen.clone();
                        let nothing = Cell { unknown: false, cannot: true, values: unasked(rule).values };
                        without.env.set(asked.fact, nothing);
                        add(&mut kept, stand, without);
                    }
                    add(&mut on, stand, seen);
                }
                if let Some((stand, seen)) = held {
                    let into = if asked.needed { &mut kept } else { &mut on };
                    add(into, stand, seen);
                }
            }
            told = on;
        }
        (told, kept)
    }

    /// Where the unit has to stand for a fact, each way to come there; and what is left where it cannot be had.
    fn reached(&self, step: StepId, fact: FactId, stand: Stand, seen: Seen) -> (Vec<Way>, Option<Way>) {
        match self.rules.fact(fact).power {
            PowerNeed::Any => (vec![(stand, seen)], None),
            PowerNeed::Dead => (vec![dead(step, stand, seen)], None),
            PowerNeed::Live => {
                let rule = self.rules.fact(fact);
                let held = held(self.rules, &seen.env);
                let refused = rule.live_work && !self.of.live_work;
                let kept = (held.may_stand || refused).then(|| (stand, seen.clone()));
                if !held.may_be_clear || refused {
                    return (Vec::new(), kept);
                }
                let mut ways = vec![(stand, seen)];
                for (test, must) in held.tests {
                    let mut read: Vec<Way> = ways.iter().filter(|_| !must).cloned().collect();
                    for (stand, seen) in ways {
                        let (stand, mut seen) = dead(step, stand, seen);
                        seen.env.set(test, self.told(test));
                        read.push((stand, seen));
                    }
                    ways = read;
                }
                let live = |(stand, seen)| self.live(step, fact, stand, seen);
                (ways.into_iter().flat_map(live).collect(), kept)
            }
        }
    }

    /// The unit energised for a reading, each way that it may come to be.
    fn live(&self, step: StepId, fact: FactId, stand: Stand, seen: Seen) -> Vec<Way> {
        let rule = self.rules.fact(fact);
        let (unit, at) = (stand.unit, |unit| Stand { unit, ..stand });
        if unit.leads().is_some_and(|leads| self.is_led_out(leads, fact)) {
            return vec![(at(unit.outside()), seen)];
        }
        if !rule.can_be_led_out() {
            let fitted = self.fitted_while_dead(step, unit, &seen.env);
            return fitted.into_iter().map(|unit| (at(unit.outside()), seen.clone())).collect();
        }
        if !rule.is_led_out() && self.of.live_work {
            let unit = if rule.ahead_of_interlock { unit.entry() } else { unit.inside() };
            return vec![(at(unit), seen)];
        }
        let (stand, seen) = dead(step, stand, seen);
        let unit = stand.unit.fitted(Leads { from: step, first: fact }).outside();
        vec![(Stand { unit, ..stand }, seen)]
    }

    /// Whether a reading is among those that leads were fitted for.
    fn is_led_out(&self, leads: Leads, fact: FactId) -> bool {
        let rule = self.rules.fact(fact);
        fact == leads.first
            || rule.can_be_led_out()
                && rule.station == self.rules.fact(leads.first).station
                && (!rule.is_led_out() || self.soon(leads.from).contains(&fact))
    }

    /// What a tree will read on things led out is fitted before power comes back to a unit that is proved dead.
    fn fitted_while_dead(&self, step: StepId, unit: Unit, env: &Env) -> Vec<Unit> {
        let mut units = Vec::new();
        if unit.is_dead() && unit.leads().is_none() {
            for &fact in self.soon(step).iter() {
                let cell = env.get(self.rules, fact);
                if cell.unknown {
                    units.push(unit.fitted(Leads { from: step, first: fact }));
                }
                if cell.unknown && cell.no_value() && !cell.cannot {
                    return units;
                }
            }
        }
        units.push(unit);
        units
    }

    /// The trees from which a call may come to a tree, itself among them.
    fn leading_to(&self, tree: TreeId) -> BTreeSet<TreeId> {
        let (mut found, mut open) = (BTreeSet::new(), vec![tree]);
        while let Some(tree) = open.pop() {
            if found.insert(tree) {
                open.extend(self.led_from.get(&tree).into_iter().flatten());
            }
        }
        found
    }

    /// What the rest of a tree reads on things that are led out, for itself or to work something out.
    fn soon(&self, from: StepId) -> Rc<BTreeSet<FactId>> {
        let mut kept = self.soon.borrow_mut();
        let soon = kept.entry(from).or_insert_with(|| {
            let tree = self.rules.step(from).tree;
            // What leads away from the tree for good is not gone through for each of its steps.
            let near = self.leading_to(tree);
            let within = |step| near.contains(&self.rules.step(step).tree);
            let steps = self.graph.ahead_within(from, within).into_iter().map(|step| self.rules.step(step));
            let facts = steps.filter(|step| step.tree == tree).flat_map(|step| self.rules.made_of(step.fact));
            Rc::new(facts.filter(|fact| self.rules.fact(*fact).is_led_out()).collect())
        });
        Rc::clone(soon)
    }

    /// How many lock-outs it takes to ask one fact after another, the leads left aside, and how the unit stands then.
    pub(super) fn taken(&self, mut unit: Unit, facts: &[FactId]) -> (Unit, u8) {
        let mut count = 0;
        for fact in facts {
            let rule = self.rules.fact(*fact);
            let staged = rule.is_led_out() || rule.can_be_led_out() && !self.of.live_work;
            let (next, locked_out) = match rule.power {
                PowerNeed::Any => (unit, false),
                PowerNeed::Dead => unit.dead(),
                PowerNeed::Live if staged => {
                    let (unit, locked_out) = unit.dead();
                    (unit.outside(), locked_out)
                }
                PowerNeed::Live if rule.ahead_of_interlock => (unit.entry(), false),
                PowerNeed::Live if rule.can_be_led_out() => (unit.inside(), false),
                PowerNeed::Live => (unit.outside(), false),
            };
            unit = next;
            count += u8::from(locked_out);
        }
        (unit, count)
    }
}

/// A fact that nobody has asked for.
fn unasked(fact: &Fact) -> Cell {
    let values = match Cell::of(fact).values {
        Values::Choices(_) => Values::Choices(ChoiceSet::default()),
        Values::Numbers(_) => Values::Numbers(crate::paths::cell::Interval::NONE),
    };
    Cell { unknown: true, cannot: false, values }
}
