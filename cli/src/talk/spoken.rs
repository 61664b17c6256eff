//! What is typed as it is said: yes and no in all their words, numbers in words, words that only fill.

use super::answer::plain;

/// Words beside a number or an answer that say nothing of it.
const FILLERS: [&str; 30] = [
    "about", "around", "roughly", "maybe", "just", "like", "the", "i", "think", "guess", "it", "it's", "its",
    "is", "are", "they", "they're", "that", "that's", "says", "reads", "shows", "a", "an", "of", "them",
    "well", "so", "please", "already",
];
const ONES: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 8] = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// Small letters, one kind of apostrophe.
pub(crate) fn small(text: &str) -> String {
    text.trim().to_lowercase().replace('\u{2019}', "'")
}

/// A line for comparing with whole phrases.
pub(crate) fn bare(text: &str) -> String {
    plain(small(text).trim_end_matches(['.', '!', ',', ';']))
}

/// The words of a line without its marks.
fn words(text: &str) -> Vec<String> {
    let small = small(text);
    let words =
        small.split_whitespace().map(|word| word.trim_end_matches([',', '.', '!', ';', '?']).to_owned());
    words.filter(|word| !word.is_empty()).collect()
}

/// Words for not knowing by themselves, and those that have to be denied.
const NOT_KNOWN: [&str; 3] = ["dunno", "unknown", "idunno"];
const KNOWN: [&str; 6] = ["know", "knows", "idea", "clue", "say", "tell"];
const NOT: [&str; 12] = [
    "no", "not", "don't", "dont", "doesn't", "didn't", "haven't", "hasn't", "nobody", "can't", "couldn't",
    "never",
];
/// Whose it is, and what only fills.
const WHO: [&str; 20] = [
    "i", "i've", "he", "she", "they", "we", "do", "does", "did", "could", "can", "have", "has", "got", "the",
    "a", "any", "really", "sorry", "that",
];

/// Whether a line says that somebody does not know, and nothing else: `dunno`, `no idea`, `I really don't know`.
pub(crate) fn is_not_known(text: &str) -> bool {
    let words = Words::of(text);
    words.only(&[&NOT_KNOWN, &KNOWN, &NOT, &WHO])
        && (words.any(&NOT_KNOWN) || words.any(&KNOWN) && words.any(&NOT))
}

/// A plain yes or no, in whatever word; `None` for anything else.
pub(crate) fn yes_or_no(text: &str) -> Option<bool> {
    let words = words(text);
    let said: Vec<&str> = words.iter().map(String::as_str).collect();
    match said[..] {
        [
            "yes" | "y" | "yep" | "yeah" | "yea" | "ya" | "yup" | "ok" | "okay" | "sure" | "already" | "aye",
        ]
        | ["yes" | "yep" | "yeah" | "it" | "all" | "is", "already" | "sure" | "is" | "done" | "did"]
        | ["it", "is", "already"]
        | ["already", "done"] => Some(true),
        ["no" | "n" | "nope" | "nah" | "negative"] | ["not", "yet"] | ["no", "not", "yet"] => Some(false),
        _ => None,
    }
}

/// Whether a line says to go on, or to close; `None` for anything else.
pub(crate) fn go_on_or_close(text: &str) -> Option<bool> {
    match bare(text).as_str() {
        "go on" | "continue" | "carry on" => Some(true),
        "close" | "leave" | "quit" | "exit" => Some(false),
        _ => yes_or_no(text),
    }
}

/// Words that say nothing beside what is told of a thing: that it is on, that it is done. None of them denies, or takes
/// half of it back.
pub(crate) const BESIDE: [&str; 16] = [
    "it", "it's", "its", "is", "was", "has", "been", "already", "that's", "the", "yes", "we", "i", "they",
    "all", "then",
];

/// The words of a line, to be held against lists of words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Words(Vec<String>);

impl Words {
    /// Of a line, without the marks that tell nothing.
    pub(crate) fn of(line: &str) -> Self {
        let line = small(line).replace(',', " ");
        // A question mark stays: a question tells of nothing.
        let words = line.split_whitespace().map(|word| word.trim_end_matches(['.', '!', ';']).to_owned());
        Self(words.filter(|word| !word.is_empty()).collect())
    }

