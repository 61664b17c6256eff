//! An entry of one kind among those of another: a step among readings, a deed among endings.

use super::Reading;
use super::entries::Entries;
use super::line::{self, Line};
use crate::finding::{Code, Draft, Place};
use crate::gate::Gated;
use crate::source::Source;
use std::ops::Range;

/// A kind of entry, by the head of the file that it stands in.
struct Sort {
    kind: &'static str,
    /// One such, and several.
    one: &'static str,
    many: &'static str,
    /// Where it belongs.
    home: &'static str,
}

const SORTS: [Sort; 5] = [
    Sort { kind: "tree", one: "a step", many: "steps", home: "`steps:` of a tree" },
    Sort { kind: "readings", one: "a reading", many: "readings", home: "`readings:`" },
    Sort { kind: "deeds", one: "a deed", many: "deeds", home: "`deeds:`" },
    Sort { kind: "endings", one: "an ending", many: "endings", home: "`endings:`" },
    Sort { kind: "workings", one: "a working", many: "workings", home: "`workings:`" },
];

/// Faults that an entry has at the least which is none of its kind.
const FEWEST: usize = 3;

/// Entries of one file that are looked at.
const MOST_TRIED: usize = 8;

impl Reading {
    /// Tells of the first entry that has next to no part in common with those it stands among, and is whole among others.
    pub(super) fn entry_of_another_kind(&mut self) {
        let Some((kind, judge)) = self.kind() else { return };
        let Some(own) = SORTS.iter().find(|sort| sort.kind == kind) else { return };
        let Ok(gated) = Gated::check(self.source.clone()) else { return };
        let faults = judge(&gated).into_found();
        if faults.len() < FEWEST {
            return;
        }
        let entries = Entries::of(&self.source, &kind);
        let mut regions: Vec<(Range<usize>, usize)> = Vec::new();
        for region in faults.iter().filter_map(|fault| entries.of_line(fault.place().line() - 1)) {
            match regions.iter_mut().find(|(other, _)| *other == region) {
                Some((_, many)) => *many += 1,
                None => regions.push((region, 1)),
            }
        }
        regions.retain(|(_, many)| *many >= FEWEST);
        // Where most are none of its kind, it is the head of the file that is wrong.
        if regions.len() * 2 > entries.len() {
            return;
        }
        let lines = line::all(&self.source);
        for (region, _) in regions.into_iter().take(MOST_TRIED) {
            let Some(first) = lines.get(region.start) else { continue };
            let Some(name) = first.key().filter(|_| first.value().is_empty()) else { continue };
            let others = SORTS.iter().filter(|sort| sort.kind != kind);
            let Some(is) = others.into_iter().find(|sort| self.is_whole(sort.kind, name, &region)) else {
                continue;
            };
            let start = self.source.line_span(region.start + 1).start + first.depth;
            let place = Place::new(self.source.clone(), start..start + name.len());
            let title = format!("`{name}` is {}, and stands among {}", is.one, own.many);
            let draft = Draft::at(Code::MisplacedKey, place, title);
            let rows = match region.clone().rfind(|at| lines.get(*at).is_some_and(Line::says)) {
                Some(last) if last > region.start => format!("lines {} to {}", region.start + 1, last + 1),
                _ => format!("line {}", region.start + 1),
            };
            let help = format!("it belongs under {}: put {rows} there, or take them out", is.home);
            self.stopped = Some(self.findings.push(draft.help(help)));
            return;
        }
    }

    /// Whether the lines of an entry are whole as one of another kind.
    fn is_whole(&self, kind: &str, name: &str, region: &Range<usize>) -> bool {
        let Some(judge) = (self.kinds)(kind) else { return false };
        let head = match kind {
            "tree" => format!("tree: t\nname: n\nstart: {name}\nsteps:\n"),
            other => format!("{other}:\n"),
        };
        let rows = region.clone().map(|at| self.source.line_text(at + 1));
        let text = rows.fold(head, |text, row| text + row + "\n");
        let source = Source::new(self.source.name(), text);
        source.ok().and_then(|source| Gated::check(source).ok()).is_some_and(|gated| judge(&gated).is_empty())
    }
}
