//! Lines moved to see whether that leaves nothing wrong.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::entries::Entries;
use super::line::{self, Line};
use super::moves::{Move, Slip, no_blank};
use super::{Judge, many, swallowed};
use crate::finding::{Code, Draft, Finding, Place, quoted};
use crate::gate::Gated;
use crate::source::{NewLine, Source};

/// Lines that are looked at for one fault.
const MOST_LINES: usize = 160;

/// A mend, with what is said of it.
pub(super) type Mend = (Vec<NewLine>, Draft);

/// How little speaks for a move: the faults that it leaves, lines set in by jumps, how many lines it moves, how seldom
/// its depth is, and how far it is from the fault.
type Score = (Faults, usize, usize, usize, usize);

/// A part of a file in which a fault was met.
pub(super) struct Trial<'r> {
    pub(super) source: &'r Source,
    pub(super) judge: Judge,
    pub(super) region: Range<usize>,
    pub(super) entries: &'r Entries,
}

/// How faulty a text is: what the gate refuses weighs more than any fault of shape, which it may hide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Faults {
    unreadable: bool,
    refused: usize,
    shape: usize,
}

impl Faults {
    /// Whether the gate refuses nothing.
    pub(super) const fn is_readable(self) -> bool {
        !self.unreadable && self.refused == 0
    }
}