    /// Whether one of them stands in this list.
    pub(crate) fn any(&self, list: &[&str]) -> bool {
        self.0.iter().any(|word| list.contains(&word.as_str()))
    }

    /// Whether each of them stands in one of these lists.
    pub(crate) fn only(&self, lists: &[&[&str]]) -> bool {
        self.0.iter().all(|word| lists.iter().any(|list| list.contains(&word.as_str())))
    }
}

/// Words with which people take back what they just said.
const TAKEN_BACK: [&str; 4] = ["sorry", "correction", "rather", "scratch"];
/// The same of more than one word.
const TAKEN_BACK_IN_TWO: [[&str; 2]; 5] =
    [["i", "mean"], ["i", "meant"], ["make", "that"], ["no", "wait"], ["wait", "no"]];

/// What stands behind the last word that takes back what was said before it: `seventy, no, sixty eight` is
/// `sixty eight`. `None` where nothing is taken back.
pub(crate) fn put_right(text: &str) -> Option<String> {
    let said: Vec<&str> = text.split_whitespace().collect();
    let bare: Vec<String> =
        said.iter().map(|word| small(word.trim_matches(|sign: char| !sign.is_alphanumeric()))).collect();
    let parted = |at: usize| said[at].ends_with([',', '.', ';']);
    let number = |at: usize| bare.get(at).is_some_and(|word| is_a_number(word));
    let behind = (1..said.len()).rev().find_map(|at| {
        // `No smoke` denies, and takes nothing back.
        let no = bare[at] == "no" && (parted(at - 1) && parted(at) || number(at - 1) && number(at + 1));
        let two = TAKEN_BACK_IN_TWO.iter().any(|pair| bare[at..].starts_with(&pair.map(str::to_owned)));
        match (two, no || TAKEN_BACK.contains(&bare[at].as_str())) {
            (true, _) => Some(at + 2),
            (false, true) => Some(at + 1),
            (false, false) => None,
        }
    })?;
    Some(said.get(behind..)?.join(" ")).filter(|rest| !rest.is_empty())
}

fn is_a_number(word: &str) -> bool {
    is_number(word) && word != "and"
}

/// Everyday words for what a choice says more plainly.
const PLAINLY: [(&str, &str); 9] = [
    ("black", "dirty"),
    ("filthy", "dirty"),
    ("grey", "dirty"),
    ("gray", "dirty"),
    ("clogged", "dirty"),
    ("plugged", "dirty"),
    ("caked", "dirty"),
    ("choked", "dirty"),
    ("popped", "tripped"),
];

/// The line with everyday words put plainly; `None` where there are none.
pub(crate) fn plainly(text: &str) -> Option<String> {
    let words = words(text);
    let plain = |word: &String| PLAINLY.iter().find(|(said, _)| said == word).map(|(_, plain)| *plain);
    words
        .iter()
        .any(|word| plain(word).is_some())
        .then(|| words.iter().map(|word| plain(word).unwrap_or(word)).collect::<Vec<_>>().join(" "))
}

/// The line without the words that only fill; `None` where nothing else is left, or nothing was left out.
pub(crate) fn without_fillers(text: &str) -> Option<String> {
    let words = words(text);
    let telling: Vec<&str> =
        words.iter().map(String::as_str).filter(|word| !FILLERS.contains(word)).collect();
    (!telling.is_empty() && telling.len() < words.len()).then(|| telling.join(" "))
}

