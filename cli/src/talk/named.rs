//! Facts named in plain words, with what they are: `filter dirty`, `line voltage at the board 118`.

use super::answer::{self, Numbers, plain, short, word};
use super::desk::Desk;
use super::units::Units;
use engine::finding::near;
use engine::rulebook::{Answer, Fact, FactId, PowerNeed, Rulebook};

/// Words that say nothing about which fact is meant: `over 500` is a reading and names none.
const FILLERS: [&str; 18] = [
    "the", "is", "are", "was", "a", "an", "of", "at", "it", "its", "for", "to", "in", "reads", "over",
    "under", "above", "below",
];
/// A name shorter than this is typed whole or not at all.
const SHORTEST: usize = 3;

/// Why a line tells no fact.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum NotTold {
    /// No fact is called so.
    NoName(String),
    /// The fact is named, and nothing is said of it.
    NoValue(String),
    /// The fact is named by its whole name, and does not take such a value.
    BadValue(String),
    /// Some words of a fact's name, and what that fact does not take.
    LooseBadValue(String),
    /// More than one fact could be meant, and takes such a value.
    Several(String),
    /// Words of several names, and what none of them takes.
    LooseSeveral(String),
}

impl NotTold {
    /// What to tell the person.
    pub(crate) fn why(self) -> String {
        match self {
            Self::NoName(why)
            | Self::NoValue(why)
            | Self::BadValue(why)
            | Self::LooseBadValue(why)
            | Self::Several(why)
            | Self::LooseSeveral(why) => why,
        }
    }

    /// What to tell a person who may not have meant to tell a fact at all.
    pub(crate) fn why_if_meant(self) -> Option<String> {
        match self {
            Self::BadValue(why) | Self::Several(why) => Some(why),
            Self::NoName(_) | Self::NoValue(_) | Self::LooseBadValue(_) | Self::LooseSeveral(_) => None,
        }
    }
}

/// How a value behind a name is read: [`answer::parse`], or [`answer::parse_described`].
type Read = fn(&Fact, &str, Numbers, Units) -> Result<Answer, String>;

/// The fact that a line names and what it says of it. Where names alone could mean several facts, the value
/// decides, and then what was told before.
pub(crate) fn told(desk: Desk<'_>, text: &str) -> Result<(FactId, Answer), NotTold> {
    told_by(desk, text, answer::parse)
}

/// The same behind `tell` and `correct`: a value may also be told by the words of what a choice means.
pub(crate) fn told_on_purpose(desk: Desk<'_>, text: &str) -> Result<(FactId, Answer), NotTold> {
    told(desk, text).or_else(|why| told_by(desk, text, answer::parse_described).map_err(|_| why))
}

fn told_by(desk: Desk<'_>, text: &str, read: Read) -> Result<(FactId, Answer), NotTold> {
    let book = desk.book();
    let splits = splits(text);
    for &(name, value) in &splits {
        if let Some(id) = book.fact_ids().find(|id| is_called(book.fact(*id), name)) {
            return of_fact(desk, id, value, read);
        }
    }
    let mut failed = None;
    for &(name, value) in &splits {
        let named: Vec<FactId> = book.fact_ids().filter(|id| may_be_called(book.fact(*id), name)).collect();
        match among(desk, &named, value, read) {
            Ok(found) => return Ok(found),
            Err(Some(why)) => failed = failed.or(Some(why)),
            Err(None) => {}
        }
    }
    Err(failed.unwrap_or_else(|| no_name(book, text, &splits)))
}

fn among(
    desk: Desk<'_>,
    named: &[FactId],
    value: &str,
    read: Read,
) -> Result<(FactId, Answer), Option<NotTold>> {
    let book = desk.book();
    if let [id] = *named {
        return of_fact(desk, id, value, read).map_err(|why| match why {
            NotTold::BadValue(why) => Some(NotTold::LooseBadValue(why)),
            other => Some(other),
        });
    }
    let fitting: Vec<(FactId, Answer)> = named
        .iter()
        .filter_map(|id| of_fact(desk, *id, value, read).ok().map(|(_, answer)| (*id, answer)))
        .collect();
    let before = only(&fitting, |id| desk.call.ledger().newest(id).is_some());
    // What is seen only behind the panel or on a running unit is hardly told unasked.
    let at_hand = only(&fitting, |id| book.fact(id).power == PowerNeed::Any);
    match (&fitting[..], before.or(at_hand)) {
        ([one], _) | (_, Some(one)) => Ok(*one),
        ([], _) if named.is_empty() => Err(None),
        ([], _) => Err(Some(NotTold::LooseSeveral(several(book, named.iter().copied())))),
        _ => Err(Some(NotTold::Several(several(book, fitting.iter().map(|(id, _)| *id))))),
    }
}

/// The one of several that is so, where no other is.
fn only(fitting: &[(FactId, Answer)], is_so: impl Fn(FactId) -> bool) -> Option<&(FactId, Answer)> {
    let mut so = fitting.iter().filter(|(id, _)| is_so(*id));
    so.next().filter(|_| so.next().is_none())
}

/// A fact by its number, and what is said of it on purpose.
pub(crate) fn numbered(desk: Desk<'_>, id: FactId, value: &str) -> Result<(FactId, Answer), NotTold> {
    of_fact(desk, id, value, answer::parse_described)
}

/// A fact and what is said of it.
fn of_fact(desk: Desk<'_>, id: FactId, value: &str, read: Read) -> Result<(FactId, Answer), NotTold> {
    let fact = desk.book().fact(id);
    if value.is_empty() {
        return Err(NotTold::NoValue(no_value(fact)));
    }
    read(fact, value, Numbers::NotShown, desk.units)
        .map(|answer| (id, answer))
        .map_err(|why| NotTold::BadValue(format!("{}: {why}", fact.name)))
}

