//! The command line: what can be asked of the program, with examples.

mod kept;
mod trial;

use kept::{
    AGAIN_EXAMPLES, CALLS_EXAMPLES, EXPORT_EXAMPLES, FORGET_EXAMPLES, IMPORT_EXAMPLES, NOTE_EXAMPLES,
    REPORT_EXAMPLES, RESUME_EXAMPLES, SHOW_EXAMPLES,
};
pub(crate) use kept::{
    AgainArguments, CallsArguments, ExportArguments, ForgetArguments, ImportArguments, NoteArguments,
    ReportArguments, ResumeArguments, ShowArguments,
};
pub(crate) use trial::TrialArguments;

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::ffi::OsString;
use std::path::PathBuf;

/// Leads a technician from a replacement blower motor that is not right to a sure repair.
#[derive(Debug, Parser)]
#[command(version, about, max_term_width = 100, after_help = EXAMPLES)]
pub(crate) struct Arguments {
    #[command(flatten)]
    pub(crate) common: Common,
    #[command(subcommand)]
    pub(crate) command: Command,
}

const EXAMPLES: &str = "\
Examples:
  motorwright call                   start a call at the prompt
  motorwright resume                 go on with the call that stands open
  motorwright replay cases           run every recorded case
  motorwright call --rules my-rules  try a trainer's own rules

Exit codes: 0 all well, 1 a case disagrees or a call was left open, 2 something
could not be read.";

impl Arguments {
    /// Whether no folder of rules is named.
    pub(crate) fn by_the_rules_built_in(&self) -> bool {
        let named = matches!(&self.command, Command::Check(check) if check.path.is_some());
        self.common.rules.is_none() && !named
    }
}

/// What every command takes.
#[derive(Args, Debug)]
pub(crate) struct Common {
    /// Use the rules of this folder instead of the ones built in
    #[arg(long, global = true, value_name = "DIR")]
    pub(crate) rules: Option<PathBuf>,
    /// Write a log of what the program does to this file, for finding faults in it
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// When to use colour: `NO_COLOR` in the environment means never
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto, value_name = "WHEN")]
    pub(crate) color: Colour,
}

/// When to use colour.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Colour {
    /// On a terminal that has it
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Lead a call at the prompt, from the complaint to the proved repair
    #[command(after_help = CALL_EXAMPLES)]
    Call(CallArguments),
    /// Go on with a call that was left open, where it stood
    #[command(after_help = RESUME_EXAMPLES)]
    Resume(ResumeArguments),
    /// Begin a callback on the unit of an earlier call, with what its plates say and its last repair in mind
    #[command(after_help = AGAIN_EXAMPLES)]
    Again(AgainArguments),
    /// List the calls that are kept, newest first, or find some
    #[command(after_help = CALLS_EXAMPLES)]
    Calls(CallsArguments),
    /// Show a call that is kept: everything that was said and done, and how it ended
    #[command(after_help = SHOW_EXAMPLES)]
    Show(ShowArguments),
    /// Print the note of a call that is kept, to be sent on
    #[command(after_help = NOTE_EXAMPLES)]
    Note(NoteArguments),
    /// What the calls that are kept came to and what they cost, ending by ending, and what came back
    #[command(after_help = REPORT_EXAMPLES)]
    Report(ReportArguments),
    /// Write calls as JSON lines, to be kept elsewhere or taken in by another log
    #[command(after_help = EXPORT_EXAMPLES)]
    Export(ExportArguments),
    /// Take in calls from JSON lines; those that are here already are passed over
    #[command(after_help = IMPORT_EXAMPLES)]
    Import(ImportArguments),
    /// Erase a call for good
    #[command(after_help = FORGET_EXAMPLES)]
    Forget(ForgetArguments),
    /// Run recorded cases and say whether each reaches the endings it must
    #[command(after_help = REPLAY_EXAMPLES)]
    Replay(ReplayArguments),
    /// Try the rules on simulated units with faults put into them: how often is the right thing found?
    #[command(after_help = trial::EXAMPLES)]
    Trial(TrialArguments),
    /// Look rules through, and name every mistake at its line with the way to mend it
    #[command(after_help = CHECK_EXAMPLES)]
    Check(CheckArguments),
    /// Print a tree as indented text, with what each branch means
    #[command(after_help = OUTLINE_EXAMPLES)]
    Outline(OutlineArguments),
    /// Work a formula of the trade: airflow, fan laws, wire drop, …
    #[command(after_help = crate::command::figure::EXAMPLES)]
    Figure(crate::command::figure::FigureArguments),
    /// Say more on a finding: why it matters on a call, an example, and how it is mended
    #[command(after_help = crate::command::explain::EXAMPLES)]
    Explain(crate::command::explain::ExplainArguments),
    /// Print the man page, of the program or of one command
    #[command(after_help = MAN_EXAMPLES)]
    Man {
        /// Of this command
        command: Option<String>,
    },
    /// Print completions for a shell
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
}

