//! What every test here starts from: the project's folders, its rulebook, its cases.

use crate::below::below;
use engine::call::{Answerer, Call, DeedResult, Ended, Event, Halt, Prompt, Refusal, Reply, drive};
use engine::case::{Case, Player};
use engine::paths::{Calls, LockOuts};
use engine::rulebook::{EndingId, Rulebook};
use engine::source::Source;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, LazyLock};

/// The project's root folder.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The program, keeping nothing of its calls.
pub(crate) fn program() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_motorwright"));
    program.env("MOTORWRIGHT_LOG_TO", "none");
    program
}

/// Every file with this ending below a folder of the project, in order.
pub(crate) fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    below(&root().join(folder), ending)
}

/// A file as a source, named by its path from the root.
pub(crate) fn source(path: &Path) -> Source {
    let name = path.strip_prefix(root()).unwrap_or(path).display().to_string();
    Source::new(name, fs::read(path).unwrap()).unwrap()
}

/// The rules that are shipped.
pub(crate) static BOOK: LazyLock<Arc<Rulebook>> = LazyLock::new(|| {
    let sources = files("rules", "yaml").iter().map(|path| source(path)).collect::<Vec<_>>();
    Arc::new(engine::read_rules(sources).unwrap_or_else(|reported| panic!("{reported}")))
});

/// The cases that are shipped.
pub(crate) static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
    files("cases", "yaml")
        .iter()
        .map(|path| Case::read(&BOOK, source(path)).unwrap_or_else(|reported| panic!("{reported}")))
        .collect()
});

/// A case played to its end.
pub(crate) struct Played {
    pub(crate) call: Call,
    pub(crate) ended: Ended,
    /// How many lock-outs there were when the first deed was done.
    pub(crate) at_first_deed: Option<u32>,
}

/// All cases that are shipped, each played once for all tests that look at what came of it.
pub(crate) static PLAYED: LazyLock<Vec<(&'static Case, Played)>> =
    LazyLock::new(|| CASES.iter().map(|case| (case, Played::of(case))).collect());

impl Played {
    fn of(case: &Case) -> Self {
        let mut call = Call::new(Arc::clone(&BOOK));
        let mut counting = Counting { player: Player::new(&BOOK, case), at_first_deed: None };
        let ended = drive(&mut call, &mut counting).unwrap();
        Self { call, ended, at_first_deed: counting.at_first_deed }
    }

    /// The ids of the endings that it came to, in order.
    pub(crate) fn endings(&self) -> Vec<&'static str> {
        self.ended.all().map(|reached| BOOK.ending(reached.ending).id.as_str()).collect()
    }
}

/// Plays a case and notes how many lock-outs there were when the first deed was done.
struct Counting<'c> {
    player: Player<'c>,
    at_first_deed: Option<u32>,
}

impl Answerer for Counting<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        if let Event::Deed { result: DeedResult::Done, .. } = event {
            self.at_first_deed.get_or_insert(call.power().lockouts());
        }
        self.player.happens(call, event)
    }
}

/// What the rules are said to need in lock-outs, whatever is complained of: without live work, and with it.
pub(crate) static LOCKOUTS: LazyLock<[LockOuts; 2]> = LazyLock::new(|| {
    let paths = BOOK.paths();
    [false, true].map(|live_work| BOOK.lockouts(&paths, Calls { complaint: None, live_work }))
});

/// The endings that a line of a tree can end a call in: one in order that is only ever visited ends none.
pub(crate) fn ends_of_calls() -> BTreeSet<EndingId> {
    let ids = BOOK.endings().iter().filter_map(|ending| BOOK.ending_named(&ending.id));
    ids.filter(|id| LOCKOUTS.iter().any(|lockouts| lockouts.until(*id).is_some())).collect()
}

/// A case that a test writes, as if it stood in a file of its name.
pub(crate) fn written(case: &str) -> Case {
    let name = case.lines().find_map(|line| line.strip_prefix("case: ")).unwrap_or_default();
    let source = Source::new(format!("{name}.yaml"), case).unwrap();
    Case::read(&BOOK, source).unwrap_or_else(|found| panic!("{found}"))
}

/// A case played to its end: the call, and the last ending.
pub(crate) fn played(case: &str) -> (Call, String) {
    let case = written(case);
    let mut call = Call::new(Arc::clone(&BOOK));
    let ended = drive(&mut call, &mut Player::new(&BOOK, &case)).unwrap();
    (call, BOOK.ending(ended.last.ending).id.clone())
}

/// The last ending that a case comes to.
pub(crate) fn ending_of(case: &str) -> String {
    played(case).1
}
