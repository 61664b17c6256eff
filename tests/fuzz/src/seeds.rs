//! Writes what the fuzzer starts from, out of the project's own files: `corpus/` and a list of words for each target.

#[expect(dead_code, reason = "it is read elsewhere what is written here")]
mod edit;
mod house;
mod program;

use engine::call::{Call, drive};
use engine::case::Player;
use house::{BOOK, CASES};
use program::cli::{harmless, talk, wording};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use talk::{Layout, Talk, Units, Voice};

/// What stands before a typed line, plainly laid out.
const TYPED: &str = "ANSWER: ";

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    rules(&fresh(&folder.join("corpus/rules")));
    answers(&fresh(&folder.join("corpus/answers")));
    fs::write(folder.join("rules.dict"), dictionary(words_of_rules())).unwrap();
    fs::write(folder.join("answers.dict"), dictionary(words_of_answers())).unwrap();
}

fn fresh(folder: &Path) -> PathBuf {
    fs::create_dir_all(folder).unwrap();
    folder.to_owned()
}

/// Every file of the small rules as it is, and every wrong file of the tests in the place of one.
fn rules(folder: &Path) {
    for (at, (_, text)) in edit::base(0).iter().enumerate() {
        fs::write(folder.join(format!("base-{at}")), edit::whole_text(0, at, text)).unwrap();
    }
    for (at, (_, text)) in house::files("tests/it/wrong/rules").iter().enumerate() {
        fs::write(folder.join(format!("wrong-{at}")), edit::whole_text(0, at, text)).unwrap();
    }
    // A cut in the middle of some shipped files.
    for at in (0..edit::base(1).len()).step_by(8) {
        let bytes = [edit::SHIPPED, (at as u8) << 1 | 1, 0xff, 0x7f, 9, 0, 99];
        fs::write(folder.join(format!("cut-{at}")), bytes).unwrap();
    }
}

/// Every case as a person would have typed it, and alone.
fn answers(folder: &Path) {
    for (at, case) in CASES.iter().enumerate() {
        let mut out = Vec::new();
        let voice = Voice::Played(Box::new(Player::new(&BOOK, case)));
        let mut talk = Talk::new(Box::new(&mut out), voice, Units::AsInRules, Layout::Plain);
        let mut call = Call::new(Arc::clone(&BOOK));
        drive(&mut call, &mut talk).unwrap();
        drop(talk);
        let out = String::from_utf8(out).unwrap();
        let typed = out.lines().filter_map(|line| line.strip_prefix(TYPED));
        let typed: Vec<String> = typed.map(|line| format!("{line}\n")).collect();
        let [low, high] = (at as u16).to_le_bytes();
        let bytes = [&[low, high, at as u8], typed.concat().as_bytes()].concat();
        fs::write(folder.join(format!("case-{at}")), bytes).unwrap();
        let dots = ".\n".repeat(at % 40);
        let bytes = [&[low, high, at as u8], dots.as_bytes(), b"back\n"].concat();
        fs::write(folder.join(format!("back-{at}")), bytes).unwrap();
    }
}

fn words_of_rules() -> BTreeSet<String> {
    let mut words = BTreeSet::new();
    for (_, text) in edit::base(0) {
        let text = String::from_utf8_lossy(text).into_owned();
        let lines = text.lines().map(|line| line.trim_start().trim_start_matches("- "));
        words.extend(lines.filter_map(|line| line.split_once(':')).map(|(key, _)| format!("{key}: ")));
    }
    words
}

fn words_of_answers() -> BTreeSet<String> {
    let book = &*BOOK;
    let names = book.facts().iter().map(|fact| format!("tell {} ", fact.name));
    let choices =
        book.facts().iter().flat_map(|fact| fact.choices()).map(|choice| choice.id.replace('_', " "));
    let commands = [
        "back\n",
        "cannot\n",
        "correct ",
        "danger\n",
        "danger gas smell\n",
        "done\n",
        "dead\n",
        "live\n",
        "leave\n",
        "later\n",
        "now\n",
        "none\n",
        "not done\n",
        "not possible\n",
        "only this one\n",
        "so far\n",
        "why\n",
        "how\n",
        "where\n",
        "plan\n",
        "wait\n",
        "my turn\n",
        "note ",
        "note to send\n",
        "help\n",
        "yes\n",
        "no\n",
        ".\n",
        "correct 1 ",
        "OL\n",
        "118 V\n",
        "1.2k",
        "in wc\n",
    ];
    names.chain(choices).chain(commands.map(str::to_owned)).collect()
}

/// The form that libFuzzer reads.
fn dictionary(words: BTreeSet<String>) -> String {
    let plain = |byte: u8| byte.is_ascii_graphic() && byte != b'"' && byte != b'\\' || byte == b' ';
    let escaped = |byte: u8| {
        if plain(byte) { char::from(byte).to_string() } else { format!("\\x{byte:02x}") }
    };
    let line = |word: &String| format!("\"{}\"\n", word.bytes().map(escaped).collect::<String>());
    words.iter().map(line).collect()
}
