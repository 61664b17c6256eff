//! The data library's messages in a trainer's words, each with its code and its place.

use super::Gated;
use crate::finding::{Code, Draft, On, clean, listed, near, quoted};

/// A finding from a message, at an entry whose last key is given where it has one.
pub(super) fn draft(gated: &Gated, pointer: &str, last: Option<&str>, message: &str) -> Draft {
    if let Some(key) = ticked(message, "missing field ") {
        let title = format!("missing key {}", quoted(key));
        let help = format!("add a line that starts with `{}:`", clean(key));
        return Draft::new(Code::MissingKey, gated, pointer, On::Key, title).help(help);
    }
    if let Some(key) = ticked(message, "duplicate field ") {
        let title = format!("the key {} stands here twice under two spellings", quoted(key));
        return Draft::new(Code::DuplicateKey, gated, pointer, On::Key, title).help("keep one of the two");
    }
    if let Some((key, known)) = unknown(message, "unknown field ") {
        let title = format!("unknown key {}", quoted(key));
        return Draft::new(Code::UnknownKey, gated, pointer, On::Key, title).help(meant(key, &known));
    }
    if let Some((word, known)) = unknown(message, "unknown variant ") {
        let title = format!("unknown word {}", quoted(word));
        return Draft::new(Code::BadValue, gated, pointer, On::Value, title).help(meant(word, &known));
    }
    for (start, code) in [
        ("invalid type: ", Code::WrongType),
        ("invalid value: ", Code::BadValue),
        ("invalid length ", Code::BadValue),
    ] {
        if let Some((found, expected)) =
            message.strip_prefix(start).and_then(|rest| rest.rsplit_once(", expected "))
        {
            return mismatch(gated, pointer, code, found, expected);
        }
    }
    own(gated, pointer, last, message)
}

/// A mapping, to somebody who never heard the word.
const KEYS: &str = "keys with values";

const LIST: &str = "a list";

/// A message of a type of ours: its own text, and behind a semicolon how to mend it. One that names the entry's key is about the key.
fn own(gated: &Gated, pointer: &str, last: Option<&str>, message: &str) -> Draft {
    let on = match last {
        Some(key) if message.contains(&quoted(key)) => On::Key,
        _ => On::Value,
    };
    match message.split_once("; ") {
        Some((title, help)) => Draft::new(Code::BadValue, gated, pointer, on, title).help(help),
        None => Draft::new(Code::BadValue, gated, pointer, on, message),
    }
}

fn mismatch(gated: &Gated, pointer: &str, code: Code, found: &str, expected: &str) -> Draft {
    let (found, expected) = (plain_found(found), plain_expected(expected));
    let title = format!("expected {expected}, found {found}");
    let draft = Draft::new(code, gated, pointer, On::Value, title);
    if expected == "text" && (found.starts_with("the number") || found.starts_with("the value")) {
        draft.help("put it in quotes")
    } else if expected == KEYS {
        draft.help("write each key with a colon and its value")
    } else if expected == LIST {
        draft.help("write it between `[` and `]` with commas, or as lines that start with a dash")
    } else {
        draft.help(format!("write {expected} here"))
    }
}

fn meant(word: &str, known: &[&str]) -> String {
    match near(word, known) {
        Some(meant) => format!("did you mean {}?", quoted(meant)),
        None => format!("expected {}", listed(known)),
    }
}

/// The word in backticks after a message's start.
fn ticked<'m>(message: &'m str, start: &str) -> Option<&'m str> {
    message.strip_prefix(start)?.strip_prefix('`')?.strip_suffix('`')
}

/// The unknown word and the known ones. The known ones are names of ours, the unknown one may
/// hold anything: so the message is taken apart from its end.
fn unknown<'m>(message: &'m str, start: &str) -> Option<(&'m str, Vec<&'m str>)> {
    let rest = message.strip_prefix(start)?.strip_prefix('`')?;
    let (word, known) = ["`, expected ", "`, there are no "]
        .iter()
        .filter_map(|middle| rest.rfind(middle).map(|at| (at, middle.len())))
        .max()
        .and_then(|(at, length)| Some((rest.get(..at)?, rest.get(at + length..)?)))?;
    Some((word, known.split('`').skip(1).step_by(2).collect()))
}

/// What was found, as one would say it.
fn plain_found(found: &str) -> String {
    let (kind, word) = found.split_once(['`', '"']).unwrap_or((found, ""));
    let word = word.strip_suffix(['`', '"']).unwrap_or(word);
    match kind.trim() {
        "boolean" => format!("the value {}", quoted(word)),
        "integer" | "floating point" => format!("the number {}", quoted(word)),
        "string" | "character" => format!("the text {}", quoted(word)),
        "unit value" | "null" | "Option value" => "nothing".to_owned(),
        "map" => KEYS.to_owned(),
        "sequence" => LIST.to_owned(),
        "unit variant" => "a single word".to_owned(),
        "newtype variant" | "tuple variant" | "struct variant" | "enum" => {
            "a word with something after it".to_owned()
        }
        count if count.parse::<usize>().is_ok() => format!("{count} of them"),
        other => other.to_owned(),
    }
}

/// What was expected, as one would say it. The names of our types tell a trainer nothing.
fn plain_expected(expected: &str) -> String {
    let plain = match expected {
        "a string" | "a borrowed string" | "str" => "text",
        "a character" | "char" => "one character",
        "a boolean" | "bool" => "`true` or `false`",
        "f32" | "f64" => "a number",
        "u8" | "u16" | "u32" | "u64" | "u128" | "usize" => "a whole number, zero or more",
        "i8" | "i16" | "i32" | "i64" | "i128" | "isize" => "a whole number",
        "a nonzero u8" | "a nonzero u16" | "a nonzero u32" | "a nonzero u64" | "a nonzero usize" => {
            "a whole number, one or more"
        }
        "a map" | "map" => KEYS,
        "a sequence" | "sequence" => LIST,
        "unit" | "null" => "nothing",
        "a Value::Tagged enum" | "unit variant" | "string or map" => "one word",
        "map with a single key" => "one key with its value",
        "newtype variant" | "tuple variant" | "struct variant" => "a word with something after it",
        "fewer elements in sequence" => "fewer items",
        other if other.starts_with("struct ") => KEYS,
        other if other.starts_with("enum ") || other.starts_with("variant ") => "one word",
        other if other.starts_with("tuple") || other.starts_with("a tuple") => return tuple(other),
        other => return other.to_owned(),
    };
    plain.to_owned()
}

fn tuple(expected: &str) -> String {
    let count = expected.split_whitespace().find(|word| word.parse::<usize>().is_ok());
    count.map_or_else(|| "a list".to_owned(), |count| format!("a list of {count}"))
}
