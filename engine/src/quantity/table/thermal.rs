//! Power as work or heat, temperatures and their differences.

use super::{Fractions, Row, row};

/// Btu (International Table) per hour, in watts.
const BTU_H: f64 = 1_055.055_852_62 / 3_600.0;
const WATTS: &[(&str, f64, &str)] = &[("k", 1.0, "kW")];
const BTUS: &[(&str, f64, &str)] = &[("k", 1.0, "kBtu/h")];
const FAHRENHEIT: &[&str] = &[
    "°f",
    "f",
    "degf",
    "degsf",
    "degreef",
    "degreesf",
    "fahrenheit",
    "degreesfahrenheit",
    "degreefahrenheit",
];
const CELSIUS: &[&str] = &[
    "°c",
    "c",
    "degc",
    "degsc",
    "degreec",
    "degreesc",
    "celsius",
    "degreescelsius",
    "degreecelsius",
    "centigrade",
];
const KELVIN: &[&str] = &["K", "kelvin", "kelvins"];

pub(super) static POWER: &[Row] = &[
    row("W", "W", "watts", 1.0, &["w", "watt", "watts"]).prefixed(WATTS),
    row("kW", "kW", "kilowatts", 1e3, &["kw", "kilowatt", "kilowatts"]).prefixed(WATTS),
    row("hp", "hp", "horsepower", 745.699_871_582_270_2, &["hp", "horse", "horses", "horsepower"])
        .in_fractions(Fractions::Horsepower),
    row(
        "Btu/h",
        "Btu/h",
        "Btu per hour",
        BTU_H,
        &["btu/h", "btuh", "btu/hr", "btu/hour", "btuperhour", "btusperhour", "btuperhr", "btu", "btus"],
    )
    .prefixed(BTUS),
    row(
        "kBtu/h",
        "kBtu/h",
        "thousand Btu per hour",
        1e3 * BTU_H,
        &["kbtu/h", "kbtuh", "kbtu/hr", "kbtu", "mbh", "thousandbtu/h", "thousandbtuperhour"],
    )
    .prefixed(BTUS),
    row(
        "tons",
        "tons",
        "tons of refrigeration",
        12e3 * BTU_H,
        &["ton", "tons", "tonsofrefrigeration", "tonsofcooling"],
    ),
];

pub(super) static TEMPERATURE: &[Row] = &[
    row("K", "K", "kelvins", 1.0, KELVIN),
    row("°C", "C", "degrees Celsius", 1.0, CELSIUS).shifted(273.15),
    row("°F", "F", "degrees Fahrenheit", 5.0 / 9.0, FAHRENHEIT).shifted(459.67),
];

pub(super) static TEMPERATURE_DIFFERENCE: &[Row] = &[
    row("K", "K", "kelvins", 1.0, KELVIN),
    row("°C", "C", "degrees Celsius", 1.0, CELSIUS),
    row("°F", "F", "degrees Fahrenheit", 5.0 / 9.0, FAHRENHEIT),
];
