//! One walk over a document's events that refuses what rule files do without.

mod keys;

use std::borrow::Cow;
use std::collections::HashMap;
use std::ops::Range;

use super::events::{Events, Kind, Tick, Written};
use super::syntax::{self, Broken};
use super::{MOST_DEEP, MOST_TOLD, MOST_TWICE, too_many};
use crate::finding::{Code, Draft, Findings, Place, Reported, clean, quoted};
use crate::parsed::blank;
use crate::source::{Source, is_unseen};

/// The keys of the top mapping of a source that may pass.
pub(super) fn top_keys(source: &Source) -> Result<Vec<String>, Reported> {
    let mut walk = Walk::of(source);
    for tick in Events::of(source.text()) {
        let flow = match tick {
            Ok(tick) => walk.step(tick),
            Err(broken) => {
                walk.broken(&broken);
                Flow::Stop
            }
        };
        if walk.findings.len() >= MOST_TOLD || walk.twice >= MOST_TWICE {
            let faults = walk.findings.len().max(walk.twice);
            walk.findings.push(too_many(source, walk.last, faults));
            break;
        }
        if matches!(flow, Flow::Stop) {
            break;
        }
    }
    while let Some(frame) = walk.frames.pop() {
        walk.close(frame);
    }
    if !walk.begun && walk.findings.is_empty() {
        walk.tell(
            Code::EmptyFile,
            0..0,
            "there is nothing in this file",
            "write the rules, or take the file away",
        );
    }
    walk.findings.finish().map(|()| walk.top)
}

/// Whether the walk goes on.
enum Flow {
    On,
    Stop,
}

/// What is open around the present event.
enum Frame<'s> {
    List,
    Mapping {
        keys: HashMap<Cow<'s, str>, Range<usize>>,
        /// Keys that were there already: the first few, and how many there are.
        again: (Vec<Again<'s>>, usize),
        turn: Turn,
    },
}

/// A key that is there already: where it stands again, and where it was first.
struct Again<'s> {
    key: Cow<'s, str>,
    span: Range<usize>,
    first: Range<usize>,
}

/// What a mapping waits for.
#[derive(Clone)]
enum Turn {
    Key,
    /// The value of the key written at this span.
    Value(Range<usize>),
}

/// What a value stands as.
enum Role {
    Top,
    Item,
    Key,
    Value(Range<usize>),
}

struct Walk<'s> {
    source: &'s Source,
    findings: Findings,
    frames: Vec<Frame<'s>>,
    /// The opening brackets of what is open; blocks have none.
    brackets: Vec<Option<Range<usize>>>,
    top: Vec<String>,
    /// Whether the document has begun.
    begun: bool,
    /// Where the present event is.
    last: usize,
    /// How many keys stand twice.
    twice: usize,
}

impl<'s> Walk<'s> {
    fn of(source: &'s Source) -> Self {
        let (findings, frames, brackets) = (Findings::new(), Vec::new(), Vec::new());
        Self { source, findings, frames, brackets, top: Vec::new(), begun: false, last: 0, twice: 0 }
    }

    fn step(&mut self, tick: Tick<'s>) -> Flow {
        self.last = tick.span.start;
        if let Some(tag) = tick.tag {
            self.tell(Code::ForbiddenYaml, tag, "a tag: nothing here starts with `!`", syntax::QUOTE_IT);
        }
        match tick.kind {
            Kind::Document if self.begun => {
                let help = "put each document in a file of its own";
                self.tell(Code::TwoDocuments, tick.span, "a second document begins here", help);
                return Flow::Stop;
            }
            Kind::Document => self.begun = true,
            Kind::Anchor => {
                let title = format!("a name set with `&`: {}", self.written(&tick.span));
                self.tell(Code::ForbiddenYaml, tick.span, &title, syntax::WRITE_OUT);
            }
            Kind::Alias => self.alias(tick.span),
            Kind::Scalar { text, written } => self.scalar(text, written, tick.span),
            Kind::List { block } => return self.open(Frame::List, block, tick.span),
            Kind::Mapping { block } => {
                let frame = Frame::Mapping { keys: HashMap::new(), again: (Vec::new(), 0), turn: Turn::Key };
                return self.open(frame, block, tick.span);
            }
            Kind::Close => {
                if let Some(frame) = self.frames.pop() {
                    self.close(frame);
                }
                self.brackets.pop();
            }
        }
        Flow::On
    }

