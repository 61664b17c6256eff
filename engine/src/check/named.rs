//! No two readings, deeds or endings go by the same name: on the screen and in a record nobody could tell which is meant.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::{Resolved, Spot};
use std::collections::HashMap;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let (rules, spots) = (&resolved.rules, &resolved.spots);
    of_a_kind(rules.facts.iter().map(|fact| fact.name.as_str()).zip(&spots.facts), findings);
    of_a_kind(rules.deeds.iter().map(|deed| deed.name.as_str()).zip(&spots.deeds), findings);
    of_a_kind(rules.endings.iter().map(|ending| ending.name.as_str()).zip(&spots.endings), findings);
}

fn of_a_kind<'r>(named: impl Iterator<Item = (&'r str, &'r Spot)>, findings: &mut Findings) {
    let mut seen: HashMap<String, &Spot> = HashMap::new();
    for (name, spot) in named {
        let Some(first) = seen.get(&name.to_lowercase()) else {
            seen.insert(name.to_lowercase(), spot);
            continue;
        };
        let draft = spot.draft("name", Code::SameName, format!("`{name}` is the name of another one, too"));
        findings.push(
            draft.also_at(first.place("name"), "it has this name").help("say in the name what is other"),
        );
    }
}
