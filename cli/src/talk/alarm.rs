//! Words of danger in a typed line, whatever the line was typed for.

mod found;
mod signs;
mod slips;

use super::answer::plain;
use super::spoken;
use engine::rulebook::{ChoiceSet, Fact, Rulebook};
use found::{Found, found};
use signs::{SIGNS, SOME_DANGER};

/// What a line says of danger.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub(crate) struct Alarm {
    /// The dangers that its words can mean.
    pub(crate) dangers: ChoiceSet,
    /// Whether it says danger at all, be it known which or not.
    pub(crate) is_said: bool,
    /// Whether it says of a danger that it is not there.
    pub(crate) is_denied: bool,
}

/// What a line says of danger.
pub(crate) fn heard(book: &Rulebook, line: &str) -> Alarm {
    of_words(book, line, &heard_words(book, line))
}

/// The words of a line, those of danger put right that have a slip in them.
fn heard_words(book: &Rulebook, line: &str) -> Vec<String> {
    let mut words = words(line);
    slips::put_right(book, &mut words);
    words
}

fn of_words(book: &Rulebook, line: &str, words: &[String]) -> Alarm {
    let fact = book.fact(book.roles().danger.0);
    let mut alarm = Alarm::default();
    if let Some(named) = whole(book, fact, line) {
        alarm = Alarm { dangers: named, is_said: true, is_denied: false };
    }
    // A bare `stop` is called out, and not said of the blower.
    if !words.is_empty() && words.iter().all(|word| word == "stop" || word == ",") {
        alarm.is_said |= words.iter().any(|word| word == "stop");
    }
    for sign in SIGNS {
        for found in found(sign, words) {
            alarm.is_denied |= found == Found::Denied;
            if found == Found::Denied {
                continue;
            }
            alarm.is_said = true;
            if let Some(choice) = fact.choice(sign.danger).filter(|_| sign.danger != SOME_DANGER) {
                alarm.dangers = alarm.dangers.with(choice);
            }
        }
    }
    alarm
}

/// The line without the words of a fact that use words of danger themselves, such as a heat source `gas`.
pub(crate) fn beside(book: &Rulebook, fact: &Fact, line: &str) -> Alarm {
    let mut own = words(&format!("{} {}", plain(&fact.name), plain(&fact.id)));
    own.extend(
        fact.choices().iter().flat_map(|choice| words(&format!("{} {}", plain(&choice.id), choice.means))),
    );
    without(book, line, &own)
}

/// The line without these words: they are said of something else.
pub(crate) fn without<T: AsRef<str>>(book: &Rulebook, line: &str, own: &[T]) -> Alarm {
    let is_own = |word: &String| own.iter().any(|own| own.as_ref() == word);
    let rest: Vec<String> =
        heard_words(book, line).into_iter().filter(|word| word == "," || !is_own(word)).collect();
    of_words(book, &rest.join(" "), &rest)
}

/// A line that is the id of a danger and nothing else.
fn whole(book: &Rulebook, fact: &Fact, line: &str) -> Option<ChoiceSet> {
    let line = plain(line);
    let position = fact.choices().iter().position(|choice| plain(&choice.id) == line)?;
    Some(ChoiceSet::only(position)).filter(|set| !set.within(book.roles().danger.1))
}

/// Small words, and a comma for whatever parts them.
fn words(line: &str) -> Vec<String> {
    let line = spoken::small(line);
    let mut words: Vec<String> = Vec::new();
    for word in line.split_whitespace() {
        for part in word.split_inclusive([',', ';', ':', '.', '!', '?', '+', '/', '-', '_']) {
            let bare = part.trim_matches(|sign: char| !sign.is_alphanumeric());
            if !bare.is_empty() {
                push(&mut words, bare);
            }
            if part.ends_with([',', ';', ':', '.', '!', '?']) {
                words.push(",".to_owned());
            }
        }
    }
    words
}

/// One word, what is joined to it by an apostrophe apart: `it's` is `it is`. `Roll-out` is one word.
fn push(words: &mut Vec<String>, bare: &str) {
    if bare.starts_with("out") && words.last().is_some_and(|last| matches!(last.as_str(), "roll" | "rolled"))
    {
        words.pop();
        words.push(format!("roll{bare}"));
        return;
    }
    let joined = [("'s", "is"), ("'re", "are"), ("'m", "am"), ("'ve", "have")];
    match joined.iter().find_map(|(mark, word)| Some((bare.strip_suffix(mark)?, word))) {
        Some((first, second)) => words.extend([first.to_owned(), (*second).to_owned()]),
        None => words.push(bare.to_owned()),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests;
