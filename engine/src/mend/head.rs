//! A file that begins with the head of another kind than what stands below it.

use super::Reading;
use super::entries::Entries;
use super::line::{self, Line};
use crate::finding::{Code, Draft, Place, near, quoted};
use crate::gate::Gated;
use crate::parsed::KINDS;
use crate::source::{NewLine, Source};

/// Faults that a file may have besides where it is told by its lines what kind it is.
const MOST_LEFT: usize = 2;

/// Kinds of file that are a list of entries.
const LISTS: [&str; 4] = ["readings", "deeds", "endings", "workings"];

/// A tree's head of its steps.
const STEPS: &str = "steps";

impl Reading {
    /// Tells of a first line that has the key of a kind of file and no colon behind it.
    pub(super) fn head_without_its_colon(&mut self) {
        let lines = line::all(&self.source);
        let Some((at, line)) = lines.iter().enumerate().find(|(_, line)| line.says()) else { return };
        let word = line.rest.split(' ').next().unwrap_or_default();
        if line.depth > 0 || line.key().is_some() || (self.kinds)(word).is_none() {
            return;
        }
        let start = self.source.line_span(at + 1).start;
        let place = Place::new(self.source.clone(), start..start + word.len());
        let draft = Draft::at(Code::BadYaml, place, format!("the colon is missing behind `{word}`"));
        let new = NewLine { line: at, cut: word.len(), head: format!("{word}:") };
        self.findings.push(draft.help(format!("write `{word}:`, and a blank behind it")));
        self.source = self.source.with_lines(&[new]);
    }

    /// Tells of a head of a file that has a word behind it, where a list or keys stand below it. It is read on without.
    pub(super) fn head_with_a_word(&mut self) {
        const WITH_A_WORD: [&str; 3] = ["tree", "profiles", "case"];
        let lines = line::all(&self.source);
        let Some((at, line)) = lines.iter().enumerate().find(|(_, line)| line.says()) else { return };
        let below = lines.iter().skip(at + 1).find(|line| line.says());
        let Some(kind) = line.key().filter(|key| KINDS.contains(key) && !WITH_A_WORD.contains(key)) else {
            return;
        };
        let (value, text) = (line.value(), self.source.line_text(at + 1));
        let set_in = below.is_some_and(|below| below.depth > 0);
        let Some(start) =
            text.find(value).filter(|_| !value.is_empty() && !value.starts_with(['{', '[']) && set_in)
        else {
            return;
        };
        let begin = self.source.line_span(at + 1).start + start;
        let place = Place::new(self.source.clone(), begin..begin + value.len());
        let title = format!(
            "`{kind}:` is the head of what stands below it, and has nothing behind it on its own line"
        );
        let draft = Draft::at(Code::BadYaml, place, title);
        self.findings.push(draft.help(format!("write `{kind}:` alone, and take {} out", quoted(value))));
        let cut = start + value.len();
        self.source = self.source.with_lines(&[NewLine { line: at, cut, head: format!("{kind}:") }]);
    }

    /// Tells of a file that begins with the head of a kind that its lines are not of, where they are whole under another.
    pub(super) fn head_of_another_kind(&mut self) {
        let lines = line::all(&self.source);
        let Some((at, line)) = lines.iter().enumerate().find(|(_, line)| line.says()) else { return };
        let Some(kind) = line.key().filter(|key| line.depth == 0 && KINDS.contains(key)) else { return };
        let file = self.source.name().rsplit(['/', '\\']).next().unwrap_or_default();
        let file = file.split('.').next().unwrap_or_default();
        let head = |kind: &str| if kind == "tree" { format!("{kind}: {file}") } else { format!("{kind}:") };
        let faults = |kind: &str, source: Source| {
            let judge = (self.kinds)(kind)?;
            Some(match Gated::check(source) {
                Ok(gated) => judge(&gated).len(),
                Err(_) => usize::MAX,
            })
        };
        let own = faults(kind, self.source.clone()).unwrap_or_default();
        if own <= MOST_LEFT {
            return;
        }
        let others = KINDS.into_iter().filter(|other| *other != kind && *other != "profiles");
        let tried =
            others.filter(|other| !(LISTS.contains(other) && LISTS.contains(&kind))).filter_map(|other| {
                let new = NewLine { line: at, cut: self.source.line_text(at + 1).len(), head: head(other) };
                let source = self.source.with_lines(&[new]);
                let left =
                    faults(other, source.clone()).filter(|left| *left <= MOST_LEFT && left * 4 <= own)?;
                Some((left, other, source))
            });
        let mut tried: Vec<_> = tried.collect();
        tried.sort_by_key(|(left, ..)| *left);
        let mut tried = tried.into_iter();
        let Some((left, other, source)) = tried.next() else { return };
        if tried.next().is_some_and(|(more, ..)| more == left) {
            return;
        }
        let start = self.source.line_span(at + 1).start;
        let place = Place::new(self.source.clone(), start..start + kind.len());
        let title =
            format!("by its lines, this is a file that begins with `{other}:`, and no file of `{kind}:`");
        let draft = Draft::at(Code::UnknownKind, place, title);
        self.findings.push(draft.help(format!("write `{}` in its place", head(other))));
        self.source = source;
    }