const MAN_EXAMPLES: &str = "\
Examples:
  motorwright man > motorwright.1
  motorwright man call > motorwright-call.1

Exit codes: 0 printed, 2 there is no such command.";

const CALL_EXAMPLES: &str = "\
Examples:
  motorwright call                    start a call
  motorwright call --unit 'job 4711'  on a unit that may have had calls before
  motorwright call --log-to none      keep nothing of it
  motorwright call --answers cases/no-run/panel-hung-on-one-hook.yaml
      watch a recorded case as a call
  printf 'none\\n' | motorwright call  answer from a script
  motorwright call --script --paper a4 > call.txt
      a call on paper, for the day the computer is down

With --unit, a call starts from the last one on the same unit: what its plates
say is known, a repair that was left for later comes first, and one that was
done in the last 30 days is not done a second time in vain.

Where the log can be written no more in the middle of a call, it asks whether to
go on without a record; the screen and the note then say from which question on
nothing is recorded. Every answer tries again, and writes down what is behind.

Exit codes: 0 the call came to an ending, 1 it was left open, 2 something could
not be read or written, also where the call stayed unrecorded to its end.";

const REPLAY_EXAMPLES: &str = "\
Examples:
  motorwright replay cases                every case below a folder
  motorwright replay cases/no-run --json  one JSON object a line
  motorwright replay cases --by-ending    what a call costs, by its last ending
  motorwright replay mine.yaml --rules my-rules
  motorwright replay --calls
      calls that are kept: which would end elsewhere by today's rules?
  motorwright replay --calls --rules my-rules --since 2026-11-01

With --calls, what was found in a call that ended is told to today's rules as
they ask for it, unless they are those that it went by. What they ask and is not
in it counts as not to be had, and is named.

With --by-ending each case counts once, with all that it cost, for the ending
that it comes to last: what a first repair took is part of it. The dearest
ending stands first.

Exit codes: 0 all agree, 1 some do not, 2 something could not be read.";

/// What every command takes that shows a conversation.
#[derive(Args, Debug)]
pub(crate) struct TalkArguments {
    /// The units that are shown, and that a bare number is read in; any unit is understood [default: as the rules say]
    #[arg(long, value_enum, value_name = "FAMILY")]
    pub(crate) units: Option<UnitFamily>,
    /// One line each, the word first, no columns: for a screen reader
    #[arg(long)]
    pub(crate) plain: bool,
}

/// Where the environment names the call log.
pub(crate) const LOG_TO: &str = "MOTORWRIGHT_LOG_TO";

/// What every command takes that needs the call log.
#[derive(Args, Debug)]
pub(crate) struct LogArguments {
    /// Where calls are kept: a file, or `postgres://USER@HOST/DATABASE` [default: calls.db in your data folder]
    #[arg(long, value_name = "PLACE", env = LOG_TO, hide_env_values = true)]
    pub(crate) log_to: Option<OsString>,
}

/// What `call` takes.
#[derive(Args, Debug)]
pub(crate) struct CallArguments {
    /// What your desk calls the unit: a job or a plate number, never a person
    #[arg(long, value_name = "REF", conflicts_with_all = ["answers", "script"])]
    pub(crate) unit: Option<String>,
    /// With --unit: know nothing of earlier calls on it
    #[arg(long, requires = "unit")]
    pub(crate) fresh: bool,
    /// With --unit: do not ask, also where another call on the unit is open and somebody may be at it
    #[arg(long, requires = "unit")]
    pub(crate) yes: bool,
    /// Take the answers from a case file, and show the call as it would go
    #[arg(long, value_name = "FILE")]
    pub(crate) answers: Option<PathBuf>,
    /// Take this meter's own accuracy, quantity by quantity, instead of an ordinary meter's
    #[arg(long, value_name = "FILE")]
    pub(crate) meter: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) talk: TalkArguments,
    /// Print a call as a script on paper, for the day the computer is down: a tree and all that it leads to
    #[arg(long, value_name = "TREE", num_args = 0..=1, default_missing_value = "", conflicts_with = "answers")]
    pub(crate) script: Option<String>,
    /// The paper that the script is for
    #[arg(long, value_enum, default_value_t = Paper::Letter, requires = "script", value_name = "SIZE")]
    pub(crate) paper: Paper,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}

/// The paper that a script is for; six lines to the inch.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Paper {
    /// 66 lines a page, four left for margins
    A4,
    /// 60 lines a page, six left for margins
    Letter,
}

