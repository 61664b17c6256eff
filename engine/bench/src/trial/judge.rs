//! Whether a call ended right, by what was put in.

use crate::fault::Fault;
use engine::call::Outcome;
use engine::rulebook::{EndingId, EndingKind, Rulebook};

/// How a call came out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Verdict {
    /// Every fault was named, and nothing else was done. With nothing put in: in order, and nothing was done.
    Right,
    /// Every fault was named, and something else was done as well.
    Detour,
    /// Of two faults one was named.
    Half,
    /// Nothing was named: too little could be read, or the same came round again.
    GaveUp,
    /// Something else was named.
    Wrong,
}

impl Verdict {
    /// Every verdict, the best first.
    pub const ALL: [Self; 5] = [Self::Right, Self::Detour, Self::Half, Self::GaveUp, Self::Wrong];

    /// One word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Detour => "detour",
            Self::Half => "half",
            Self::GaveUp => "gave up",
            Self::Wrong => "wrong",
        }
    }
}

/// The endings that answer no fault that was put in: work that was not needed, or somebody sent for in vain.
pub(crate) fn needless(book: &Rulebook, faults: &[Fault], reached: &[(EndingId, Outcome)]) -> Vec<EndingId> {
    let of_the_call = gave_up(book);
    let for_nothing = |ending: &EndingId| {
        let rule = book.ending(*ending);
        let no_work = matches!(rule.kind, EndingKind::InOrder | EndingKind::Open);
        let on_the_way = faults.iter().any(|fault| fault.leads_over(&rule.id));
        !no_work && !on_the_way && !of_the_call.contains(ending) && !answers_one(book, faults, *ending)
    };
    reached.iter().map(|(ending, _)| *ending).filter(for_nothing).collect()
}

/// Whether an ending is right for one of the faults.
fn answers_one(book: &Rulebook, faults: &[Fault], ending: EndingId) -> bool {
    faults.iter().any(|fault| answers(book, *fault, ending))
}

fn answers(book: &Rulebook, fault: Fault, ending: EndingId) -> bool {
    fault.right().any(|(right, _)| right == book.ending(ending).id)
}

/// The endings of a call that came to nothing.
fn gave_up(book: &Rulebook) -> [EndingId; 3] {
    let roles = book.roles();
    [roles.not_enough_readings, roles.same_fault_again, roles.left]
}

/// Judges the endings that a call with these faults came to.
pub(crate) fn verdict(book: &Rulebook, faults: &[Fault], reached: &[(EndingId, Outcome)]) -> Verdict {
    let Some((last, _)) = reached.last() else { return Verdict::GaveUp };
    let named = |fault: &&Fault| reached.iter().any(|(ending, _)| answers(book, **fault, *ending));
    let found = faults.iter().filter(named).count();
    let clean = needless(book, faults, reached).is_empty();
    let kind = book.ending(*last).kind;
    // Somebody else's work that is right for one fault ends a call before the other can be found.
    let handed_over = found > 0 && kind == EndingKind::HandOver && answers_one(book, faults, *last);
    let all = if faults.is_empty() { kind == EndingKind::InOrder } else { found == faults.len() };
    match (all || handed_over, clean) {
        (true, true) => Verdict::Right,
        (true, false) if !faults.is_empty() => Verdict::Detour,
        _ if found > 0 => Verdict::Half,
        (_, true) if gave_up(book).contains(last) => Verdict::GaveUp,
        _ => Verdict::Wrong,
    }
}
