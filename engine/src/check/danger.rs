//! Danger is what every visit asks of first, and whatever is not safe ends in getting people away from it, urgently.

use super::{at_line, at_step, key_of_way, steps};
use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{
    ChoiceSet, EndingId, EndingKind, FactId, Lasts, Line, PowerNeed, Rules, Step, StepId, Way, Ways,
};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let start = rules.tree(rules.roles.start).start;
    let (danger, safe) = rules.roles.danger;
    let step = rules.step(start);
    if step.fact != danger || !step.asks {
        let draft = at_step(resolved, start, |at| {
            at.draft_key(
                Code::DangerNotFirst,
                format!("a call starts here, and does not ask of `{}`", rules.fact(danger).id),
            )
        });
        findings.push(draft.help("make the first step of the start tree ask for danger"));
    }
    asked_anew(resolved, danger, findings);
    let mut calm: BTreeMap<EndingId, Vec<(StepId, Line)>> = BTreeMap::new();
    for id in steps(resolved).filter(|id| rules.step(*id).fact == danger) {
        let step = rules.step(id);
        for (line, way) in step.ways_out().filter(|(line, _)| may_be_danger(step, *line, safe)) {
            if let Some(endings) = leads_away(rules, way) {
                for ending in endings.into_iter().filter(|ending| !rules.endings[ending.index()].urgent) {
                    calm.entry(ending).or_default().push((id, line));
                }
                continue;
            }
            let draft = at_line(resolved, id, line, |at| {
                at.draft_key(Code::DangerGoesOn, "danger, or nobody can tell, and this does not end the call")
            });
            findings.push(draft.help("end in a hand-over that gets people away from it"));
        }
    }
    for (ending, lines) in calm {
        findings.push(not_urgent(resolved, ending, &lines));
    }
}

/// Danger is asked of at the start of every visit, before any power step.
fn asked_anew(resolved: &Resolved, danger: FactId, findings: &mut Findings) {
    let (fact, spot) = (resolved.rules.fact(danger), &resolved.spots.facts[danger.index()]);
    let (key, title, help) = if fact.lasts != Lasts::Now {
        let title = format!("`{}` lasts beyond the visit, so that the next call goes by it unasked", fact.id);
        ("lasts", title, "make it `lasts: now`")
    } else if fact.power != PowerNeed::Any {
        let title =
            format!("`{}` wants power steps before it, and nobody goes near before it is told", fact.id);
        ("power", title, "make it `power: any`")
    } else {
        return;
    };
    findings.push(spot.draft(key, Code::DangerNotFirst, title).help(help));
}

/// What danger ends in without its being urgent: one finding, at the ending where only danger comes to it.
fn not_urgent(resolved: &Resolved, ending: EndingId, lines: &[(StepId, Line)]) -> Draft {
    let (rule, spot) = (&resolved.rules.endings[ending.index()], &resolved.spots.endings[ending.index()]);
    let comes = steps(resolved)
        .flat_map(|id| resolved.rules.step(id).ways_out().map(move |(_, way)| way))
        .filter(|way| *way == Way::End(ending))
        .count();
    let at = |(step, line): &(StepId, Line)| {
        at_line(resolved, *step, *line, |at| at.key(key_of_way(resolved, *step, *line)).place())
    };
    let only = comes <= lines.len();
    let (main, others) =
        if only { (None, lines) } else { (lines.first(), lines.get(1..).unwrap_or_default()) };
    let (place, title, help) = match main {
        None => (
            spot.place(""),
            format!("danger ends in `{}`, and this is not urgent", rule.id),
            "add `urgent: yes`: it is then shown at once, and nothing before it".to_owned(),
        ),
        Some(line) => (
            at(line),
            format!("danger, or nobody can tell, and `{}` is not urgent", rule.id),
            format!(
                "end in a hand-over with `urgent: yes`; or add that to `{}`, if it gets people away",
                rule.id
            ),
        ),
    };
    let mut draft = Draft::at(Code::DangerGoesOn, place, title).help(help);
    for line in others {
        draft = draft.also_at(at(line), "danger comes to it here");
    }
    draft
}

/// Whether a line is taken when there is danger, or when nobody can tell.
fn may_be_danger(step: &Step, line: Line, safe: ChoiceSet) -> bool {
    match (line, &step.ways) {
        (Line::Value(index), Ways::Answers(lines)) => {
            lines.get(index).is_some_and(|line| !line.is.within(safe))
        }
        // A step that only looks it up has been passed by `none`, or the call has ended.
        (Line::Otherwise, _) => step.asks,
        _ => true,
    }
}

/// The hand-overs that a way ends in; `None` where it ends in anything else, or something is asked on it.
fn leads_away(rules: &Rules, way: Way) -> Option<BTreeSet<EndingId>> {
    let (mut open, mut seen): (Vec<Way>, BTreeSet<StepId>) = (vec![way], BTreeSet::new());
    let mut ends = BTreeSet::new();
    while let Some(way) = open.pop() {
        let next = match way {
            Way::End(ending) if rules.endings[ending.index()].kind == EndingKind::HandOver => {
                ends.insert(ending);
                continue;
            }
            Way::End(_) | Way::Visit { .. } => return None,
            Way::Go(step) => step,
            Way::ContinueIn(tree) => rules.tree(tree).start,
        };
        if rules.step(next).asks {
            return None;
        }
        if seen.insert(next) {
            open.extend(rules.step(next).ways_out().map(|(_, way)| way));
        }
    }
    Some(ends)
}
