//! What is wrong with the shape of a document, in a trainer's words.

use super::Gated;
use super::read::{Fault, What};
use crate::finding::{Code, Draft, On, clean, did_you_mean, listed, quoted};
use crate::parsed::blank;
use crate::quantity::{Dimension, Quantity, Unit};

/// A finding from a fault, at its place.
pub(super) fn draft(gated: &Gated, fault: &Fault) -> Draft {
    let on = if fault.on_key { On::Key } else { On::Value };
    let draft = |code, on, title: String| Draft::new(code, gated, fault.pointer(), on, title);
    match &fault.what {
        What::Missing(key) => draft(Code::MissingKey, On::Key, format!("missing key {}", quoted(key)))
            .help(format!("add a line that starts with `{}:`", clean(key))),
        What::UnknownKey { key, .. } if let Some(list) = fault.belongs_beside() => {
            let title = format!("{} is no line of `{list}`", quoted(key));
            let help = format!("write it beside `{list}`, without a dash: `{}: {{go: STEP}}`", clean(key));
            draft(Code::UnknownKey, On::Key, title).help(help)
        }
        What::UnknownKey { key, known } => {
            draft(Code::UnknownKey, On::Key, format!("unknown key {}", quoted(key))).help(
                match fault.what.meant() {
                    Some(key) => format!("did you mean `{key}`?"),
                    None => meant(key, known),
                },
            )
        }
        What::UnknownWord { word, known } => {
            draft(Code::BadValue, on, format!("unknown word {}", quoted(word))).help(meant(word, known))
        }
        What::Mismatch { code, found, expected } => {
            let (found, expected) = (plain_found(found), plain_expected(expected));
            let draft = draft(*code, on, format!("expected {expected}, found {found}"));
            if let Some(line) = in_a_list(gated, fault, &found, &expected) {
                return draft.help(format!("it is no list: write {line}"));
            }
            if let Some(number) = with_a_comma(&found, &expected) {
                return draft.help(format!("write `{number}`"));
            }
            let like = match &*expected {
                KEYS => like(fault),
                LIST => like_a_list(fault),
                _ => None,
            };
            match (like, minutes(fault, &found)) {
                (Some(like), _) => draft.help(format!("write it like `{like}`")),
                (None, Some(minutes)) => draft.help(format!("write the number alone: `{minutes}`")),
                (None, None) => mismatch(draft, &found, &expected),
            }
        }
        // Behind a semicolon stands how to mend it.
        What::Own(message) => match message.split_once("; ") {
            Some((title, help)) => draft(Code::BadValue, on, title.to_owned()).help(help),
            None => draft(Code::BadValue, on, message.clone()),
        },
        What::StandIn => draft(Code::BadValue, on, "this does not have the shape it should".to_owned()),
    }
}

/// A mapping, to somebody who never heard the word.
const KEYS: &str = "keys with values";

const LIST: &str = "a list";

/// The number that is written with a comma.
fn with_a_comma(found: &str, expected: &str) -> Option<f64> {
    let text = found.strip_prefix("the text `")?.strip_suffix('`').filter(|_| expected.contains("number"))?;
    let (whole, part) = text.split_once(',')?;
    format!("{whole}.{part}").parse().ok()
}

/// The line with a value that stands between the brackets of a list; of several, each that it may be.
fn in_a_list(gated: &Gated, fault: &Fault, found: &str, expected: &str) -> Option<String> {
    let key = fault.key().filter(|_| found == LIST && expected == "text" && !fault.is_of_an_item())?;
    let place = gated.place(&fault.pointer(), On::Value);
    let text = place.source().text().get(place.span())?;
    let inside = text.strip_prefix('[')?.strip_suffix(']')?;
    let items: Vec<&str> = inside.split(',').map(str::trim).collect();
    let is_plain =
        |item: &&str| !item.is_empty() && !item.contains(['[', '{', '"', '\'', '`', '\n', ':', '#']);
    let lines = match items.as_slice() {
        _ if !items.iter().all(is_plain) => return None,
        [low, high] if key == "range" => vec![format!("`{key}: {low} to {high}`")],
        items if items.len() <= 4 => items.iter().map(|item| format!("`{}: {item}`", clean(key))).collect(),
        _ => return None,
    };
    Some(lines.join(" or "))
}

/// The number of minutes that stands with a unit where it stands alone.
fn minutes(fault: &Fault, found: &str) -> Option<f64> {
    let text =
        found.strip_prefix("the text `")?.strip_suffix('`').filter(|_| fault.key() == Some("minutes"))?;
    let minutes = Quantity::parse_as(text, Dimension::Time).ok()?.in_unit(Unit::parse("min")?)?.number();
    Some((minutes * 100.0).round() / 100.0)
}

/// How a value with keys of its own is written.
fn like(fault: &Fault) -> Option<String> {
    let key = fault.key()?;
    if matches!(fault.key_around(), Some("proof" | "when" | "until")) {
        return Some(format!("{}: {{is: CHOICE}}", clean(key)));
    }
    if fault.is_of_an_item() {
        return like_a_list(fault);
    }
    let like = blank::like(key).filter(|like| like.starts_with('{'))?;
    Some(format!("{key}: {like}"))
}

/// How a list of values with keys of their own is written.
fn like_a_list(fault: &Fault) -> Option<String> {
    let key = fault.key()?;
    let like = match (key, fault.top()) {
        ("waits", Some("deeds")) => "[{step: 1, minutes: 5}]",
        _ => blank::like(key).filter(|like| like.starts_with("[{"))?,
    };
    Some(format!("{key}: {like}"))
}

fn mismatch(draft: Draft, found: &str, expected: &str) -> Draft {
    if expected == "text" && (found.starts_with("the number") || found.starts_with("the value")) {
        draft.help("put it in quotes")
    } else if expected == "text" && found == KEYS {
        draft.help(
            "put the whole text in quotes: a colon with a blank behind it makes a key of what is before it",
        )
    } else if expected == KEYS {
        draft.help("write each key with a colon and its value")
    } else if expected == LIST {
        draft.help("write it between `[` and `]` with commas, or as lines that start with a dash")
    } else {
        draft.help(format!("write {expected} here"))
    }
}

fn meant(word: &str, known: &[&str]) -> String {
    did_you_mean(word, known.iter().copied()).unwrap_or_else(|| format!("expected {}", listed(known)))
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
