//! Whether the motor's mount fits the blower.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// How much larger than the air opening the mount's bolt circle is (each 1 to 40 in.); below nothing it is smaller.
pub(super) static MOUNT_OVERLAP: Formula = Formula {
    name: "mount-overlap",
    meaning: "how much larger the mount's bolt circle is than the air opening it spans",
    written: "overlap = mount - opening",
    source: "common practice: at least 1 in.; usual mounts are 10, 11 and 13 in.",
    limits: "both are measured across the middle",
    inputs: &[
        Input::any("mount", "bolt circle of the mount, across").of(Dimension::Length, "in", 1.0, 40.0),
        Input::any("opening", "air opening that it spans, across").of(Dimension::Length, "in", 1.0, 40.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Length,
        unit: "in",
        said: "{mount} over an opening of {opening}",
        hand: Some("{mount} - {opening}"),
        work: |inputs| {
            let &[mount, opening] = inputs else { return None };
            Some(mount - opening)
        },
    }),
};
