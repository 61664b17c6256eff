//! Air: how heavy it is, how much of it carries a heat away, how much of it a unit should move.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// The standard atmosphere at sea level, in pascals (14.696 psi).
const SEA_LEVEL: f64 = 101_325.0;
/// The gas constant of dry air, in joules per kilogram kelvin.
const GAS: f64 = 287.042;
/// Foot, in metres.
const FOOT: f64 = 0.3048;
/// 70 °F, the temperature of standard air, in kelvins.
const STANDARD: f64 = (70.0 + 459.67) * 5.0 / 9.0;
/// Heat that a cubic metre of standard air takes for a kelvin, in joules: 0.075 lb/ft³ times 0.240 Btu/(lb °F), which
/// times 60 minutes is the trade's 1.08 Btu/h for a CFM and a °F.
const STANDARD_HEAT: f64 = 1.08 / 60.0 * 1_055.055_852_62 / (FOOT * FOOT * FOOT) * 9.0 / 5.0;
/// A ton of refrigeration, in watts.
const TON: f64 = 12_000.0 * 1_055.055_852_62 / 3_600.0;
/// A cubic foot a minute, in cubic metres a second.
const CFM: f64 = FOOT * FOOT * FOOT / 60.0;

const ATMOSPHERE: &str = "ASHRAE Handbook, Fundamentals, chapter 1, equation 3 (standard atmosphere)";
/// The input that a height goes in by.
pub(super) const HEIGHT: &str = "elevation";
/// The word in an arithmetic by hand for the number off the table of [`factors`].
pub(super) const FACTOR: &str = "factor";
const ELEVATION: Input = Input::any(HEIGHT, "height of the place above the sea");
const COOLING: &[Input] =
    &[Input::any("cooling", "nominal cooling capacity of the unit").of(Dimension::Power, "tons", 0.1, 100.0)];

/// Pressure of the air outdoors, the same indoors within a thousandth, at an elevation from 0 to 15 000 ft.
///
/// Of the standard atmosphere; the weather moves it by some 3 %.
pub(super) static STANDARD_PRESSURE: Formula = Formula {
    name: "standard-pressure",
    meaning: "pressure of the air at an elevation, weather apart",
    written: "psi = 14.696 × (1 - 0.0000068754 × ft) to the power 5.2559",
    source: ATMOSPHERE,
    limits: "an elevation from 0 to 15 000 ft",
    inputs: &[ELEVATION.of(Dimension::Length, "ft", 0.0, 15_000.0)],
    kind: Kind::Named(Named {
        gives: Dimension::Pressure,
        unit: "psi",
        said: "standard air at {elevation}",
        hand: None,
        work: |inputs| pressure(*inputs.first()?),
    }),
};

/// Density of dry air at an elevation (0 to 15 000 ft) and a temperature (-40 to 150 °F).
///
/// Damp air is lighter: at 70 °F and half humidity by 0.6 %, at 90 °F and 80 % by 1.9 % (`published/air.tsv`).
pub(super) static DENSITY: Formula = Formula {
    name: "air-density",
    meaning: "how heavy dry air is at an elevation and a temperature",
    written: "lb/ft³ = 144 × psi ÷ (53.35 × (°F + 459.67)), psi by standard-pressure",
    source: "ASHRAE Handbook, Fundamentals, chapter 1: equation 3 and the perfect gas, R = 287.042 J/(kg K)",
    limits: "0 to 15 000 ft, -40 to 150 °F, dry air",
    inputs: &[
        ELEVATION.of(Dimension::Length, "ft", 0.0, 15_000.0),
        Input::any("temperature", "temperature of the air").of(Dimension::Temperature, "F", -40.0, 150.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Density,
        unit: "lb/ft3",
        said: "dry air at {elevation} and {temperature}",
        hand: None,
        work: |inputs| {
            let &[elevation, temperature] = inputs else { return None };
            density(elevation, temperature)
        },
    }),
};

