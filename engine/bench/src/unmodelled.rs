//! What of the catalogue the unit does not have.

/// The ids of endings that come of the search itself, and that no fault has behind it: a speed that was lowered in the
/// call and is put back, and a cause that could not be got at.
pub const UNMODELLED: [&str; 2] = ["put-speed-back", "stays-off-until-seen"];
