//! No id is a word that YAML tools read as something else than a word.
//!
//! Here every key is read as it is written. An editor, a formatter or a script may follow YAML 1.1, in which `no` is
//! a truth and `1e9` a number, and write it back as `false` or `1000000000.0`.

use super::{at_step, steps};
use crate::finding::{Code, Draft, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let (rules, spots) = (&resolved.rules, &resolved.spots);
    let facts = rules.facts.iter().map(|fact| &fact.id).zip(&spots.facts);
    let deeds = rules.deeds.iter().map(|deed| &deed.id).zip(&spots.deeds);
    let endings = rules.endings.iter().map(|ending| &ending.id).zip(&spots.endings);
    for (id, spot) in facts.chain(deeds).chain(endings) {
        if let Some(read_as) = read_as(id) {
            tell(spot.named(Code::OddId, title(id, read_as)), findings);
        }
    }
    for tree in &rules.trees {
        if let Some(read_as) = read_as(&tree.id) {
            let file = &resolved.tree_files[tree.doc];
            tell(Draft::new(Code::OddId, file, "/tree", On::Value, title(&tree.id, read_as)), findings);
        }
    }
    for step in steps(resolved) {
        let id = &rules.step(step).id;
        if let Some(read_as) = read_as(id) {
            let draft = at_step(resolved, step, |at| at.draft_key(Code::OddId, title(id, read_as)));
            tell(draft, findings);
        }
    }
}

fn title(id: &str, read_as: &str) -> String {
    format!("many YAML tools read `{id}` as {read_as}")
}

fn tell(draft: Draft, findings: &mut Findings) {
    findings.push(draft.help("take a word that can only be a word"));
}

/// What a plain scalar is to a reader of YAML 1.1 or 1.2, where that is no text.
fn read_as(id: &str) -> Option<&'static str> {
    const TRUTHS: [&str; 8] = ["y", "n", "yes", "no", "true", "false", "on", "off"];
    const NUMBERS: [&str; 2] = [".inf", ".nan"];
    let small = id.to_ascii_lowercase();
    let digits = small.strip_prefix(['+', '-']).unwrap_or(&small).replace('_', "");
    let based = |prefix: &str, base: u32| {
        digits
            .strip_prefix(prefix)
            .is_some_and(|digits| !digits.is_empty() && digits.chars().all(|digit| digit.is_digit(base)))
    };
    let numeric = |text: &str| {
        text.starts_with(|c: char| c.is_ascii_digit() || c == '.') && text.parse::<f64>().is_ok()
    };
    if TRUTHS.contains(&small.as_str()) {
        Some("yes or no")
    } else if ["null", "~"].contains(&small.as_str()) {
        Some("nothing")
    } else if NUMBERS.contains(&digits.as_str())
        || numeric(&digits)
        || digits.contains(':') && digits.split(':').all(numeric)
        || based("0x", 16)
        || based("0o", 8)
        || based("0b", 2)
    {
        Some("a number")
    } else if is_date(&small) {
        Some("a date")
    } else {
        None
    }
}

/// `2026-11-25`, with or without a time behind it.
fn is_date(id: &str) -> bool {
    let day = id.split(['t', ' ']).next().unwrap_or_default();
    let lengths: Vec<usize> = day.split('-').map(str::len).collect();
    matches!(lengths[..], [4, 1..=2, 1..=2]) && day.chars().all(|c| c.is_ascii_digit() || c == '-')
}

#[cfg(test)]
mod tests {
    use super::read_as;

    /// Of the types' own pages at yaml.org/type: bool, null, int, float, timestamp.
    #[test]
    fn what_the_types_of_yaml_1_1_take_is_told_and_no_other_word() {
        for id in
            ["y", "NO", "Off", "true", "null", "~", "1e9", "1_000", "0x1F", "0o17", "0b101", "-.inf", ".NaN"]
        {
            assert!(read_as(id).is_some(), "{id}");
        }
        for id in ["685.230_15e+03", "190:20:30", "2001-12-14", "2001-12-14t21:59:43.10-05:00", "017", "+12"]
        {
            assert!(read_as(id).is_some(), "{id}");
        }
        for id in
            ["none", "nan", "inf", "on-call", "noise", "e9", "1-phase", "24-volt", "0xg", "a:b", "10-12", "-"]
        {
            assert_eq!(read_as(id), None, "{id}");
        }
    }
}
