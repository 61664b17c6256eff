//! Whether a call ended right, by what was put in.

use super::visits::Taken;
use crate::fault::Fault;
use engine::call::Outcome;
use engine::rulebook::{EndingId, EndingKind, Rulebook};

/// How a call came out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Verdict {
    /// Every fault was named or mended, and nothing else was done. With nothing put in: in order, and nothing was done.
    Right,
    /// Every fault was named or mended, and something else was done as well.
    Detour,
    /// Of two faults one was named or mended.
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

/// What a trial is judged by.
pub(crate) struct Judged<'t> {
    pub(crate) book: &'t Rulebook,
    pub(crate) faults: &'t [Fault],
    /// What took each fault out of the unit; `None` for one that is still in.
    pub(crate) taken: &'t [Option<Taken>],
    /// The endings of all visits, in order.
    pub(crate) reached: &'t [(EndingId, Outcome)],
    /// Whether a call gave up before anything was named or mended: what came after it is to its credit no more.
    pub(crate) came_to_nothing: bool,
}

impl Judged<'_> {
    /// The endings that answer no fault that was put in: work that was not needed, or somebody sent for in vain.
    pub(crate) fn needless(&self) -> Vec<EndingId> {
        let of_the_call = self.gave_up();
        let for_nothing = |ending: &EndingId| {
            let rule = self.book.ending(*ending);
            let no_work = matches!(rule.kind, EndingKind::InOrder | EndingKind::Open);
            !no_work && !of_the_call.contains(ending) && !self.needed(*ending)
        };
        self.reached.iter().map(|(ending, _)| *ending).filter(for_nothing).collect()
    }

    /// Whether an ending is right for one of the faults, or on the way to what is.
    fn needed(&self, ending: EndingId) -> bool {
        let id = &self.book.ending(ending).id;
        let same_work = |fault: &Fault| fault.right().any(|(right, _)| self.is_the_same_work(right, ending));
        self.faults
            .iter()
            .any(|fault| self.answers(*fault, ending) || fault.leads_over(id) || same_work(fault))
    }

    /// Whether the deeds of an ending are those of another: a motor is made to learn anew for more than one reason.
    fn is_the_same_work(&self, right: &str, ending: EndingId) -> bool {
        let deeds = &self.book.ending(ending).deeds;
        let right = self.book.ending_named(right).map(|right| &self.book.ending(right).deeds);
        !deeds.is_empty() && right == Some(deeds)
    }

    fn answers(&self, fault: Fault, ending: EndingId) -> bool {
        fault.right().any(|(right, _)| right == self.book.ending(ending).id)
    }

    fn named(&self, fault: Fault) -> bool {
        self.reached.iter().any(|(ending, _)| self.answers(fault, *ending))
    }

    /// Whether every fault was named by an ending that is right for it.
    pub(crate) fn all_named(&self) -> bool {
        self.faults.iter().all(|fault| self.named(*fault))
    }

    /// The faults that were named, or that needed work or a routine on the way has taken out. What needless work took
    /// out is not answered: a new motor mends a loose plug, and was wrong.
    pub(crate) fn answered(&self) -> usize {
        let taken_well = |taken: Taken| match taken {
            Taken::By(ending) => self.needed(ending),
            Taken::OnTheWay => true,
        };
        let taken = |place: usize| self.taken.get(place).copied().flatten();
        let faults = self.faults.iter().enumerate();
        faults.filter(|(place, fault)| self.named(**fault) || taken(*place).is_some_and(taken_well)).count()
    }

    /// The endings of a call that came to nothing.
    fn gave_up(&self) -> [EndingId; 3] {
        let roles = self.book.roles();
        [roles.not_enough_readings, roles.same_fault_again, roles.left]
    }

    /// Judges the endings that these calls came to.
    pub(crate) fn verdict(&self) -> Verdict {
        let Some((last, _)) = self.reached.last() else { return Verdict::GaveUp };
        let found = self.answered();
        let clean = self.needless().is_empty();
        let in_order = self.book.ending(*last).kind == EndingKind::InOrder;
        let all = if self.faults.is_empty() { in_order } else { found == self.faults.len() };
        match (all, clean) {
            (_, true) if self.came_to_nothing => Verdict::GaveUp,
            (_, false) if self.came_to_nothing => Verdict::Wrong,
            (true, true) => Verdict::Right,
            (true, false) if !self.faults.is_empty() => Verdict::Detour,
            _ if found > 0 => Verdict::Half,
            (_, true) if self.gave_up().contains(last) => Verdict::GaveUp,
            _ => Verdict::Wrong,
        }
    }
}
