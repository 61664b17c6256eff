//! What a YAML syntax error is in a trainer's words.

use std::borrow::Cow;
use std::ops::Range;

use granit_parser::ErrorKind;

use super::MOST_DEEP;
use crate::finding::{Code, clean};

/// The mend for text that YAML takes for a sign of its own.
pub(super) const QUOTE_IT: &str = "put the text in quotes";

/// The mend for anything that stands for something written elsewhere.
pub(super) const WRITE_OUT: &str = "write the value out where it is used, or put the text in quotes";

/// The mend for a nest without bottom.
pub(super) const SPLIT_UP: &str = "split it up";

/// A tab in the white space that says what belongs to what.
pub(super) const TAB: &str = "a tab where only spaces may stand";

/// The mend for it.
pub(super) const NO_TAB: &str = "put spaces in place of the tab";

const LINE_UP: &str = "line it up with the entry it belongs to, with spaces, never tabs";

const LOOK_AT_COLON: &str = "put text that has a colon in it in quotes; or look at the brackets of this line";

const LOOK_BEFORE: &str =
    "line this one up with its neighbours; or look for a colon, quote or bracket missing in the line before";

const CLOSE_IT: &str = "close it, or put the text in quotes";

/// A text that stops being YAML at some place.
#[derive(Debug)]
pub(crate) struct Broken {
    pub(super) code: Code,
    pub(super) span: Range<usize>,
    pub(super) title: String,
    pub(super) help: Cow<'static, str>,
}

impl Broken {
    pub(super) fn new(text: &str, at: usize, kind: &ErrorKind) -> Self {
        if *kind == ErrorKind::BlockEntryInFlowCollection
            && let Some((at, bracket)) = left_open(text, at)
        {
            let title = format!("`{bracket}` is opened and never closed");
            return Self { code: Code::BadYaml, span: at..at + 1, title, help: CLOSE_IT.into() };
        }
        let (code, title, mut help) = told(kind);
        if help == LOOK_AT_COLON && begins_its_line(text, at) {
            help = LOOK_BEFORE;
        }
        let help =
            way_on_its_key_line(text, at).filter(|_| help == LOOK_AT_COLON).map_or(help.into(), Cow::Owned);
        let at = if is_tab(kind) { tab_by(text, at) } else { at };
        Self { code, span: shown_at(text, at), title, help }
    }
}

/// The text that says the nest is too deep.
pub(super) fn too_deep() -> String {
    format!("more than {MOST_DEEP} lists and keys inside one another")
}

/// The bracket before an offset that nothing closes.
fn left_open(text: &str, at: usize) -> Option<(usize, char)> {
    let mut closed = 0_usize;
    let brackets = text.get(..at)?.char_indices().rev().filter(|(_, c)| "[]{}".contains(*c));
    for (place, bracket) in brackets {
        match bracket {
            ']' | '}' => closed += 1,
            _ if closed == 0 => return Some((place, bracket)),
            _ => closed -= 1,
        }
    }
    None
}

/// How a way out is written that stands on the line of its key, as in `cannot: go: supply`.
fn way_on_its_key_line(text: &str, at: usize) -> Option<String> {
    let start = text.get(..at)?.rfind('\n').map_or(0, |end| end + 1);
    let line = text.get(start..)?.lines().next()?;
    let (key, rest) = line.trim_start().split_once(": ")?;
    let (way, to) = rest.split_once(": ")?;
    let known = ["cannot", "not known", "too close"].contains(&key)
        && ["go", "end", "continue in", "visit"].contains(&way.trim_start());
    // A closing brace is there where only the opening one was left out.
    let to = to.split(" #").next().unwrap_or_default().trim_end_matches(['}', ' ']).trim();
    known.then(|| format!("write `{key}: {{{}: {}}}`", way.trim_start(), clean(to)))
}

/// Whether a colon is the first on its line, so that a key stands before it.
fn begins_its_line(text: &str, at: usize) -> bool {
    let before = text.get(..at).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    !line.contains([':', '{', '['])
}

/// The tab that an error is about: the parser tells of it before it or behind it.
fn tab_by(text: &str, at: usize) -> usize {
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    if before.ends_with('\t') { at - 1 } else { at + after.find('\t').unwrap_or_default() }
}

/// The character at an offset; of an error noticed at the end of the file or in the white space
/// after the fault, the last character before.
fn shown_at(text: &str, at: usize) -> Range<usize> {
    let at = text.floor_char_boundary(at);
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    match after.chars().next() {
        Some(c) if !matches!(c, '\n' | '\r' | ' ') => at..at + c.len_utf8(),
        _ => match before.trim_end().char_indices().next_back() {
            Some((last, c)) => last..last + c.len_utf8(),
            None => at..at,
        },
    }
}

