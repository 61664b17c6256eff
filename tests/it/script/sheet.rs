//! The sheet, read back off the paper: questions, answers, edges, endings. It knows nothing of the rules.

use std::collections::BTreeMap;
use std::process::{Command, Output};
use std::sync::{LazyLock, Mutex};

static PRINTED: LazyLock<Mutex<BTreeMap<(String, String), String>>> = LazyLock::new(Mutex::default);

/// The script of a tree on this paper; of the whole call where the tree has no name.
pub(super) fn printed(tree: &str, paper: &str) -> String {
    let mut printed = PRINTED.lock().unwrap();
    printed.entry((tree.to_owned(), paper.to_owned())).or_insert_with(|| print(tree, paper)).clone()
}

pub(super) fn print(tree: &str, paper: &str) -> String {
    let output = run(tree, paper);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

pub(super) fn run(tree: &str, paper: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_motorwright"));
    command.args(["call", "--color", "always", "--paper", paper, "--script"]);
    if !tree.is_empty() {
        command.arg(tree);
    }
    command.output().unwrap()
}

/// Where a line leads.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Jump {
    Go(usize),
    Visit { to: usize, back: usize },
    End(String),
}

/// One line of a question.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Answer {
    pub(super) label: String,
    pub(super) text: String,
    pub(super) jump: Jump,
}

/// One question.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Question {
    pub(super) asks: bool,
    /// What it goes by, by name and by its place on the record.
    pub(super) name: String,
    pub(super) written: String,
    /// All that is printed of it, spaces and line ends made one space.
    pub(super) text: String,
    pub(super) answers: Vec<Answer>,
}

/// The whole sheet.
pub(super) struct Sheet {
    /// All lines but the heads of pages.
    pub(super) lines: Vec<String>,
    pub(super) questions: BTreeMap<usize, Question>,
    /// The titles of the endings, such as `REPAIR: SWITCH THE SUPPLY ON`.
    pub(super) endings: BTreeMap<String, String>,
    /// For each edge: its value, the place on the record it goes by, and what stands there.
    pub(super) edges: BTreeMap<String, Vec<(String, String, String)>>,
    /// Names of what is written on the record.
    pub(super) record: BTreeMap<String, String>,
}

impl Sheet {
    pub(super) fn read(text: &str) -> Self {
        let lines: Vec<String> =
            text.split('\u{c}').flat_map(|page| page.lines().skip(3)).map(str::to_owned).collect();
        let mut sheet = Self {
            questions: BTreeMap::new(),
            endings: BTreeMap::new(),
            edges: BTreeMap::new(),
            record: BTreeMap::new(),
            lines: Vec::new(),
        };
        for block in blocks(&lines) {
            sheet.take(&block);
        }
        sheet.lines = lines;
        sheet
    }

    /// Takes in one numbered thing with the lines below it.
    fn take(&mut self, block: &[&str]) {
        let head = block[0].split_whitespace().next().unwrap();
        let text = joined(block);
        let rest = text[head.len()..].trim_start().to_owned();
        match (head.chars().next().unwrap(), head[1..].bytes().all(|byte| byte.is_ascii_digit())) {
            ('0'..='9', _) if rest.starts_with("ASK") || rest.starts_with("LOOK") => {
                self.questions.insert(head.parse().unwrap(), question(head, block, text));
            }
            ('E', true) => {
                // The title is in capitals, and may take more than one line.
                let title: Vec<&str> = rest
                    .split(' ')
                    .skip_while(|word| !word.ends_with(':'))
                    .skip(1)
                    .take_while(|word| !word.ends_with(':') && !word.chars().any(char::is_lowercase))
                    .collect();
                self.endings.insert(head.to_owned(), title.join(" "));
            }
            ('P', true) => {
                let rows = block[1..].iter().map(|row| edge_row(row)).collect();
                self.edges.insert(head.to_owned(), rows);
            }
            ('W', true) if !rest.starts_with("ASK") => {
                let name = rest.rsplit_once(" (").unwrap().0.to_owned();
                self.record.insert(head.to_owned(), name);
            }
            _ => {}
        }
    }
}

/// Lines from one number in the first column to the next; the answers of a question stand under its number.
fn blocks(lines: &[String]) -> Vec<Vec<&str>> {
    let mut blocks: Vec<Vec<&str>> = Vec::new();
    for line in lines.iter().filter(|line| !line.is_empty()) {
        let first = line.strip_prefix(' ').filter(|rest| !rest.starts_with(' '));
        let starts = first.is_some_and(|rest| {
            let head = rest.split(' ').next().unwrap();
            !(head.starts_with(|letter: char| letter.is_ascii_digit())
                && head.ends_with(|letter: char| letter.is_ascii_lowercase()))
        });
        match blocks.last_mut() {
            Some(block) if !starts => block.push(line),
            _ => blocks.push(vec![line]),
        }
    }
    blocks
}

fn joined(lines: &[&str]) -> String {
    lines.iter().flat_map(|line| line.split_whitespace()).collect::<Vec<_>>().join(" ")
}

fn question(number: &str, block: &[&str], text: String) -> Question {
    let is_answer =
        |line: &str| line.starts_with(&format!(" {number}")) && !line.contains(&format!(" {number} "));
    let first = block.iter().position(|line| is_answer(line)).unwrap();
    let head = joined(&block[..first]);
    let asks = head.contains(" ASK ");
    let (name, written) = if asks {
        let (name, rest) = head.split_once(" ASK ").unwrap().1.split_once(", write it at ").unwrap();
        (name, rest.split(' ').next().unwrap())
    } else {
        let (written, rest) = head.split_once(" LOOK at ").unwrap().1.split_once(", ").unwrap();
        (rest.split_once(". Power: any").unwrap().0, written)
    };
    let mut answers = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in &block[first..] {
        let line = line.trim();
        if let Some((label, rest)) = line.split_once(' ').filter(|_| open.is_none())
            && let Some(letters) = label.strip_prefix(number)
            && !letters.is_empty()
        {
            open = Some((label.to_owned(), rest.trim().to_owned()));
        } else if let Some((_, text)) = &mut open {
            text.push(' ');
            text.push_str(line);
        }
        if let Some((label, text)) = open.take_if(|(_, text)| text.contains(" ..")) {
            let (text, leads) = text.split_once(" ..").unwrap();
            let jump = jump(leads.trim_start_matches('.').trim());
            answers.push(Answer { label, text: text.to_owned(), jump });
        }
    }
    assert_eq!(open, None, "an answer that leads nowhere");
    Question { asks, name: name.to_owned(), written: written.to_owned(), text, answers }
}

fn jump(text: &str) -> Jump {
    if let Some(ending) = text.strip_prefix("ends in ") {
        return Jump::End(ending.to_owned());
    }
    let to = text.strip_prefix("go to ").unwrap_or_else(|| panic!("no jump: {text}"));
    match to.split_once(", come back to ") {
        Some((to, back)) => Jump::Visit { to: to.parse().unwrap(), back: back.parse().unwrap() },
        None => Jump::Go(to.parse().unwrap()),
    }
}

/// `69 V where W4 rated supply of the unit is 115-volt`
fn edge_row(row: &str) -> (String, String, String) {
    let (value, rest) = row.trim().split_once(" where ").unwrap();
    let (place, is) = rest.rsplit_once(" is ").unwrap();
    (value.to_owned(), place.split(' ').next().unwrap().to_owned(), is.to_owned())
}
