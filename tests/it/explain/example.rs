//! An example of a page as the files that it stands for, and what is said of them.
//!
//! The first line of an example says where it stands: `# in FILE` an entry of that file of the base, `# in place of
//! FILE` the whole of it; `, without FILE` behind it takes another one away. Without such a line it is a file of its
//! own; a case has the name that it goes by, any other that of its page; `# kept as NAME` gives it another. `{30 times x}` is written out thirty times,
//! `\xb0` is that byte.

use crate::pond::{File, base, base_with, files, found, shown};
use engine::case::{Case, replay};
use engine::finding::{Code, Finding, Reported};
use std::sync::Arc;

const IN: &str = "# in ";

/// The first line of a file that is not kept under the name it would have.
const KEPT_AS: &str = "# kept as ";

/// A line of a file, with its code.
type Told = (String, usize, String);

/// The files of one example.
pub(super) struct Example {
    code: Code,
    files: Vec<File>,
    left_out: Option<String>,
}

impl Example {
    pub(super) fn of(code: Code, part: &str) -> Self {
        let blocks = fenced(part);
        let left_out = blocks.iter().find_map(|block| {
            let (_, absent) = block.lines().next()?.split_once(", without ")?;
            absent.split(' ').next().map(str::to_owned)
        });
        let files = (1..).zip(blocks).map(|(number, block)| file(&format!("{code}-{number}.yaml"), block));
        Self { code, files: files.collect(), left_out }
    }

    /// The lines that are marked.
    pub(super) fn marked(&self) -> Vec<Told> {
        let of = |file: &File| {
            let name = file.name.clone();
            file.marks().into_iter().map(move |(line, code)| (name.clone(), line, code))
        };
        self.files.iter().flat_map(of).collect()
    }

    /// The lines that are told of.
    pub(super) fn told(&self) -> Vec<Told> {
        let told = |finding: &Finding| {
            let place = finding.place();
            (place.source().name().to_owned(), place.line(), finding.code().to_string())
        };
        self.found().iter().map(told).collect()
    }

    pub(super) fn said(&self) -> String {
        shown(&self.found())
    }

    /// Whether its case, where it is one, ends where it says.
    pub(super) fn agrees(&self) -> bool {
        let book = Arc::new(base());
        let cases = self.files.iter().filter(|file| is_case(file));
        cases.into_iter().all(|file| {
            let case = Case::read(&book, file.source().unwrap()).unwrap();
            replay(&book, &case).unwrap().ok
        })
    }

    /// Errors, warnings and notes. An example is an excerpt: that nothing goes by what it adds is told on the pages
    /// about that, and is no matter on the others.
    fn found(&self) -> Vec<Finding> {
        if let Some(case) = self.files.iter().find(|file| is_case(file)) {
            let read = case.source().and_then(|source| Case::read(&base(), source));
            return read.err().map(Reported::into_findings).unwrap_or_default();
        }
        let mut all = base_with(&self.files);
        all.retain(|file| self.left_out.as_ref() != Some(&file.name));
        let unused = |code: Code| code.as_str().starts_with("unused-");
        found(&all).into_iter().filter(|finding| unused(self.code) || !unused(finding.code())).collect()
    }
}

/// The examples in a part of a page.
pub(super) fn fenced(part: &str) -> Vec<&str> {
    part.split("```").skip(1).step_by(2).map(|block| block.strip_prefix("yaml\n").unwrap()).collect()
}

fn is_case(file: &File) -> bool {
    case_name(&file.text()).is_some()
}

/// The name of the file that a case is kept in.
fn case_name(text: &str) -> Option<String> {
    let name = text.lines().find_map(|line| line.strip_prefix("case: "))?;
    Some(kept_as(text).unwrap_or_else(|| format!("{}.yaml", name.split(" #").next().unwrap_or(name))))
}

fn kept_as(text: &str) -> Option<String> {
    text.lines().next()?.strip_prefix(KEPT_AS).map(str::to_owned)
}

fn file(name: &str, block: &str) -> File {
    let entry = block.split_once('\n').and_then(|(first, entry)| Some((first.strip_prefix(IN)?, entry)));
    match entry {
        Some((place, entry)) if !place.starts_with("place of ") => {
            let name = place.split(',').next().unwrap();
            let base = files("base").into_iter().find(|file| file.name == name);
            File::new(name, with_entry(&base.expect(name).text(), entry))
        }
        _ => {
            let name = case_name(block).or_else(|| kept_as(block)).unwrap_or_else(|| name.to_owned());
            File::new(&name, bytes(&written_out(block)))
        }
    }
}

/// A file's text with an entry in the place of the one that has the same key and the same margin.
fn with_entry(text: &str, entry: &str) -> String {
    let margin = |line: &str| line.len() - line.trim_start().len();
    let key = entry.split_once(':').unwrap().0;
    let lines: Vec<&str> = text.lines().collect();
    let same = |line: &&str| line.split_once(':').is_some_and(|(other, _)| other == key);
    let start = lines.iter().position(same).expect(key);
    let inside = lines[start + 1..].iter().take_while(|line| margin(line) > margin(key)).count();
    let entry: Vec<&str> = entry.lines().collect();
    [&lines[..start], &entry, &lines[start + 1 + inside..]].concat().join("\n") + "\n"
}

fn written_out(text: &str) -> String {
    let found = text.match_indices('{').find_map(|(at, _)| {
        let (inside, behind) = text[at + 1..].split_once('}')?;
        let (times, what) = inside.split_once(" times ")?;
        Some((&text[..at], what.repeat(times.parse().ok()?), behind))
    });
    match found {
        Some((before, long, behind)) => before.to_owned() + &long + &written_out(behind),
        None => text.to_owned(),
    }
}

fn bytes(text: &str) -> Vec<u8> {
    let mut parts = text.split(r"\x");
    let mut bytes = parts.next().unwrap_or_default().as_bytes().to_vec();
    for part in parts {
        let (byte, behind) = part.split_at(2);
        bytes.push(u8::from_str_radix(byte, 16).unwrap());
        bytes.extend(behind.as_bytes());
    }
    bytes
}
