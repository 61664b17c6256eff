//! Text that YAML cuts or runs together without a word: a `#` behind a blank, a comma in a list, a dash too far in.
//! A comment stands on a line of its own, behind quotes, or behind a value that is no text.

use crate::finding::{Code, Draft, Findings, Place, clean};
use crate::gate::{Events, Gated, Kind, Written};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::source::Source;
use std::borrow::Cow;
use std::collections::HashSet;
use std::ops::Range;

/// Keys with a text behind them, or a list of texts.
const TEXTS: [&str; 17] = [
    "about", "acts", "because", "caution", "danger", "does", "from", "how", "means", "name", "notice",
    "parts", "say", "steps", "tools", "warning", "whose",
];

/// Keys with names behind them, each with its text.
const NAMED_TEXTS: [&str; 2] = ["choices", "stations"];

/// Keys with a list of sentences behind them.
const ORDERS: [&str; 2] = ["steps", "does"];

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let spots = &resolved.spots;
    let given = spots.facts.iter().chain(&spots.deeds).chain(&spots.endings).chain(&spots.hold_offs);
    let mut seen = HashSet::new();
    for file in resolved.tree_files.iter().chain(given.map(|spot| &spot.file)) {
        if seen.insert(file.source().key()) {
            of_file(file, findings);
        }
    }
}

fn of_file(file: &Gated, findings: &mut Findings) {
    let source = file.source();
    let mut walk = Walk { source, open: Vec::new() };
    for tick in Events::of(source.text()).filter_map(Result::ok) {
        match tick.kind {
            Kind::Scalar { text, written } => {
                let draft = walk.scalar(text, written == Written::Plain, &tick.span);
                if let Some(draft) = draft {
                    findings.push(draft);
                }
            }
            Kind::List { block } => walk.open(true, block),
            Kind::Mapping { block } => walk.open(false, block),
            Kind::Close => {
                walk.open.pop();
            }
            _ => {}
        }
    }
}

/// A list or a mapping that is open.
struct Open<'s> {
    list: bool,
    block: bool,
    /// The key that waits for its value; of a list, the one that it stands behind.
    key: Option<Cow<'s, str>>,
    /// Whether whatever is in it is text.
    texts: bool,
    items: usize,
}

struct Walk<'s> {
    source: &'s Source,
    open: Vec<Open<'s>>,
}

impl<'s> Walk<'s> {
    /// The key that a value beginning now stands behind.
    fn behind(&mut self) -> Option<Cow<'s, str>> {
        let around = self.open.last_mut()?;
        around.items += 1;
        if around.list { around.key.clone() } else { around.key.take() }
    }

    fn open(&mut self, list: bool, block: bool) {
        let key = self.behind();
        let texts = key
            .as_deref()
            .is_some_and(|key| if list { TEXTS.contains(&key) } else { NAMED_TEXTS.contains(&key) });
        self.open.push(Open { list, block, key: key.filter(|_| list), texts, items: 0 });
    }

    fn scalar(&mut self, text: Cow<'s, str>, plain: bool, span: &Range<usize>) -> Option<Draft> {
        let around = self.open.last_mut()?;
        if !around.list && around.key.is_none() {
            around.key = Some(text);
            return None;
        }
        let (flow_list, first, texts) = (around.list && !around.block, around.items == 0, around.texts);
        let key = self.behind()?;
        if !plain || !(texts || TEXTS.contains(&&*key)) {
            return None;
        }
        let written = self.source.text().get(span.clone())?;
        let orders = ORDERS.contains(&&*key);
        let list = self.open.last().is_some_and(|around| around.list && around.block);
        self.hash(span)
            .or_else(|| self.dash(written, span))
            .or_else(|| list.then(|| self.dash_without_blank(written, span)).flatten())
            .or_else(|| (orders && list).then(|| self.order_without_dash(written, span)).flatten())
            .or_else(|| (orders && flow_list && !first).then(|| self.comma(&text, span)).flatten())
    }

    /// A `#` with a blank before it and words or a number behind it, which may be the rest of the text.
    fn hash(&self, span: &Range<usize>) -> Option<Draft> {
        let rest = self.source.text().get(span.end..)?.lines().next()?;
        let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
        let cut = rest
            .get(blanks..)?
            .strip_prefix('#')
            .filter(|cut| cut.trim_start().starts_with(char::is_alphanumeric))?;
        let start = span.end + blanks;
        let draft = self.draft(
            start..start + 1 + cut.trim_end().len(),
            "the text ends before this `#`: the rest is a comment",
        );
        Some(draft.help("put the whole text in quotes; or where it is a comment, on a line of its own"))
    }

    fn dash(&self, written: &str, span: &Range<usize>) -> Option<Draft> {
        let (at, _) = written.match_indices('\n').find(|(at, _)| {
            written.get(at + 1..).is_some_and(|line| line.trim_start_matches(' ').starts_with("- "))
        })?;
        let dash = at + 1 + written.get(at + 1..)?.find('-')?;
        let start = span.start + dash;
        let draft =
            self.draft(start..start + 1, "this dash begins no item: it is part of the text before it");
        Some(draft.help("line it up with the dashes of its list, or put the whole text in quotes"))
    }

    /// A line of a list's text that begins with a dash and a letter: few break a word so, many forget the blank.
    fn dash_without_blank(&self, written: &str, span: &Range<usize>) -> Option<Draft> {
        let (start, line) = rest_of(written, |_, line| {
            line.strip_prefix('-').is_some_and(|word| word.starts_with(char::is_alphabetic))
        })?;
        let word = line.split([' ', ':']).next().unwrap_or_default();
        let start = span.start + start;
        let draft = self.draft(
            start..start + word.len(),
            "this dash has no blank behind it: it is part of the text before it",
        );
        let help = format!(
            "write `- {}` in line with the dashes of its list, or put the whole text in quotes",
            clean(word.trim_start_matches('-'))
        );
        Some(draft.help(help))
    }

    /// A line of an order that begins as an order does, behind one that ends as an order does.
    fn order_without_dash(&self, written: &str, span: &Range<usize>) -> Option<Draft> {
        let (start, line) =
            rest_of(written, |above, line| above.ends_with('.') && line.starts_with(char::is_uppercase))?;
        let start = span.start + start;
        let draft =
            self.draft(start..start + line.len(), "this line has no dash: it is part of the order before it");
        Some(draft.help("put a dash before it, in line with the others; or put the whole order in quotes"))
    }

    /// An order that begins with a small letter is the rest of one with a comma in it.
    fn comma(&self, text: &str, span: &Range<usize>) -> Option<Draft> {
        text.starts_with(char::is_lowercase).then(|| {
            let title = "a comma between brackets ends an order: this is one of its own";
            let help = "put each order in quotes, or on a line of its own behind a dash";
            self.draft(span.clone(), title).help(help)
        })
    }

    fn draft(&self, span: Range<usize>, title: &str) -> Draft {
        Draft::at(Code::TextCut, Place::new(self.source.clone(), span), title)
    }
}

/// The first line of a text, but for its own first, that is as it is asked for with the one above it; and where it
/// begins.
fn rest_of(written: &str, is: impl Fn(&str, &str) -> bool) -> Option<(usize, &str)> {
    let mut start = 0;
    let mut above: Option<&str> = None;
    for whole in written.split_inclusive('\n') {
        let line = whole.trim();
        if above.is_some_and(|above| is(above, line)) {
            return Some((start + whole.len() - whole.trim_start().len(), line));
        }
        above = Some(line);
        start += whole.len();
    }
    None
}
