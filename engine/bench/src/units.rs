//! Trade units in SI, as NIST SP 811 Appendix B has them, and what follows from natural constants.

/// Cubic metres a second in a cubic foot a minute.
pub(crate) const CFM: f64 = 0.000_471_947_443_2;
/// Pascals in a conventional inch of water.
pub(crate) const IN_WC: f64 = 249.088_91;
/// Watts in a horsepower of 550 foot-pounds a second.
pub(crate) const HP: f64 = 745.699_871_582_27;
/// Watts in a Btu (International Table) an hour.
pub(crate) const BTU_H: f64 = 0.293_071_070_172_22;
/// Metres in a foot.
pub(crate) const FOOT: f64 = 0.3048;
/// Kelvins in a Fahrenheit degree of difference.
pub(crate) const DEGREE_F: f64 = 5.0 / 9.0;
/// Joules that a kilogram of dry air takes for a kelvin: 0.240 Btu/lb °F.
pub(crate) const AIR_HEAT: f64 = 1005.0;
/// Gas constant of dry air, J/(kg K): ASHRAE Fundamentals chapter 1, from memory.
const DRY_AIR: f64 = 287.042;

/// A temperature in °C from one in °F.
pub(crate) fn from_fahrenheit(degrees: f64) -> f64 {
    (degrees - 32.0) * DEGREE_F
}

/// Pressure of the standard atmosphere at a height in metres, Pa: ASHRAE Fundamentals chapter 1, eq. 3, from memory.
pub(crate) fn atmosphere(metres: f64) -> f64 {
    101_325.0 * (1.0 - 2.255_77e-5 * metres).powf(5.2559)
}

/// Density of dry air at a height in metres and a temperature in °C, kg/m³.
pub(crate) fn density(metres: f64, celsius: f64) -> f64 {
    atmosphere(metres) / (DRY_AIR * (celsius + 273.15))
}

/// Ohms of a foot of copper wire at 75 °C, solid: NEC chapter 9 table 8, for 18, 14, 12 and 10 AWG.
pub(crate) fn ohms_per_foot(awg: u32) -> f64 {
    match awg {
        18 => 0.007_77,
        14 => 0.003_07,
        12 => 0.001_93,
        _ => 0.001_21,
    }
}
