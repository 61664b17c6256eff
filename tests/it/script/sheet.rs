//! The sheet, read back off the paper: questions, answers, edges, endings. It knows nothing of the rules.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Output;
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
    let mut command = crate::house::program();
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
    /// Where it is worked out, if it is: `F2`.
    pub(super) figure: Option<String>,
    /// What it goes by, by name and by its place on the record.
    pub(super) name: String,
    pub(super) written: String,
    /// All that is printed of it, spaces and line ends made one space.
    pub(super) text: String,
    pub(super) answers: Vec<Answer>,
}

/// A word, what its number goes by, and the rows.
pub(super) type Table = (String, String, Vec<(f64, f64)>);

/// How something is worked out.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Figure {
    /// All that is printed of it, spaces and line ends made one space.
    pub(super) text: String,
    /// What it is worked out of, each with the unit that it goes in in.
    pub(super) parts: Vec<(String, String)>,
    /// The arithmetic, and the unit of what comes out.
    pub(super) work: (String, String),
    /// A number off a table: its word, what it goes by, and the rows.
    pub(super) table: Option<Table>,
}

/// What cannot be true of readings together.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Contradiction {
    /// Where it holds: place, and what must stand there.
    pub(super) when: Vec<(String, String)>,
    pub(super) broken: Broken,
}

#[derive(Clone, PartialEq, Debug)]
pub(super) enum Broken {
    /// If all of these stand there.
    Together(Vec<(String, String)>),
    /// If the left side is more than the right: places and their units, a factor, and what is added.
    Above { left: Vec<(String, String)>, right: Vec<(String, String)>, factor: f64, slack: f64 },
}

