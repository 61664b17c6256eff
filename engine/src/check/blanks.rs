//! The words of a power step keep the places that are filled when it is said: which supply, how long, where.

use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::PowerStepKind;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let Some(spot) = &resolved.spots.power else { return };
    for kind in PowerStepKind::ALL {
        let say = &resolved.rules.power.words(kind).say;
        let lost = |name: &&&str| !say.contains(&format!("{{{name}}}"));
        let lost: Vec<String> =
            kind.placeholders().iter().filter(lost).map(|name| format!("{{{name}}}")).collect();
        if !lost.is_empty() {
            let title = format!("`{}` does not say {}", kind.key(), crate::finding::listed(&lost));
            let draft = Draft::at(
                Code::MissingPlaceholder,
                spot.value_of(&format!("words/{}/say", kind.key())),
                title,
            );
            findings.push(draft.help("put it where the words have to be filled: it is written in braces"));
        }
    }
}
