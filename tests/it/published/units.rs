//! Units against Pint, NIST SP 811 and the published arithmetic of bands and meters.

use engine::quantity::{Dimension, Expected, Meter, Misread, MisreadMeter, Quantity, Unit};
use proptest::prelude::*;

/// A conversion is at most two rounded factors and three rounded operations on either side: some ten
/// units in the last place, 1e-15 each, together under 1e-14. Pint reaches some factors by longer
/// chains; one more digit.
const RELATIVE: f64 = 1e-13;
/// On a scale with an offset the last digits of the offset are lost in the subtraction; the engine rounds
/// to 1e-9 of a degree there, a thousandth of the last digit any thermometer shows.
const DEGREE: f64 = 1e-9;

#[derive(Debug, thiserror::Error)]
enum Unread {
    #[error("failed to read the table: {0}")]
    Table(String),
    #[error(transparent)]
    Quantity(#[from] Misread),
    #[error(transparent)]
    Meter(#[from] MisreadMeter),
}

fn unit(text: &str, dimension: Dimension) -> Result<Unit, Unread> {
    Unit::parse_in(text, dimension).ok_or_else(|| Unread::Table(text.to_owned()))
}

fn convert(text: &str, to: &str, dimension: Dimension) -> Result<f64, Unread> {
    let quantity = Quantity::parse_as(text, dimension)?;
    let converted = quantity.in_unit(unit(to, dimension)?).ok_or_else(|| Unread::Table(to.to_owned()))?;
    Ok(converted.number())
}

fn close(found: f64, expected: f64, relative: f64, absolute: f64) -> bool {
    (found - expected).abs() <= (relative * expected.abs()).max(absolute)
}

#[test]
fn conversions_agree_with_pint() -> Result<(), Unread> {
    let mut rows = 0;
    for line in include_str!("pint_units.tsv").lines().filter(|line| !line.starts_with('#')) {
        let bad = || Unread::Table(line.to_owned());
        let [dimension, value, from, to, pint] = line.split('\t').collect::<Vec<_>>()[..] else {
            return Err(bad());
        };
        let dimension = Dimension::from_word(dimension).ok_or_else(bad)?;
        let expected: f64 = pint.parse().map_err(|_| bad())?;
        let absolute = if dimension == Dimension::Temperature { DEGREE } else { 0.0 };
        let found = convert(&format!("{value} {from}"), to, dimension)?;
        assert!(close(found, expected, RELATIVE, absolute), "{line}: {found}");
        rows += 1;
    }
    assert!(rows >= 100, "only {rows} rows");
    Ok(())
}

/// NIST SP 811, Appendix B: factors to seven digits (from memory), half a unit of the last digit allowed;
/// the exact values follow from the definitions of the units.
#[test]
fn factors_agree_with_nist_sp_811() -> Result<(), Unread> {
    for (dimension, from, to, published, exact) in [
        (Dimension::Airflow, "1 ft3/min", "m3/s", 4.719_474e-4, 0.000_471_947_443_2),
        (Dimension::Pressure, "1 in wc", "Pa", 2.490_889e2, 249.088_91),
        (Dimension::Power, "1 hp", "W", 7.456_999e2, 745.699_871_582_27),
        (Dimension::Power, "1 Btu/h", "W", 2.930_711e-1, 0.293_071_070_172_22),
        (Dimension::Power, "1 ton", "W", 3.516_853e3, 3_516.852_842_066_7),
        (Dimension::TemperatureDifference, "1 °F", "K", 5.555_556e-1, 5.0 / 9.0),
        (Dimension::Power, "1 W", "Btu/h", 3.412_142, 3.412_141_633_127_9),
        (Dimension::Power, "1 hp", "Btu/h", 2_544.434, 2_544.433_577_6),
    ] {
        let found = convert(from, to, dimension)?;
        assert!(close(found, published, 5e-7, 0.0), "{from}: {found}, published {published}");
        // The exact values are given to eleven digits at least.
        assert!(close(found, exact, 5e-11, 0.0), "{from}: {found}, exact {exact}");
    }
    Ok(())
}

#[test]
fn an_interval_of_10_degrees_has_no_offset() -> Result<(), Unread> {
    let reading = convert("70 °F", "°C", Dimension::Temperature)?;
    assert!(close(reading, 21.111_111_111, 0.0, DEGREE), "{reading}");
    let interval = convert("10 °F", "K", Dimension::TemperatureDifference)?;
    assert!(close(interval, 5.555_555_555_555_556, RELATIVE, 0.0), "{interval}");
    Ok(())
}

/// NEMA MG 1 12.44.1 (Condensed MG 1-2011, 9.9.1): rated voltage plus or minus ten percent.
#[test]
fn supply_bands_are_ten_percent_of_the_rated_voltage() -> Result<(), Unread> {
    for (rated, low, high) in [
        ("115 V", "103.5 V", "126.5 V"),
        ("200 V", "180 V", "220 V"),
        ("208 V", "187.2 V", "228.8 V"),
        ("230 V", "207 V", "253 V"),
    ] {
        let rated = Quantity::parse_exact(rated)?;
        for (share, edge) in [("90 %", low), ("110 %", high)] {
            let found = Quantity::parse_exact(share)?.share_of(rated);
            assert_eq!(found, Some(Quantity::parse_exact(edge)?), "{share} of {rated}");
        }
    }
    Ok(())
}

/// JCGM 106:2012, 8.3, guarded acceptance with U = 2u, u = a/√3 (JCGM 100, 4.3.7), worked for a meter of
/// 1.0 % and 3 counts of 0.1 V at a lower limit of 207.0 V.
#[test]
fn a_meter_at_its_limit_has_the_published_guard_band() -> Result<(), Unread> {
    let meter = Meter::parse("1.0 % + 3 counts of 0.1 V", Dimension::Voltage)?;
    let limit = Quantity::parse_exact("207.0 V")?;
    let u = meter.standard_uncertainty(limit);
    assert!(close(meter.half_width(limit), 2.37, 1e-12, 0.0));
    assert!(close(u, 1.368_32, 0.0, 5e-6), "{u}");
    assert!(close(2.0 * u, 2.736_64, 0.0, 5e-6));
    assert!(close(limit.base() + 2.0 * u, 209.74, 0.0, 5e-3));
    assert!(close(limit.base() - 2.0 * u, 204.26, 0.0, 5e-3));
    Ok(())
}

fn any_unit() -> impl Strategy<Value = Unit> {
    let units: Vec<Unit> = Dimension::ALL.into_iter().flat_map(Unit::all).collect();
    prop::sample::select(units)
}

/// Six significant digits at most: what is shown is then what was typed.
fn shown_whole() -> impl Strategy<Value = Quantity> {
    (any_unit(), -999_999_i32..=999_999, -9_i32..=12).prop_filter_map(
        "a value that can be",
        |(unit, digits, power)| {
            let number: f64 = format!("{digits}e{power}").parse().ok()?;
            possible(number, unit)
        },
    )
}

fn possible(number: f64, unit: Unit) -> Option<Quantity> {
    let number = if unit.dimension() == Dimension::Count { number.abs().round() } else { number };
    let quantity = Quantity::new(number, unit).filter(|quantity| quantity.base().is_finite())?;
    let least = matches!(
        unit.dimension(),
        Dimension::Resistance
            | Dimension::Temperature
            | Dimension::Length
            | Dimension::Time
            | Dimension::Capacitance
            | Dimension::Frequency
            | Dimension::Density
    );
    (!least || quantity.base() >= 0.0).then_some(quantity)
}

/// Texts that nearly are quantities.
const NEARLY: &str = "[-+]?[0-9½¼.,/ e]{0,8}[ ]?[a-zA-Z°ΩµL\"'./%0-9]{0,8}";

proptest! {
    #[test]
    fn what_is_shown_is_read_back(quantity in shown_whole()) {
        let expected = Expected::new(quantity.unit());
        prop_assert_eq!(Quantity::parse(&quantity.to_string(), &expected), Ok(quantity));
    }

    #[test]
    fn what_is_written_is_read_back_to_the_last_digit(number in any::<f64>(), unit in any_unit()) {
        let Some(quantity) = possible(number, unit) else { return Ok(()) };
        prop_assert_eq!(Quantity::parse_as(&quantity.written(), unit.dimension()), Ok(quantity));
        let shown = quantity.to_string();
        let again = Quantity::parse(&shown, &Expected::new(unit)).map(|again| again.to_string());
        prop_assert_eq!(again, Ok(shown));
    }

    #[test]
    fn over_range_is_read_back(unit in any_unit()) {
        let over = Quantity::over_range(unit);
        let expected = Expected::new(unit).or_over_range();
        prop_assert_eq!(Quantity::parse(&over.to_string(), &expected), Ok(over));
        prop_assert_eq!(Quantity::parse(&over.written(), &expected), Ok(over));
    }

    #[test]
    fn no_text_is_shown_back_raw_or_at_length(text in any::<String>(), unit in any_unit()) {
        if let Err(misread) = Quantity::parse(&text, &Expected::new(unit)) {
            let message = misread.to_string();
            prop_assert!(!message.contains(char::is_control), "{message:?}");
            prop_assert!(message.chars().count() < 300, "{message:?}");
        }
    }

    #[test]
    fn text_near_to_a_quantity_never_panics(text in NEARLY) {
        for dimension in Dimension::ALL {
            let _ = Quantity::parse_as(&text, dimension);
            let _ = Meter::parse(&format!("1 % + 2 counts of {text}"), dimension);
        }
        let _ = Quantity::parse_exact(&text);
    }
}
