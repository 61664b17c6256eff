//! Why data does not have the shape that it should, and where.

use std::fmt;

use serde::de::{Error, Expected, Unexpected};

use crate::finding::{Code, near};
use crate::places::join;

/// Why and where a type could not be read.
#[derive(Debug)]
pub(in crate::gate) struct Fault {
    /// The keys and indices that lead to it, the innermost first.
    up: Vec<String>,
    /// Whether it is the key that is faulty, not what it stands for.
    pub(in crate::gate) on_key: bool,
    pub(in crate::gate) what: What,
}

/// Why a type could not be read.
#[derive(Debug)]
pub(in crate::gate) enum What {
    /// A key that has to be there.
    Missing(&'static str),
    /// A key that nothing goes by, and those that something does.
    UnknownKey { key: String, known: &'static [&'static str] },
    /// A word that is none of a few.
    UnknownWord { word: String, known: &'static [&'static str] },
    /// Something else than is expected, in the words of the library.
    Mismatch { code: Code, found: String, expected: String },
    /// What a type of ours has to say.
    Own(String),
    /// What stands in for a fault does not do: the fault has been told of.
    StandIn,
}

impl Fault {
    /// A fault whose place is still to be told.
    pub(super) const fn new(what: What) -> Self {
        Self { up: Vec::new(), on_key: false, what }
    }

    /// The same fault, seen from the list or mapping around.
    pub(super) fn below(mut self, step: impl Into<String>) -> Self {
        self.up.push(step.into());
        self
    }

    /// The fault of a key, seen from its mapping.
    pub(super) fn of_key(mut self, key: &str) -> Self {
        self.on_key = true;
        self.below(key)
    }

    /// Whether it comes of a stand-in, not of what the author wrote.
    pub(super) const fn is_of_a_stand_in(&self) -> bool {
        matches!(self.what, What::StandIn)
    }

    /// The keys and indices that lead to it, from the top.
    pub(super) fn path(&self) -> impl Iterator<Item = &str> {
        self.up.iter().rev().map(String::as_str)
    }

    /// The list of lines that a key stands among which belongs beside it: a `cannot` under `answers`.
    pub(in crate::gate) fn belongs_beside(&self) -> Option<&str> {
        let What::UnknownKey { key, .. } = &self.what else { return None };
        let list = self.up.get(2).map(String::as_str)?;
        let beside = ["cannot", "not known", "too close"].contains(&key.as_str());
        (beside && matches!(list, "answers" | "bands")).then_some(list)
    }

    /// What it is about: its key, or where it is an item of a list, the list's.
    pub(in crate::gate) fn key(&self) -> Option<&str> {
        self.up.iter().map(String::as_str).find(|step| step.parse::<usize>().is_err())
    }

    /// The key at the top of the file that it is below.
    pub(in crate::gate) fn top(&self) -> Option<&str> {
        self.up.last().map(String::as_str)
    }

    /// Whether it is about an item of a list.
    pub(in crate::gate) fn is_of_an_item(&self) -> bool {
        self.up.first().is_some_and(|step| step.parse::<usize>().is_ok())
    }

    /// The key around the one that it is about.
    pub(in crate::gate) fn key_around(&self) -> Option<&str> {
        self.up.get(1).map(String::as_str)
    }

    /// The RFC 6901 pointer of the entry that it is in.
    pub(in crate::gate) fn pointer(&self) -> String {
        self.path().fold(String::new(), |pointer, step| join(&pointer, step))
    }

    /// The pointer of what is not as it should be; a missing key's as if it stood there.
    pub(super) fn about(&self) -> String {
        match self.what {
            What::Missing(key) => join(&self.pointer(), key),
            _ => self.pointer(),
        }
    }
}

impl What {
    /// The key that an unknown one most probably stands for.
    pub(in crate::gate) fn meant(&self) -> Option<&'static str> {
        match self {
            Self::UnknownKey { key, known } => near(key, known.iter().copied()).or_else(|| begun(key, known)),
            _ => None,
        }
    }
}

/// Letters of a key from which on it may be the beginning of another.
const FEWEST_LETTERS: usize = 3;

/// The one key that begins with an unknown one: `who` of `whose`.
fn begun(key: &str, known: &[&'static str]) -> Option<&'static str> {
    let is_word = key.chars().count() >= FEWEST_LETTERS;
    let mut with = known.iter().filter(|known| is_word && known.starts_with(key) && !known.contains(' '));
    with.next().copied().filter(|_| with.next().is_none())
}

impl std::error::Error for Fault {}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} at {}", self.what, self.pointer())
    }
}

fn mismatch(code: Code, found: &impl ToString, expected: &dyn Expected) -> Fault {
    Fault::new(What::Mismatch { code, found: found.to_string(), expected: expected.to_string() })
}

impl Error for Fault {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::new(What::Own(message.to_string()))
    }

    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        mismatch(Code::WrongType, &found, expected)
    }

    fn invalid_value(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        mismatch(Code::BadValue, &found, expected)
    }

    fn invalid_length(found: usize, expected: &dyn Expected) -> Self {
        mismatch(Code::BadValue, &found, expected)
    }

    fn unknown_variant(word: &str, known: &'static [&'static str]) -> Self {
        Self::new(What::UnknownWord { word: word.to_owned(), known })
    }

    fn unknown_field(key: &str, known: &'static [&'static str]) -> Self {
        Self::new(What::UnknownKey { key: key.to_owned(), known })
    }

    fn missing_field(key: &'static str) -> Self {
        Self::new(What::Missing(key))
    }
}
