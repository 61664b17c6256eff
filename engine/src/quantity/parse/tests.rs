//! What people type, and what they are told.

use crate::quantity::{Dimension, Expected, Misread, Quantity, Unit};

fn asked(usual: &str, range: Option<(&str, &str)>) -> Option<Expected> {
    let dimension = Quantity::parse_exact(&format!("1 {usual}")).ok()?.dimension();
    let expected = Expected::new(Unit::parse_in(usual, dimension)?);
    let end = |text| Quantity::parse_as(text, dimension).ok();
    match range {
        None => Some(expected),
        Some((low, high)) => expected.within(end(low)?, end(high)?),
    }
}

/// Shown as understood, or the message of the refusal.
fn told(text: &str, expected: Option<Expected>) -> String {
    let Some(expected) = expected else {
        return "the test's own expectation is wrong".to_owned();
    };
    match Quantity::parse(text, &expected) {
        Ok(quantity) => quantity.to_string(),
        Err(misread) => misread.to_string(),
    }
}

fn volts() -> Option<Expected> {
    asked("V", Some(("0 V", "300 V")))
}

fn ohms(usual: &str) -> Option<Expected> {
    asked(usual, None).map(Expected::or_over_range)
}

#[test]
fn a_voltage_is_understood_however_it_is_typed() {
    for text in ["118", "118v", "118 volts", "118.0 V", " 118 V. ", "0.118e3", "118 VAC", "+118", "118\tV"] {
        assert_eq!(told(text, volts()), "118 V", "{text}");
    }
    assert_eq!(told("0.12 kV", volts()), "0.12 kV");
    assert_eq!(told("500 mV", volts()), "500 mV");
    assert_eq!(told("1.2k", asked("V", None)), "1.2 kV");
}

#[test]
fn every_other_quantity_is_understood_as_the_trade_says_it() {
    for (text, usual, shown) in [
        ("3/4 hp", "hp", "3/4 hp"),
        ("1/2 horse", "hp", "1/2 hp"),
        ("½", "hp", "1/2 hp"),
        ("10 kW", "Btu/h", "10 kW"),
        ("64000 Btu/h", "Btu/h", "64000 Btu/h"),
        ("64k", "Btu/h", "64 kBtu/h"),
        ("3 tons", "Btu/h", "3 tons"),
        ("1 1/2 in", "in", "1 1/2 in."),
        ("1½\"", "in", "1 1/2 in."),
        ("5 ft", "in", "5 ft"),
        ("-0.2 in wc", "in wc", "-0.2 in. w.c."),
        ("0.2 in. w.c.", "in wc", "0.2 in. w.c."),
        ("−0.2\"wc", "in wc", "-0.2 in. w.c."),
        ("0.2 inches of water", "in wc", "0.2 in. w.c."),
        ("125 Pa", "in wc", "125 Pa"),
        ("67 °F", "F", "67 °F"),
        ("67F", "F", "67 °F"),
        ("67 degrees", "F", "67 °F"),
        ("19 C", "F", "19 °C"),
        ("5 min", "min", "5 min"),
        ("30 s", "min", "30 s"),
        ("1.2k", "cfm", "1200 CFM"),
        ("1075 rpm", "rpm", "1075 rpm"),
        ("60 %", "%", "60 %"),
        ("60 percent", "%", "60 %"),
        ("60", "%", "60 %"),
        ("3 µA", "A", "3 µA"),
        ("6 mA", "A", "6 mA"),
    ] {
        assert_eq!(told(text, asked(usual, None)), shown, "{text}");
    }
}

#[test]
fn a_resistance_keeps_milli_and_mega_apart() {
    for (text, shown) in [
        ("1.2k", "1.2 kΩ"),
        ("1.2K", "1.2 kΩ"),
        ("1.2k ohm", "1.2 kΩ"),
        ("1200", "1200 Ω"),
        ("250 Mohm", "250 MΩ"),
        ("250 megohms", "250 MΩ"),
        ("250 MOHM", "250 MΩ"),
        ("250M", "250 MΩ"),
        ("250 meg", "250 MΩ"),
        ("5 Ω", "5 Ω"),
    ] {
        assert_eq!(told(text, ohms("ohm")), shown, "{text}");
    }
    assert_eq!(told("1.2k", ohms("Mohm")), "1.2 kΩ");
    assert_eq!(
        told("250 mohm", ohms("Mohm")),
        "`250 mohm` could be milliohms or megohms: type `250 Mohm` for megohms, `250 ohm` for ohms"
    );
    assert!(told("250m", ohms("ohm")).contains("type `250 Mohm` for megohms"));
}

#[test]
fn over_range_is_understood_where_it_tells_something() {
    for text in ["OL", "ol", "O.L.", "0L", "over range", "Over-Range", "OL Mohm", "overload"] {
        assert_eq!(told(text, ohms("ohm")), "OL", "{text}");
    }
    assert_eq!(
        told("OL", volts()),
        "`OL` tells nothing here: choose a higher range on the meter, then type a number, in volts"
    );
    assert_eq!(told("0 L/s", asked("cfm", None)), "0 L/s");
    assert!(told("OL A", ohms("ohm")).contains("is a current; a resistance is asked for"));
}

