//! Facts that are worked out of readings, as the rules write them.

use crate::house::BOOK;
use crate::pond::{self, File};
use engine::call::{Call, Reply};
use engine::finding::Code;
use engine::quantity::Quantity;
use engine::rulebook::{Answer, FactId, Value};
use std::sync::Arc;

fn fact(id: &str) -> FactId {
    BOOK.fact_named(id).unwrap()
}

fn told(readings: &[(&str, &str)]) -> Call {
    let mut call = Call::new(Arc::clone(&BOOK));
    for (id, text) in readings {
        let rule = BOOK.fact(fact(id));
        let answer = match (rule.expected(), *text) {
            (_, "cannot") => Answer::Cannot,
            (Some(expected), text) => {
                Answer::Value(Value::Quantity(Quantity::parse(text, expected).unwrap()))
            }
            (None, text) => Answer::Value(Value::Choices(rule.choice(text).unwrap())),
        };
        for event in call.hear(None, Reply::Tell(fact(id), answer)).unwrap() {
            call.apply(event);
        }
    }
    call
}

fn worked(call: &Call, id: &str) -> f64 {
    call.measured(fact(id)).unwrap_or_else(|| panic!("{id} is not worked out")).0.number()
}

fn near(found: f64, expected: f64, by: f64) {
    assert!((found - expected).abs() <= by, "{found}, expected {expected}");
}

const HEATING: [(&str, &str); 4] = [
    ("heat_output", "80000 Btu/h"),
    ("supply_air_temperature", "125 °F"),
    ("return_air_temperature", "70 °F"),
    ("elevation", "0 ft"),
];

/// T5.1 of our list of trade facts: 80 000 Btu/h over 55 °F at sea level, C = 1.08, is 1346.80 CFM; at 5 000 ft 1618.7 CFM
/// by the ratio of pressures (ASHRAE Fundamentals, chapter 1, equation 3).
#[test]
fn airflow_by_rise_is_that_of_the_place() {
    near(worked(&told(&HEATING), "airflow_by_rise"), 1346.8, 0.05);
    let mut high = HEATING;
    high[3] = ("elevation", "5000 ft");
    near(worked(&told(&high), "airflow_by_rise"), 1618.7, 0.1);
}

/// The same unit read in SI units: the same airflow.
#[test]
fn the_same_readings_in_si_units_give_the_same_airflow() {
    let si = told(&[
        ("heat_output", "23.44568561777 kW"),
        ("supply_air_temperature", "51.6666666667 °C"),
        ("return_air_temperature", "21.1111111111 °C"),
        ("elevation", "0 m"),
    ]);
    near(worked(&si, "airflow_by_rise"), worked(&told(&HEATING), "airflow_by_rise"), 1e-3);
}

/// T5.7: two thermometers of ±2 °F on 55 °F give u = 1.633 °F and U = 3.266 °F on the rise, ±80 CFM on the airflow at a
/// fixed density. The return air counts in the density too, the same way as in the rise: the two add up, by hand
/// 1346.8 CFM · 2 · √((u/55)² + (u/55 + u/529.67)²) with u = 2/√3 °F.
#[test]
fn the_doubt_of_two_thermometers_is_carried_into_the_airflow() {
    let call = told(&HEATING);
    let (rise, reach) = call.measured(fact("temperature_rise")).unwrap();
    near(rise.number(), 55.0, 1e-9);
    near(reach.number(), 3.266, 0.001);
    let u = 2.0 / 3.0_f64.sqrt();
    near(1346.8 * reach.number() / 55.0, 80.0, 0.1);
    let by_hand = 1346.8 * 2.0 * (u / 55.0).hypot(u / 55.0 + u / 529.67);
    near(call.measured(fact("airflow_by_rise")).unwrap().1.number(), by_hand, 0.3);
}

/// T5.5: +0.22 and -0.31 in. w.c. are 0.53 in. w.c. of external static.
#[test]
fn external_static_is_signed() {
    let call = told(&[
        ("static_supply", "0.22 in wc"),
        ("static_return", "-0.31 in wc"),
        ("filter_pressure_drop", "0.159 in wc"),
    ]);
    near(worked(&call, "external_static"), 0.53, 1e-9);
    near(worked(&call, "filter_share"), 30.0, 1e-6);
}

/// T5.4: 3 tons are 1 200 CFM.
#[test]
fn a_cooling_capacity_has_its_airflow() {
    near(worked(&told(&[("cooling_capacity", "3 tons")]), "airflow_target"), 1200.0, 1e-6);
}

#[test]
fn heat_output_falls_back_on_input_times_efficiency() {
    let call = told(&[("heat_input", "100000 Btu/h"), ("heat_efficiency", "80 %")]);
    near(worked(&call, "heat_output"), 80_000.0, 1e-6);
    let told_too =
        told(&[("heat_input", "100000 Btu/h"), ("heat_efficiency", "80 %"), ("heat_output", "64000 Btu/h")]);
    near(worked(&told_too, "heat_output"), 64_000.0, 1e-6);
}