fn no_value(fact: &Fact) -> String {
    let choices: Vec<String> = fact.choices().iter().map(|choice| word(&choice.id)).collect();
    if choices.is_empty() {
        format!("{}: say what it reads behind the name", fact.name)
    } else {
        format!("{}: say behind the name which it is, {}", fact.name, choices.join(", "))
    }
}

fn several(book: &Rulebook, ids: impl Iterator<Item = FactId>) -> String {
    let names: Vec<&str> = ids.map(|id| book.fact(id).name.as_str()).collect();
    let shown = names.iter().take(6).copied().collect::<Vec<_>>().join("; ");
    let more = if names.len() > 6 { "; and others" } else { "" };
    format!("that could be several facts, type more of the name: {shown}{more}")
}

fn no_name(book: &Rulebook, text: &str, splits: &[(&str, &str)]) -> NotTold {
    let names = book.facts().iter().flat_map(|fact| [fact.name.as_str(), fact.id.as_str()]);
    let names: Vec<&str> = names.collect();
    let near = splits.iter().find_map(|(name, _)| near(name, names.iter().copied()));
    let near = near.map_or(String::new(), |name| format!(", did you mean `{}`?", word(name)));
    NotTold::NoName(format!("`{}` names no fact{near}", short(text)))
}

/// Every way to take a line for a name and a value, the longest name first.
fn splits(text: &str) -> Vec<(&str, &str)> {
    let text = text.trim();
    let blanks = text.match_indices(char::is_whitespace).map(|(at, _)| at);
    let mut ends: Vec<usize> = blanks.chain([text.len()]).filter(|end| *end > 0).collect();
    ends.reverse();
    ends.into_iter()
        .map(|end| {
            let (name, value) = text.split_at(end);
            let value = value.trim().trim_start_matches(['=', ':']).trim_start();
            (name.trim().trim_end_matches([':', '=', ',']), value)
        })
        .filter(|(name, _)| !name.is_empty())
        .collect()
}

fn is_called(fact: &Fact, name: &str) -> bool {
    let name = plain(name);
    name == plain(&fact.name) || name == plain(&fact.id)
}

/// Whether every telling word of a name starts a word of the fact's own name or id.
fn may_be_called(fact: &Fact, name: &str) -> bool {
    let name = plain(name).replace("'s", "");
    let telling: Vec<&str> = name.split(' ').filter(|word| !FILLERS.contains(word)).collect();
    let own = format!("{} {}", plain(&fact.name), plain(&fact.id));
    !telling.is_empty()
        && telling
            .iter()
            .all(|word| word.len() >= SHORTEST && own.split(' ').any(|own| own.starts_with(word)))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{Desk, NotTold, told, told_on_purpose};
    use crate::rules;
    use crate::talk::answer::shown_back;
    use crate::talk::units::Units;
    use engine::call::{Call, Event, Purpose};

    fn call() -> Call {
        Call::new(rules::load(None).unwrap())
    }

    fn desk(call: &Call) -> Desk<'_> {
        Desk { call, units: Units::AsInRules, listed: &[], kept: "", unrecorded: None }
    }

    fn heard(call: &Call, text: &str) -> Result<String, NotTold> {
        told(desk(call), text)
            .map(|(fact, answer)| shown_back(call.book().fact(fact), &answer, Units::AsInRules))
    }

    #[test]
    fn a_fact_is_named_by_id_by_name_or_by_words_of_it() {
        let call = call();
        for text in [
            "breaker_position tripped",
            "breaker position tripped",
            "Breaker position: tripped",
            "the breaker is tripped",
            "breaker tri",
        ] {
            assert_eq!(heard(&call, text).as_deref(), Ok("breaker position: tripped"), "{text}");
        }
        assert_eq!(
            heard(&call, "line voltage at the motor running 118").as_deref(),
            Ok("118 V, line voltage at the motor, running")
        );
        assert_eq!(heard(&call, "breaker position can't").as_deref(), Ok("breaker position: cannot be told"));
    }

    #[test]
    fn the_value_tells_which_of_several_is_meant() {
        assert_eq!(heard(&call(), "filter dirty").as_deref(), Ok("filter condition: dirty"));
    }

    #[test]
    fn what_was_told_before_tells_which_of_several_is_corrected() {
        let mut call = call();
        assert!(matches!(heard(&call, "line voltage 118"), Err(NotTold::Several(_))));
        let (fact, answer) = told(desk(&call), "line voltage at the motor 120").unwrap();
        let purpose = Purpose::Unasked;
        call.apply(Event::Told { fact, answer, purpose });
        assert_eq!(heard(&call, "line voltage 118").as_deref(), Ok("118 V, line voltage at the motor"));
    }

    #[test]
    fn on_purpose_a_value_is_told_by_what_it_means_where_one_fact_fits() {
        let call = call();
        assert!(told(desk(&call), "panel off").is_err());
        let (fact, answer) = told_on_purpose(desk(&call), "panel off").unwrap();
        let back = shown_back(call.book().fact(fact), &answer, Units::AsInRules);
        assert_eq!(back, "access panel switch: not made");
    }

    #[test]
    fn near_names_are_offered_and_a_missing_value_is_asked_for() {
        let call = call();
        let why = |text| heard(&call, text).unwrap_err().why();
        assert_eq!(
            why("braeker positon on"),
            "`braeker positon on` names no fact, did you mean `breaker position`?"
        );
        assert_eq!(
            why("breaker position"),
            "breaker position: say behind the name which it is, on, off, tripped"
        );
        assert!(why("breaker position 118 V").contains("none of the choices"));
        assert_eq!(why(""), "`` names no fact");
    }
}
