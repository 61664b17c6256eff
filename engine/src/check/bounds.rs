//! What values are held against can be come to: a number of another size than its reading is a slip of number or unit,
//! and between two ends the wrong way round lies nothing.
//!
//! A reading is held to its plausible range. What is worked out is held to what sums, differences and shares of those
//! come to; of other formulas no bounds are known.

use super::{at_line, steps};
use crate::finding::{Code, Draft, Findings};
use crate::graph::StepGraph;
use crate::quantity::Quantity;
use crate::resolve::Resolved;
use crate::rulebook::{Condition, Edge, Fact, FactId, Kind, Line, Rules, Upper, Ways};

/// Workings of workings that are gone into; those that lead round are told of elsewhere.
pub(super) const DEEPEST: usize = 8;
/// What is left to the rounding of units, in parts of a range.
const SLACK: f64 = 1e-6;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for id in steps(resolved) {
        let step = rules.step(id);
        let Ways::Bands(lines) = &step.ways else { continue };
        for (index, line) in lines.iter().enumerate() {
            let (key, edge) = match line.upper {
                Upper::Below(Edge::Plain(edge)) => ("below", edge),
                Upper::UpTo(Edge::Plain(edge)) => ("up to", edge),
                _ => continue,
            };
            if let Some((title, help)) = beyond(rules, step.fact, edge) {
                findings.push(at_line(resolved, id, Line::Value(index), |at| {
                    at.key(key).draft(Code::WrongQuantity, title).help(help)
                }));
            }
        }
    }
    for (fact, spot) in rules.facts.iter().zip(&resolved.spots.facts) {
        if let Some((off, low, high)) = tells_nothing(fact) {
            let title =
                format!("a meter that may be {off} off tells nothing of `{}`, from {low} to {high}", fact.id);
            let help = "mend the number or the unit of what one count is worth: it is what the last digit, or one line, shows";
            findings.push(spot.value("meter", Code::WrongQuantity, title).help(help));
        }
    }
    for (ending, spot) in rules.endings.iter().zip(&resolved.spots.endings) {
        conditions(rules, &ending.proof, findings, |name, code, title| {
            spot.draft(&format!("proof/{name}"), code, title)
        });
    }
    for (hold_off, spot) in rules.power.hold_offs.iter().zip(&resolved.spots.hold_offs) {
        for (key, list) in [("when", &hold_off.when), ("until", &hold_off.until)] {
            conditions(rules, list, findings, |name, code, title| {
                spot.draft(&format!("{key}/{name}"), code, title)
            });
        }
    }
}

/// How far off a meter may be, and the range of its reading, where a reading in the middle may be any of it.
fn tells_nothing(fact: &Fact) -> Option<(Quantity, Quantity, Quantity)> {
    let Kind::Quantity { expected, meter } = &fact.kind else { return None };
    let (low, high) = expected.range()?;
    let (_, off) = meter.off_by()?;
    (off.unit().interval_to_base(off.number()) * 2.0 >= high.base() - low.base()).then_some((off, low, high))
}

/// Tells of what conditions demand and no reading shows.
fn conditions(
    rules: &Rules,
    list: &[(FactId, Condition)],
    findings: &mut Findings,
    draft: impl Fn(&str, Code, String) -> Draft,
) {
    for (fact, condition) in list {
        let Condition::Within { at_least, at_most, below } = condition else { continue };
        let edges = [at_least, at_most, below].into_iter().flatten();
        let name = &rules.fact(*fact).id;
        if let Some((title, help)) = edges.copied().find_map(|edge| beyond(rules, *fact, edge)) {
            findings.push(draft(name, Code::WrongQuantity, title).help(help));
        } else if let Some((low, word, high)) = crossed(*at_least, *at_most, *below) {
            let title = format!("no reading of `{name}` is at least {low} and {word} {high}");
            findings.push(draft(name, Code::BadValue, title).help("put the lower end at `at least`"));
        }
    }
}

/// The lower end and an upper end, with its key, between which nothing lies.
fn crossed(
    at_least: Option<Quantity>,
    at_most: Option<Quantity>,
    below: Option<Quantity>,
) -> Option<(Quantity, &'static str, Quantity)> {
    let low = at_least?;
    let at_most = at_most.filter(|high| low.base() > high.base()).map(|high| (low, "at most", high));
    let below = || below.filter(|high| low.base() >= high.base()).map(|high| (low, "below", high));
    at_most.or_else(below)
}

/// Why a fact never comes to a value, and how to mend it; `None` where it may.
fn beyond(rules: &Rules, fact: FactId, edge: Quantity) -> Option<(String, String)> {
    let (low, high) = bounds(rules, fact, DEEPEST)?;
    let slack = (high - low).abs() * SLACK;
    if edge.is_over_range() || (low - slack..=high + slack).contains(&edge.base()) {
        return None;
    }
    let unit = rules.fact(fact).expected()?.unit();
    let shown = |base: f64| Quantity::new(unit.from_base(base), unit)?.shown_in(unit);
    let (low, high, name) = (shown(low)?, shown(high)?, &rules.fact(fact).id);
    let title = format!("`{name}` never comes to `{edge}`: it is from {low} to {high}");
    Some((title, "mend the number or its unit, or the range of what it is read by".to_owned()))
}

/// The least and the most that a fact may be, in base units; `None` where nothing says it.
pub(super) fn bounds(rules: &Rules, fact: FactId, deep: usize) -> Option<(f64, f64)> {
    let rule = rules.fact(fact);
    let own = || {
        let expected = rule.expected().filter(|expected| !expected.over_range())?;
        expected.range().map(|(low, high)| (low.base(), high.base()))
    };
    let given = rule.given.iter().filter_map(|given| given.is.quantity().map(Quantity::base));
    let given = given.map(|base| (base, base)).reduce(hull);
    let (asked, working) = (rule.asking.is_some(), rule.working.as_ref());
    match (asked, working, given) {
        (false, None, given) => given,
        (false, Some(working), None) => {
            let parts: Vec<(f64, f64)> = working
                .of
                .iter()
                .map(|part| bounds(rules, *part, deep.checked_sub(1)?))
                .collect::<Option<_>>()?;
            working.formula.bounds(&parts)
        }
        (true, None, None) => own(),
        (true, None, Some(given)) => own().map(|own| hull(own, given)),
        _ => None,
    }
}

fn hull(one: (f64, f64), two: (f64, f64)) -> (f64, f64) {
    (one.0.min(two.0), one.1.max(two.1))
}
