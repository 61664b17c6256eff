//! Two tools without the comma between them are one that nobody has.

use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let (rules, spots) = (&resolved.rules, &resolved.spots);
    let of_facts = rules
        .facts
        .iter()
        .zip(&spots.facts)
        .filter_map(|(fact, spot)| fact.asking.is_some().then_some((fact.tools.as_slice(), spot)));
    let lists = of_facts
        .chain(rules.deeds.iter().zip(&spots.deeds).map(|(deed, spot)| (deed.tools.as_slice(), spot)));
    let lists: Vec<_> = lists.collect();
    let known: BTreeSet<&str> =
        lists.iter().flat_map(|(tools, _)| tools.iter()).map(String::as_str).collect();
    for (tools, spot) in lists {
        for (at, tool) in tools.iter().enumerate() {
            let parts = tool.match_indices(' ').find_map(|(blank, _)| {
                let (first, second) = tool.split_at_checked(blank)?;
                let second = second.trim_start();
                (known.contains(first) && known.contains(second)).then_some((first, second))
            });
            let Some((first, second)) = parts else { continue };
            let title =
                format!("`{tool}` is two tools that are known by themselves, `{first}` and `{second}`");
            let help = format!("write a comma between them: `{first}, {second}`");
            findings.push(spot.value(&format!("tools/{at}"), Code::TextCut, title).help(help));
        }
    }
}
