//! What the commands on calls that are kept take.

use super::{LogArguments, TalkArguments};
use clap::Args;
use std::path::PathBuf;

pub(super) const RESUME_EXAMPLES: &str = "\
Examples:
  motorwright resume                       the call that stands open
  motorwright resume 12
  motorwright resume 12 --take-over
      when the seat that has it is dead; it asks first
  motorwright resume 12 --take-over --yes  the same where nobody can be asked

Live readings are taken anew, and nobody vouches for the power any more: the
unit counts as live.

Exit codes: 0 the call came to an ending, 1 it was left open or not taken over,
2 there is no such call, or another seat has it.";

/// What `resume` takes.
#[derive(Args, Debug)]
pub(crate) struct ResumeArguments {
    /// The call [default: the one that stands open; of several you are asked]
    #[arg(value_name = "N")]
    pub(crate) number: Option<i64>,
    /// Take it from a seat that does not answer any more
    #[arg(long)]
    pub(crate) take_over: bool,
    /// Do not ask, neither with --take-over where the seat may be alive, nor where
    /// another call on the unit is open; of several calls, take the newest
    #[arg(long)]
    pub(crate) yes: bool,
    #[command(flatten)]
    pub(crate) talk: TalkArguments,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const AGAIN_EXAMPLES: &str = "\
Examples:
  motorwright again 12      a callback on the unit of call 12

What the plates say is known. A repair that was left for later comes first; one
that was done in the last 30 days is not done a second time in vain.

Exit codes: 0 the call came to an ending, 1 it was left open, 2 there is no such
call.";

/// What `again` takes.
#[derive(Args, Debug)]
pub(crate) struct AgainArguments {
    /// The earlier call
    #[arg(value_name = "N")]
    pub(crate) number: i64,
    /// Do not ask, also where another call on the unit is open and somebody may be at it
    #[arg(long)]
    pub(crate) yes: bool,
    #[command(flatten)]
    pub(crate) talk: TalkArguments,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const CALLS_EXAMPLES: &str = "\
Examples:
  motorwright calls                            the last 20
  motorwright calls fuse
      those with this word in unit, complaint, ending, remark or answers
  motorwright calls 'left with'
      those whose unit was left open, off or not proved dead; also 'locked off',
      'panel off', 'defeated'
  motorwright calls --open
      those that can be gone on with, and how each left the unit
  motorwright calls --unit 'job 4711' --all
  motorwright calls --since 2026-11-01 --json  one JSON object a line

Exit codes: 0 listed, even if there are none, 1 listed, but for calls whose
beginning cannot be read, 2 the log could not be read, or there is no such day.";

/// What `calls` takes.
#[derive(Args, Debug)]
pub(crate) struct CallsArguments {
    /// Words that all stand in its unit, complaint, ending, remarks, how it left the unit or what was answered, such as a noise
    #[arg(value_name = "WORD")]
    pub(crate) words: Vec<String>,
    /// Only those on this unit
    #[arg(long, value_name = "REF")]
    pub(crate) unit: Option<String>,
    /// Only those that can be gone on with
    #[arg(long)]
    pub(crate) open: bool,
    /// Only those begun on this day or later, as in 2026-11-29
    #[arg(long, value_name = "DAY")]
    pub(crate) since: Option<String>,
    /// Only those begun before this day
    #[arg(long, value_name = "DAY")]
    pub(crate) before: Option<String>,
    /// At most so many
    #[arg(long, value_name = "COUNT", default_value_t = 20, conflicts_with = "all",
          value_parser = one_or_more)]
    pub(crate) most: u32,
    /// All of them
    #[arg(long)]
    pub(crate) all: bool,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

/// How a list is shown.
#[derive(Args, Debug)]
pub(crate) struct Shown {
    /// One JSON object a line instead of a table
    #[arg(long)]
    pub(crate) json: bool,
    /// One line each, the word first, no columns: for a screen reader
    #[arg(long, conflicts_with = "json")]
    pub(crate) plain: bool,
}

pub(super) const SHOW_EXAMPLES: &str = "\
Examples:
  motorwright show 12
  motorwright show 12 --json                    as export writes it
  motorwright show 12 --as-case > call-12.yaml
      as a case, to be judged and kept by a trainer

Exit codes: 0 shown, 2 there is no such call, or the rules no longer know what
is in it.";

/// What `show` takes.
#[derive(Args, Debug)]
pub(crate) struct ShowArguments {
    /// The call
    #[arg(value_name = "N")]
    pub(crate) number: i64,
    /// As one JSON object
    #[arg(long, conflicts_with = "as_case")]
    pub(crate) json: bool,
    /// As a case file, named after the call
    #[arg(long)]
    pub(crate) as_case: bool,
    #[command(flatten)]
    pub(crate) talk: TalkArguments,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const NOTE_EXAMPLES: &str = "\
Examples:
  motorwright note 12             print it
  motorwright note 12 > note.txt

Exit codes: 0 printed, 2 there is no such call, or the rules no longer know what
is in it.";

/// What `note` takes.
#[derive(Args, Debug)]
pub(crate) struct NoteArguments {
    /// The call
    #[arg(value_name = "N")]
    pub(crate) number: i64,
    #[command(flatten)]
    pub(crate) talk: TalkArguments,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const REPORT_EXAMPLES: &str = "\
Examples:
  motorwright report                       all calls, in tables
  motorwright report --since 2026-11-01 --before 2026-12-01
      those begun in November
  motorwright report --html november.html
      a page to be opened, printed or sent on
  motorwright report --json | jq .all.left_open.calls

A call counts once, for the ending that it came to last. A callback is a later
call on the same unit, begun within 30 days of the last word; it counts for the
ending of the earlier call. The page needs no network and holds no remarks.

Exit codes: 0 reported, even if there are no calls, 1 reported, but for calls
whose beginning cannot be read, 2 the log could not be read, or the page not be
written.";

/// What `report` takes.
#[derive(Args, Debug)]
pub(crate) struct ReportArguments {
    /// Only those begun on this day or later, as in 2026-11-29
    #[arg(long, value_name = "DAY")]
    pub(crate) since: Option<String>,
    /// Only those begun before this day
    #[arg(long, value_name = "DAY")]
    pub(crate) before: Option<String>,
    /// Only those on this unit
    #[arg(long, value_name = "REF")]
    pub(crate) unit: Option<String>,
    /// One JSON object instead of tables
    #[arg(long, conflicts_with = "html")]
    pub(crate) json: bool,
    /// One line each, the word first, no columns: for a screen reader
    #[arg(long, conflicts_with_all = ["json", "html"])]
    pub(crate) plain: bool,
    /// Write it as a page with charts to this file
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const EXPORT_EXAMPLES: &str = "\
Examples:
  motorwright export > calls.jsonl        every call, one JSON object a line
  motorwright export 12 14 > two.jsonl
  motorwright export --since 2026-11-01 > november.jsonl

What people typed stands in it as they typed it.

Exit codes: 0 written, 1 written, but for calls that cannot be read, 2 there is
no such call, the log could not be read, or not all be written.";

/// What `export` takes.
#[derive(Args, Debug)]
pub(crate) struct ExportArguments {
    /// These calls [default: all of them]
    #[arg(value_name = "N")]
    pub(crate) numbers: Vec<i64>,
    /// Only those begun on this day or later, as in 2026-11-29
    #[arg(long, value_name = "DAY", conflicts_with = "numbers")]
    pub(crate) since: Option<String>,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const IMPORT_EXAMPLES: &str = "\
Examples:
  motorwright import calls.jsonl
  motorwright export --log-to old.db | motorwright import - --log-to postgres://desk@server/calls

A call that is here already is gone on with where the line has more of it, and
left as it is where the two differ. One that was forgotten here is left out.

Exit codes: 0 taken in, or here already, or forgotten here, 1 some lines were no
call, or were left out as they differ from the call here or somebody is on it, 2
the file or the log could not be read.";

/// What `import` takes.
#[derive(Args, Debug)]
pub(crate) struct ImportArguments {
    /// The file; - for what is piped in
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Also calls that were forgotten here
    #[arg(long)]
    pub(crate) forgotten_too: bool,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

pub(super) const FORGET_EXAMPLES: &str = "\
Examples:
  motorwright forget 12         asks once more on a terminal
  motorwright forget 12 --yes

The call is erased from the file and its write-ahead log. Its made-up id is
remembered, so that an import does not bring it back. Exports, backups and the
log of a database server keep what they have: those are for whoever keeps them.

Exit codes: 0 erased, 1 it was left as it is, 2 there is no such call, it is not
to be erased now, or copies of it may remain.";

/// What `forget` takes.
#[derive(Args, Debug)]
pub(crate) struct ForgetArguments {
    /// The call
    #[arg(value_name = "N")]
    pub(crate) number: i64,
    /// Do not ask
    #[arg(long)]
    pub(crate) yes: bool,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

/// A count that is not nothing.
fn one_or_more(text: &str) -> Result<u32, String> {
    let count = text.parse().ok().filter(|count| *count > 0);
    count.ok_or_else(|| "give a whole number from 1 on, or --all for all of them".to_owned())
}
