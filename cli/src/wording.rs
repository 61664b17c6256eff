//! Lines of the rules in plain words, for whatever shows a tree.

use engine::rulebook::{BandWay, ChoiceSet, Condition, Edge, Fact, Line, Rulebook, Step, Upper};

/// A branch in the words of its tree.
pub(crate) fn branch(book: &Rulebook, step: &Step, line: Line) -> String {
    match (line, step.means(line)) {
        (_, Some(means)) => means.to_owned(),
        (Line::TooClose, None) => "too close".to_owned(),
        (_, None) if step.asks => format!("{} cannot be told", book.fact(step.fact).name),
        (_, None) => format!("{} is not known", book.fact(step.fact).name),
    }
}

/// A band, by its own upper end and the one below it.
pub(crate) fn band(before: Option<&BandWay>, band: &BandWay, edge: impl Fn(&Edge) -> String) -> String {
    let low = match before.map(|line| line.upper) {
        Some(Upper::Below(edge)) => Some((edge, true)),
        Some(Upper::UpTo(edge)) => Some((edge, false)),
        _ => None,
    };
    match (low, band.upper) {
        (None, Upper::Below(high)) => format!("below {}", edge(&high)),
        (None, Upper::UpTo(high)) => format!("up to {}", edge(&high)),
        (None, Upper::Last) => "any value".to_owned(),
        (Some((low, true)), Upper::Below(high)) => format!("{} or more, below {}", edge(&low), edge(&high)),
        (Some((low, true)), Upper::UpTo(high)) => format!("{} up to {}", edge(&low), edge(&high)),
        (Some((low, true)), Upper::Last) => format!("{} or more", edge(&low)),
        (Some((low, false)), Upper::Below(high)) => format!("above {}, below {}", edge(&low), edge(&high)),
        (Some((low, false)), Upper::UpTo(high)) => format!("above {}, up to {}", edge(&low), edge(&high)),
        (Some((low, false)), Upper::Last) => format!("above {}", edge(&low)),
    }
}

/// Choices by their short words.
pub(crate) fn choices(fact: &Fact, set: ChoiceSet, between: &str) -> String {
    let words = set.positions().filter_map(|position| fact.choices().get(position));
    words.map(|choice| word(&choice.id)).collect::<Vec<_>>().join(between)
}

/// What a proof or a hold-off demands of a fact.
pub(crate) fn wanted(fact: &Fact, wanted: &Condition) -> String {
    match wanted {
        Condition::Is(set) => choices(fact, *set, " or "),
        Condition::Within { at_least, at_most, below } => [
            at_least.map(|edge| format!("at least {edge}")),
            at_most.map(|edge| format!("at most {edge}")),
            below.map(|edge| format!("below {edge}")),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" and "),
    }
}

/// The short word of a choice.
pub(crate) fn word(id: &str) -> String {
    id.replace('_', " ")
}

/// A share of something, in percent; all of it by its name alone.
pub(crate) fn share_of(whole: &str, share: f64) -> String {
    if share.total_cmp(&1.0).is_eq() { whole.to_owned() } else { format!("{} % of {whole}", percent(share)) }
}

/// A share as a number of percent, without the dust of binary fractions.
pub(crate) fn percent(share: f64) -> f64 {
    (share * 1e8).round() / 1e6
}
