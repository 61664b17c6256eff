//! Moves of a line that may mend a fault.

use std::collections::BTreeSet;
use std::ops::Range;

use super::line::Line;
use super::trial::Trial;

/// A line with those that move with it.
#[derive(Clone, Debug)]
pub(super) struct Move {
    pub(super) lines: Range<usize>,
    /// How far it is set in.
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) slip: Slip,
}

/// What is wrong with the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slip {
    Depth,
    /// No dash before an item.
    NoDash,
    /// A dash before what is no item.
    Dash,
    /// No blank behind the dash.
    NoBlank,
}

impl Trial<'_> {
    /// Every move that may be tried.
    pub(super) fn moves(&self, lines: &[Line<'_>]) -> Vec<Move> {
        let mut moves = Vec::new();
        let own = |at: &usize| lines.get(*at).is_some_and(Line::says);
        let region: Vec<usize> = self.region.clone().filter(own).collect();
        let depths: BTreeSet<usize> = region
            .iter()
            .filter_map(|at| lines.get(*at))
            .map(|line| line.depth)
            .chain([self.entries.depth])
            .collect();
        for (place, &at) in region.iter().enumerate() {
            let (Some(line), before) =
                (lines.get(at), place.checked_sub(1).and_then(|before| region.get(before)))
            else {
                continue;
            };
            let below = before.and_then(|before| lines.get(*before)).map(|above| above.depth + 2);
            let near = depths.iter().copied().chain(below).collect::<BTreeSet<usize>>();
            let block = at..end_of_block(lines, at, self.region.end);
            if line.key().is_some() || line.has_dash() {
                let opened = before.and_then(|before| lines.get(*before)).is_some_and(|above| {
                    above.depth == line.depth && above.key().is_some() && above.value().is_empty()
                });
                let mut groups = BTreeSet::from([(at, at + 1), (at, block.end)]);
                if opened {
                    let mut end = block.end;
                    while end < self.region.end && lines.get(end).is_some_and(|next| next.depth == line.depth)
                    {
                        end = end_of_block(lines, end, self.region.end);
                        groups.insert((at, end));
                    }
                }
                for (start, end) in groups {
                    let depths = near.iter().filter(|to| **to != line.depth);
                    moves.extend(depths.map(|&to| Move {
                        lines: start..end,
                        from: line.depth,
                        to,
                        slip: Slip::Depth,
                    }));
                }
            }
            if line.has_dash() && line.key().is_some() {
                moves.extend([line.depth, line.depth + 2].map(|to| Move {
                    lines: block.clone(),
                    from: line.depth,
                    to,
                    slip: Slip::Dash,
                }));
            }
            if line.lacks_blank() {
                moves.push(no_blank(lines, at));
            } else if !line.has_dash() {
                let dashes: BTreeSet<usize> = region
                    .iter()
                    .skip(place.saturating_sub(5))
                    .take(11)
                    .filter_map(|at| lines.get(*at))
                    .filter(|line| line.rest.starts_with('-'))
                    .map(|line| line.depth)
                    .collect();
                let near = dashes.into_iter().filter(|dash| *dash == line.depth || dash + 2 == line.depth);
                moves.extend(near.map(|to| Move {
                    lines: at..at + 1,
                    from: line.depth,
                    to,
                    slip: Slip::NoDash,
                }));
            }
        }
        moves
    }
}

/// The mend of a dash without its blank: lines below that stand in line with what is behind it move with that.
pub(super) fn no_blank(lines: &[Line<'_>], at: usize) -> Move {
    let depth = lines.get(at).map_or(0, |line| line.depth);
    let below = lines.iter().skip(at + 1).find(|line| line.says()).map_or(0, |line| line.depth);
    let end = if below == depth + 1 { end_of_block(lines, at, lines.len()) } else { at + 1 };
    Move { lines: at..end, from: depth, to: depth, slip: Slip::NoBlank }
}

/// The end of the lines that are set in deeper below one.
fn end_of_block(lines: &[Line<'_>], at: usize, most: usize) -> usize {
    let depth = lines.get(at).map_or(0, |line| line.depth);
    let deeper =
        (at + 1..most).take_while(|at| lines.get(*at).is_some_and(|line| !line.says() || line.depth > depth));
    deeper.filter(|at| lines.get(*at).is_some_and(Line::says)).last().unwrap_or(at) + 1
}
