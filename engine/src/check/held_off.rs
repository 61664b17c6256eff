//! What power is held off from on every way: a live question that is never asked, a repair that is never proved.

use super::{at_line, at_step};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::paths::{Apart, Calls, LockOuts, Paths};
use crate::resolve::Resolved;
use crate::rulebook::Way;
use std::collections::BTreeSet;

/// Swaps that are tried: each costs as much as all the rest of this check.
const MOST_TRIED: usize = 16;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let Some(paths) = Paths::of(rules, graph, Apart::Plates) else { return };
    let [live_work, no_live_work] = [true, false].map(|live_work| Calls { complaint: None, live_work });
    let of = |calls| LockOuts::of(rules, graph, &paths, calls).unwrap_or_default();
    let with = of(live_work);
    if with.is_clean() {
        return;
    }
    let without = of(no_live_work);
    for &id in without.never_live.intersection(&with.never_live) {
        let fact = &rules.fact(rules.step(id).fact).id;
        let title = format!("`{fact}` is read live, and on every way to this step power may not be put back");
        let draft = at_step(resolved, id, |at| at.key("ask").draft(Code::HeldOffQuestion, title));
        findings
            .push(draft.help("ask for it before what holds power off, or for something that needs no power"));
    }
    for (id, line, hold_off) in with.kept_off.iter().filter(|kept| without.kept_off.contains(kept)) {
        let Some((_, Way::End(ending))) = rules.step(*id).ways_out().find(|(other, _)| other == line) else {
            continue;
        };
        let ending = &rules.endings[ending.index()].id;
        let title =
            format!("`{hold_off}` holds power off here, and nothing that `{ending}` does lets go of it");
        let draft = at_line(resolved, *id, *line, |at| at.key("end").draft(Code::HeldOffRepair, title));
        findings.push(
            draft.help("let one of its deeds make stale what holds power off, or end in another repair"),
        );
    }
    let before = [(live_work, &with), (no_live_work, &without)];
    let swaps = with.swaps.intersection(&without.swaps).take(MOST_TRIED);
    let mut swapped = BTreeSet::new();
    for swap in swaps {
        // Of three in a row, one swap is enough.
        if swapped.contains(&swap.first) || !swap.saves(rules, &before) {
            continue;
        }
        swapped.insert(swap.second);
        let second = &rules.step(swap.second).id;
        let title = format!("asking `{second}` first would save a lock-out");
        let draft = at_step(resolved, swap.first, |at| at.key("ask").draft(Code::SwapSavesLockOut, title));
        findings.push(
            draft.help(format!(
                "put `{second}` and what goes with it before it, and compare `check --lockouts`"
            )),
        );
    }
}
