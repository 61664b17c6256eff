//! What happens in a call. A call is the fold of its events; nothing else is stored.

use super::power::PowerStep;
use crate::rulebook::{Answer, ChoiceSet, DeedId, EndingId, FactId, RelationId};

/// Position of an event in its call's log, from 0.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct EventId(u32);

impl EventId {
    #[expect(clippy::cast_possible_truncation, reason = "a call has far fewer than 2^32 events")]
    pub(crate) const fn at(index: usize) -> Self {
        Self(index as u32)
    }

    /// The event at this position of a record; one that the call does not have is never met.
    pub(crate) const fn numbered(number: u32) -> Self {
        Self(number)
    }

    /// Position in the log, as records keep it.
    pub(crate) const fn number(self) -> u32 {
        self.0
    }

    /// Position in the log.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// Why a fact was asked for. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// It was told without being asked.
    Unasked,
    /// A step of a tree goes by it.
    Step,
    /// A power routine or a hold-off needs it.
    Routine,
    /// A repair is being proved.
    Proof,
    /// The first reading is too close to an edge: a second one.
    Second,
    /// It cannot be true beside other readings: read anew.
    Doubted,
}

/// How a power step went. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepResult {
    /// Done, and as it should be.
    Done,
    /// Done in part: of the leads offered, only the one that is needed now could be fitted.
    Partly,
    /// It could not be done, or did not come out as it must.
    Failed,
}

/// How a deed went. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DeedResult {
    /// It is begun: the person agreed to do it now.
    Now,
    /// It is done.
    Done,
    /// It could not be done.
    NotPossible,
    /// It is left for another visit.
    Later,
}

/// One thing that happened.
#[derive(Clone, PartialEq, Debug)]
pub enum Event {
    /// A fact was told, asked for or not.
    Told {
        /// Which fact.
        fact: FactId,
        /// What it is, or that it cannot be had.
        answer: Answer,
        /// Why it was asked for.
        purpose: Purpose,
    },
    /// A second reading of a fact was taken.
    Again {
        /// Which fact.
        fact: FactId,
        /// What it read this time, or that no other reading can be taken.
        answer: Answer,
    },
    /// An answer or a power step is taken back, or the word that a deed is not to be had. Deeds done never are.
    Retract {
        /// The event that is taken back.
        event: EventId,
    },
    /// The person stands by readings that a relation says cannot all be true.
    Insist {
        /// The relation.
        relation: RelationId,
    },
    /// So many steps of a deed under way are done, from the first; fewer than before where one is gone back.
    Worked {
        /// The repair it belongs to.
        ending: EndingId,
        /// Which deed.
        deed: DeedId,
        /// How many of its steps.
        steps: usize,
    },
    /// A step of a power routine.
    Power {
        /// Which step.
        step: PowerStep,
        /// How it went.
        result: StepResult,
    },
    /// A deed of an ending.
    Deed {
        /// The ending it belongs to.
        ending: EndingId,
        /// Which deed.
        deed: DeedId,
        /// How it went.
        result: DeedResult,
    },
    /// Danger was seen; may be said at any time.
    Danger {
        /// What was seen.
        what: ChoiceSet,
    },
    /// A remark for the record.
    Note(String),
    /// The person leaves.
    Left,
    /// The call is taken up again.
    Resumed,
    /// What an earlier call on this unit came to: a repair that was done, or that was left for another visit. Done after
    /// it was left: somebody has done it since, and it is to be proved. Or that the unit could not be proved dead: left,
    /// it gets no power before it is; done, somebody has seen to it since.
    Earlier {
        /// The repair, or the ending of a unit that cannot be proved dead.
        ending: EndingId,
        /// [`DeedResult::Done`], or [`DeedResult::Later`]; anything else says nothing.
        result: DeedResult,
        /// In which call, as people find it; `None` where a person said it.
        of: Option<String>,
    },
}

impl Event {
    /// Whether it is only said, so that it may be taken back: an answer, or that a deed is not to be had. What was
    /// done is not.
    pub(crate) const fn is_a_word(&self) -> bool {
        matches!(
            self,
            Self::Told { .. }
                | Self::Again { .. }
                | Self::Danger { .. }
                | Self::Deed { result: DeedResult::NotPossible | DeedResult::Later, .. }
        )
    }
}
