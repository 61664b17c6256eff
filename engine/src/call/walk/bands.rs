//! Which band a measured value lies in, as far as its meter can tell.

use super::{Facts, Got, Side};
use crate::call::event::Purpose;
use crate::rulebook::{BandWay, Condition, Edge, EndingKind, FactId, Line, Rulebook, Step, Upper, Way};

/// The bands that a value may lie in: every one that the reading, taken as far up and down as its meter may err, meets.
#[derive(Clone, Copy)]
pub(super) struct Met<'b> {
    /// The lowest of them.
    low: usize,
    /// The one that the value itself lies in.
    own: usize,
    /// The highest of them.
    high: usize,
    /// The first edge that the value lies too close to.
    close: Option<&'b Edge>,
}

/// The bands that a fact meets; `Err` when an edge is not known.
pub(super) fn met<'b>(lines: &'b [BandWay], fact: FactId, facts: &impl Facts) -> Result<Met<'b>, Got> {
    let last = lines.len().saturating_sub(1);
    let (mut low, mut own, mut close) = (None, None, None);
    for (index, line) in lines.iter().enumerate() {
        let (edge, includes) = match &line.upper {
            Upper::Below(edge) => (edge, false),
            Upper::UpTo(edge) => (edge, true),
            Upper::Last => break,
        };
        let (below, sure) = match facts.side(fact, edge)? {
            Side::Below { sure } => (true, sure),
            Side::On { sure } => (includes, sure),
            Side::Above { sure } => (false, sure),
        };
        if !sure {
            close = close.or(Some(edge));
        }
        if below || !sure {
            low = low.or(Some(index));
        }
        if below {
            own = own.or(Some(index));
        }
        if below && sure {
            return Ok(Met { low: low.unwrap_or(index), own: own.unwrap_or(index), high: index, close });
        }
    }
    Ok(Met { low: low.unwrap_or(last), own: own.unwrap_or(last), high: last, close })
}

/// The line that a step takes for the bands met, and whether it is sure; or the reading to take once more.
///
/// Where all bands met lead to one target, nothing more is asked. Else a second reading may tell; where it does not,
/// the author's `too close` route, or the safer side, or the value's own.
pub(super) fn decide(
    book: &Rulebook,
    step: &Step,
    lines: &[BandWay],
    met: Met<'_>,
    facts: &impl Facts,
) -> Result<(Line, bool), (FactId, Purpose)> {
    let bands = &lines[met.low..=met.high];
    if bands.iter().all(|band| band.way == lines[met.own].way) {
        return Ok((Line::Value(met.own), met.low == met.high));
    }
    if step.asks
        && let Some(fact) = met.close.and_then(|edge| facts.read_again(step.fact, edge))
    {
        return Err((fact, Purpose::Second));
    }
    if step.too_close.is_some() {
        return Ok((Line::TooClose, false));
    }
    Ok((Line::Value(safer(book, step, lines, met)), false))
}

/// Of the bands met, the one that stops the call or holds the power off; else the value's own.
fn safer(book: &Rulebook, step: &Step, lines: &[BandWay], met: Met<'_>) -> usize {
    let stops =
        |way: Way| matches!(way, Way::End(ending) if book.ending(ending).kind == EndingKind::HandOver);
    if let Some(index) = (met.low..=met.high).find(|index| stops(lines[*index].way)) {
        return index;
    }
    let mut bad = book
        .power()
        .hold_offs
        .iter()
        .flat_map(|hold_off| &hold_off.when)
        .filter(|(fact, _)| *fact == step.fact);
    match bad.next() {
        Some((_, Condition::Within { at_least: None, .. })) => met.low,
        Some((_, Condition::Within { .. })) => met.high,
        _ => met.own,
    }
}