    /// Tells of a file without the key at its top that says what kind it is, where its lines are those of one kind.
    pub(super) fn kind_without_its_key(&mut self) {
        let lines = line::all(&self.source);
        let first = lines.iter().enumerate().find(|(_, line)| line.says());
        let mut keys = lines.iter().filter(|line| line.depth == 0).filter_map(Line::key);
        let is_misspelt = keys.any(|key| near(key, &KINDS).is_some());
        let Some((at, line)) = first.filter(|_| self.kind().is_none() && !is_misspelt) else { return };
        let file = self.source.name().rsplit(['/', '\\']).next().unwrap_or_default();
        let file = file.split('.').next().unwrap_or_default();
        let head = |kind: &str| {
            if matches!(kind, "tree" | "case") { format!("{kind}: {file}") } else { format!("{kind}:") }
        };
        let faults = |kind: &'static str| {
            let judge = (self.kinds)(kind)?;
            let new = NewLine { line: at, cut: 0, head: format!("{}\n", head(kind)) };
            let gated = Gated::check(self.source.with_lines(&[new])).ok()?;
            Some((judge(&gated).len(), kind))
        };
        let mut kinds: Vec<_> = KINDS.into_iter().chain(["case"]).filter_map(faults).collect();
        kinds.sort_unstable();
        let best = kinds.first().filter(|(left, _)| *left <= MOST_LEFT);
        let Some((_, kind)) = best.filter(|(left, _)| kinds.get(1).is_none_or(|(more, _)| more > left))
        else {
            return;
        };
        let start = self.source.line_span(at + 1).start + line.depth;
        let place = Place::new(self.source.clone(), start..start + line.name().len());
        let title = format!("no key at the top says what this file is: by its lines, `{kind}:` is missing");
        let draft = Draft::at(Code::UnknownKind, place, title);
        let help = format!("write `{}` on a line of its own above this one, at the margin", head(kind));
        self.stopped = Some(self.findings.push(draft.help(help)));
    }

    /// Tells of a tree's steps that stand below its other keys without a head of their own. They are read on with the
    /// head in an empty line above them.
    pub(super) fn steps_without_their_head(&mut self) {
        let lines = line::all(&self.source);
        let has_head = lines.iter().any(|line| line.depth == 0 && line.rest.starts_with(STEPS));
        if has_head || self.kind().is_none_or(|(kind, _)| kind != "tree") {
            return;
        }
        let set_in = lines.iter().position(|line| line.says() && line.depth > 0);
        let Some((first, line)) = set_in.and_then(|at| Some((at, lines.get(at)?))) else { return };
        let free = (0..first).rev().take_while(|at| lines.get(*at).is_some_and(|line| !line.says())).last();
        let Some(free) = free.filter(|_| line.key().is_some() && line.value().is_empty()) else { return };
        let start = self.source.line_span(first + 1).start + line.depth;
        let place = Place::new(self.source.clone(), start..start + line.name().len());
        let draft =
            Draft::at(Code::MissingKey, place, format!("the steps begin here without `{STEPS}:` above them"));
        self.findings
            .push(draft.help(format!("write `{STEPS}:` on a line of its own above this one, at the margin")));
        let cut = self.source.line_text(free + 1).len();
        self.source = self.source.with_lines(&[NewLine { line: free, cut, head: format!("{STEPS}:") }]);
    }

    /// Takes the head of a file for another, where its entries are whole under that one and nearly all of them faulty
    /// as it is.
    pub(super) fn head(&mut self, kind: &str, entries: &Entries, faults: usize) -> bool {
        if faults < entries.len().clamp(2, 10) || !LISTS.contains(&kind) {
            return false;
        }
        let Some(at) = line::all(&self.source).iter().position(|line: &Line<'_>| line.is_key_at(0, kind))
        else {
            return false;
        };
        let meant = LISTS.into_iter().filter(|other| *other != kind).find_map(|other| {
            let judge = (self.kinds)(other)?;
            let new = NewLine { line: at, cut: kind.len(), head: other.to_owned() };
            let source = self.source.with_lines(&[new]);
            let still = judge(&Gated::check(source.clone()).ok()?).len();
            (still * 4 <= faults).then_some((source, other))
        });
        let Some((source, other)) = meant else { return false };
        let start = self.source.line_span(at + 1).start;
        let place = Place::new(self.source.clone(), start..start + kind.len());
        let title = format!("this is the head of a file of {kind}; what stands below it are {other}");
        let draft = Draft::at(Code::UnknownKind, place, title);
        self.findings.push(draft.help(format!("write `{other}:` in its place")));
        self.source = source;
        true
    }
}
