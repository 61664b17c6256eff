//! Pressure, size, time, speed, air, and what has no unit of its own.

use super::{Fractions, Row, row};

/// Cubic foot, in cubic metres.
const FT3: f64 = 0.028_316_846_592;
/// Pound, in kilograms.
const LB: f64 = 0.453_592_37;
const PASCALS: &[(&str, f64, &str)] = &[("k", 1.0, "kPa")];

pub(super) static PRESSURE: &[Row] = &[
    row("Pa", "Pa", "pascals", 1.0, &["pa", "pascal", "pascals"]).prefixed(PASCALS),
    row("kPa", "kPa", "kilopascals", 1e3, &["kpa", "kilopascal", "kilopascals"]).prefixed(PASCALS),
    row(
        "in. w.c.",
        "in wc",
        "inches of water column",
        249.088_91,
        &[
            "inwc",
            "inwg",
            "inh2o",
            "\"wc",
            "\"wg",
            "\"h2o",
            "wc",
            "wg",
            "iwc",
            "iwg",
            "inchwc",
            "incheswc",
            "inchwg",
            "incheswg",
            "inchesofwater",
            "inchofwater",
            "inchesofwatercolumn",
            "incheswatercolumn",
            "incheswatergauge",
            "inchesofwatergauge",
            "inwatercolumn",
        ],
    ),
    row("mbar", "mbar", "millibars", 100.0, &["mbar", "millibar", "millibars"]),
    row(
        "psi",
        "psi",
        "pounds per square inch",
        6_894.757_293_168_361,
        &["psi", "psig", "poundspersquareinch"],
    ),
];

pub(super) static LENGTH: &[Row] = &[
    row("m", "m", "metres", 1.0, &["m", "metre", "metres", "meter", "meters"]),
    row("cm", "cm", "centimetres", 0.01, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
    row("mm", "mm", "millimetres", 1e-3, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
    row("in.", "in", "inches", 0.0254, &["in", "inch", "inches", "\""]).in_fractions(Fractions::Rule),
    row("ft", "ft", "feet", 0.3048, &["ft", "foot", "feet", "'"]),
];

pub(super) static TIME: &[Row] = &[
    row("s", "s", "seconds", 1.0, &["s", "sec", "secs", "second", "seconds"]),
    row("min", "min", "minutes", 60.0, &["min", "mins", "minute", "minutes"]),
    row("h", "h", "hours", 3_600.0, &["h", "hr", "hrs", "hour", "hours"]),
];

pub(super) static ROTATIONAL_SPEED: &[Row] = &[
    row("rad/s", "rad/s", "radians per second", 1.0, &["rad/s", "radianspersecond"]),
    row(
        "rpm",
        "rpm",
        "revolutions per minute",
        std::f64::consts::PI / 30.0,
        &["rpm", "rpms", "r/min", "rev/min", "revs/min", "revolutionsperminute", "turnsperminute"],
    )
    .prefixed(&[("k", 1e3, "rpm")]),
];

pub(super) static AIRFLOW: &[Row] = &[
    row(
        "m³/s",
        "m3/s",
        "cubic metres per second",
        1.0,
        &["m3/s", "cubicmetrespersecond", "cubicmeterspersecond"],
    ),
    row(
        "CFM",
        "cfm",
        "cubic feet per minute",
        FT3 / 60.0,
        &["cfm", "cfms", "ft3/min", "cuft/min", "cubicfeet/min", "cubicfeetperminute", "cubicfeetaminute"],
    )
    .prefixed(&[("k", 1e3, "CFM")]),
    row("L/s", "L/s", "litres per second", 1e-3, &["l/s", "litrespersecond", "literspersecond"]),
    row(
        "m³/h",
        "m3/h",
        "cubic metres per hour",
        1.0 / 3_600.0,
        &["m3/h", "m3/hr", "cmh", "cubicmetresperhour", "cubicmetersperhour"],
    ),
];

pub(super) static PERCENT: &[Row] = &[
    row("pu", "pu", "per unit", 1.0, &["pu", "perunit"]),
    row("%", "%", "percent", 0.01, &["%", "percent", "pct"]),
];

pub(super) static RATIO: &[Row] =
    &[row("to 1", "to 1", "to one", 1.0, &["to1", "toone", ":1", "times", "x"])];

pub(super) static DENSITY: &[Row] = &[
    row(
        "kg/m³",
        "kg/m3",
        "kilograms per cubic metre",
        1.0,
        &["kg/m3", "kilogramspercubicmetre", "kilogramspercubicmeter"],
    ),
    row(
        "lb/ft³",
        "lb/ft3",
        "pounds per cubic foot",
        LB / FT3,
        &["lb/ft3", "lbs/ft3", "lb/cuft", "lbs/cuft", "poundspercubicfoot"],
    ),
];

pub(super) static COUNT: &[Row] = &[row("", "", "", 1.0, &[])];
