//! Dense ids: an index into the rulebook's list of that kind. Only resolving hands them out.

macro_rules! dense_id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub struct $name(u32);

        impl $name {
            #[expect(clippy::cast_possible_truncation, reason = "a rule file is capped far below 2^32 entries")]
            pub(crate) const fn at(index: usize) -> Self {
                Self(index as u32)
            }

            /// Position in the rulebook's list, from 0.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }
        }
    };
}

dense_id!(
    /// A reading, a look or a plate fact of the catalogue.
    FactId
);
dense_id!(
    /// A thing that is done to the unit.
    DeedId
);
dense_id!(
    /// A way in which a call can end.
    EndingId
);
dense_id!(
    /// A fault tree.
    TreeId
);
dense_id!(
    /// A step of a tree; steps of all trees share one list.
    StepId
);
dense_id!(
    /// A place inside the unit at which leads can be fitted.
    StationId
);
dense_id!(
    /// A relation between readings.
    RelationId
);
dense_id!(
    /// A rule that forbids putting power back.
    HoldOffId
);
