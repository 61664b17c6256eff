//! Where every entry of a document stands in its text.

use std::borrow::Cow;
use std::collections::HashMap;
use std::ops::Range;

use crate::gate::{Events, Gated, Kind, Tick};

/// The byte spans of an entry's key and value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spots {
    /// The key; a list item and the whole document have none.
    pub key: Option<Range<usize>>,
    /// The first key inside, where the value is a mapping.
    pub first: Option<Range<usize>>,
    /// The value: a mapping from its first key to its last value, a list from its first dash.
    pub value: Range<usize>,
}

impl Spots {
    const fn nowhere() -> Self {
        Self { key: None, first: None, value: 0..0 }
    }
}

/// A map from RFC 6901 pointers to the spans of keys and values.
#[derive(Debug)]
pub struct Places {
    /// The document's entries, the whole document first; never empty.
    entries: Vec<Entry>,
}

#[derive(Debug)]
struct Entry {
    spots: Spots,
    below: Below,
}

/// The entries inside an entry, by their place in the list of all.
#[derive(Debug)]
enum Below {
    Nothing,
    Items(Vec<usize>),
    Keys(HashMap<Box<str>, usize>),
}

impl Places {
    /// Goes through a document and notes where everything stands.
    #[must_use]
    pub fn of(gated: &Gated) -> Self {
        let text = gated.source().text();
        let mut making = Making { text, entries: Vec::new(), open: Vec::new() };
        // The gate let the text through, so it has no errors.
        Events::of(text).filter_map(Result::ok).for_each(|tick| making.take(tick));
        if making.entries.is_empty() {
            making.entries.push(Entry { spots: Spots::nowhere(), below: Below::Nothing });
        }
        Self { entries: making.entries }
    }

    /// The spans of an entry, or of the nearest entry around it that is there.
    #[must_use]
    pub fn get(&self, pointer: &str) -> Spots {
        let (Ok(at) | Err(at)) = self.find(pointer);
        self.entries.get(at).map_or_else(Spots::nowhere, |entry| entry.spots.clone())
    }

    /// Whether an entry is there.
    #[must_use]
    pub fn has(&self, pointer: &str) -> bool {
        self.find(pointer).is_ok()
    }

    /// The entry, or else the nearest one around it.
    fn find(&self, pointer: &str) -> Result<usize, usize> {
        pointer.split('/').skip(1).try_fold(0, |at, segment| self.below(at, &unescaped(segment)).ok_or(at))
    }

    fn below(&self, at: usize, segment: &str) -> Option<usize> {
        match &self.entries.get(at)?.below {
            Below::Nothing => None,
            Below::Items(items) => items.get(segment.parse::<usize>().ok()?).copied(),
            Below::Keys(keys) => keys.get(segment).copied(),
        }
    }
}

/// A key or an index as one segment of a pointer: `~` becomes `~0`, `/` becomes `~1`.
#[must_use]
pub fn escaped(segment: &str) -> Cow<'_, str> {
    if segment.contains(['~', '/']) {
        Cow::Owned(segment.replace('~', "~0").replace('/', "~1"))
    } else {
        Cow::Borrowed(segment)
    }
}

/// A pointer with one segment more.
#[must_use]
pub fn join(pointer: &str, segment: impl std::fmt::Display) -> String {
    format!("{pointer}/{}", escaped(&segment.to_string()))
}

fn unescaped(segment: &str) -> Cow<'_, str> {
    if segment.contains('~') {
        Cow::Owned(segment.replace("~1", "/").replace("~0", "~"))
    } else {
        Cow::Borrowed(segment)
    }
}

/// A list or mapping not yet ended.
struct Open {
    entry: usize,
    block: bool,
    /// The key read last, while its value is awaited.
    key: Option<(Box<str>, Range<usize>)>,
}

struct Making<'s> {
    text: &'s str,
    entries: Vec<Entry>,
    open: Vec<Open>,
}

impl Making<'_> {
    fn take(&mut self, tick: Tick<'_>) {
        match tick.kind {
            Kind::Document | Kind::Anchor | Kind::Alias => {}
            Kind::Scalar { text, .. } => self.scalar(&text, tick.span),
            Kind::List { block } => self.begin(Below::Items(Vec::new()), block, tick.span),
            Kind::Mapping { block } => self.begin(Below::Keys(HashMap::new()), block, tick.span),
            Kind::Close => self.end(&tick.span),
        }
    }

    fn scalar(&mut self, text: &str, span: Range<usize>) {
        let span = self.trimmed(span);
        if let Some(Open { entry, key: key @ None, .. }) = self.open.last_mut()
            && let Some(Entry { below: Below::Keys(_), .. }) = self.entries.get(*entry)
        {
            *key = Some((text.into(), span));
        } else {
            self.add(span, Below::Nothing);
        }
    }

    fn begin(&mut self, below: Below, block: bool, span: Range<usize>) {
        let entry = self.add(span, below);
        self.open.push(Open { entry, block, key: None });
    }

    /// A block has no end of its own: it reaches as far as the last value in it.
    fn end(&mut self, span: &Range<usize>) {
        let Some(open) = self.open.pop() else { return };
        if !open.block {
            self.stretch(open.entry, span.end);
        }
        let end = self.entries.get(open.entry).map_or(0, |entry| entry.spots.value.end);
        if let Some(around) = self.open.last() {
            self.stretch(around.entry, end);
        }
    }

    fn add(&mut self, value: Range<usize>, below: Below) -> usize {
        let (index, end) = (self.entries.len(), value.end);
        let mut key = None;
        if let Some(around) = self.open.last_mut() {
            match self.entries.get_mut(around.entry) {
                Some(Entry { below: Below::Items(items), .. }) => items.push(index),
                Some(Entry { below: Below::Keys(keys), spots }) => {
                    if let Some((name, span)) = around.key.take() {
                        keys.insert(name, index);
                        spots.first.get_or_insert_with(|| span.clone());
                        key = Some(span);
                    }
                }
                Some(Entry { below: Below::Nothing, .. }) | None => {}
            }
            let entry = around.entry;
            self.stretch(entry, end);
        }
        self.entries.push(Entry { spots: Spots { key, first: None, value }, below });
        index
    }

    fn stretch(&mut self, entry: usize, end: usize) {
        if let Some(entry) = self.entries.get_mut(entry) {
            entry.spots.value.end = entry.spots.value.end.max(end);
        }
    }

    /// A folded or literal text's span runs into the white space after it.
    fn trimmed(&self, span: Range<usize>) -> Range<usize> {
        let text = self.text.get(span.clone()).unwrap_or_default();
        span.start..span.start + text.trim_end().len()
    }
}
