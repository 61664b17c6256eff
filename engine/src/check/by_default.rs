//! What nobody can tell never counts as safe, and live work is never allowed by a plain no.

use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Fact, FactId};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let (power, part) = (&rules.power, &rules.roles);
    live_work(resolved, findings);
    let choices = [
        (part.danger, "there is no danger"),
        (part.gone, "the complaint is gone"),
        ((power.proved_dead, yes(rules.fact(power.proved_dead))), "the unit is dead"),
    ];
    for ((fact, safe), means) in choices {
        if cannot_means(rules.fact(fact)).meets(safe) {
            tell(resolved, fact, means, findings);
        }
    }
    if rules.fact(power.sources).cannot_means.is_some() {
        tell(resolved, power.sources, "so many supplies, and no more, are locked off", findings);
    }
    let waits = rules.fact(power.stored_charge).cannot_means.and_then(|value| value.quantity());
    if waits.is_some_and(|wait| wait.base() < power.longest_wait * SECONDS_A_MINUTE) {
        tell(
            resolved,
            power.stored_charge,
            "a wait shorter than the longest that is known is enough",
            findings,
        );
    }
}

const SECONDS_A_MINUTE: f64 = 60.0;

/// Live work is allowed where somebody says so, and in no other way.
fn live_work(resolved: &Resolved, findings: &mut Findings) {
    let (id, allowed) = resolved.rules.power.live_work;
    let (fact, spot) = (resolved.rules.fact(id), &resolved.spots.facts[id.index()]);
    let by_no = fact.said_plainly(false) == Some(allowed);
    let title = match (cannot_means(fact).meets(allowed), by_no) {
        (false, false) => return,
        (true, false) => {
            return tell(resolved, id, "live work is allowed", findings);
        }
        (true, true) => "live work would be allowed by a plain no, and where nobody can tell",
        (false, true) => "live work would be allowed by a plain no",
    };
    let Some(power) = &resolved.spots.power else { return };
    let draft = Draft::at(Code::CannotMeansSafe, power.value_of("live work/is"), title);
    let draft = draft.also_at(spot.place("choices"), "its choices stand here");
    findings.push(draft.help("name the choice that allows it, and ask so that a plain yes is this choice"));
}

fn tell(resolved: &Resolved, fact: FactId, means: &str, findings: &mut Findings) {
    let name = &resolved.rules.fact(fact).id;
    let title = format!("where nobody can tell `{name}`, this says that {means}");
    let draft = resolved.spots.facts[fact.index()].draft("cannot means", Code::CannotMeansSafe, title);
    findings.push(draft.help("delete the key, or name the choice that is safe to go by"));
}

/// The choices that stand for not knowing.
fn cannot_means(fact: &Fact) -> ChoiceSet {
    fact.cannot_means.and_then(|value| value.choices()).unwrap_or_default()
}

fn yes(fact: &Fact) -> ChoiceSet {
    fact.choice("yes").unwrap_or_default()
}
