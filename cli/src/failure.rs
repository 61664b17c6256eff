//! Why a command could not do its work, and the exit code that says so.

use crate::findings;
use crate::harmless::harmless;
use crate::store::{typed, typed_of};
use crate::talk::wrapped;
use engine::finding::{Code, Reported, near, quoted};
use engine::rulebook::Rulebook;
use std::io::{ErrorKind, IsTerminal as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What stopped a command.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    /// A file could not be read.
    #[error("cannot read `{}`: {error}", path.display())]
    Read { path: PathBuf, error: std::io::Error },
    /// Something that is no file has a file's name.
    #[error("`{}` {is}: {mend}", path.display())]
    NoFile { path: PathBuf, is: &'static str, mend: &'static str },
    /// A folder without rule or case files.
    #[error("no `.yaml` file below `{}`", .0.display())]
    NoYaml(PathBuf),
    /// A part of the rules that is not there.
    #[error(
        "there is no `{}` below `{}`{}",
        path.display(),
        folder.display(),
        meant(near.as_deref().and_then(Path::to_str))
    )]
    NoRules { path: PathBuf, folder: PathBuf, near: Option<PathBuf> },
    /// A tree that is not there.
    #[error("there is no tree {}{}; there are: {trees}", quoted(.asked), meant(near(.asked, .trees.split(", "))))]
    NoTree { asked: String, trees: String },
    /// A command that there is not.
    #[error("there is no command `{0}`")]
    NoCommand(String),
    /// The rules built in never change.
    #[error(
        "there is nothing to watch: give the folder of the rules, as in `motorwright check my-rules --watch`"
    )]
    NothingToWatch,
    /// A finding code that there is not.
    #[error("{} is no finding code{}; `motorwright explain` lists them", quoted(.asked), meant(*.near))]
    NoCode { asked: String, near: Option<&'static str> },
    /// A fault that the simulated unit does not know.
    #[error(
        "there is no fault {}{}; `motorwright trial --faults list` lists them",
        quoted(.asked),
        meant(*.near)
    )]
    NoFault { asked: String, near: Option<&'static str> },
    /// One fault where two are to be put in.
    #[error("a pair takes two faults, and there is only `{0}`: name another, or leave out --pairs")]
    NoPair(&'static str),
    /// A simulated call that cannot be made.
    #[error("call {call} cannot be made: no unit can have {faults}")]
    NoUnit { call: u64, faults: String },
    /// The threads could not be had.
    #[error("cannot make calls on so many threads: {0}; give fewer with --threads")]
    Threads(String),
    /// A file could not be written.
    #[error("cannot write `{}`: {}", path.display(), full_or(error))]
    Write { path: PathBuf, error: std::io::Error },
    /// Rule or case files with findings.
    #[error(transparent)]
    Reported(#[from] Reported),
    /// Something is wrong with the call log, or with a call in it.
    #[error(transparent)]
    Log(#[from] crate::store::Fault),
    /// A call that is over.
    #[error(
        "call {number} has come to its end: {end}. To begin a callback on the unit: {}",
        typed_of("again", *.number)
    )]
    Over { number: i64, end: String },
    /// No call can be gone on with.
    #[error("no call stands open; `{}` lists those that are kept", typed("calls"))]
    NoneOpen,
    /// Several calls can be gone on with, and nobody can be asked which; so many.
    #[error(
        "{} calls stand open: `{}` lists them; say which, as in: {}",
        .0,
        typed("calls --open"),
        typed("resume 12")
    )]
    SeveralOpen(usize),
    /// Those that can be gone on with are under way at other seats; the newest of them.
    #[error("no call stands open that nobody has: {0}")]
    NoneFree(crate::store::Fault),
    /// A day that is none.
    #[error("{} is no day; write it as in 2026-11-29, or today, or yesterday", quoted(.0))]
    NoDay(String),
    /// Days between which there is none.
    #[error("no call can be begun since {since} and before {before}: --since takes the earlier day")]
    NoSpan { since: String, before: String },
    /// A call is to be taken from a seat that may be alive, and nobody can be asked.
    #[error(
        "call {number} is held by {holder}: nobody can be asked here whether they are gone. Where it is sure, say \
         --take-over --yes"
    )]
    UnsureOver { number: i64, holder: crate::store::Holder },
    /// Nobody can be asked whether they mean it.
    #[error("erasing call {0} cannot be undone: say --yes where nobody can be asked")]
    Unconfirmed(i64),
    /// The terminal, the pipe or the file that it writes to is gone, or full.
    #[error("{}", unwritten(.0))]
    Terminal(#[from] std::io::Error),
    /// A call that came to no end.
    #[error(transparent)]
    Halt(#[from] engine::call::Halt),
}

/// Everything went as it should.
pub(crate) const OK: u8 = 0;
/// The work was done, and something in it disagrees or was left open.
pub(crate) const DISAGREES: u8 = 1;
/// Something could not be read, written or understood.
pub(crate) const UNREADABLE: u8 = 2;

impl Failure {
    /// There is no such tree; the trees that there are.
    pub(crate) fn no_tree(book: &Rulebook, asked: &str) -> Self {
        let trees = book.trees().iter().map(|tree| tree.id.as_str()).collect::<Vec<_>>().join(", ");
        Self::NoTree { asked: asked.to_owned(), trees }
    }

    /// Whether names are not known that other rules may know.
    fn is_of_names(&self) -> bool {
        match self {
            Self::NoTree { .. } => true,
            Self::Reported(reported) => reported.findings().iter().any(|finding| of_a_name(finding.code())),
            _ => false,
        }
    }

    pub(crate) fn read(path: &Path, error: std::io::Error) -> Self {
        Self::Read { path: path.to_owned(), error }
    }

    /// Shows it on standard error. By the rules built in, many names that are not known are one slip: of them the first
    /// is shown.
    pub(crate) fn show(&self, built_in: bool) -> ExitCode {
        match self {
            Self::Reported(reported) => {
                let found = reported.findings();
                let names = found.iter().filter(|finding| of_a_name(finding.code())).count();
                let is_one_slip = built_in && names > MOST_NAMES;
                let mut told = 0;
                let mut screen = anstream::stderr().lock();
                for finding in found {
                    told += usize::from(of_a_name(finding.code()));
                    if !is_one_slip || told <= 1 || !of_a_name(finding.code()) {
                        // Where nobody can be told, the exit code still says it.
                        let _ = findings::write(&mut screen, finding);
                    }
                }
                drop(screen);
                if is_one_slip {
                    let more = names - 1;
                    anstream::eprintln!("motorwright: {more} more names are not known, each like the first");
                }
                let count = found.len();
                let plural = if count == 1 { "" } else { "s" };
                anstream::eprintln!("motorwright: {count} finding{plural}; nothing was started");
                anstream::eprintln!("{}", findings::MORE);
            }
            other => say(&other.to_string()),
        }
        if built_in && self.is_of_names() {
            say("names are looked up in the rules built in: give others with --rules DIR");
        }
        ExitCode::from(UNREADABLE)
    }
}

/// Names not known to the rules built in of which each is shown.
const MOST_NAMES: usize = 3;

fn of_a_name(code: Code) -> bool {
    matches!(code, Code::UnknownId | Code::UnknownChoice)
}

fn meant(near: Option<&str>) -> String {
    near.map_or(String::new(), |near| format!(", did you mean `{near}`"))
}

/// Why nothing more can be written to where the program writes.
fn unwritten(error: &std::io::Error) -> String {
    let out = std::io::stdout();
    match error.kind() {
        _ if out.is_terminal() => format!("cannot write to the terminal: {error}"),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "the disk that the output goes to is full, so what stands there is not the whole of it. Free some space \
             or name another file, then run it anew"
                .to_owned()
        }
        _ => format!("cannot write the output, so what stands there is not the whole of it: {error}"),
    }
}

/// What is wrong with a disk, in plain words where it is full.
fn full_or(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "its disk is full. Free some space, or name another file".to_owned()
        }
        _ => error.to_string(),
    }
}

/// Says something on standard error; on a terminal in lines that break between words.
pub(crate) fn say(text: &str) {
    let text = format!("motorwright: {}", harmless(text));
    if !std::io::stderr().is_terminal() {
        anstream::eprintln!("{text}");
        return;
    }
    for line in wrapped(&text, columns_of_stderr().unwrap_or(80).max(40) - 1) {
        anstream::eprintln!("{line}");
    }
}

/// The columns of the terminal that faults go to: standard output may go elsewhere.
#[cfg(unix)]
fn columns_of_stderr() -> Option<usize> {
    let size = rustix::termios::tcgetwinsize(std::io::stderr()).ok()?;
    Some(usize::from(size.ws_col)).filter(|columns| *columns > 0)
}

#[cfg(not(unix))]
fn columns_of_stderr() -> Option<usize> {
    crate::talk::columns()
}
