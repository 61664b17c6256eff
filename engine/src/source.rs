//! A file's text with its name: the ground every place in a finding stands on.

#[cfg(test)]
mod tests;
mod unseen;

use std::ops::Range;
use std::sync::Arc;

pub(crate) use unseen::is_unseen;

use crate::finding::{Code, Draft, Findings, Place, Reported};

/// Bytes a rule file may hold at most: 1 MiB. A long hand-written file is a twentieth of that, and the reading of a
/// larger one made of nothing but commas would take half a gigabyte.
pub const MOST_BYTES: usize = 1024 * 1024;

/// Bytes one line may hold at most: keeps every column cheap to count and every line fit to show.
pub const MOST_LINE_BYTES: usize = 20_000;

/// Odd characters told of in one file before the rest is left alone.
const MOST_TOLD: usize = 20;

/// A file's text, checked to be plain text, and cheap to clone.
///
/// The text is UTF-8 without a byte-order mark, at most [`MOST_BYTES`] long, no line over
/// [`MOST_LINE_BYTES`], and free of characters that cannot be seen on a screen (tab and line
/// breaks excepted).
#[derive(Clone)]
pub struct Source {
    inner: Arc<Inner>,
}

/// See [`Source::key`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct SourceKey(usize);

struct Inner {
    name: String,
    text: String,
    /// Byte offset of the start of every line, ascending; the first is 0.
    lines: Vec<usize>,
    /// What is written, where this is that text with some of its lines mended.
    written: Option<(Source, Vec<NewLine>)>,
}

/// What stands in the place of a line while a text is read on past a fault in it. What is kept keeps its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct NewLine {
    /// The line, counted from 0.
    pub(crate) line: usize,
    /// Bytes that `head` takes the place of.
    pub(crate) cut: usize,
    pub(crate) head: String,
}

impl Source {
    /// Takes a file's bytes as text, under the name findings will show.
    ///
    /// # Errors
    /// `too-large` for a file over [`MOST_BYTES`] or a line over [`MOST_LINE_BYTES`]; `not-text`
    /// for bytes that are not UTF-8 and for characters that cannot be seen.
    pub fn new(name: impl Into<String>, bytes: impl AsRef<[u8]>) -> Result<Self, Reported> {
        let (name, bytes) = (name.into(), bytes.as_ref());
        if bytes.len() > MOST_BYTES {
            return Err(Self::too_large(name, bytes, bytes.len() as u64));
        }
        let text = match std::str::from_utf8(bytes) {
            Ok(text) => text,
            Err(error) => return Err(not_utf8(name, bytes, error.valid_up_to())),
        };
        let source = Self::of_text(name, text.strip_prefix('\u{feff}').unwrap_or(text));
        source.refuse_unseen()?;
        Ok(source)
    }

    /// What is said of a file that is larger than [`MOST_BYTES`], for whoever does not read the whole of it first.
    pub fn too_large(name: impl Into<String>, head: &[u8], size: u64) -> Reported {
        // Enough of the file to show where it starts, and no more.
        let head = String::from_utf8_lossy(head.get(..200).unwrap_or(head)).replace('\u{feff}', "");
        let title = format!("a file of {size} bytes, expected at most {MOST_BYTES}");
        let place = Place::new(Self::of_text(name.into(), head), 0..1);
        Reported::one(Draft::at(Code::TooLarge, place, title).help("split the file"))
    }

    /// A file with nothing in it, to hang a finding on that has no file.
    pub(crate) fn empty(name: &str) -> Self {
        Self::of_text(name.to_owned(), "")
    }