#[test]
fn another_quantity_is_refused_with_what_would_be_understood() {
    for (text, usual, message) in [
        (
            "118 A",
            "V",
            "`118 A` is a current; a voltage is asked for: if only the unit is wrong, type `118 V`",
        ),
        (
            "0.5 in",
            "in wc",
            "`0.5 in` is a length; a pressure is asked for: if only the unit is wrong, type `0.5 in wc`",
        ),
        (
            "0.5 in",
            "Pa",
            "`0.5 in` is a length; a pressure is asked for: if only the unit is wrong, type `0.5 in wc`",
        ),
        ("5 m", "min", "`5 m` is a length; a time is asked for: if only the unit is wrong, type `5 min`"),
        (
            "400 V",
            "cfm",
            "`400 V` is a voltage; an airflow is asked for: if only the unit is wrong, type `400 cfm`",
        ),
        ("118 voltz", "V", "`voltz` is not a unit that is known, did you mean `V`: type `118` or `118 V`"),
    ] {
        assert_eq!(told(text, asked(usual, None)), message, "{text}");
    }
}

#[test]
fn a_comma_is_refused_with_the_text_as_it_should_be() {
    assert_eq!(
        told("118,4 V", volts()),
        "`118,4 V` has a comma; a decimal point is expected: type `118.4 V`"
    );
    assert_eq!(
        told("64,000", asked("Btu/h", None)),
        "`64,000` has a comma; thousands are written without one: type `64000`"
    );
}

#[test]
fn an_unlikely_value_is_refused_with_the_range() {
    assert_eq!(
        told("1180", volts()),
        "`1180` is not likely, 0 V to 300 V is expected: \
         look at the meter's range and unit, then type it again"
    );
    assert_eq!(told("0.3 kV", volts()), "0.3 kV");
    assert_eq!(told("300", volts()), "300 V");
    assert!(told("-1", volts()).contains("is not likely"));
    assert!(told("-3", ohms("ohm")).contains("is less than a resistance can be"));
    assert!(told("-500 F", asked("F", None)).contains("is less than a temperature can be"));
}

#[test]
fn nonsense_is_refused_and_never_shown_raw() {
    for (text, message) in [
        ("", "nothing was typed: type a number, in volts"),
        ("abc", "`abc` is not a number: type a number, in volts"),
        ("NaN", "`NaN` is not a number: type a number, in volts"),
        ("inf", "`inf` is no value that can be read: type a number, in volts"),
        ("1e999", "`1e999` is no value that can be read: type a number, in volts"),
        ("3/0", "`3/0` is not a number: type a number, in volts"),
        ("115-120 V", "`115-120 V` is not a number: type a number, in volts"),
        ("118\u{1b}[2J", "`118\u{fffd}[2J` holds a character that cannot be seen: type a number, in volts"),
    ] {
        assert_eq!(told(text, volts()), message, "{text:?}");
    }
    let long = told(&"9".repeat(10_000), volts());
    assert!(long.contains("is too long to be a value") && long.chars().count() < 120, "{long}");
}

#[test]
fn a_count_is_a_whole_number_without_a_unit() {
    let count = Some(Expected::new(Dimension::Count.base_unit()));
    assert_eq!(told("2", count), "2");
    assert_eq!(told("0", count), "0");
    for text in ["2.5", "-1", "1/2"] {
        assert!(told(text, count).contains("type a whole number from 0 up"), "{text}");
    }
    assert_eq!(told("2 V", count), "`2 V` is a voltage; a count is asked for: type `2`");
}

#[test]
fn a_rule_file_writes_its_units() -> Result<(), Misread> {
    assert_eq!(Quantity::parse_exact("5 °F")?.dimension(), Dimension::Temperature);
    let interval = Quantity::parse_as("5 °F", Dimension::TemperatureDifference)?;
    assert!((interval.base() - 25.0 / 9.0).abs() < 1e-12);
    let told = |found: Result<Quantity, Misread>| {
        found.map_or_else(|misread| misread.to_string(), Quantity::written)
    };
    assert_eq!(told(Quantity::parse_exact("10")), "`10` has no unit: write it as in `10 V`");
    assert_eq!(
        told(Quantity::parse_as("10", Dimension::Resistance)),
        "`10` has no unit: write it as in `10 ohm`"
    );
    assert_eq!(
        told(Quantity::parse_as("10 A", Dimension::Voltage)),
        "`10 A` is a current; a voltage is asked for: if only the unit is wrong, write `10 V`"
    );
    assert_eq!(told(Quantity::parse_as("2", Dimension::Count)), "2");
    assert!(told(Quantity::parse_exact("1.2k")).contains("`k` is not a unit that is known"));
    Ok(())
}

#[test]
fn what_is_said_over_a_phone_is_understood() {
    assert_eq!(told("it says 118", asked("V", None)), "118 V");
    for text in ["it says oh-el", "oh el", "OH-EL", "o-l", "it reads OL"] {
        assert_eq!(told(text, asked("ohm", None).map(Expected::or_over_range)), "OL", "{text}");
    }
    assert_eq!(told("5' 3\"", asked("ft", None)), "63 in.");
}