    fn close(&mut self, frame: Frame<'s>) {
        if let Frame::Mapping { again, .. } = frame {
            self.tell_twice(&again.0, again.1);
        }
    }

    /// What the value that begins now stands as; the mapping around it then waits for the next.
    fn role(&mut self, span: &Range<usize>) -> Role {
        match self.frames.last_mut() {
            None => Role::Top,
            Some(Frame::List) => Role::Item,
            Some(Frame::Mapping { turn, .. }) => match std::mem::replace(turn, Turn::Key) {
                Turn::Key => {
                    *turn = Turn::Value(span.clone());
                    Role::Key
                }
                Turn::Value(key) => Role::Value(key),
            },
        }
    }

    fn open(&mut self, frame: Frame<'s>, block: bool, span: Range<usize>) -> Flow {
        if self.frames.len() >= MOST_DEEP {
            self.tell(Code::TooDeep, first_character(span), &syntax::too_deep(), syntax::SPLIT_UP);
            return Flow::Stop;
        }
        self.brackets.push((!block).then(|| first_character(span.clone())));
        match (self.role(&span), &frame) {
            (Role::Top, Frame::List) => self.tell_top("a list", span),
            (Role::Key, Frame::List) => self.odd_key(span, block, "a list"),
            (Role::Key, Frame::Mapping { .. }) => self.odd_key(span, block, "keys with values"),
            _ => {}
        }
        self.frames.push(frame);
        Flow::On
    }

    /// A bracket left open is seldom noticed before some later line, so it is shown too.
    fn broken(&mut self, broken: &Broken) {
        let place = |span: &Range<usize>| Place::new(self.source.clone(), span.clone());
        let draft = Draft::at(broken.code, place(&broken.span), &broken.title).help(&*broken.help);
        let draft = match self.brackets.last() {
            Some(Some(bracket)) if *bracket != broken.span => {
                draft.also_at(place(bracket), "this bracket is still open")
            }
            _ => draft,
        };
        self.findings.push(draft);
    }

    fn alias(&mut self, span: Range<usize>) {
        self.role(&span);
        let title = format!("another value's name in place of a value: {}", self.written(&span));
        self.tell(Code::ForbiddenYaml, span, &title, syntax::WRITE_OUT);
    }

    fn scalar(&mut self, text: Cow<'s, str>, written: Written, span: Range<usize>) {
        let nothing = written != Written::Quoted && text.trim().is_empty();
        if let Some(unseen) = text.chars().find(|&c| is_unseen(c)) {
            let title = format!("a character that cannot be seen, U+{:04X}", u32::from(unseen));
            self.tell(Code::NotText, span.clone(), &title, "take the escape out");
        }
        match self.role(&span) {
            Role::Top if nothing => {
                self.tell(Code::EmptyFile, span, "there is nothing in this document", "write the rules");
            }
            Role::Top => self.tell_top("a single value", span),
            Role::Key => self.key(text, written, span),
            Role::Value(key) if nothing => {
                if let Some(number) = self.number_in_two(&key) {
                    let text = self.written(&number);
                    let title = format!("{text} has a comma, which begins a new key between braces");
                    let help = format!("write a decimal point: {}", text.replacen(',', ".", 1));
                    self.tell(Code::BadValue, number, &title, &help);
                    return;
                }
                let title = format!("expected a value after {}, found nothing", self.written(&key));
                if let Some((name, value)) = self.run_together(&key) {
                    let help = format!("put a blank behind the colon: `{name}: {value}`");
                    self.tell(Code::EmptyValue, key, &title, &help);
                    return;
                }
                if let Some(text) = self.text_in_two(&key) {
                    let title = format!(
                        "the comma before {} ends the text: between braces a key follows it",
                        self.written(&key)
                    );
                    let help = format!("put the whole text in quotes: `\"{}\"`", clean(&text));
                    self.tell(Code::EmptyValue, key, &title, &help);
                    return;
                }
                let word = self.source.text().get(key.clone()).unwrap_or_default().trim_matches(['"', '\'']);
                if let Some(help) = compared(word) {
                    self.tell(
                        Code::EmptyValue,
                        key,
                        "a sign that compares: a word stands in its place here",
                        &help,
                    );
                    return;
                }
                let help = blank::mend(word, self.frames.len() == 1);
                self.tell(Code::EmptyValue, key, &title, &help);
            }
            Role::Item if nothing => {
                let dash = self.source.text().get(..span.start).and_then(|before| before.rfind('-'));
                let at = dash.unwrap_or(span.start);
                let help = "write the item, or take the dash out";
                self.tell(Code::EmptyValue, at..at + 1, "expected an item, found nothing", help);
            }
            Role::Value(_) | Role::Item => {}
        }
    }