/// A family of units.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum UnitFamily {
    /// °C, Pa, mm, kW, m³/h
    Si,
    /// °F, inches of water column, inches, Btu/h, CFM
    Us,
}

const OUTLINE_EXAMPLES: &str = "\
Examples:
  motorwright outline        the trees there are
  motorwright outline no-run | less
  motorwright outline --ids  every id there is, with what it stands for
  motorwright outline --ids readings | grep volt
  motorwright outline noise --rules my-rules

Exit codes: 0 printed, 2 there is no such tree, or the rules could not be read.";

/// What `outline` takes.
#[derive(Args, Debug)]
pub(crate) struct OutlineArguments {
    /// The tree [default: a list of them]
    #[arg(value_name = "TREE")]
    pub(crate) tree: Option<String>,
    /// List the ids that trees, cases and other rules name, with what they stand for: all, or those of one kind
    #[arg(
        long,
        value_enum,
        num_args = 0..=1,
        default_missing_value = "all",
        conflicts_with = "tree",
        value_name = "KIND"
    )]
    pub(crate) ids: Option<Ids>,
    /// One JSON object a line, one for each id
    #[arg(long, requires = "ids")]
    pub(crate) json: bool,
}

/// What has an id.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Ids {
    /// Everything below
    All,
    /// What trees ask for and cases tell, with the choices or the unit
    Readings,
    /// What is done to the unit
    Deeds,
    /// How a call can end, with the kind
    Endings,
    /// The trees there are
    Trees,
    /// What can be worked out
    Formulas,
}

const CHECK_EXAMPLES: &str = "\
Examples:
  motorwright check my-rules                   look a folder of rules through
  motorwright check my-rules --watch           again at every save
  motorwright check my-rules --coverage cases
      and what of the trees the cases walk
  motorwright check my-rules --lockouts
      and how many lock-outs each ending needs
  motorwright check my-rules --lockouts --tree no-run
      only the endings of one tree
  motorwright check my-rules/trees/dust.yaml   only what is found in one file
  motorwright check my-rules --sarif > found.sarif

Exit codes: 0 nothing found but notes, 1 something is to be mended, 2 something
could not be read.";

/// What `check` takes.
#[derive(Args, Debug)]
pub(crate) struct CheckArguments {
    /// The folder of the rules [default: the one of --rules, or the rules built in]
    #[arg(value_name = "PATH")]
    pub(crate) path: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) machine: ForMachines,
    /// Look through again at every save, until it is stopped
    #[arg(long, conflicts_with_all = ["coverage", "lockouts", "json", "sarif"])]
    pub(crate) watch: bool,
    /// Show how many lock-outs the rules need until each ending, at least and at most
    #[arg(long, conflicts_with = "sarif")]
    pub(crate) lockouts: bool,
    /// Show which steps, branches and endings the cases below this path walk
    #[arg(long, value_name = "CASES", conflicts_with_all = ["json", "sarif"])]
    pub(crate) coverage: Option<PathBuf>,
    /// Show only what is found in this tree; with --coverage or --lockouts, only the tree, or the endings it comes to
    #[arg(long, value_name = "TREE", conflicts_with = "watch")]
    pub(crate) tree: Option<String>,
}

/// What `check` writes for other programs.
#[derive(Args, Debug)]
pub(crate) struct ForMachines {
    /// One JSON object a line, one for each finding; with --lockouts, then one for each of its lines
    #[arg(long, conflicts_with = "sarif")]
    pub(crate) json: bool,
    /// One SARIF 2.1.0 log, for code hosts and editors
    #[arg(long)]
    pub(crate) sarif: bool,
}

/// What `replay` takes.
#[derive(Args, Debug)]
pub(crate) struct ReplayArguments {
    /// Case files, or folders of them
    #[arg(required_unless_present = "calls", value_name = "PATH")]
    pub(crate) paths: Vec<PathBuf>,
    /// The calls that are kept, in place of cases: which would end elsewhere by today's rules?
    #[arg(long, conflicts_with_all = ["paths", "by_ending"])]
    pub(crate) calls: bool,
    /// With --calls: only those begun on this day or later, as in 2026-11-29
    #[arg(long, value_name = "DAY", requires = "calls")]
    pub(crate) since: Option<String>,
    /// One JSON object a line instead of a table
    #[arg(long)]
    pub(crate) json: bool,
    /// A line for each ending that a case comes to last: how many cases, and what the middle one and the dearest cost
    #[arg(long)]
    pub(crate) by_ending: bool,
    #[command(flatten)]
    pub(crate) log: LogArguments,
}
