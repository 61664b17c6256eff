//! What a deed sets is otherwise than it was found before the work, on some way to it at least: else the value is a slip,
//! and a call goes on by what led to the work.

use super::repairs::{at_each_step, repairs, set_to, stays};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{DeedId, FactId};
use std::collections::BTreeMap;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let mut found: BTreeMap<(DeedId, FactId), bool> = BTreeMap::new();
    at_each_step(rules, graph, |id, decided| {
        for (line, ending) in repairs(rules, id) {
            for deed in &rules.endings[ending.index()].deeds {
                for (fact, _) in &rules.deeds[deed.index()].sets {
                    let as_found = found.entry((*deed, *fact)).or_insert(true);
                    *as_found = *as_found
                        && set_to(rules, ending, *fact)
                            .is_some_and(|set| stays(rules, graph, (*fact, set), (id, line), decided));
                }
            }
        }
    });
    for ((deed, fact), _) in found.into_iter().filter(|(_, as_found)| *as_found) {
        let (deed, spot) = (&rules.deeds[deed.index()], &resolved.spots.deeds[deed.index()]);
        let name = &rules.fact(fact).id;
        let title =
            format!("`{}` sets `{name}` to what it was found to be before, wherever it is done", deed.id);
        let help = format!(
            "set it to what it is after the work; or put `{name}` under `makes stale`, to be read anew"
        );
        findings.push(spot.draft(&format!("sets/{name}"), Code::SetAsFound, title).help(help));
    }
}
