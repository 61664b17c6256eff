//! The YAML events of a source, with byte spans. The event parser is named here and in `syntax`.

use std::borrow::Cow;
use std::ops::Range;

use granit_parser::{Event, Parser, ScalarStyle, ScanError, Span, StrInput, StructureStyle, options};

use super::MOST_DEEP;
use super::syntax::Broken;

/// One step through a document.
#[derive(Debug)]
pub(crate) struct Tick<'s> {
    pub(crate) kind: Kind<'s>,
    /// Bytes of the text it stands for; empty where nothing is written.
    pub(crate) span: Range<usize>,
    /// Where a tag is written before it.
    pub(crate) tag: Option<Range<usize>>,
}

/// What kind of step it is.
#[derive(Debug)]
pub(crate) enum Kind<'s> {
    /// A document begins.
    Document,
    /// A value without parts.
    Scalar { text: Cow<'s, str>, written: Written },
    /// A list begins.
    List { block: bool },
    /// A mapping begins.
    Mapping { block: bool },
    /// The last list or mapping ends.
    Close,
    /// A name set on the value before, `&name`.
    Anchor,
    /// Another value's name in place of a value, `*name`.
    Alias,
}

/// How a value without parts is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Written {
    /// As it is.
    Plain,
    /// In single or double quotes.
    Quoted,
    /// As a block under `|` or `>`.
    Block,
}

/// The events of a text, in order; ends after the first error.
pub(crate) struct Events<'s> {
    text: &'s str,
    parser: Parser<'s, StrInput<'s>>,
    ended: bool,
}

impl<'s> Events<'s> {
    pub(crate) fn of(text: &'s str) -> Self {
        let options = options! {
            disallow_directives: true,
            emit_unresolved_aliases: true,
            emit_anchor_events: true,
            emit_comments: false,
            flow_nesting_limit: MOST_DEEP,
            block_nesting_limit: MOST_DEEP,
        };
        Self { text, parser: Parser::new_from_str_with_options(text, options), ended: false }
    }

    fn tick(&self, event: Event<'s>, span: &Span) -> Option<Tick<'s>> {
        let tag = event.tag().map(|_| self.tag_span(span));
        let bytes = span.byte_range().unwrap_or_default();
        let kind = match event {
            Event::DocumentStart(..) => Kind::Document,
            // Where nothing is written the parser makes a null up.
            Event::Scalar(_, ScalarStyle::Plain, ..) if bytes.is_empty() => {
                Kind::Scalar { text: Cow::Borrowed(""), written: Written::Plain }
            }
            Event::Scalar(text, style, ..) => Kind::Scalar { text, written: written(style) },
            Event::SequenceStart(style, ..) => Kind::List { block: style == StructureStyle::Block },
            Event::MappingStart(style, ..) => Kind::Mapping { block: style == StructureStyle::Block },
            Event::SequenceEnd | Event::MappingEnd => Kind::Close,
            Event::Anchor(..) => Kind::Anchor,
            Event::Alias(_) | Event::UnresolvedAlias(_) => Kind::Alias,
            _ => return None,
        };
        Some(Tick { kind, span: bytes, tag })
    }

    fn tag_span(&self, span: &Span) -> Range<usize> {
        let start = span.tag_start().and_then(|mark| mark.byte_offset());
        let start = start.or_else(|| span.byte_range().map(|range| range.start)).unwrap_or_default();
        let rest = self.text.get(start..).unwrap_or_default();
        let length = rest.find(|c: char| c.is_whitespace() || matches!(c, ',' | '[' | ']' | '{' | '}'));
        start..start + length.unwrap_or(rest.len())
    }
}

impl<'s> Iterator for Events<'s> {
    type Item = Result<Tick<'s>, Broken>;

    fn next(&mut self) -> Option<Self::Item> {
        while !self.ended {
            match self.parser.next_event() {
                Some(Ok((event, span))) => {
                    if let Some(tick) = self.tick(event, &span) {
                        return Some(Ok(tick));
                    }
                }
                Some(Err(error)) => {
                    self.ended = true;
                    return Some(Err(self.broken(&error)));
                }
                None => self.ended = true,
            }
        }
        None
    }
}

impl Events<'_> {
    fn broken(&self, error: &ScanError) -> Broken {
        let at = error.marker().byte_offset().unwrap_or_default();
        Broken::new(self.text, at, error.kind())
    }
}

fn written(style: ScalarStyle) -> Written {
    match style {
        ScalarStyle::Plain => Written::Plain,
        ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted => Written::Quoted,
        ScalarStyle::Literal | ScalarStyle::Folded => Written::Block,
    }
}