/// Airflow from the heat put into the air (100 to 1 000 000 Btu/h) and the rise it makes (1 to 150 °F),
/// measured at the density of the return air, which is the air that the blower moves.
///
/// The factor is the trade's 1.08 of standard air (70 °F, sea level), made smaller or larger with the density here.
/// Against damp air by `CoolProp`, up to 90 °F and half humidity, it is right within 0.6 % (`published/air.tsv`).
pub(super) static SENSIBLE_AIRFLOW: Formula = Formula {
    name: "sensible-airflow",
    meaning: "airflow from heat output and temperature rise, at the density of the place",
    written: "CFM = Btu/h ÷ (1.08 × density ÷ density at sea level and 70 °F × rise in °F)",
    source: "1.08 = 60 × 0.075 lb/ft³ × 0.240 Btu/(lb °F), standard air; density by ASHRAE Handbook, Fundamentals, \
             chapter 1, equation 3",
    limits: "a rise of 1 to 150 °F, without water condensing",
    inputs: &[
        Input::any("heat", "heat put into the air: input times efficiency, or the watts of the elements").of(
            Dimension::Power,
            "Btu/h",
            100.0,
            1_000_000.0,
        ),
        Input::any("rise", "supply air temperature less return air temperature").of(
            Dimension::TemperatureDifference,
            "F",
            1.0,
            150.0,
        ),
        ELEVATION.of(Dimension::Length, "ft", 0.0, 15_000.0),
        Input::any("return", "temperature of the return air").of(Dimension::Temperature, "F", -40.0, 150.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Airflow,
        unit: "cfm",
        said: "{heat} over {rise} at {elevation} and {return}",
        hand: Some("{heat} × ({return} + 460) ÷ (530 × {rise} × factor)"),
        work: |inputs| {
            let &[heat, rise, elevation, back] = inputs else { return None };
            let here = STANDARD_HEAT * density(elevation, back)? / density(0.0, STANDARD)?;
            (rise > 0.0).then(|| heat / (here * rise))
        },
    }),
};

/// Airflow that cooling is made for: 400 CFM for each ton (0.1 to 100 tons).
pub(super) static TARGET: Formula = Formula {
    name: "airflow-target",
    meaning: "airflow that a cooling capacity is made for",
    written: "CFM = 400 × tons",
    source: "common practice, 400 CFM a ton; the maker's table for the unit goes first",
    limits: "0.1 to 100 tons",
    inputs: COOLING,
    kind: per_ton("{cooling} at 400 CFM a ton", "400 × {cooling}", |inputs| {
        Some(400.0 * CFM / TON * inputs.first()?)
    }),
};

/// The least that is usual for cooling: 350 CFM for each ton (0.1 to 100 tons), for damp places.
pub(super) static TARGET_LOW: Formula = Formula {
    name: "airflow-target-low",
    meaning: "the least airflow that is usual for a cooling capacity",
    written: "CFM = 350 × tons",
    source: "common practice, 350 to 450 CFM a ton; the maker's table for the unit goes first",
    limits: "0.1 to 100 tons",
    inputs: COOLING,
    kind: per_ton("{cooling} at 350 CFM a ton", "350 × {cooling}", |inputs| {
        Some(350.0 * CFM / TON * inputs.first()?)
    }),
};

/// The most that is usual for cooling: 450 CFM for each ton (0.1 to 100 tons), for dry places.
pub(super) static TARGET_HIGH: Formula = Formula {
    name: "airflow-target-high",
    meaning: "the most airflow that is usual for a cooling capacity",
    written: "CFM = 450 × tons",
    source: "common practice, 350 to 450 CFM a ton; the maker's table for the unit goes first",
    limits: "0.1 to 100 tons",
    inputs: COOLING,
    kind: per_ton("{cooling} at 450 CFM a ton", "450 × {cooling}", |inputs| {
        Some(450.0 * CFM / TON * inputs.first()?)
    }),
};

const fn per_ton(said: &'static str, hand: &'static str, work: fn(&[f64]) -> Option<f64>) -> Kind {
    Kind::Named(Named { gives: Dimension::Airflow, unit: "cfm", said, hand: Some(hand), work })
}

/// What 1.08 becomes at an elevation, by the density there at 70 °F: for working by hand, a row for every 1000 ft.
///
/// Between two rows it is straight within 0.02 %.
pub(super) fn factors() -> impl Iterator<Item = (u16, f64)> {
    (0..=15).map(|thousands: u16| 1_000 * thousands).filter_map(|feet| {
        let there = pressure(f64::from(feet) * FOOT)?;
        Some((feet, 1.08 * there / SEA_LEVEL))
    })
}

/// Pressure of the standard atmosphere in pascals at `elevation` in metres; `None` above the formula's end, 44 km.
fn pressure(elevation: f64) -> Option<f64> {
    let left = 1.0 - 6.875_4e-6 * (elevation / FOOT);
    (left > 0.0).then(|| SEA_LEVEL * left.powf(5.255_9))
}

/// Density of dry air in kilograms per cubic metre at `elevation` in metres and `temperature` in kelvins.
fn density(elevation: f64, temperature: f64) -> Option<f64> {
    let pressure = pressure(elevation)?;
    (temperature > 0.0).then(|| pressure / (GAS * temperature))
}
