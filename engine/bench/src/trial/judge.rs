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

/// Judges the endings that a call with these faults came to.
pub(crate) fn verdict(book: &Rulebook, faults: &[Fault], reached: &[(EndingId, Outcome)]) -> Verdict {
    let named = |fault: &Fault| {
        let id = |ending: EndingId| book.ending(ending).id.as_str();
        reached.iter().any(|(ending, _)| fault.right().any(|(right, _)| right == id(*ending)))
    };
    let Some((last, _)) = reached.last() else { return Verdict::GaveUp };
    let roles = book.roles();
    let gave_up = [roles.not_enough_readings, roles.same_fault_again, roles.left].contains(last);
    let ours = |ending: EndingId| {
        let id = book.ending(ending).id.as_str();
        faults.iter().any(|fault| fault.right().any(|(right, _)| right == id))
    };
    let needless = reached.iter().any(|(ending, _)| {
        let kind = book.ending(*ending).kind;
        let check = kind == EndingKind::InOrder || kind == EndingKind::Open;
        let on_the_way = faults.iter().any(|fault| fault.leads_over(&book.ending(*ending).id));
        !check
            && !on_the_way
            && !ours(*ending)
            && ![roles.not_enough_readings, roles.same_fault_again].contains(ending)
    });
    let found = faults.iter().filter(|fault| named(fault)).count();
    // Somebody else's work that is right for one fault ends a call before the other can be found.
    let handed_over = book.ending(*last).kind == EndingKind::HandOver && ours(*last);
    match () {
        () if faults.is_empty() && !needless && book.ending(*last).kind == EndingKind::InOrder => {
            Verdict::Right
        }
        () if faults.is_empty() && gave_up && !needless => Verdict::GaveUp,
        () if faults.is_empty() => Verdict::Wrong,
        () if found == faults.len() || (handed_over && found > 0) => {
            if needless {
                Verdict::Detour
            } else {
                Verdict::Right
            }
        }
        () if found > 0 => Verdict::Half,
        () if gave_up && !needless => Verdict::GaveUp,
        () => Verdict::Wrong,
    }
}
