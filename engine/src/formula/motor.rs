//! The motor, old and new.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;
use std::f64::consts::TAU;

/// Line amps of a motor from shaft power (1/100 to 10 hp), supply (1 to 600 V), efficiency and power factor
/// (1 to 100 % each), single phase.
pub(super) static EXPECTED_CURRENT: Formula = Formula {
    name: "expected-current",
    meaning: "line amps of a single-phase motor that gives so much shaft power",
    written: "amps = 745.7 × hp ÷ (volts × efficiency × power factor)",
    source: "what efficiency and power factor mean; NIST SP 811, appendix B, for the horsepower",
    limits: "single phase, efficiency and power factor above nothing",
    inputs: &[
        Input::any("power", "power at the shaft").of(Dimension::Power, "hp", 0.01, 10.0),
        Input::any("supply", "volts at the motor").of(Dimension::Voltage, "V", 1.0, 600.0),
        Input::any("efficiency", "shaft watts in percent of line watts").of(
            Dimension::Percent,
            "%",
            1.0,
            100.0,
        ),
        Input::any("power-factor", "line watts in percent of volts times amps").of(
            Dimension::Percent,
            "%",
            1.0,
            100.0,
        ),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Current,
        unit: "A",
        said: "{power} from {supply} at {efficiency} efficiency and {power-factor} power factor",
        hand: Some("7457000 × {power} ÷ ({supply} × {efficiency} × {power-factor})"),
        work: |inputs| {
            let &[power, supply, efficiency, factor] = inputs else { return None };
            let below = supply * efficiency * factor;
            (below > 0.0).then(|| power / below)
        },
    }),
};

/// How many times the power of one learning turn goes into that of the other: 1 or more.
///
/// Each is the power of the slow turn (0 to 2 000 W) less the power at standstill: the electronics' own power says
/// nothing of the wheel.
pub(super) static LEARNING_POWER_RATIO: Formula = Formula {
    name: "learning-power-ratio",
    meaning: "how much more power one learning turn takes than the other",
    written: "ratio = larger watts ÷ smaller watts, each less the watts at standstill",
    source: "common practice: turned the right way a forward-curved wheel takes over twice the power",
    limits: "both powers are above nothing, with the power at standstill taken off",
    inputs: &[
        Input::any("one-way", "power of the turn one way, less standstill").of(
            Dimension::Power,
            "W",
            0.0,
            2_000.0,
        ),
        Input::any("other-way", "power of the turn the other way, less standstill").of(
            Dimension::Power,
            "W",
            0.0,
            2_000.0,
        ),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Ratio,
        unit: "to 1",
        said: "{one-way} one way and {other-way} the other, the larger over the smaller",
        hand: Some("{one-way} ÷ {other-way}, the larger over the smaller"),
        work: |inputs| {
            let &[one, other] = inputs else { return None };
            let smaller = one.min(other);
            (smaller > 0.0).then(|| one.max(other) / smaller)
        },
    }),
};

/// Microfarads of a run capacitor from the volts across it (10 to 1 000 V) and the amps through it (0.01 to 50 A) while
/// it runs, at 50 or 60 Hz: of the motor that came out.
pub(super) static RUN_CAPACITOR: Formula = Formula {
    name: "run-capacitor",
    meaning: "microfarads of a run capacitor that is in use, from its volts and amps",
    written: "µF = 1 000 000 × amps ÷ (6.2832 × Hz × volts); at 60 Hz 2653 × amps ÷ volts",
    source: "current through a capacitor is volts × 2 pi × frequency × farads",
    limits: "alternating current of 45 to 65 Hz, with little else in its waveform",
    inputs: &[
        Input::any("voltage", "volts across the capacitor while the motor runs").of(
            Dimension::Voltage,
            "V",
            10.0,
            1_000.0,
        ),
        Input::any("current", "amps through the capacitor's lead").of(Dimension::Current, "A", 0.01, 50.0),
        Input::any("frequency", "frequency of the supply").of(Dimension::Frequency, "Hz", 45.0, 65.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Capacitance,
        unit: "uF",
        said: "{current} at {voltage} and {frequency}",
        hand: Some("1000000 × {current} ÷ (6.2832 × {frequency} × {voltage})"),
        work: |inputs| {
            let &[voltage, current, frequency] = inputs else { return None };
            let below = TAU * frequency * voltage;
            (below > 0.0).then(|| current / below)
        },
    }),
};
