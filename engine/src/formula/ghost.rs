//! Ghost voltages: what a meter shows on an open conductor that only lies beside a live one.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// Volts that a meter shows on an open conductor beside a live one (0 to 600 V): a divider of the capacitance between the
/// two and the meter's resistance beside the capacitance to ground.
pub(super) static SHOWN: Formula = Formula {
    name: "ghost-voltage",
    meaning: "volts a meter shows on an open wire that lies beside a live one",
    written: "volts = V × ωRC1 ÷ √(1 + (ωR(C1 + C2))²), with ω = 6.2832 × Hz",
    source: "divider of two capacitances and the meter's resistance; NEMA Bulletin 88 for what it means",
    limits: "the wire is open at both ends; a low-impedance meter shows next to nothing",
    inputs: &[
        Input::any("live", "volts of the live conductor").of(Dimension::Voltage, "V", 0.0, 600.0),
        Input::any("frequency", "of the supply").of(Dimension::Frequency, "Hz", 1.0, 400.0),
        Input::any("between", "capacitance between the two conductors").of(
            Dimension::Capacitance,
            "µF",
            0.0,
            1.0,
        ),
        Input::any("to-ground", "capacitance of the open conductor to ground").of(
            Dimension::Capacitance,
            "µF",
            0.0,
            1.0,
        ),
        Input::any("meter", "resistance of the meter").of(Dimension::Resistance, "Mohm", 0.0, 100.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Voltage,
        unit: "V",
        said: "{live} at {frequency}, {between} beside and {to-ground} to ground, a meter of {meter}",
        hand: None,
        work: |inputs| {
            let &[live, frequency, between, to_ground, meter] = inputs else { return None };
            let turns = std::f64::consts::TAU * frequency * meter;
            Some(live * turns * between / (1.0_f64).hypot(turns * (between + to_ground)))
        },
    }),
};
