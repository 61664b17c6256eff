//! Findings: what is wrong in a file, where, and how to mend it. Colour is the screen's affair.

mod code;
mod collect;
mod near;
mod show;
mod wording;

use std::ops::Range;

pub use code::{Code, Severity};
pub use collect::{Draft, Findings, On, Reported, Said};
pub use near::{did_you_mean, did_you_spell, near};
pub(crate) use near::{only_one, sole_alike};
pub use show::Piece;
pub use wording::{clean, listed, quoted};

use crate::source::Source;

/// A span of a file's text: the smallest that shows the matter.
#[derive(Clone, Debug)]
pub struct Place {
    source: Source,
    span: Range<usize>,
}

impl Place {
    /// A byte span of a source, moved to whole characters inside the text.
    #[must_use]
    pub fn new(source: Source, span: Range<usize>) -> Self {
        let (source, span) = source.into_written(span);
        let start = source.text().floor_char_boundary(span.start);
        let end = source.text().ceil_char_boundary(span.end).max(start);
        Self { source, span: start..end }
    }

    /// The file the place is in.
    #[must_use]
    pub fn source(&self) -> &Source {
        &self.source
    }

    /// The byte span within [`Source::text`], on whole characters, never past the end.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// Whether it lies within another place of the same file.
    pub(crate) fn is_in(&self, outer: &Self) -> bool {
        let (own, outer_span) = (self.span(), outer.span());
        self.source.is(&outer.source) && outer_span.start <= own.start && own.end <= outer_span.end
    }

    /// The line the span starts on, from 1.
    #[must_use]
    pub fn line(&self) -> usize {
        self.source.line_column(self.span.start).0
    }

    /// The column the span starts at, in characters from 1.
    #[must_use]
    pub fn column(&self) -> usize {
        self.source.line_column(self.span.start).1
    }
}

/// One thing that is wrong, at its place, with the way to mend it.
#[derive(Clone, Debug)]
pub struct Finding {
    code: Code,
    title: String,
    help: Option<String>,
    place: Place,
    more: Vec<(Place, String)>,
}

impl Finding {
    /// What kind of fault it is.
    #[must_use]
    pub fn code(&self) -> Code {
        self.code
    }

    /// What is wrong, in one line without control characters.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// How to mend it, where that can be said.
    #[must_use]
    pub fn help(&self) -> Option<&str> {
        self.help.as_deref()
    }

    /// Where it is.
    #[must_use]
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// The other places that have a part in it, each with what it is.
    #[must_use]
    pub fn more(&self) -> &[(Place, String)] {
        &self.more
    }
}