    /// The two sides of a colon without a blank behind it, as in `{go:hours}`, which makes one key of both.
    fn run_together(&self, key: &Range<usize>) -> Option<(String, String)> {
        let (name, value) = self.source.text().get(key.clone())?.split_once(':')?;
        let plain = |text: &str| !text.is_empty() && !text.contains(['"', '\'', '/']);
        (plain(name) && plain(value)).then(|| (clean(name), clean(value)))
    }

    /// The whole of a text whose comma made a key of its rest, as in `{warning: Keep clear, hands out.}`: up to the
    /// brace, or to the comma before the next key.
    fn text_in_two(&self, key: &Range<usize>) -> Option<String> {
        let text = self.source.text();
        let word = text.get(key.clone())?;
        let of_a_text = word.trim().contains(' ') || word.ends_with(['.', '!', '?']);
        if !of_a_text || word.contains(['"', '\'', ':']) || blank::like(word).is_some() {
            return None;
        }
        let bracket = self.brackets.last()?.as_ref()?;
        let before = text.get(bracket.end..key.start)?.trim_end().strip_suffix(',')?;
        let start = bracket.end + before.rfind(": ")? + 2;
        let rest = text.get(key.end..)?.split(['}', '\n']).next()?;
        let rest = rest.find(": ").map_or(rest, |colon| {
            rest.get(..colon).and_then(|to| Some(to.rsplit_once(',')?.0)).unwrap_or_default()
        });
        let whole = text.get(start..key.end + rest.len())?.trim();
        (!whole.contains(['"', '\'', '\n'])).then(|| whole.to_owned())
    }

    /// The whole of a number whose decimal comma made a key of its decimals, as in `{below: 0,5 V}`.
    fn number_in_two(&self, key: &Range<usize>) -> Option<Range<usize>> {
        let text = self.source.text();
        let (before, decimals) = (text.get(..key.start)?, text.get(key.clone())?);
        let whole = before.strip_suffix(',')?;
        let digits = |text: &str| text.starts_with(|first: char| first.is_ascii_digit());
        let start = whole.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let open = self.brackets.last().is_some_and(Option::is_some);
        (open && start < whole.len() && digits(decimals)).then_some(start..key.end)
    }

    fn tell_top(&mut self, found: &str, span: Range<usize>) {
        let title = format!("expected keys with values at the top of the file, found {found}");
        let help = "begin with a key and a colon at the start of a line";
        self.tell(Code::WrongType, first_character(span), &title, help);
    }

    fn tell(&mut self, code: Code, span: Range<usize>, title: &str, help: &str) {
        let place = Place::new(self.source.clone(), span);
        self.findings.push(Draft::at(code, place, title).help(help));
    }

    fn written(&self, span: &Range<usize>) -> String {
        quoted(self.source.text().get(span.clone()).unwrap_or_default())
    }
}

/// How a value behind a sign that compares is written, as in `{< 0.5 V}`.
fn compared(key: &str) -> Option<String> {
    let value = key.trim_start_matches(['<', '>', '=', '≤', '≥']);
    let sign = key.get(..key.len() - value.len()).filter(|sign| !sign.is_empty() && !value.is_empty())?;
    let value = clean(value.trim());
    let words = match (sign.starts_with(['<', '≤']), sign.contains(['=', '≤', '≥'])) {
        (true, false) => format!("`below: {value}`"),
        (true, true) => format!("`at most: {value}`, or in a band `up to: {value}`"),
        (false, _) => format!("`at least: {value}`; a band has an upper end, never a lower one"),
    };
    Some(format!("write {words}"))
}

fn first_character(span: Range<usize>) -> Range<usize> {
    span.start..span.start + 1
}
