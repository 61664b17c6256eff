//! A finding as plain text: for a pipe, a log, a test. No colour, and nothing raw.

use std::fmt::Write as _;
use std::ops::Range;

use super::wording::{clean, push_clean};
use super::{Finding, Place};

/// Characters of a source line that are shown.
const MOST_SHOWN: usize = 120;

/// Other places with the same said of them that are shown.
const MOST_ALIKE: usize = 4;

/// Spaces a tab is shown as.
const TAB: &str = "    ";

/// The sign at an end where a line was cut.
const CUT: &str = "...";

/// What a piece of a shown finding is, for whoever gives it colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece {
    /// `rules/x.yaml:12:9`.
    Place,
    /// `error`, `warning`, `note`.
    Severity,
    /// The code and what is wrong.
    Title,
    /// The line below a source line that underlines the span.
    Marks,
    /// Everything else: source lines, what other places are, the help.
    Plain,
}

impl Finding {
    /// One line with place, severity, code and title; then, set in, the other places and the help.
    ///
    /// `rules/x.yaml:12:9: error: unknown-id: unknown reading` and so on.
    #[must_use]
    pub fn plain(&self) -> String {
        let mut out = joined(&self.heading());
        for (place, text) in self.more_shown() {
            let _ = write!(out, "\n  {}: {text}", at(place));
        }
        if let Some(help) = &self.help {
            let _ = write!(out, "\n  help: {help}");
        }
        out
    }

    /// As [`Finding::plain`], with the source line of every place and the span underlined.
    ///
    /// A line over 120 characters is cut around the span; of a span over several lines the first
    /// is shown. Ends in a line break.
    #[must_use]
    pub fn with_source(&self) -> String {
        joined(&self.pieces())
    }

    /// What [`Finding::with_source`] is made of, in order.
    #[must_use]
    pub fn pieces(&self) -> Vec<(Piece, String)> {
        let places = std::iter::once(&self.place).chain(self.more_shown().map(|(place, _)| place));
        let widest = places.map(|place| place.line().to_string().len()).max().unwrap_or(1);
        let mut out = Vec::from(self.heading());
        out.push((Piece::Plain, "\n".to_owned()));
        out.extend(excerpt_of(&self.place, widest));
        for (place, text) in self.more_shown() {
            out.extend([(Piece::Place, at(place)), (Piece::Plain, format!(": {text}\n"))]);
            out.extend(excerpt_of(place, widest));
        }
        if let Some(help) = &self.help {
            out.push((Piece::Plain, format!("help: {help}\n")));
        }
        out
    }

    /// The other places: of those that have the same said of them, the first few.
    fn more_shown(&self) -> impl Iterator<Item = &(Place, String)> {
        let same_before = |at: usize, said: &str| {
            self.more.get(..at).unwrap_or_default().iter().rev().take_while(|(_, text)| text == said).count()
        };
        let few = move |(at, (_, text)): &(usize, &(Place, String))| same_before(*at, text) < MOST_ALIKE;
        self.more.iter().enumerate().filter(few).map(|(_, more)| more)
    }

    fn heading(&self) -> [(Piece, String); 5] {
        let sign = || (Piece::Plain, ": ".to_owned());
        [
            (Piece::Place, at(&self.place)),
            sign(),
            (Piece::Severity, self.code.severity().word().to_owned()),
            sign(),
            (Piece::Title, format!("{}: {}", self.code, self.title)),
        ]
    }
}

fn joined(pieces: &[(Piece, String)]) -> String {
    pieces.iter().map(|(_, text)| text.as_str()).collect()
}

fn at(place: &Place) -> String {
    let (line, column) = place.source().line_column(place.span.start);
    format!("{}:{line}:{column}", clean(place.source().name()))
}

fn excerpt_of(place: &Place, widest: usize) -> [(Piece, String); 3] {
    let line = place.line();
    let span = place.source().line_span(line);
    let (shown, marked) = excerpt(place.source().line_text(line), within(&place.span, &span));
    let (space, marks) = (" ".repeat(marked.start), "^".repeat(marked.len()));
    let gutter = " ".repeat(widest);
    [
        (Piece::Plain, format!("{gutter} |\n{line:>widest$} | {shown}\n{gutter} | {space}")),
        (Piece::Marks, marks),
        (Piece::Plain, "\n".to_owned()),
    ]
}

/// The part of a span on a line, counted from the line's start.
fn within(span: &Range<usize>, line: &Range<usize>) -> Range<usize> {
    let start = span.start.clamp(line.start, line.end) - line.start;
    let end = span.end.clamp(line.start, line.end) - line.start;
    start..end
}

/// A line as shown, and the columns of it to mark, at least one.
fn excerpt(text: &str, span: Range<usize>) -> (String, Range<usize>) {
    let text = text.trim_end();
    let around = near_by(text, span.start.min(text.len()));
    let (mut cells, mut width) = (String::new(), 0);
    let mut marked = None::<Range<usize>>;
    for (offset, c) in text.get(around.clone()).unwrap_or_default().char_indices() {
        let (offset, start) = (around.start + offset, width);
        let from = cells.len();
        match c {
            '\t' => cells.push_str(TAB),
            c => push_clean(&mut cells, c),
        }
        width += cells.get(from..).map_or(0, |cell| cell.chars().count());
        if offset == span.start || span.contains(&offset) {
            marked = Some(marked.map_or(start, |marked| marked.start)..width);
        }
    }
    window(&cells, width, marked.unwrap_or(width..width + 1))
}

