//! What of the catalogue the unit does not have.

/// The ids of endings that come of the search itself, and that no fault has behind it: a speed that was lowered in the
/// call and is put back, a cause that could not be got at, a filter that loads within a month, and a blower that no
/// switch stops.
pub const UNMODELLED: [&str; 5] = [
    "put-speed-back",
    "stays-off-until-seen",
    "filter-loads-too-soon",
    "filter-inside-loads-too-soon",
    "blower-cannot-be-stopped",
];
