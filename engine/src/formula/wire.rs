//! What a copper wire drops on the way.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// A thousand feet, in metres.
const THOUSAND_FEET: f64 = 304.8;
/// Gauge, then ohms for a thousand feet at 75 °C of uncoated copper: solid, stranded of seven.
#[expect(clippy::approx_constant, reason = "3.14 ohms of the table is no circle")]
const TABLE: [(f64, f64, f64); 5] =
    [(18.0, 7.77, 7.95), (16.0, 4.89, 4.99), (14.0, 3.07, 3.14), (12.0, 1.93, 1.98), (10.0, 1.21, 1.24)];

const SOURCE: &str = "NEC chapter 9, table 8: uncoated copper at 75 °C (two transcriptions agree); the current edition and \
                      the local code decide";
const LIMITS: &str = "18, 16, 14, 12 or 10 AWG copper, as in the table";
const INPUTS: &[Input] = &[
    Input::any("gauge", "AWG number of the wire: 18, 16, 14, 12 or 10").of(Dimension::Count, "", 10.0, 18.0),
    Input::any("length", "length one way; the way back is counted in").of(
        Dimension::Length,
        "ft",
        0.0,
        1_000.0,
    ),
    Input::any("current", "amps through the wire").of(Dimension::Current, "A", 0.0, 100.0),
];

/// What solid copper wire of 18 to 10 AWG drops, there and back (0 to 1 000 ft one way, 0 to 100 A), at 75 °C.
///
/// A cooler wire drops less: at 20 °C 0.82 of this.
pub(super) static SOLID: Formula = Formula {
    name: "line-drop-solid",
    meaning: "volts that a solid copper wire drops, there and back",
    written: "volts = 2 × feet ÷ 1000 × ohms for 1000 ft × amps",
    source: SOURCE,
    limits: LIMITS,
    inputs: INPUTS,
    kind: Kind::Named(Named {
        gives: Dimension::Voltage,
        unit: "V",
        said: "{length} each way of {gauge} AWG solid copper with {current}",
        hand: None,
        work: |inputs| drop(inputs, |&(_, solid, _)| solid),
    }),
};

/// What stranded copper wire of 18 to 10 AWG drops, there and back (0 to 1 000 ft one way, 0 to 100 A), at 75 °C.
pub(super) static STRANDED: Formula = Formula {
    name: "line-drop-stranded",
    meaning: "volts that a stranded copper wire drops, there and back",
    written: "volts = 2 × feet ÷ 1000 × ohms for 1000 ft × amps",
    source: SOURCE,
    limits: LIMITS,
    inputs: INPUTS,
    kind: Kind::Named(Named {
        gives: Dimension::Voltage,
        unit: "V",
        said: "{length} each way of {gauge} AWG stranded copper with {current}",
        hand: None,
        work: |inputs| drop(inputs, |&(_, _, stranded)| stranded),
    }),
};

/// The drop in volts for gauge, metres one way, and amps; `None` for a gauge that is not in the table.
fn drop(inputs: &[f64], ohms: fn(&(f64, f64, f64)) -> f64) -> Option<f64> {
    let &[gauge, length, current] = inputs else { return None };
    let row = TABLE.iter().find(|(known, ..)| (known - gauge).abs() < f64::EPSILON)?;
    Some(2.0 * length / THOUSAND_FEET * ohms(row) * current)
}