/// The bytes of a line that may be shown: twice the width each way, so that a line of megabytes
/// costs no more than another.
fn near_by(text: &str, at: usize) -> Range<usize> {
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    let start = before.char_indices().rev().nth(2 * MOST_SHOWN).map_or(0, |(start, _)| start);
    let end = after.char_indices().nth(2 * MOST_SHOWN).map_or(text.len(), |(end, _)| at + end);
    start..end
}

/// Cuts a line that is too long around its marked columns.
fn window(cells: &str, width: usize, marked: Range<usize>) -> (String, Range<usize>) {
    if width <= MOST_SHOWN {
        return (cells.to_owned(), marked);
    }
    let room = MOST_SHOWN - 2 * CUT.len();
    let before = room.saturating_sub(marked.len()) / 2;
    let start = marked.start.saturating_sub(before).min(width - room);
    let end = start + room;
    let left = if start > 0 { CUT } else { "" };
    let right = if end < width { CUT } else { "" };
    let kept: String = cells.chars().skip(start).take(room).collect();
    let first = marked.start - start + left.len();
    let last = marked.end.min(end) + left.len();
    (format!("{left}{kept}{right}"), first..last.saturating_sub(start).max(first + 1))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use crate::finding::{Code, Draft, Finding, Place, Reported};
    use crate::source::Source;

    fn draft(text: &str, word: &str) -> (Source, Draft) {
        let source = Source::new("rules/x.yaml", text).unwrap();
        let at = text.find(word).unwrap();
        let place = Place::new(source.clone(), at..at + word.len());
        (source, Draft::at(Code::UnknownId, place, "unknown reading `foo`"))
    }

    fn shown(draft: Draft) -> String {
        Reported::one(draft).findings().iter().map(Finding::with_source).collect()
    }

    #[test]
    fn plain_text_has_place_code_title_other_places_and_help() {
        let (source, draft) = draft("a: 1\nask: foo\n", "foo");
        let draft = draft.help("did you mean `fop`?").also_at(Place::new(source, 0..1), "asked here");
        assert_eq!(
            Reported::one(draft).to_string(),
            "rules/x.yaml:2:6: error: unknown-id: unknown reading `foo`\n  rules/x.yaml:1:1: asked here\n  help: did you mean `fop`?"
        );
    }

    #[test]
    fn every_place_is_underlined_below_its_line() {
        let text = "a: 1\n\n\n\n\n\n\n\n\nask: foo # Ω\n";
        let (source, draft) = draft(text, "foo");
        let draft = draft.help("mend it").also_at(Place::new(source, 0..1), "first here");
        let expected = "\
rules/x.yaml:10:6: error: unknown-id: unknown reading `foo`
   |
10 | ask: foo # Ω
   |      ^^^
rules/x.yaml:1:1: first here
   |
 1 | a: 1
   | ^
help: mend it
";
        assert_eq!(shown(draft), expected);
    }

    #[test]
    fn the_underline_counts_characters_and_shows_tabs_as_spaces() {
        assert!(shown(draft("Ωµ: é foo", "foo").1).contains("1 | Ωµ: é foo\n  |       ^^^\n"));
        assert!(shown(draft("a\tfoo", "foo").1).contains("1 | a    foo\n  |      ^^^\n"));
    }

    #[test]
    fn a_long_line_is_cut_around_the_span() {
        let text = format!("{} foo {}", "a".repeat(300), "b".repeat(300));
        let out = shown(draft(&text, "foo").1);
        let lines: Vec<_> = out.lines().collect();
        assert_eq!(lines[2].chars().count(), 120 + 4);
        assert!(lines[2].starts_with("1 | ...a") && lines[2].ends_with("b..."), "{out}");
        let mark = lines[3].find("^^^").unwrap();
        assert_eq!(lines[2].get(mark..mark + 3), Some("foo"), "{out}");
    }

    #[test]
    fn a_span_longer_than_the_window_or_at_the_very_end_is_still_marked() {
        let long = format!("k: {}", "z".repeat(500));
        let out = shown(draft(&long, &"z".repeat(500)).1);
        assert!(out.lines().all(|line| line.chars().count() <= 126), "{out}");
        assert!(out.contains("^^^^"), "{out}");
        let source = Source::new("a.yaml", &long).unwrap();
        let place = Place::new(source, long.len()..long.len());
        let out = shown(Draft::at(Code::Loop, place, "end"));
        let lines: Vec<_> = out.lines().collect();
        assert_eq!(lines[2].chars().count() + 1, lines[3].chars().count(), "{out}");
    }

    #[test]
    fn a_span_over_several_lines_marks_its_first() {
        let out = shown(draft("a:\n  b: 1\n  c: 2\n", "b: 1\n  c: 2").1);
        assert!(out.contains("2 |   b: 1\n  |   ^^^^\n"), "{out}");
    }

    #[test]
    fn nothing_raw_reaches_a_terminal() {
        let refused = Source::new("x\u{1b}.yaml", "a: \u{1b}[31m\u{202e}b").unwrap_err();
        let out: String = refused.findings().iter().map(Finding::with_source).collect();
        assert!(out.contains("x\\u{1b}.yaml:1:4"), "{out}");
        assert!(out.contains("1 | a: \\u{1b}[31m\\u{202e}b\n  |    ^^^^^^\n"), "{out}");
        assert!(!out.chars().any(|c| c != '\n' && c.is_control()));
    }
}
