//! What to write behind a key that has nothing behind it.

/// What each key that cannot be left out, or is often written otherwise, is written like; of the others nothing has to
/// be said. Words in capitals stand
/// for ids of the rules.
const WRITTEN_LIKE: [(&str, &str); 41] = [
    ("above", "the last"),
    ("answers", "[{is: CHOICE, means: what it tells, go: STEP}]"),
    ("ask", "READING"),
    ("at least", "10 V"),
    ("at most", "10 V"),
    ("bands", "[{below: 10 V, means: what it tells, from: common practice, go: STEP}, …]"),
    ("because", "one sentence on why"),
    ("below", "10 V"),
    ("by", "FORMULA"),
    ("cannot", "{go: STEP}"),
    ("cautions", "[{warning: what can hurt}]"),
    ("case", "the name of the file"),
    ("choices", "{CHOICE: what is seen, CHOICE: what else may be}"),
    ("complaint", "CHOICE"),
    ("continue in", "TREE"),
    ("deeds", "[DEED]"),
    ("end", "ENDING"),
    ("ends", "ENDING"),
    ("from", "common practice"),
    ("go", "STEP"),
    ("if known", "READING"),
    ("is", "CHOICE"),
    ("kind", "repair"),
    ("lasts", "until touched"),
    ("means", "what it tells"),
    ("measures", "voltage"),
    ("meter", "1 % + 3 counts of 0.1 V"),
    ("name", "a few words"),
    ("not known", "{go: STEP}"),
    ("panel", "off"),
    ("power", "dead"),
    ("proof", "{READING: {is: CHOICE}}"),
    ("start", "STEP"),
    ("steps", "[one short order each]"),
    ("then", "STEP"),
    ("too close", "{go: STEP}"),
    ("tree", "the id of the tree"),
    ("up to", "10 V"),
    ("visit", "TREE"),
    ("waits", "[{minutes: 5}]"),
    ("whose", "the technician"),
];

/// Keys at the top of a file that are written in one line; what others hold is a list of its own below them.
const AT_THE_TOP: [&str; 6] = ["case", "complaint", "ends", "name", "start", "tree"];

/// Whether what stands behind a key is never a list, nor keys of its own.
pub(crate) fn is_of_one_line(key: &str) -> bool {
    like(key).is_some_and(|like| !like.starts_with(['[', '{']))
}

/// The keys that have one value and no list behind them.
pub(crate) fn of_one_line() -> impl Iterator<Item = &'static str> {
    WRITTEN_LIKE.iter().filter(|(_, like)| !like.starts_with(['[', '{'])).map(|(key, _)| *key)
}

/// The keys that are heads of a list, or of keys of their own.
pub(crate) fn heads() -> impl Iterator<Item = &'static str> {
    WRITTEN_LIKE.iter().filter(|(_, like)| like.starts_with(['[', '{'])).map(|(key, _)| *key)
}

/// What a key is written like, where that is said.
pub(crate) fn like(key: &str) -> Option<&'static str> {
    WRITTEN_LIKE.iter().find(|(other, _)| *other == key).map(|(_, like)| *like)
}

/// How to mend a key with nothing behind it.
pub(crate) fn mend(key: &str, at_the_top: bool) -> String {
    let written = WRITTEN_LIKE.iter().find(|(other, _)| *other == key);
    match written.filter(|_| !at_the_top || AT_THE_TOP.contains(&key)) {
        Some((_, like)) => format!("write the value, like `{key}: {like}`"),
        None => "write the value, or take the key out".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{AT_THE_TOP, WRITTEN_LIKE, mend};

    #[test]
    fn what_has_to_be_there_is_never_said_to_be_taken_out() {
        assert_eq!(mend("proof", false), "write the value, like `proof: {READING: {is: CHOICE}}`");
        assert_eq!(mend("tools", false), "write the value, or take the key out");
        assert_eq!(mend("deeds", true), "write the value, or take the key out", "a file of deeds");
        assert!(AT_THE_TOP.iter().all(|key| WRITTEN_LIKE.iter().any(|(other, _)| other == key)));
    }
}