/// What must stand on the record for a row to fit, and what is then written.
pub(super) type Row = (Vec<(String, String)>, String);

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
    /// How what stands on the record is worked out, by its place there.
    pub(super) figures: BTreeMap<String, Figure>,
    /// The numbers of the figures, such as `F2`, and the place on the record that each is about.
    pub(super) figure_of: BTreeMap<String, String>,
    /// Rows that come before a question, by the place that is written.
    pub(super) rows: BTreeMap<String, Vec<Row>>,
    /// Readings that cannot all be true.
    pub(super) contradictions: BTreeMap<String, Contradiction>,
    /// The contradictions to look at once something is written, by its place.
    pub(super) look_at: BTreeMap<String, Vec<String>>,
    /// What a reading may be off by: so many percent of it, and more.
    pub(super) meters: BTreeMap<String, (f64, String)>,
    /// The places that somebody is asked for.
    pub(super) asked: BTreeSet<String>,
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
            figures: BTreeMap::new(),
            figure_of: BTreeMap::new(),
            rows: BTreeMap::new(),
            contradictions: BTreeMap::new(),
            look_at: BTreeMap::new(),
            meters: lines.iter().filter_map(|line| meter(line)).collect(),
            asked: BTreeSet::new(),
            lines: Vec::new(),
        };
        for block in blocks(&lines) {
            sheet.take(&block);
            sheet.rows.extend(rows(&block));
        }
        sheet.lines = lines;
        sheet
    }

    /// Takes in one numbered thing with the lines below it.
    fn take(&mut self, block: &[&str]) {
        let head = block[0].split_whitespace().next().unwrap();
        let text = joined(block);
        let rest = text[head.len()..].trim_start().to_owned();
        // ` W13 name. Blank? Ask for it`: an edge, or a part of a figure.
        for before in text.rsplit("Blank? Ask for it").skip(1) {
            let place = ["Edge W", "Part W"].iter().filter_map(|word| before.rfind(word)).max().unwrap();
            self.asked.insert(before[place + 5..].split(' ').next().unwrap().to_owned());
        }
        match (head.chars().next().unwrap(), head[1..].bytes().all(|byte| byte.is_ascii_digit())) {
            ('0'..='9', _) if ["ASK", "LOOK", "FIGURE"].iter().any(|word| rest.starts_with(word)) => {
                let question = question(head, block, text);
                if question.asks && question.figure.is_none() {
                    self.asked.insert(question.written.clone());
                }
                self.questions.insert(head.parse().unwrap(), question);
            }
            ('F', true) if rest.starts_with("FIGURE") => {
                let written = rest.split(' ').nth(1).unwrap().to_owned();
                self.figure_of.insert(head.to_owned(), written.clone());
                self.figures.insert(written.clone(), figure(&written, text));
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
                let (name, rest) = rest.rsplit_once(" (").unwrap();
                self.record.insert(head.to_owned(), name.to_owned());
                let look_at = rest.split_once("; ").map_or("", |(_, look_at)| look_at);
                let look_at = look_at.split_whitespace().map(|number| number.trim_end_matches(','));
                self.look_at.insert(
                    head.to_owned(),
                    look_at.take_while(|word| word.starts_with('K')).map(str::to_owned).collect(),
                );
            }
            ('K', true) if head != "K0" => {
                self.contradictions.insert(head.to_owned(), contradiction(&text));
            }
            ('W', true) => {
                self.asked.insert(head.to_owned());
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
    let is_answer = |line: &str| {
        let rest = line.strip_prefix(' ').and_then(|line| line.strip_prefix(number));
        rest.is_some_and(|rest| rest.starts_with(|letter: char| letter.is_ascii_lowercase()))
    };
    let first = block.iter().position(|line| is_answer(line)).unwrap();
    let head = joined(&block[..first]);
    let (ask, figure) = (head.split_once(" ASK "), head.split_once(" FIGURE "));
    let asks = ask.is_some() || figure.is_some();
    let by = figure.map(|(_, rest)| rest.split_once("work it out by ").unwrap().1);
    let by = by.map(|rest| rest.split(',').next().unwrap().to_owned());
    let (name, written) = if let Some((_, rest)) = ask.or(figure) {
        let (name, rest) = rest.split_once(", write it at ").unwrap();
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
    Question { asks, figure: by, name: name.to_owned(), written: written.to_owned(), text, answers }
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

/// `F2 FIGURE W23 name Part W17 name (in. w.c.). Blank? … Work W23 = W17 - W24 (in. w.c.) From …`
fn figure(written: &str, text: String) -> Figure {
    let (parts, work) = text.split_once(&format!(" Work {written} = ")).unwrap();
    let unit = |text: &str| {
        let unit = text.strip_suffix(')').and_then(|text| text.rsplit_once(" ("));
        unit.map_or((text.to_owned(), String::new()), |(rest, unit)| (rest.to_owned(), unit.to_owned()))
    };
    let parts = parts.split(" Part ").skip(1).map(|part| {
        let (name, _) = part.split_once(". Blank?").or_else(|| part.split_once(": see the table")).unwrap();
        (name.split(' ').next().unwrap().to_owned(), unit(name).1)
    });
    let (work, _) = work.split_once(" From ").unwrap();
    let (work, table) = match work.split_once(" factor by ") {
        Some((work, table)) => (work, Some(table)),
        None => (work, None),
    };
    let table = table.map(|table| {
        let (by, rows) = table.split_once(": ").unwrap();
        let rows = rows.split_once(". Between").unwrap().0.split("; ").map(|row| {
            let (by, number) = row.split_once(" is ").unwrap();
            (by.parse().unwrap(), number.parse().unwrap())
        });
        ("factor".to_owned(), by.to_owned(), rows.collect())
    });
    let parts = parts.collect();
    let work = unit(work);
    Figure { text, parts, work, table }
}

/// The rows to go down before something is asked for.
fn rows(block: &[&str]) -> Option<(String, Vec<Row>)> {
    let first = block.iter().position(|line| line.contains("Go down these rows first."))?;
    let text = joined(&block[first..]);
    let (head, rest) = text.split_once(", and nothing more is asked. ").unwrap();
    let written = head.rsplit(' ').next().unwrap().to_owned();
    let lines = block[first..].iter().map(|line| line.trim()).skip_while(|line| !rest.starts_with(line));
    let rows = lines.map_while(|line| {
        let (when, is) = line.split_once(": ").filter(|(when, _)| when.contains(" is "))?;
        let when = when.split(", ").map(|one| {
            let (place, is) = one.split_once(" is ").unwrap();
            (place.to_owned(), is.to_owned())
        });
        Some((when.collect(), is.to_owned()))
    });
    let rows: Vec<Row> = rows.collect();
    assert!(!rows.is_empty(), "no rows: {text}");
    Some((written, rows))
}

/// `W89 may be off by 2 % of it + 0.5 W.`
fn meter(text: &str) -> Option<(String, (f64, String))> {
    let (place, off) = text.trim_start().strip_prefix("Meter  ")?.split_once(" may be off by ").unwrap();
    let (percent, more) = off.split_once(" % of it + ").unwrap_or(("0", off));
    let more = more.strip_suffix('.').unwrap();
    Some((place.to_owned(), (percent.parse().unwrap(), more.to_owned())))
}

/// `K1 There cannot be … Where W2 complaint: no run. Broken if W54 name (V) is more than W38 name (V) + 3.`
fn contradiction(text: &str) -> Contradiction {
    let (head, broken) = text.split_once(" Broken if ").unwrap();
    let conditions = |text: &str| {
        let each = text.trim_end_matches('.').split("; ").map(|one| {
            let (fact, wanted) = one.split_once(": ").unwrap();
            (fact.split(' ').next().unwrap().to_owned(), wanted.to_owned())
        });
        each.collect::<Vec<_>>()
    };
    let when = head.split_once(" Where ").map_or_else(Vec::new, |(_, when)| conditions(when));
    if let Some(all) = broken.strip_prefix("all of these stand there: ") {
        return Contradiction { when, broken: Broken::Together(conditions(all)) };
    }
    let (left, right) = broken.strip_suffix('.').unwrap().split_once(" is more than ").unwrap();
    let side = |text: &str| {
        let each = text.split(" x W").map(|one| {
            let one = one.trim_start_matches('W');
            let (name, unit) = one.trim_end_matches(')').rsplit_once(" (").unwrap();
            (format!("W{}", name.split(' ').next().unwrap()), unit.to_owned())
        });
        each.collect::<Vec<_>>()
    };
    let (right, slack) = match right.rsplit_once(") + ") {
        Some((right, slack)) => (format!("{right})"), slack.parse().unwrap()),
        None => (right.to_owned(), 0.0),
    };
    let (factor, right) = match right.split_once(" x ").filter(|(factor, _)| !factor.starts_with('W')) {
        Some((factor, right)) => (factor.parse().unwrap(), right.to_owned()),
        None => (1.0, right),
    };
    Contradiction { when, broken: Broken::Above { left: side(left), right: side(&right), factor, slack } }
}