/// A number that is said in words or between fillers, as it would be typed: `one eighteen` is `118`.
pub(crate) fn number(text: &str) -> Option<String> {
    let typed: Vec<&str> =
        text.split_whitespace().map(|word| word.trim_end_matches([',', '.', '!', ';', '?'])).collect();
    let words: Vec<String> = typed.iter().map(|word| small(word)).collect();
    let first = words.iter().position(|word| is_number(word) && word != "and")?;
    let behind_it = &words[first..];
    let end = first + behind_it.iter().position(|word| !is_number(word)).unwrap_or(behind_it.len());
    let (sign, before) = match words[..first].split_last() {
        Some((last, before)) if matches!(last.as_str(), "minus" | "negative") => ("-", before),
        _ => ("", &words[..first]),
    };
    if before.iter().any(|word| !FILLERS.contains(&word.as_str())) {
        return None;
    }
    let said: Vec<&str> = words[first..end].iter().map(String::as_str).collect();
    // `A` behind a number is a unit and no article.
    let unit: Vec<&str> = (end..words.len())
        .filter(|at| words[*at] == "a" || !FILLERS.contains(&words[*at].as_str()))
        .map(|at| typed[at])
        .collect();
    let mut parts = said.split(|word| *word == "point");
    let before = parts.next()?;
    let behind = parts.next();
    // `Point four` is nought point four.
    let whole = if before.is_empty() && behind.is_some() { "0".to_owned() } else { whole(before)? };
    if parts.next().is_some() {
        return None;
    }
    let decimals = match behind {
        Some(digits) => format!(".{}", decimals(digits)?),
        None => String::new(),
    };
    let unit = if unit.is_empty() { String::new() } else { format!(" {}", unit.join(" ")) };
    Some(format!("{sign}{whole}{decimals}{unit}")).filter(|said| small(said) != small(text))
}

/// Whether a word is one of a number, in digits or spelt out.
pub(crate) fn is_number(word: &str) -> bool {
    let digits = word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let joined = word.split('-').all(|part| TENS.contains(&part) || ONES.contains(&part));
    digits || joined || matches!(word, "oh" | "hundred" | "and" | "point")
}

/// Digits in words, one or more at a time, behind the point.
fn decimals(words: &[&str]) -> Option<String> {
    let digits: Option<String> = words.iter().map(|word| of(word)).collect();
    digits.filter(|digits| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()))
}

/// A whole number in words: up to two digits; a digit and two more; digits one by one; hundreds.
fn whole(words: &[&str]) -> Option<String> {
    if let [one] = words {
        if one.starts_with('.') {
            return one.parse::<f64>().is_ok().then(|| format!("0{one}"));
        }
        return of(one).filter(|_| *one != "oh");
    }
    if let Some(at) = words.iter().position(|word| *word == "hundred") {
        let hundreds: u32 = whole(&words[..at])?.parse().ok()?;
        let rest = match &words[at + 1..] {
            [] => 0,
            rest => {
                whole(rest.strip_prefix(&["and"]).unwrap_or(rest))?.parse().ok().filter(|rest| *rest < 100)?
            }
        };
        return hundreds.checked_mul(100)?.checked_add(rest).map(|number: u32| number.to_string());
    }
    let groups = groups(words)?;
    let lengths: Vec<usize> = groups.iter().map(String::len).collect();
    let fits = matches!(lengths[..], [_] | [1, 2]) || lengths.iter().all(|length| *length == 1);
    (fits && groups.first().is_some_and(|first| first != "0")).then(|| groups.concat())
}

/// The words in groups of digits: `twenty four` is one, and so is `oh eight`.
fn groups(words: &[&str]) -> Option<Vec<String>> {
    let mut groups = Vec::new();
    let mut words = words.iter().peekable();
    while let Some(word) = words.next() {
        let digits = of(word)?;
        let ten = TENS.contains(word);
        let next = words.peek().and_then(|next| of(next)).filter(|next| next.len() == 1 && next != "0");
        groups.push(match next {
            Some(unit) if ten || *word == "oh" => {
                words.next();
                format!("{}{unit}", &digits[..1])
            }
            _ => digits,
        });
    }
    Some(groups)
}

/// The digits of one word.
fn of(word: &str) -> Option<String> {
    if word == "oh" {
        return Some("0".to_owned());
    }
    if word.starts_with(|sign: char| sign.is_ascii_digit()) {
        return (word.parse::<f64>().is_ok()).then(|| word.to_owned());
    }
    if let Some((ten, unit)) = word.split_once('-') {
        let (ten, unit) = (of(ten)?, of(unit)?);
        return (ten.len() == 2 && unit.len() == 1).then(|| format!("{}{unit}", &ten[..1]));
    }
    let ones = ONES.iter().position(|one| *one == word);
    let tens = || TENS.iter().position(|ten| *ten == word).map(|at| 10 * (at + 2));
    ones.or_else(tens).map(|number| number.to_string())
}

