//! The control transformer.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// Rated volts of the control side.
const SECONDARY: f64 = 24.0;

/// Control volts that a sound transformer gives from its primary volts (0 to 300 V) on a tap (100 to 300 V).
///
/// Without load losses: lightly loaded, a sound one reads 1 to 4 V more (common practice, 25 to 28 V).
pub(super) static EXPECTED: Formula = Formula {
    name: "control-voltage-expected",
    meaning: "24 volt side that a sound transformer gives from its primary",
    written: "volts = 24 × primary volts ÷ tap volts",
    source: "turns of an ideal transformer; a lightly loaded one reads 25 to 28 V (common practice)",
    limits: "the tap in use is the one named, and the load is within the plate's",
    inputs: &[
        Input::any("primary", "volts across the primary").of(Dimension::Voltage, "V", 0.0, 300.0),
        Input::any("tap", "volts that the primary tap in use is marked with").of(
            Dimension::Voltage,
            "V",
            100.0,
            300.0,
        ),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Voltage,
        unit: "V",
        said: "{primary} on the {tap} tap",
        hand: Some("24 × {primary} ÷ {tap}"),
        work: |inputs| {
            let &[primary, tap] = inputs else { return None };
            (tap > 0.0).then(|| SECONDARY * primary / tap)
        },
    }),
};