    /// The name the file goes by in findings, such as `rules/trees/no-run.yaml`.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.inner.name
    }

    /// The whole text, without a byte-order mark.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.inner.text
    }

    /// The line and the column of a byte offset, both counted from 1, the column in characters.
    /// An offset past the end or inside a character is moved back to the nearest character.
    #[must_use]
    pub fn line_column(&self, byte: usize) -> (usize, usize) {
        let byte = self.inner.text.floor_char_boundary(byte);
        let line = self.inner.lines.partition_point(|&start| start <= byte);
        let start = self.line_start(line);
        let column = self.inner.text.get(start..byte).map_or(0, |before| before.chars().count());
        (line, column + 1)
    }

    /// How many lines there are.
    pub(crate) fn line_count(&self) -> usize {
        self.inner.lines.len()
    }

    /// The text of a line counted from 1, without its line break; empty for a line that is not there.
    #[must_use]
    pub fn line_text(&self, line: usize) -> &str {
        self.inner.text.get(self.line_span(line)).unwrap_or_default()
    }

    /// The byte span of a line counted from 1, without its line break.
    pub(crate) fn line_span(&self, line: usize) -> Range<usize> {
        let start = self.line_start(line);
        let end = self.inner.lines.get(line).copied().unwrap_or(self.inner.text.len());
        let text = self.inner.text.get(start..end).unwrap_or_default();
        start..start + text.trim_end_matches(['\n', '\r']).len()
    }

    /// The byte offset of a line and a column, both counted from 1, the column in characters.
    pub(crate) fn offset(&self, line: usize, column: usize) -> usize {
        let span = self.line_span(line);
        let text = self.inner.text.get(span.clone()).unwrap_or_default();
        let within = text.char_indices().nth(column.saturating_sub(1)).map_or(text.len(), |(at, _)| at);
        span.start + within
    }

    /// What tells this read of this file from every other while it is held.
    pub(crate) fn key(&self) -> SourceKey {
        match &self.inner.written {
            Some((written, _)) => written.key(),
            None => SourceKey(Arc::as_ptr(&self.inner).addr()),
        }
    }

    /// The same file with some of its lines mended, at most one new line for each, in their order. Places in it are shown in what is
    /// written.
    pub(crate) fn with_lines(&self, new: &[NewLine]) -> Self {
        let mut text = String::with_capacity(self.inner.text.len());
        for line in 0..self.inner.lines.len() {
            let (start, end) = (self.line_start(line + 1), self.line_start(line + 2));
            let written = self.inner.text.get(start..end).unwrap_or_default();
            let Some(new) = new_line(new, line) else {
                text.push_str(written);
                continue;
            };
            let plain = written.trim_end_matches(['\n', '\r']);
            text.push_str(&new.head);
            text.push_str(plain.get(new.cut..).unwrap_or_default());
            text.push_str(written.get(plain.len()..).unwrap_or_default());
        }
        let lines = line_starts(&text);
        let written = Some((self.clone(), new.to_vec()));
        Self { inner: Arc::new(Inner { name: self.inner.name.clone(), text, lines, written }) }
    }

    /// A span of this text in the file as it is written.
    pub(crate) fn into_written(self, span: Range<usize>) -> (Self, Range<usize>) {
        let Some((written, new)) = &self.inner.written else {
            return (self, span);
        };
        // A head may have lines of its own.
        let more = |line: usize| -> usize {
            let above = new.iter().take_while(|new| new.line < line);
            above.map(|new| new.head.matches('\n').count()).sum()
        };
        let old = |at: usize| {
            let own = self.inner.lines.partition_point(|&start| start <= at).saturating_sub(1);
            let line = (0..=own).rev().find(|line| line + more(*line) <= own).unwrap_or_default();
            let within = at - self.line_start(line + more(line) + 1);
            let span = written.line_span(line + 1);
            let within = match new_line(new, line) {
                Some(new) if within < new.head.len() => within.min(new.cut),
                Some(new) => within - new.head.len() + new.cut,
                None => within,
            };
            (span.start + within).min(span.end.max(span.start + within.min(1)))
        };
        written.clone().into_written(old(span.start)..old(span.end))
    }

    /// Whether both are the same read of the same file.
    pub(crate) fn is(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.inner, &other.inner)
    }

    fn line_start(&self, line: usize) -> usize {
        let index = line.saturating_sub(1);
        self.inner.lines.get(index).copied().unwrap_or(self.inner.text.len())
    }

    fn of_text(name: String, text: impl Into<String>) -> Self {
        let text = text.into();
        let lines = line_starts(&text);
        Self { inner: Arc::new(Inner { name, text, lines, written: None }) }
    }

    fn refuse_unseen(&self) -> Result<(), Reported> {
        let mut findings = Findings::new();
        let lines = 1..=self.inner.lines.len();
        for span in lines.map(|line| self.line_span(line)).filter(|span| span.len() > MOST_LINE_BYTES) {
            let title = format!("a line of {} bytes, expected at most {MOST_LINE_BYTES}", span.len());
            let place = Place::new(self.clone(), span.start..span.start + 1);
            findings.push(Draft::at(Code::TooLarge, place, title).help("break the line up"));
        }
        let unseen = self.text().char_indices().filter(|&(_, c)| is_unseen(c));
        for (at, unseen) in unseen.take(MOST_TOLD) {
            let place = Place::new(self.clone(), at..at + unseen.len_utf8());
            let title = format!("a character that cannot be seen, U+{:04X}", u32::from(unseen));
            findings.push(Draft::at(Code::NotText, place, title).help("take it out"));
        }
        findings.finish()
    }
}

impl std::fmt::Debug for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Source")
            .field("name", &self.inner.name)
            .field("bytes", &self.inner.text.len())
            .finish_non_exhaustive()
    }
}

fn new_line(new: &[NewLine], line: usize) -> Option<&NewLine> {
    new.binary_search_by_key(&line, |new| new.line).ok().and_then(|at| new.get(at))
}

fn line_starts(text: &str) -> Vec<usize> {
    let bytes = text.as_bytes();
    let ends_line = |at: usize| match bytes.get(at) {
        Some(b'\n') => true,
        Some(b'\r') => bytes.get(at + 1) != Some(&b'\n'),
        _ => false,
    };
    std::iter::once(0).chain((0..bytes.len()).filter(|&at| ends_line(at)).map(|at| at + 1)).collect()
}

fn not_utf8(name: String, bytes: &[u8], good: usize) -> Reported {
    let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    let title = match bytes.get(good) {
        _ if wide => "expected UTF-8 text, found UTF-16".to_owned(),
        Some(byte) => format!("byte 0x{byte:02X} is not UTF-8 text"),
        None => "the text is not UTF-8".to_owned(),
    };
    let text = String::from_utf8_lossy(bytes);
    let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let source = Source::of_text(name, text.get(mark..).unwrap_or_default());
    let place = Place::new(source, good - mark.min(good)..good + 1 - mark.min(good));
    Reported::one(Draft::at(Code::NotText, place, title).help("save the file as UTF-8"))
}
