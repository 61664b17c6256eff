//! `motorwright explain`: the page on a finding code, or all codes with a sentence each.

use crate::failure::{Failure, OK};
use anstyle::Style;
use clap::builder::{PossibleValue, StringValueParser, TypedValueParser};
use clap::{Arg, Args, Command, Error};
use engine::finding::{Code, Severity, near};
use std::ffi::OsStr;
use std::io::Write;

pub(crate) const EXAMPLES: &str = "\
Examples:
  motorwright explain                     list the codes, with a sentence each
  motorwright explain choice-not-covered
      show one: why it matters, an example, and how it is mended
  motorwright explain loop | less

Exit codes: 0 shown, 2 there is no such code.";

const FOOT: &str = "\
`motorwright explain CODE` shows why it matters on a call, an example, and how it is mended.
The examples are about a pond pump, so that they stand whatever the rules say.";

/// What `explain` takes.
#[derive(Args, Debug)]
pub(crate) struct ExplainArguments {
    /// The code, as a finding shows it behind its place; without it, all are listed
    #[arg(value_name = "CODE", value_parser = Word, hide_possible_values = true)]
    code: Option<String>,
}

/// Any word: which of them are codes is for shells to complete, and a slip is answered here.
#[derive(Clone)]
struct Word;

impl TypedValueParser for Word {
    type Value = String;

    fn parse_ref(&self, command: &Command, arg: Option<&Arg>, word: &OsStr) -> Result<String, Error> {
        StringValueParser::new().parse_ref(command, arg, word)
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        Some(Box::new(Code::ALL.iter().map(|code| PossibleValue::new(code.as_str()).help(code.sentence()))))
    }
}

pub(crate) fn run(arguments: &ExplainArguments) -> Result<u8, Failure> {
    let mut out = anstream::stdout().lock();
    match &arguments.code {
        None => list(&mut out)?,
        Some(word) => page(code(word)?, &mut out)?,
    }
    Ok(OK)
}

fn code(word: &str) -> Result<Code, Failure> {
    Code::from_word(word).ok_or_else(|| Failure::NoCode {
        asked: word.to_owned(),
        near: near(word, Code::ALL.iter().map(|code| code.as_str())),
    })
}

/// What each severity asks of a trainer.
const GROUPS: [(Severity, &str); 3] = [
    (Severity::Error, "Errors: no call is made with these rules."),
    (Severity::Warning, "Warnings: a call can be made, and something is to be mended."),
    (Severity::Note, "Notes: worth knowing."),
];

fn list(out: &mut impl Write) -> std::io::Result<()> {
    let widest = Code::ALL.iter().map(|code| code.as_str().len()).max().unwrap_or_default();
    let bold = Style::new().bold();
    for (severity, what) in GROUPS {
        writeln!(out, "{bold}{what}{bold:#}")?;
        for code in Code::ALL.iter().filter(|code| code.severity() == severity) {
            writeln!(out, "{:widest$}  {}", code.as_str(), code.sentence())?;
        }
        writeln!(out)?;
    }
    writeln!(out, "{FOOT}")
}

/// The page as it is written, its headings bold, how much it matters behind the first.
fn page(code: Code, out: &mut impl Write) -> std::io::Result<()> {
    let bold = Style::new().bold();
    for (number, line) in code.page().lines().enumerate() {
        if number == 0 {
            writeln!(out, "{bold}{line}: {}{bold:#}", code.severity().word())?;
        } else if line.starts_with("## ") {
            writeln!(out, "{bold}{line}{bold:#}")?;
        } else {
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}