#[cfg(test)]
mod tests {
    use super::{go_on_or_close, is_not_known, number, plainly, put_right, without_fillers, yes_or_no};

    #[test]
    fn numbers_are_understood_as_they_are_said() {
        for (said, typed) in [
            ("one", "1"),
            ("Twelve", "12"),
            ("just the one", "1"),
            ("2 i think", "2"),
            ("about 118", "118"),
            ("one eighteen", "118"),
            ("two oh eight", "208"),
            ("two thirty", "230"),
            ("one twenty volts", "120 volts"),
            ("twenty four point five", "24.5"),
            ("twenty-four", "24"),
            ("one hundred and eighteen", "118"),
            ("two hundred", "200"),
            ("one one eight", "118"),
            ("minus zero point five", "-0.5"),
            ("it reads 118 V", "118 V"),
            ("two point five A", "2.5 A"),
            ("point 4", "0.4"),
            ("minus point four in wc", "-0.4 in wc"),
            ("minus .2", "-0.2"),
            ("about .2 A", "0.2 A"),
        ] {
            assert_eq!(number(said).as_deref(), Some(typed), "{said}");
        }
        for said in [
            "118",
            "118,4",
            "twenty thirty",
            "ten fifty",
            "volts",
            "",
            "one point",
            "oh well",
            "a hundred one two",
        ] {
            assert_eq!(number(said), None, "{said}");
        }
    }

    #[test]
    fn what_was_taken_back_is_not_what_was_said() {
        for (said, meant) in [
            ("seventy, no, sixty eight", "sixty eight"),
            ("seventy no sixty eight", "sixty eight"),
            ("118, sorry, 108 V", "108 V"),
            ("on, no wait, off", "off"),
            ("118 I mean 108", "108"),
            ("118 make that 108, no 109", "109"),
        ] {
            assert_eq!(put_right(said).as_deref(), Some(meant), "{said}");
        }
        for said in ["no", "118", "no, 118", "there is no power", "sorry", "118, no", "gas smell, no smoke"] {
            assert_eq!(put_right(said), None, "{said}");
        }
        assert_eq!(plainly("it's all black").as_deref(), Some("it's all dirty"));
        assert_eq!(plainly("clean"), None);
    }

    #[test]
    fn to_go_on_and_to_close_have_their_words_and_those_of_yes_and_no() {
        for (said, meant) in
            [("Go on.", true), ("carry on", true), ("ok", true), ("close", false), ("nope", false)]
        {
            assert_eq!(go_on_or_close(said), Some(meant), "{said}");
        }
        for said in ["not sure", "go back", "118 V", ""] {
            assert_eq!(go_on_or_close(said), None, "{said}");
        }
    }

    #[test]
    fn not_to_know_is_said_in_many_ways() {
        for said in
            ["dunno", "I dunno.", "don't know", "no idea", "I have no clue", "nobody knows", "he can't say"]
        {
            assert!(is_not_known(said), "{said}");
        }
        for said in ["", "know", "I know", "no", "not sure", "no idea where that is", "don't know, maybe 118"]
        {
            assert!(!is_not_known(said), "{said}");
        }
    }

    #[test]
    fn yes_and_no_have_many_words() {
        for said in
            ["yes", "Yep", "yea", "ok", "okay", "sure", "already", "it is", "all done", "it is already"]
        {
            assert_eq!(yes_or_no(said), Some(true), "{said}");
        }
        for said in ["no", "nope", "Nah."] {
            assert_eq!(yes_or_no(said), Some(false), "{said}");
        }
        for said in ["not sure", "no idea where that is", "yes but it smokes", ""] {
            assert_eq!(yes_or_no(said), None, "{said}");
        }
        assert_eq!(without_fillers("it's on").as_deref(), Some("on"));
        assert_eq!(without_fillers("on"), None);
    }
}