fn told(kind: &ErrorKind) -> (Code, String, &'static str) {
    let bad = |title: &str, help| (Code::BadYaml, title.to_owned(), help);
    let forbidden = |title: &str, help| (Code::ForbiddenYaml, title.to_owned(), help);
    match kind {
        ErrorKind::RecursionLimitExceeded => (Code::TooDeep, too_deep(), SPLIT_UP),
        ErrorKind::DirectiveDisallowed => forbidden("a line that starts with `%`", "take the line out"),
        ErrorKind::MissingAnchorOrAliasName => forbidden("plain text cannot start with `*` or `&`", QUOTE_IT),
        kind if is_tag(kind) => forbidden("plain text cannot start with `!`", QUOTE_IT),
        kind if is_tab(kind) => bad(TAB, NO_TAB),
        ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement => {
            bad("a colon where none may stand", LOOK_AT_COLON)
        }
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey => bad(
            "expected a key with a colon, found text",
            "write `key: value`; or set the text in under its key",
        ),
        kind if is_indentation(kind) => bad("this line does not line up with the lines before it", LINE_UP),
        ErrorKind::UnclosedQuotedScalar | ErrorKind::DocumentIndicatorInQuotedScalar => bad(
            "a quote is opened and never closed",
            "close the quote; or double it where it is an apostrophe",
        ),
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => bad(
            "text after a closing quote",
            "put the whole text in one pair of quotes, and write an apostrophe inside them twice",
        ),
        ErrorKind::UnknownQuotedScalarEscape => {
            bad("a backslash with a letter that means nothing", "use single quotes, or double the backslash")
        }
        ErrorKind::UnclosedFlowCollection { open } => {
            bad(&format!("`{open}` is opened and never closed"), CLOSE_IT)
        }
        ErrorKind::MismatchedFlowCollectionEnd { open, close } => {
            bad(&format!("`{open}` is opened, `{close}` closes"), CLOSE_IT)
        }
        ErrorKind::MisplacedFlowCollectionEnd => bad("a closing bracket without its opening one", QUOTE_IT),
        ErrorKind::ExpectedFlowSequenceSeparator | ErrorKind::UnexpectedEofFlowSequence => {
            bad("expected a comma or `]` in a list", CLOSE_IT)
        }
        ErrorKind::ExpectedFlowMappingSeparator
        | ErrorKind::UnexpectedEofFlowMapping
        | ErrorKind::UnexpectedEofImplicitFlowMapping => {
            bad("expected a comma or `}` after a key and its value", CLOSE_IT)
        }
        ErrorKind::UnexpectedCharacter { character } => {
            bad(&format!("plain text cannot start with `{}`", clean(&character.to_string())), QUOTE_IT)
        }
        ErrorKind::CommentNotSeparated => {
            bad("a `#` right after a value", "put a space before the `#`, or quotes round the text")
        }
        other => bad(&format!("not YAML here: {}", clean(&other.to_string())), QUOTE_IT),
    }
}

fn is_tag(kind: &ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::ExpectedTagBang
            | ErrorKind::UndeclaredTagHandle
            | ErrorKind::InvalidGlobalTagCharacter
            | ErrorKind::InvalidTagTerminator
            | ErrorKind::MissingTagUri
            | ErrorKind::UnclosedVerbatimTag
            | ErrorKind::InvalidTagEscape
            | ErrorKind::InvalidTagUtf8LeadingByte
            | ErrorKind::InvalidTagUtf8TrailingByte
            | ErrorKind::InvalidTagUtf8
    )
}

fn is_tab(kind: &ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::TabNotAllowed
            | ErrorKind::TabInBlockIndentation
            | ErrorKind::TabAtBlockScalarStart
            | ErrorKind::TabInIndentation
            | ErrorKind::TabInPlainScalar
    )
}

fn is_indentation(kind: &ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::ExpectedBlockMappingKey
            | ErrorKind::ExpectedBlockSequenceEntry
            | ErrorKind::InvalidIndentation
            | ErrorKind::InvalidBlockScalarIndent
            | ErrorKind::InvalidQuotedScalarIndent
            | ErrorKind::InvalidFlowScalarIndent
            | ErrorKind::MappingKeyNotAllowed
            | ErrorKind::BlockSequenceEntryNotAllowed
            | ErrorKind::ExpectedNodeContent
            | ErrorKind::ExpectedDocumentStart
            | ErrorKind::UnexpectedEofBlockMapping
            | ErrorKind::UnexpectedEofBlockSequence
    )
}
