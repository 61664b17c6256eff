//! Slips in a tree: where an answer leads, which answers there are, what is asked.

use super::super::text::Line;
use super::{Slips, listed, misspelt};
use crate::house::BOOK;
use engine::quantity::Expected;
use engine::rulebook::{Fact, Step};

const WAYS: [&str; 5] = ["go", "end", "continue in", "visit", "then"];

pub(super) fn slips(slips: &Slips<'_>) {
    let Some(tree) = slips.text.lines.first().filter(|line| line.key.as_deref() == Some("tree")) else {
        return;
    };
    for line in &slips.text.lines {
        let raw = &slips.text.raw[line.at];
        let key = line.key.as_deref().unwrap_or_default();
        for (way, target) in ways_on(line) {
            let otherwise = ["cannot", "not known", "too close"].contains(&key)
                || line
                    .under
                    .last()
                    .is_some_and(|key| ["cannot", "not known", "too close"].contains(&key.as_str()));
            let (renamed, other) =
                if otherwise { ("cannot pointed elsewhere", 7) } else { ("a target renamed", 1) };
            for other in others(way, &tree.value, target, other) {
                slips.part(renamed, line, target, &other);
            }
            slips.part("a target misspelt", line, target, &misspelt(target));
            for swapped in WAYS.iter().filter(|other| **other != way) {
                slips.part("one way out for another", line, &format!("{way}:"), &format!("{swapped}:"));
            }
        }
        match key {
            "cannot" | "not known" => slips.without("cannot deleted", line),
            "too close" => slips.without("too close deleted", line),
            "ask" => asked(slips, line, "if known", "cannot", "not known"),
            "if known" => asked(slips, line, "ask", "not known", "cannot"),
            "is" => choices(slips, line),
            "start" => {
                for other in others("go", &tree.value, &line.value, 1) {
                    slips.part("a tree's start or complaint changed", line, &line.value, &other);
                }
            }
            "complaint" if line.under.is_empty() => {
                let complaint = BOOK.fact(BOOK.roles().complaint);
                for other in complaint.choices().iter().filter(|other| other.id != line.value) {
                    slips.part("a tree's start or complaint changed", line, &line.value, &other.id);
                }
            }
            _ => {}
        }
        if matches!(key, "ask" | "if known") {
            let like = like(&line.value);
            if let Some(other) = like.get(line.at % like.len().max(1)) {
                slips.line("another fact asked", line, raw.replacen(&line.value, other, 1));
            }
        }
    }
}

/// The facts that take the same kind of answer as this one.
fn like(fact: &str) -> Vec<&'static str> {
    let kind = |fact: &Fact| (fact.expected().map(Expected::dimension), fact.choices().len());
    let Some(own) = BOOK.fact_named(fact).map(|fact| BOOK.fact(fact)) else { return Vec::new() };
    let alike = BOOK.facts().iter().filter(|other| other.id != own.id && kind(other) == kind(own));
    alike.map(|other| other.id.as_str()).collect()
}

/// The ways out that a line says, each with where it leads.
fn ways_on(line: &Line) -> Vec<(&'static str, &str)> {
    let own =
        WAYS.iter().find(|way| line.key.as_deref() == Some(**way)).map(|way| (*way, line.value.as_str()));
    let inner = line.value.strip_prefix('{').and_then(|value| value.strip_suffix('}')).unwrap_or_default();
    let inner = inner.split(',').filter_map(|part| part.trim().split_once(": "));
    let inner = inner.filter_map(|(key, value)| Some((*WAYS.iter().find(|way| **way == key)?, value)));
    own.into_iter().chain(inner).collect()
}

/// Two others of the kind that a way leads to: the next one, and one further on.
fn others(way: &str, tree: &str, target: &str, further: usize) -> Vec<String> {
    let all: Vec<&str> = match way {
        "end" => BOOK.endings().iter().map(|ending| ending.id.as_str()).collect(),
        "continue in" | "visit" => BOOK.trees().iter().map(|tree| tree.id.as_str()).collect(),
        _ => {
            let own = |step: &&Step| BOOK.tree(step.tree).id == tree;
            BOOK.steps().iter().filter(own).map(|step| step.id.as_str()).collect()
        }
    };
    let Some(at) = all.iter().position(|other| *other == target) else { return Vec::new() };
    let mut picked: Vec<String> =
        [at + 1, at + 3 + further].iter().map(|at| all[at % all.len()].to_owned()).collect();
    picked.dedup();
    picked
}

/// `ask` for `if known` or the other way round: that line alone, and its last line with it.
fn asked(slips: &Slips<'_>, line: &Line, other: &str, last: &str, other_last: &str) {
    let own = line.key.as_deref().unwrap_or_default();
    slips.part("ask for if known", line, &format!("{own}:"), &format!("{other}:"));
    let behind = slips.text.lines.iter().filter(|next| next.at > line.at && next.margin == line.margin);
    let Some(end) = behind.take(6).find(|next| next.key.as_deref() == Some(last)) else { return };
    let mut new = slips.text.raw[line.at..=end.at].to_vec();
    let at = end.at - line.at;
    new[0] = new[0].replacen(&format!("{own}:"), &format!("{other}:"), 1);
    new[at] = new[at].replacen(&format!("{last}:"), &format!("{other_last}:"), 1);
    slips.push("ask for if known", line.at..end.at + 1, new);
}

/// A choice lost from its line, and one that stands on its neighbour's line too, or in its place.
fn choices(slips: &Slips<'_>, line: &Line) {
    let own: Vec<&str> = listed(&line.value).unwrap_or_else(|| vec![&line.value]);
    if own.len() > 1 {
        for gone in 0..own.len() {
            let left: Vec<&str> =
                own.iter().enumerate().filter(|(at, _)| *at != gone).map(|(_, id)| *id).collect();
            slips.part("a choice dropped", line, &line.value, &format!("[{}]", left.join(", ")));
        }
    }
    let beside = slips.text.lines.iter().find(|next| {
        next.at > line.at
            && next.at < line.at + 6
            && next.margin == line.margin
            && next.key.as_deref() == Some("is")
    });
    let Some(beside) = beside else { return };
    let others = listed(&beside.value).unwrap_or_else(|| vec![&beside.value]);
    let both = own.iter().chain(&others[..1]).copied().collect::<Vec<_>>().join(", ");
    slips.part("a choice on two lines", line, &line.value, &format!("[{both}]"));
    let mut swapped = slips.text.raw[line.at..=beside.at].to_vec();
    let last = swapped.len() - 1;
    swapped[0] = swapped[0].replacen(&line.value, &beside.value, 1);
    swapped[last] = swapped[last].replacen(&beside.value, &line.value, 1);
    slips.push("choices of two lines swapped", line.at..beside.at + 1, swapped);
}
