//! Words of danger in a typed line, whatever the line was typed for.

use super::answer::plain;
use super::spoken;
use engine::rulebook::{ChoiceSet, Fact, Rulebook};

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

/// Single words, and the danger that each can mean.
const SIGNS: [(&str, &[&str]); 5] = [
    (
        "smoke_or_burning",
        &[
            "smoke",
            "smokes",
            "smoking",
            "smoky",
            "fire",
            "burning",
            "burns",
            "ablaze",
            "spark",
            "sparks",
            "sparking",
            "arc",
            "arcs",
            "arced",
            "arcing",
            "fizzing",
            "sizzling",
            "popping",
            "bang",
            "melting",
            "melts",
            "smouldering",
            "smoldering",
            "glowing",
            "glows",
        ],
    ),
    (
        "shock_felt",
        &[
            "shock",
            "shocks",
            "shocked",
            "zap",
            "zaps",
            "zapped",
            "tingle",
            "tingles",
            "tingling",
            "tingly",
            "electrocuted",
            "numb",
        ],
    ),
    (
        "co_alarm",
        &[
            "alarm",
            "alarms",
            "detector",
            "beeping",
            "monoxide",
            "dizzy",
            "dizziness",
            "headache",
            "headaches",
            "nausea",
            "nauseous",
        ],
    ),
    ("flame_rollout", &["flame", "flames", "flame's"]),
    ("water_on_electrics", &["flood", "floods", "flooded", "flooding", "soaked", "drenched"]),
];
/// Words of danger that do not say which.
const UNNAMED: [&str; 11] = [
    "emergency",
    "danger",
    "unconscious",
    "collapsed",
    "fainted",
    "hurt",
    "hurts",
    "smell",
    "smells",
    "smelling",
    "stinks",
];
/// Words that name a smell, beside one: it burns, rather than that it is gas.
const BURNT: [&str; 5] = ["burnt", "burned", "scorched", "hot", "singed"];
/// Words that make another thing of the word before them.
const PARTS: [&str; 17] = [
    "furnace", "furnaces", "valve", "heat", "heater", "line", "unit", "fired", "pipe", "bill", "company",
    "sensor", "rod", "sense", "sensing", "wall", "up",
];
/// What water does that is a danger.
const WATER: [&str; 12] = [
    "is",
    "on",
    "in",
    "inside",
    "over",
    "under",
    "everywhere",
    "dripping",
    "running",
    "leaking",
    "all",
    "standing",
];
const DENIALS: [&str; 14] = [
    "no", "not", "never", "without", "nobody", "none", "can't", "cannot", "don't", "doesn't", "isn't",
    "didn't", "aren't", "wasn't",
];
/// How many words a denial reaches ahead.
const REACH: usize = 2;

