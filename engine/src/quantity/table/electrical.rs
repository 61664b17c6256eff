//! Volts, amps, ohms, farads, hertz.

use super::{Row, row};

const VOLTS: &[(&str, f64, &str)] = &[("k", 1.0, "kV"), ("m", 1.0, "mV")];
const AMPS: &[(&str, f64, &str)] = &[("m", 1.0, "mA"), ("u", 1.0, "µA")];
const OHMS: &[(&str, f64, &str)] = &[("k", 1.0, "kΩ"), ("M", 1.0, "MΩ")];

pub(super) static VOLTAGE: &[Row] = &[
    row("V", "V", "volts", 1.0, &["v", "volt", "volts", "vac", "voltac", "voltsac"]).prefixed(VOLTS),
    row("mV", "mV", "millivolts", 1e-3, &["mv", "millivolt", "millivolts"]).prefixed(VOLTS),
    row("kV", "kV", "kilovolts", 1e3, &["kv", "kilovolt", "kilovolts"]).prefixed(VOLTS),
];

pub(super) static CURRENT: &[Row] = &[
    row("A", "A", "amps", 1.0, &["a", "amp", "amps", "ampere", "amperes", "aac", "ampsac"]).prefixed(AMPS),
    row("mA", "mA", "milliamps", 1e-3, &["ma", "milliamp", "milliamps", "milliampere", "milliamperes"])
        .prefixed(AMPS),
    row("µA", "uA", "microamps", 1e-6, &["ua", "microamp", "microamps", "microampere", "microamperes"])
        .prefixed(AMPS),
];

pub(super) static RESISTANCE: &[Row] = &[
    row("Ω", "ohm", "ohms", 1.0, &["ohm", "ohms", "Ω"]).prefixed(OHMS),
    row(
        "kΩ",
        "kohm",
        "kilohms",
        1e3,
        &["kohm", "kohms", "kilohm", "kilohms", "kiloohm", "kiloohms", "kΩ", "KΩ"],
    )
    .prefixed(OHMS),
    row(
        "MΩ",
        "Mohm",
        "megohms",
        1e6,
        &[
            "Mohm", "Mohms", "MOhm", "MOhms", "MOHM", "MOHMS", "MΩ", "meg", "megs", "megohm", "megohms",
            "megaohm", "megaohms",
        ],
    )
    .prefixed(OHMS),
];

/// The farad has no symbol here: its `F` is read as degrees Fahrenheit everywhere else.
pub(super) static CAPACITANCE: &[Row] = &[
    row("farad", "farad", "farads", 1.0, &["farad", "farads"]),
    row("µF", "uF", "microfarads", 1e-6, &["uf", "mfd", "microfarad", "microfarads"]),
];

pub(super) static FREQUENCY: &[Row] =
    &[row("Hz", "Hz", "hertz", 1.0, &["hz", "hertz", "cycles", "cyclespersecond"])];