#[test]
fn an_input_that_cannot_be_had_makes_its_working_cannot() {
    let call = told(&[("static_supply", "0.22 in wc"), ("static_return", "cannot")]);
    assert_eq!(call.known(fact("external_static")), Some(Answer::Cannot));
    assert_eq!(call.known(fact("filter_share")), Some(Answer::Cannot));
}

/// The profile's full-load currents, and what rating, supply, efficiency and power factor come to.
#[test]
fn the_current_expected_is_the_profiles_own() {
    for (model, rating, supply, amps) in [
        ("tarnhow-a", "1/6 hp", "115-volt", 2.4),
        ("tarnhow-a", "1/3 hp", "230-volt", 2.4),
        ("tarnhow-b", "1/2 hp", "115-volt", 7.2),
        ("tarnhow-b", "3/4 hp", "230-volt", 5.4),
    ] {
        let call =
            told(&[("motor_model", model), ("rating_selected", rating), ("unit_rated_supply", supply)]);
        near(worked(&call, "motor_rated_current"), amps, 1e-9);
        near(worked(&call, "expected_current"), amps, 0.02 * amps);
    }
}

#[test]
fn the_arithmetic_is_shown_in_trade_units() {
    let call = told(&[
        ("heat_output", "64000 Btu/h"),
        ("supply_air_temperature", "120 °F"),
        ("return_air_temperature", "70 °F"),
        ("elevation", "600 ft"),
    ]);
    let shown = call.arithmetic(fact("airflow_by_rise")).unwrap();
    assert_eq!(shown, "64 000 Btu/h over 50 °F at 600 ft and 70 °F: about 1 211 CFM");
    assert_eq!(call.arithmetic(fact("heat_output")), None, "told, not worked out");
}

/// A drop and the whole that it is a share of stand on one reading: moving it moves both.
#[test]
fn a_reading_that_counts_twice_is_counted_rightly() {
    let call = told(&[("line_voltage_at_unit", "118 V"), ("line_voltage_at_motor", "106 V")]);
    let (share, reach) = call.measured(fact("line_drop_share")).unwrap();
    let u = |volts: f64| (0.01 * volts + 0.3) / 3.0_f64.sqrt();
    let (unit, motor) = (118.0_f64, 106.0_f64);
    // share = 1 - motor/unit, so that its gradients are motor/unit² and -1/unit.
    let by_hand = 2.0 * (motor / unit / unit * u(unit)).hypot(u(motor) / unit) * 100.0;
    near(share.number(), 100.0 * (1.0 - motor / unit), 1e-9);
    near(reach.number(), by_hand, 0.01);
}

/// A rise is read in the unit of a temperature, so that a temperature in its place is told of by its size alone.
#[test]
fn an_edge_that_a_working_never_comes_to_is_told_of() {
    let readings = "readings:\n  NAME: {name: water, say: How warm is it?, how: A probe., measures: temperature, \
                    unit: F, range: 32 F to 140 F, meter: 1 % + 1 counts of 0.1 F, power: any, panel: any, lasts: now}\n";
    let rise = "workings:\n  rise: {name: rise, measures: temperature-difference, unit: F, by: difference, of: [hot, cold]}\n";
    let found = |edge: &str| {
        let step = format!(
            "  s:\n    ask: rise\n    because: So it is.\n    bands:\n      \
             - {{up to: {edge}, means: it is little, from: common practice, end: pump-in-order}}\n      \
             - {{above: the last, means: it is much, end: too-little}}\n    cannot: {{end: too-little}}\n"
        );
        let tree = "tree: pump\nname: made\nstart: danger\nsteps:\n  danger:\n    ask: danger_at_pump\n    \
                    because: Nobody goes near.\n    answers:\n      - {is: none, means: it is safe, go: s}\n      \
                    - {is: [shock, flood], means: it can hurt, end: keep-away}\n    cannot: {end: keep-away}\n";
        let mut files = pond::files("base");
        files.retain(|file| !["pump.yaml", "water.yaml"].contains(&file.name.as_str()));
        files.push(File::new("pump.yaml", format!("{tree}{step}")));
        files.push(File::new("hot.yaml", readings.replace("NAME", "hot")));
        files.push(File::new("cold.yaml", readings.replace("NAME", "cold")));
        files.push(File::new("rise.yaml", rise));
        let found = pond::found(&files);
        let wrong = found.iter().find(|finding| finding.code() == Code::WrongQuantity);
        wrong.map(|finding| (finding.place().line(), finding.title().to_owned()))
    };
    let told = "`rise` never comes to `500 °F`: it is from -108 °F to 108 °F".to_owned();
    assert_eq!(found("500 F"), Some((16, told)));
    assert_eq!(found("90 F"), None);
    assert_eq!(found("-20 F"), None);
    assert!(found("-200 F").is_some());
}
