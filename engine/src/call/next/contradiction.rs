//! Readings that cannot all be true: which of them is read anew.
//!
//! A relation that the current readings break is a conflict. What is read anew is in a lightest hitting set of all
//! conflicts: the readings that slip most easily, and of those the cheapest to take as the unit stands. Each version of a
//! fact is read anew once; where all of a conflict have been, the person may stand by them.

use crate::call::Call;
use crate::call::event::Purpose;
use crate::call::ledger::Version;
use crate::call::power::{PowerState, Target};
use crate::call::prompt::{Next, Prompt};
use crate::call::state::{COVERAGE, expanded};
use crate::call::walk::Got;
use crate::hitting;
use crate::rulebook::{Condition, FactId, Holds, Kind, Lasts, PowerNeed, Relation, RelationId};
use std::collections::BTreeSet;

impl Call {
    /// What is asked because of readings that cannot all be true; nothing of those that a person stands by.
    pub(super) fn contradiction(&self) -> Option<Next> {
        let broken: Vec<RelationId> = self.broken_relations().collect();
        let first = *broken.first()?;
        let conflicts: Vec<BTreeSet<FactId>> =
            broken.iter().map(|id| self.unchecked(self.book.relation(*id)).collect()).collect();
        // One of which every reading has been taken anew comes to the person; the others wait their turn.
        if let Some(index) = conflicts.iter().position(BTreeSet::is_empty) {
            return Some(Next::Prompt(Prompt::conflict(broken[index])));
        }
        Some(match self.most_doubted(&conflicts) {
            Some(fact) => self.fact(fact, Purpose::Doubted),
            None => Next::Prompt(Prompt::conflict(first)),
        })
    }

    /// Of readings that cannot all be true, the one to be taken anew first; `None` where nothing is in doubt.
    #[must_use]
    pub fn doubted_first(&self) -> Option<FactId> {
        let conflicts: Vec<BTreeSet<FactId>> =
            self.broken_relations().map(|id| self.unchecked(self.book.relation(id)).collect()).collect();
        if conflicts.is_empty() { None } else { self.most_doubted(&conflicts) }
    }

    fn most_doubted(&self, conflicts: &[BTreeSet<FactId>]) -> Option<FactId> {
        let set = hitting::lightest(conflicts, |fact| self.weight(*fact))?;
        set.into_iter().min_by(|left, right| self.cost(*left).total_cmp(&self.cost(*right)))
    }

    /// The relations that the current readings break, beyond what the meters leave open.
    pub fn broken_relations(&self) -> impl Iterator<Item = RelationId> + '_ {
        (0..self.book.relations().len()).map(RelationId::at).filter(|id| {
            let relation = self.book.relation(*id);
            self.is_broken(relation) && !self.is_insisted(*id, relation)
        })
    }

    fn is_insisted(&self, id: RelationId, relation: &Relation) -> bool {
        let versions = self.state.versions(&self.book, relation);
        self.state.insisted.iter().any(|(other, muted)| *other == id && *muted == versions)
    }

    fn is_broken(&self, relation: &Relation) -> bool {
        relation.when.iter().all(|(fact, condition)| self.surely(*fact, condition))
            && match &relation.holds {
                Holds::Never(conditions) => {
                    conditions.iter().all(|(fact, condition)| self.surely(*fact, condition))
                }
                Holds::NotAbove { left, right, factor, slack } => {
                    let gap = |moved| Some(self.product(left, moved)? - factor * self.product(right, moved)?);
                    let Some(value) = gap(None) else { return false };
                    let squares: f64 = self
                        .readings(left.iter().chain(right).copied())
                        .into_iter()
                        .filter_map(|fact| {
                            let version = self.reading(fact)?;
                            let u = expanded(&self.book, &self.state.ledger, fact, version) / COVERAGE;
                            Some(((gap(Some((fact, u)))? - gap(Some((fact, -u)))?) / 2.0).powi(2))
                        })
                        .sum();
                    value.is_finite() && value > COVERAGE * squares.sqrt() + slack
                }
            }
    }

    /// Whether a fact that was read meets a demand, whatever its meter leaves open.
    fn surely(&self, fact: FactId, condition: &Condition) -> bool {
        match (self.reading(fact), self.state.get(&self.book, fact)) {
            (Some(version), Got::Known(value)) => {
                condition.surely_holds(&value, expanded(&self.book, &self.state.ledger, fact, version))
            }
            _ => false,
        }
    }

    /// The product of several facts in base units, one reading moved; `None` when one of them has neither been read nor
    /// comes with what was.
    fn product(&self, facts: &[FactId], moved: Option<(FactId, f64)>) -> Option<f64> {
        let unread = |fact| self.reading(fact).is_none() && self.state.comes_with(&self.book, fact).is_none();
        if self.readings(facts.iter().copied()).into_iter().any(unread) {
            return None;
        }
        facts.iter().try_fold(1.0, |product, fact| {
            self.state.number(&self.book, *fact, moved).ok().map(|number| product * number)
        })
    }

    /// The readings that facts stand on in the end.
    fn readings(&self, facts: impl Iterator<Item = FactId>) -> BTreeSet<FactId> {
        let mut found = BTreeSet::new();
        for fact in facts {
            self.state.bases(&self.book, fact, &mut found);
        }
        found
    }

    /// The current version of a fact, if somebody read it.
    fn reading(&self, fact: FactId) -> Option<&Version> {
        self.state.ledger.current(fact).filter(|version| version.purpose.is_some())
    }

    /// The facts of a relation that were read once, and can be read anew.
    fn unchecked(&self, relation: &Relation) -> impl Iterator<Item = FactId> + '_ {
        self.readings(relation.facts()).into_iter().filter(|fact| {
            self.reading(*fact).is_some_and(|version| version.purpose != Some(Purpose::Doubted))
                && self.book.fact(*fact).asking.is_some()
                && !self.state.out_of_reach(&self.book, *fact)
        })
    }

    /// How unlikely it is that a fact was told wrong: a reading slips most easily, a plate hardly.
    fn weight(&self, fact: FactId) -> f64 {
        let rule = self.book.fact(fact);
        match (&rule.kind, rule.lasts) {
            (_, Lasts::Unit) => 4.0,
            (Kind::Quantity { .. }, _) => 1.0,
            (Kind::Choice { .. }, _) => 2.0,
        }
    }

    /// What it costs to take a reading as the unit stands: minutes, and far more where the power has to change.
    fn cost(&self, fact: FactId) -> f64 {
        const CHANGE: f64 = 60.0;
        let rule = self.book.fact(fact);
        let live = matches!(self.state.power.state(), PowerState::Live);
        let there = match rule.power {
            PowerNeed::Any => true,
            PowerNeed::Dead => self.state.power.proved_dead().is_some(),
            PowerNeed::Live if rule.is_led_out() => {
                live && self.state.power.leads().is_some_and(|leads| leads.facts.contains(&fact))
            }
            PowerNeed::Live if rule.is_inside_live() => live && !self.state.power.is_at(Target::Outside),
            PowerNeed::Live => live && self.state.power.is_at(Target::Outside),
        };
        rule.minutes + if there { 0.0 } else { CHANGE }
    }
}
