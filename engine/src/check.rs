//! Checks on resolved rules, one a file. Each reports all it finds; nothing is called with rules that fail one.

mod anew;
mod as_found;
mod blanks;
mod bounds;
mod branches;
mod by_default;
mod cannot;
mod cautions;
mod choices;
mod complaints;
mod danger;
mod deeds;
mod edges;
mod givens;
mod held_off;
mod ids;
mod lasting;
mod left;
mod loops;
mod meters;
mod named;
mod own_ends;
mod proofs;
mod questions;
mod ranges;
mod reach;
mod repairs;
mod roles;
mod settled;
mod sources;
mod states;
mod texts;
mod tools;
mod unproved;
mod unread;
mod untouched;
mod unused;

use crate::finding::{Finding, Findings, Reported};
use crate::gate::Gated;
use crate::graph::StepGraph;
use crate::resolve::{At, Resolved};
use crate::rulebook::{Line, StepId, Way};

type Check = fn(&Resolved, &StepGraph, &mut Findings);

/// Every check; a new one is added here.
const CHECKS: [Check; 15] = [
    roles::check,
    by_default::check,
    danger::check,
    choices::check,
    edges::check,
    bounds::check,
    givens::check,
    loops::check,
    reach::check,
    repairs::check,
    proofs::check,
    unproved::check,
    cannot::check,
    deeds::check,
    states::check,
];

/// Checks for what hinders no call and is still to be mended; a new one is added here.
const BESIDE: [Check; 22] = [
    branches::check,
    complaints::check,
    settled::check,
    anew::check,
    as_found::check,
    held_off::check,
    unread::check,
    unused::check,
    untouched::check,
    lasting::check,
    left::check,
    sources::check,
    meters::check,
    ranges::check,
    tools::check,
    cautions::check,
    blanks::check,
    own_ends::check,
    questions::check,
    texts::check,
    ids::check,
    named::check,
];

/// Runs every check that can hinder a call.
///
/// # Errors
/// All findings of all checks.
pub(crate) fn all(resolved: &Resolved, graph: &StepGraph) -> Result<(), Reported> {
    let mut findings = Findings::new();
    for check in CHECKS {
        check(resolved, graph, &mut findings);
    }
    findings.finish()
}

/// Runs every check; where none finds anything, those for what hinders no call, and gives what they find.
///
/// They stand behind the others: in rules that are wrong, much is unused and many a line is dead only for that.
///
/// # Errors
/// All findings of the checks that can hinder a call.
pub(crate) fn prove(resolved: &Resolved, graph: &StepGraph) -> Result<Vec<Finding>, Reported> {
    all(resolved, graph)?;
    let mut findings = Findings::new();
    for check in BESIDE {
        check(resolved, graph, &mut findings);
    }
    Ok(findings.finish().map_or_else(Reported::into_findings, |()| Vec::new()))
}

/// Calls `with` at the place of a step.
fn at_step<R>(resolved: &Resolved, step: StepId, with: impl FnOnce(&At<'_>) -> R) -> R {
    let step = resolved.rules.step(step);
    let file = &resolved.tree_files[resolved.rules.tree(step.tree).doc];
    with(&At::top(file).key("steps").key(&step.id))
}

/// Calls `with` at the place of a line of a step.
fn at_line<R>(resolved: &Resolved, step: StepId, line: Line, with: impl FnOnce(&At<'_>) -> R) -> R {
    use crate::rulebook::Ways;
    let rule = resolved.rules.step(step);
    at_step(resolved, step, |at| match line {
        Line::Value(index) => {
            let list = match rule.ways {
                Ways::Answers(_) => "answers",
                Ways::Bands(_) => "bands",
            };
            with(&at.key(list).index(index))
        }
        Line::Otherwise => with(&at.key(if rule.asks { "cannot" } else { "not known" })),
        Line::TooClose => with(&at.key("too close")),
    })
}

/// All step ids, in file order.
fn steps(resolved: &Resolved) -> impl Iterator<Item = StepId> + use<> {
    (0..resolved.rules.steps.len()).map(StepId::at)
}

/// Where the way out of a line stands: what the line says of where a call goes.
fn way_out(resolved: &Resolved, step: StepId, line: Line) -> (Gated, String) {
    at_line(resolved, step, line, |at| {
        (at.gated().clone(), at.key(key_of_way(resolved, step, line)).pointer())
    })
}

/// The key of the way out of a line.
fn key_of_way(resolved: &Resolved, step: StepId, line: Line) -> &'static str {
    let mut ways = resolved.rules.step(step).ways_out();
    match ways.find(|(other, _)| *other == line) {
        Some((_, Way::Visit { .. })) => "visit",
        Some((_, Way::ContinueIn(_))) => "continue in",
        Some((_, Way::End(_))) => "end",
        Some((_, Way::Go(_))) | None => "go",
    }
}