/// What a line says of danger.
pub(crate) fn heard(book: &Rulebook, line: &str) -> Alarm {
    let fact = book.fact(book.roles().danger.0);
    let words = words(line);
    let mut alarm = Alarm::default();
    if let Some(named) = whole(book, fact, line) {
        alarm = Alarm { dangers: named, is_said: true, is_denied: false };
    }
    for at in 0..words.len() {
        let Some(danger) = sign(&words, at) else { continue };
        if is_denied(&words, at) {
            alarm.is_denied = true;
            continue;
        }
        alarm.is_said = true;
        if let Some(choice) = fact.choice(danger) {
            alarm.dangers = alarm.dangers.with(choice);
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
    let rest: Vec<String> =
        words(line).into_iter().filter(|word| word == "," || !own.contains(word)).collect();
    heard(book, &rest.join(" "))
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
    let mut words = Vec::new();
    for word in line.split_whitespace() {
        for part in word.split_inclusive([',', ';', ':', '.', '!', '?', '+', '/', '-', '_']) {
            let bare = part.trim_matches(|sign: char| !sign.is_alphanumeric());
            if !bare.is_empty() {
                words.push(bare.to_owned());
            }
            if part.ends_with([',', ';', ':', '.', '!', '?']) {
                words.push(",".to_owned());
            }
        }
    }
    words
}

/// Stands for a danger of which it is not said which it is.
const SOME_DANGER: &str = "";

/// The danger that this word can mean, by its id.
fn sign(words: &[String], at: usize) -> Option<&'static str> {
    let word = words.get(at)?.as_str();
    let next = words.get(at + 1).map_or("", String::as_str);
    let before = at.checked_sub(1).and_then(|at| words.get(at)).map_or("", String::as_str);
    if PARTS.contains(&next) {
        return None;
    }
    let egg = matches!(word, "egg" | "eggs") && before == "rotten";
    let water =
        word == "water" && WATER.contains(&next) && !matches!(before, "inch" | "inches" | "of" | "in");
    let for_somebody = word == "help" && matches!(next, "me" | "us" | "him" | "her" | "them");
    let alone = word == "stop" && words.iter().all(|word| word == "stop" || word == ",");
    let smell = words.iter().any(|word| word.starts_with("smell") || word == "stinks");
    let bitten = word == "bit" && matches!(next, "me" | "him" | "her" | "us");
    let out = word == "passed" && next == "out";
    if word == "gas" || egg {
        return Some("gas_smell");
    }
    if bitten {
        return Some("shock_felt");
    }
    if smell && BURNT.contains(&word) {
        return Some("smoke_or_burning");
    }
    if water {
        return Some("water_on_electrics");
    }
    if alone || for_somebody || out || UNNAMED.contains(&word) {
        return Some(SOME_DANGER);
    }
    SIGNS.iter().find(|(_, signs)| signs.contains(&word)).map(|(id, _)| *id)
}

/// Whether one of the words before it, with nothing in between that parts them, denies it.
fn is_denied(words: &[String], at: usize) -> bool {
    words[..at]
        .iter()
        .rev()
        .take(REACH)
        .take_while(|word| !matches!(word.as_str(), "," | "but" | "and" | "i" | "there's"))
        .any(|word| DENIALS.contains(&word.as_str()))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{beside, heard};
    use crate::rules;

    fn dangers(line: &str) -> Vec<String> {
        let book = rules::load(None).unwrap();
        let fact = book.fact(book.roles().danger.0);
        heard(&book, line).dangers.positions().map(|at| fact.choices()[at].id.clone()).collect()
    }

    #[test]
    fn words_of_danger_are_heard_in_any_sentence() {
        for (line, danger) in [
            ("i smell gas", "gas_smell"),
            ("Rotten eggs!", "gas_smell"),
            ("none but smells a bit of gas", "gas_smell"),
            ("no, i smell gas", "gas_smell"),
            ("it's BURNING", "smoke_or_burning"),
            ("sparks in there", "smoke_or_burning"),
            ("the blower is on fire", "smoke_or_burning"),
            ("he got zapped", "shock_felt"),
            ("a tingle from the case", "shock_felt"),
            ("carbon monoxide", "co_alarm"),
            ("the alarm goes off", "co_alarm"),
            ("flames out the front", "flame_rollout"),
            ("cellar flooded", "water_on_electrics"),
            ("there is water on the board", "water_on_electrics"),
            ("water is dripping on the board", "water_on_electrics"),
            ("everything is soaked", "water_on_electrics"),
            ("smells like burnt", "smoke_or_burning"),
            ("burnt smell", "smoke_or_burning"),
            ("something smells hot", "smoke_or_burning"),
            ("breaker arced", "smoke_or_burning"),
            ("something is fizzing and popping", "smoke_or_burning"),
            ("its kinda tingly", "shock_felt"),
            ("the cabinet bit me", "shock_felt"),
            ("hes dizzy", "co_alarm"),
            ("the kids have headaches", "co_alarm"),
            ("the wires are melting", "smoke_or_burning"),
            ("its smouldering", "smoke_or_burning"),
            ("my arm's gone numb", "shock_felt"),
            ("the flame's licking out the front", "flame_rollout"),
            ("the CO detector is beeping", "co_alarm"),
        ] {
            assert_eq!(dangers(line), [danger], "{line}");
        }
        assert_eq!(dangers("gas, smoke"), ["gas_smell", "smoke_or_burning"]);
    }

    #[test]
    fn an_emergency_is_heard_though_it_is_not_said_which() {
        let book = rules::load(None).unwrap();
        for line in [
            "emergency",
            "stop!",
            "there is danger",
            "help us",
            "he passed out",
            "my head hurts",
            "I smell something",
        ] {
            assert!(heard(&book, line).is_said, "{line}");
        }
    }

    #[test]
    fn nobody_cries_wolf() {
        let book = rules::load(None).unwrap();
        for line in [
            "on",
            "help",
            "co",
            "it is a gas furnace",
            "flame sensor",
            "0.5 inches of water in the duct",
            "stop it",
            "118",
        ] {
            assert!(!heard(&book, line).is_said, "{line}");
        }
        let denied = heard(&book, "no gas smell");
        assert!(denied.is_denied && !denied.is_said);
    }

    #[test]
    fn the_words_of_a_fact_are_no_alarm() {
        let book = rules::load(None).unwrap();
        let fact = book.facts().iter().find(|fact| fact.id == "heat_source").unwrap();
        assert!(!beside(&book, fact, "tell heat source gas").is_said);
        assert!(beside(&book, fact, "tell heat source gas, and smoke").is_said);
    }
}
