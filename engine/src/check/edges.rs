//! The upper edges of bands ascend, and the last band takes the rest.
//!
//! Edges that stand on facts are compared for every value that these facts can have from a list: plates and
//! profiles. Edges on readings that can be anything are left to the proofs along paths.

use super::{at_line, at_step, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::quantity::{Expected, Quantity, Unit};
use crate::resolve::Resolved;
use crate::rulebook::{BandWay, Edge, FactId, Line, Rules, StepId, Upper, Value, Ways};

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    for id in steps(resolved) {
        if let Ways::Bands(lines) = &resolved.rules.step(id).ways {
            last_takes_the_rest(resolved, id, lines, findings);
            ascending(resolved, id, lines, findings);
        }
    }
}

fn last_takes_the_rest(resolved: &Resolved, id: StepId, lines: &[BandWay], findings: &mut Findings) {
    let last = lines.len().saturating_sub(1);
    if !lines.iter().any(|line| line.upper == Upper::Last) {
        let draft = at_step(resolved, id, |at| {
            at.key("bands").draft_key(Code::EdgesNotAscending, "no band takes the values above the last edge")
        });
        findings.push(draft.help("end the bands with `above: the last`"));
    }
    for (index, _) in
        lines.iter().enumerate().filter(|(index, line)| *index < last && line.upper == Upper::Last)
    {
        let draft = at_line(resolved, id, Line::Value(index), |at| {
            at.key("above").draft(Code::EdgesNotAscending, "`above: the last` stands before the last band")
        });
        findings.push(draft.help("move this band to the end"));
    }
}

fn ascending(resolved: &Resolved, id: StepId, lines: &[BandWay], findings: &mut Findings) {
    let fact = resolved.rules.fact(resolved.rules.step(id).fact);
    let Some(unit) = fact.expected().map(Expected::unit) else { return };
    for (index, pair) in lines.windows(2).enumerate() {
        let (Some((below, below_closed)), Some((above, above_closed))) =
            (edge(&pair[0].upper), edge(&pair[1].upper))
        else {
            continue;
        };
        let Some(example) = not_ascending(&resolved.rules, unit, below, above, !below_closed && above_closed)
        else {
            continue;
        };
        let key = key_of(above_closed);
        let draft = at_line(resolved, id, Line::Value(index + 1), |at| {
            at.key(key).draft(
                Code::EdgesNotAscending,
                format!("this edge does not lie above the one before{example}"),
            )
        });
        let (file, pointer) = at_line(resolved, id, Line::Value(index), |at| {
            (at.gated().clone(), at.key(key_of(below_closed)).pointer())
        });
        findings.push(
            draft
                .also(&file, &pointer, crate::finding::On::Value, "the one before")
                .help("put the bands in ascending order, or mend the edge"),
        );
    }
}

const fn key_of(closed: bool) -> &'static str {
    if closed { "up to" } else { "below" }
}

/// The edge, and whether the band holds the edge itself.
const fn edge(upper: &Upper) -> Option<(&Edge, bool)> {
    match upper {
        Upper::Below(edge) => Some((edge, false)),
        Upper::UpTo(edge) => Some((edge, true)),
        Upper::Last => None,
    }
}

/// Why the second edge is not above the first, with the case in which it is not; `None` when it always is.
fn not_ascending(rules: &Rules, unit: Unit, below: &Edge, above: &Edge, may_touch: bool) -> Option<String> {
    let wrong = |low: f64, high: f64| if may_touch { high < low } else { high <= low };
    match (below, above) {
        (Edge::Plain(low), Edge::Plain(high)) => {
            wrong(low.base(), high.base()).then(|| format!(": {high} after {low}"))
        }
        (Edge::Share { of: low, share: less }, Edge::Share { of: high, share: more }) if low == high => {
            wrong(*less, *more).then(|| format!(": both stand on `{}`", rules.fact(*low).id))
        }
        _ => listed(rules, below, above).find_map(|(low, high, when)| {
            let shown = |base: f64| Quantity::new(unit.from_base(base), unit).map(|edge| edge.to_string());
            let values = shown(high).zip(shown(low)).map(|(high, low)| format!(": {high} after {low}"));
            wrong(low, high).then(|| format!("{} when {when}", values.unwrap_or_default()))
        }),
    }
}

/// Both edges for every value that the facts they stand on have from a list.
fn listed<'r>(
    rules: &'r Rules,
    below: &'r Edge,
    above: &'r Edge,
) -> impl Iterator<Item = (f64, f64, String)> + 'r {
    let low = values(rules, below);
    let high = values(rules, above);
    low.into_iter().flat_map(move |(low, low_when)| {
        high.clone().into_iter().filter_map(move |(high, high_when)| {
            let clash = low_when.iter().any(|(fact, value)| {
                high_when.iter().any(|(other, against)| fact == other && value != against)
            });
            let mut when = low_when.clone();
            when.extend(high_when.into_iter().filter(|pair| !low_when.contains(pair)));
            (!clash).then(|| (low, high, told(rules, &when)))
        })
    })
}

type When = Vec<(FactId, Value)>;

fn values(rules: &Rules, edge: &Edge) -> Vec<(f64, When)> {
    match edge {
        Edge::Plain(quantity) => vec![(quantity.base(), Vec::new())],
        Edge::Share { of, share } => rules
            .fact(*of)
            .given
            .iter()
            .filter_map(|given| given.is.quantity().map(|is| (is.base() * share, given.when.clone())))
            .collect(),
    }
}

fn told(rules: &Rules, when: &When) -> String {
    when.iter()
        .map(|(fact, value)| format!("`{}` is `{}`", rules.fact(*fact).id, rules.fact(*fact).show(value)))
        .collect::<Vec<_>>()
        .join(" and ")
}