impl Trial<'_> {
    /// What the gate refuses in this part alone.
    pub(super) fn gate_faults(&self) -> Vec<Finding> {
        let alone = self.entries.alone(self.source, &self.region);
        Gated::check(alone).err().map_or_else(Vec::new, crate::finding::Reported::into_findings)
    }

    /// Plain text with a sign of YAML's in it, read on as if it stood in quotes.
    pub(super) fn quoted(&self, fault: &Finding) -> Option<Mend> {
        let at = fault.place().line() - 1;
        let text = self.source.line_text(at + 1);
        let value = Line::of(text).value();
        let start = text.find(value).filter(|_| fault.code() == Code::BadYaml)?;
        if value.is_empty() || value.starts_with(['[', '{', '|', '>']) || value.contains(['\'', '"']) {
            return None;
        }
        let head = format!("{}'{value}'", text.get(..start)?);
        let new = vec![NewLine { line: at, cut: start + value.len(), head }];
        let alone = self.alone();
        let (before, after) = (self.faults(&alone, &[]), self.faults(&alone, &new));
        let draft = Draft::from(fault.clone());
        let own = after.1.iter().any(|fault| fault.place().line() == at + 1);
        (before.0.unreadable && !after.0.unreadable && !own).then_some((new, draft))
    }

    /// The one move that leaves the least wrong.
    pub(super) fn moved(&self, fault: &Finding) -> Option<Mend> {
        if self.region.is_empty() || self.region.len() > 2 * MOST_LINES {
            return None;
        }
        let alone = self.alone();
        let lines = line::all(self.source);
        let (base, told) = self.faults(&alone, &[]);
        // What is not known may be a key inside of the line's own, which is then in the wrong place with it.
        let own_key = |fault: &&Finding| {
            let line = lines.get(fault.place().line() - 1);
            line.is_some_and(|line| line.behind_dash().depth + 1 == fault.place().column())
        };
        let unknown: BTreeSet<usize> = told
            .iter()
            .filter(|fault| fault.code() == Code::UnknownKey)
            .filter(own_key)
            .map(|fault| fault.place().line() - 1)
            .collect();
        let mut depths: BTreeMap<usize, usize> = BTreeMap::new();
        lines.iter().filter(|line| line.says()).for_each(|line| *depths.entry(line.depth).or_default() += 1);
        let mut best: Option<(Score, Move)> = None;
        let mut tie = false;
        for tried in self.moves(&lines) {
            if tried.slip == Slip::Depth
                && tried.to > tried.from
                && unknown.contains(&tried.lines.start)
                && !Self::opens(&lines, &tried)
            {
                continue;
            }
            let (left, told) = self.faults(&alone, &Self::mended(&lines, &tried));
            if left >= base
                || left.unreadable
                || left.refused > 0
                || left.shape > 2
                || !told.iter().all(|fault| unrelated(fault, &tried))
            {
                continue;
            }
            let moved = Self::mended(&lines, &tried);
            if Self::swallows(&lines, &tried, &alone.with_lines(&moved)) {
                continue;
            }
            let jumps = self.jumps(&lines, &moved);
            let seldom = usize::MAX - depths.get(&tried.to).copied().unwrap_or_default();
            let far = tried.lines.start.abs_diff(fault.place().line() - 1);
            let score = (left, jumps, tried.lines.len(), seldom, far);
            match &best {
                Some((other, _)) if *other < score => {}
                Some((other, _)) if *other == score => tie = true,
                _ => {
                    tie = false;
                    best = Some((score, tried));
                }
            }
        }
        let (_, found) = best.filter(|_| !tie)?;
        // Of a line with deeper ones below it, that it comes to stand in line with, there is no doubt.
        let behind = lines.iter().skip(found.lines.end).find(|line| line.says());
        let torn = base.unreadable && behind.is_some_and(|line| line.depth == found.to);
        if Self::opens(&lines, &found) && !torn && !self.belongs_to_none(&alone, &lines, &found) {
            return None;
        }
        Some((Self::mended(&lines, &found), self.draft(&lines, &found)))
    }

    /// The first of several dashes without their blanks, none of which leaves anything right without the others.
    pub(super) fn blanks(&self) -> Option<Mend> {
        let lines = line::all(self.source);
        let lacks = |at: &usize| lines.get(*at).is_some_and(Line::lacks_blank);
        let moves: Vec<Move> = self.region.clone().filter(lacks).map(|at| no_blank(&lines, at)).collect();
        let first = moves.first().filter(|_| (2..=MOST_LINES).contains(&moves.len()))?;
        let alone = self.alone();
        let new: Vec<_> = moves.iter().flat_map(|tried| Self::mended(&lines, tried)).collect();
        let (base, (left, told)) = (self.faults(&alone, &[]).0, self.faults(&alone, &new));
        let text = alone.with_lines(&new);
        let right = left < base
            && !left.unreadable
            && left.refused == 0
            && moves.iter().all(|tried| {
                told.iter().all(|fault| unrelated(fault, tried)) && !Self::swallows(&lines, tried, &text)
            });
        right.then(|| (Self::mended(&lines, first), self.draft(&lines, first)))
    }

    pub(super) fn alone(&self) -> Source {
        self.entries.alone(self.source, &self.region)
    }

    /// What is wrong with a text once lines of it are mended.
    pub(super) fn faults(&self, text: &Source, new: &[NewLine]) -> (Faults, Vec<Finding>) {
        let text = if new.is_empty() { text.clone() } else { text.with_lines(new) };
        match Gated::check(text) {
            Ok(gated) => {
                let found = (self.judge)(&gated).into_found();
                (Faults { unreadable: false, refused: 0, shape: found.len() }, found)
            }
            Err(reported) => {
                let found = reported.into_findings();
                let unreadable = found.iter().any(|fault| fault.code() == Code::BadYaml);
                (Faults { unreadable, refused: found.len(), shape: 0 }, found)
            }
        }
    }

    /// The lines as they stand behind a move.
    fn mended(lines: &[Line<'_>], tried: &Move) -> Vec<NewLine> {
        match tried.slip {
            Slip::NoDash => vec![NewLine {
                line: tried.lines.start,
                cut: tried.from,
                head: format!("{}- ", " ".repeat(tried.to)),
            }],
            Slip::NoBlank => {
                let head = format!("{}- ", " ".repeat(tried.to));
                let first = NewLine { line: tried.lines.start, cut: tried.from + 1, head };
                let below = tried.lines.start + 1..tried.lines.end;
                std::iter::once(first).chain(Self::set_in(lines, below, tried.to + 1, tried.from)).collect()
            }
            Slip::Dash => {
                let first =
                    NewLine { line: tried.lines.start, cut: tried.from + 2, head: " ".repeat(tried.to) };
                let below = tried.lines.start + 1..tried.lines.end;
                std::iter::once(first).chain(Self::set_in(lines, below, tried.to, tried.from + 2)).collect()
            }
            Slip::Depth => Self::set_in(lines, tried.lines.clone(), tried.to, tried.from).collect(),
        }
    }

    /// Lines moved from one depth to another.
    fn set_in(
        lines: &[Line<'_>],
        moved: Range<usize>,
        to: usize,
        from: usize,
    ) -> impl Iterator<Item = NewLine> {
        let moved = moved.filter_map(|at| lines.get(at).map(|line| (at, line)));
        moved.filter(|(_, line)| !line.rest.is_empty()).map(move |(at, line)| {
            let depth = (line.depth + to).saturating_sub(from);
            NewLine { line: at, cut: line.depth, head: " ".repeat(depth) }
        })
    }

    /// Whether a move makes a line, or the one behind those that move, the rest of the text above it: nothing is then
    /// left wrong, since it is no longer read for what it is.
    fn swallows(lines: &[Line<'_>], tried: &Move, text: &Source) -> bool {
        let rests = swallowed::rests(text);
        let behind = (tried.lines.end..lines.len())
            .find(|at| lines.get(*at).is_some_and(|line| line.says() && line.depth <= tried.from));
        rests.contains(&tried.lines.start) || behind.is_some_and(|at| rests.contains(&at))
    }

    /// Lines of this part that are set in further below the one above them than this file does it.
    fn jumps(&self, lines: &[Line<'_>], new: &[NewLine]) -> usize {
        let depth = |at: usize, line: &Line<'_>| {
            let moved = new.iter().find(|new| new.line == at);
            moved.map_or(line.depth, |new| new.head.trim_end_matches("- ").len())
        };
        let says = self
            .region
            .clone()
            .filter_map(|at| lines.get(at).map(|line| (at, line)))
            .filter(|(_, line)| line.says());
        let depths: Vec<(usize, bool)> = says.map(|(at, line)| (depth(at, line), line.has_dash())).collect();
        let far = |pair: &[(usize, bool)]| {
            let [(above, dash), (own, _)] = pair else { return false };
            *own > above + self.entries.depth.max(2) + if *dash { 2 } else { 0 }
        };
        depths.windows(2).filter(|pair| far(pair)).count()
    }

    /// Whether a move sets lines in under a key that has nothing behind it, and that they stood in line with.
    fn opens(lines: &[Line<'_>], tried: &Move) -> bool {
        let above = above(lines, tried.lines.start, |_| true);
        tried.slip == Slip::Depth
            && tried.to > tried.from
            && above.is_some_and(|line| {
                line.depth == tried.from && line.key().is_some() && line.value().is_empty()
            })
    }

    /// Whether none of the lines that would be set in is known where it stands.
    fn belongs_to_none(&self, alone: &Source, lines: &[Line<'_>], tried: &Move) -> bool {
        let Some(above) = (0..tried.lines.start).rev().find(|at| lines.get(*at).is_some_and(Line::says))
        else {
            return false;
        };
        let cut = alone.line_text(above + 1).len();
        let (_, told) = self.faults(alone, &[NewLine { line: above, cut, head: String::new() }]);
        let mut own = tried
            .lines
            .clone()
            .filter(|at| lines.get(*at).is_some_and(|line| line.says() && line.depth == tried.from));
        own.all(|at| {
            told.iter().any(|fault| fault.code() == Code::UnknownKey && fault.place().line() == at + 1)
        })
    }

    fn draft(&self, lines: &[Line<'_>], found: &Move) -> Draft {
        let at = found.lines.start;
        let name = lines.get(at).map(Line::name).unwrap_or_default();
        let span = self.source.line_span(at + 1);
        let start = span.start + found.from;
        let place = |length: usize| Place::new(self.source.clone(), start..(start + length).min(span.end));
        match found.slip {
            Slip::NoDash => {
                let title = format!("the dash is missing before {}", quoted(&name));
                let plain = name.trim_start_matches(|c: char| c.is_ascii_digit());
                let plain = plain.strip_prefix(['.', ')']).filter(|_| plain.len() < name.len());
                let plain = plain.map_or(name.as_str(), str::trim_start);
                let help = format!(
                    "write {}, its dash in line with the other dashes",
                    quoted(&format!("- {plain}"))
                );
                Draft::at(Code::MissingDash, place(name.len()), title).help(help)
            }
            Slip::NoBlank => {
                let word =
                    lines.get(at).map_or("", |line| line.rest.split([' ', ':']).next().unwrap_or_default());
                let title = format!("the blank is missing behind the dash of {}", quoted(word));
                let below =
                    found.lines.clone().skip(1).filter(|at| lines.get(*at).is_some_and(Line::says)).count();
                let with = match below {
                    0 => "",
                    1 => ", and move the line below it 1 space to the right",
                    _ => ", and move the lines below it 1 space to the right",
                };
                let help = format!("write {}{with}", quoted(&format!("- {}", word.trim_start_matches('-'))));
                Draft::at(Code::MissingDash, place(word.len()), title).help(help)
            }
            Slip::Dash => {
                let word = lines.get(at).map(|line| line.behind_dash().name()).unwrap_or_default();
                let title = format!("a dash before {}, which is no item of a list", quoted(&word));
                let draft = Draft::at(Code::BadYaml, place(1), title);
                let (how, by) = Self::by(lines, found);
                let by = by.map(|(_, line)| format!(" {how} {}", quoted(&line.name()))).unwrap_or_default();
                draft.help(format!("take the dash out, and begin the line{by}"))
            }
            Slip::Depth => {
                let (far, side, off) = if found.to < found.from {
                    (found.from - found.to, "left", "right")
                } else {
                    (found.to - found.from, "right", "left")
                };
                let spaces = many(far, "space");
                let title = format!("{} stands {spaces} too far to the {off}", quoted(&name));
                let below =
                    found.lines.clone().skip(1).filter(|at| lines.get(*at).is_some_and(Line::says)).count();
                let with = match below {
                    0 => "it".to_owned(),
                    1 => "it and the line below it".to_owned(),
                    more => format!("it and the {more} lines below it"),
                };
                let (word, by) = Self::by(lines, found);
                let draft = Draft::at(Code::WrongDepth, place(name.len()), title);
                let Some((by_at, by_line)) = by else {
                    return draft.help(format!("move {with} {spaces} to the {side}"));
                };
                let by_span = self.source.line_span(by_at + 1);
                let by_start = by_span.start + by_line.depth;
                let by_place = Place::new(
                    self.source.clone(),
                    by_start..(by_start + by_line.name().len()).min(by_span.end),
                );
                draft
                    .also_at(by_place, format!("it belongs {word} this"))
                    .help(format!("move {with} {spaces} to the {side}, {word} {}", quoted(&by_line.name())))
            }
        }
    }

    /// The line above that a moved one lines up with, or the key that it comes to stand under.
    fn by<'l>(lines: &[Line<'l>], found: &Move) -> (&'static str, Option<(usize, Line<'l>)>) {
        let mut up = (0..found.lines.start)
            .rev()
            .filter_map(|at| Some((at, *lines.get(at)?)))
            .filter(|(_, line)| line.says());
        let near =
            up.find(|(_, line)| line.depth <= found.to || (line.has_dash() && line.depth + 2 == found.to));
        match near {
            Some((_, line)) if line.depth == found.to => ("in line with", near),
            Some((at, line)) if line.has_dash() && line.depth + 2 == found.to => {
                ("in line with", Some((at, line.behind_dash())))
            }
            other => ("under", other),
        }
    }
}

/// The first line that says anything above one.
fn above<'l>(lines: &[Line<'l>], at: usize, is: impl Fn(&Line<'l>) -> bool) -> Option<Line<'l>> {
    lines.get(..at)?.iter().rev().copied().find(|line| line.says() && is(line))
}

/// Whether a fault that a move leaves has nothing to do with it.
fn unrelated(fault: &Finding, tried: &Move) -> bool {
    tried.lines.clone().all(|line| unrelated_to(fault, line))
}

/// Whether a fault that the mend of a line leaves has nothing to do with it.
pub(super) fn unrelated_to(fault: &Finding, line: usize) -> bool {
    !matches!(fault.code(), Code::MissingKey | Code::DuplicateKey | Code::EmptyValue)
        && fault.place().line() - 1 != line
}
