//! The list as a list, and what each formula refuses.

use super::{FORMULAS, Formula, Kind, Mismatch, NoValue};
use crate::quantity::{Dimension, Quantity, Unit};
use std::collections::BTreeSet;

#[test]
fn names_are_kebab_case_and_each_is_there_once() {
    let names: BTreeSet<_> = FORMULAS.iter().map(|formula| formula.name()).collect();
    assert_eq!(names.len(), FORMULAS.len());
    let inputs = FORMULAS.iter().flat_map(|formula| formula.inputs().iter().map(super::Input::name));
    for name in names.into_iter().chain(inputs) {
        assert!(
            name.chars().all(|sign| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '-'),
            "{name}"
        );
    }
}

#[test]
fn every_unit_of_a_named_formula_is_known_and_its_line_names_every_input() {
    for formula in FORMULAS {
        assert!(Formula::by_name(formula.name()).is_some_and(|found| std::ptr::eq(found, formula)));
        let Kind::Named(named) = &formula.kind else { continue };
        assert!(Unit::parse_in(named.unit, named.gives).is_some(), "{}", formula.name());
        for input in formula.inputs() {
            let (name, shown) = (input.name(), format!("{{{}}}", input.name()));
            assert!(named.said.contains(&shown), "{} does not say {name}", formula.name());
            let dimension = input.dimension().unwrap_or(Dimension::Count);
            let typed = input.fixed_unit();
            assert!(typed.is_empty() == (dimension == Dimension::Count), "{name}");
            assert!(typed.is_empty() || Unit::parse_in(typed, dimension).is_some(), "{name}: {typed}");
            assert!(input.range().is_some_and(|(low, high)| low.base() < high.base()), "{name}");
        }
    }
}

#[test]
fn every_named_formula_has_a_finite_value_within_its_ranges_and_none_for_nonsense() {
    for formula in FORMULAS.into_iter().filter(|formula| formula.gives().is_some()) {
        let ranges: Vec<_> = formula.inputs().iter().filter_map(super::Input::range).collect();
        let high: Vec<_> = ranges.iter().map(|(_, high)| *high).collect();
        let found = formula.work(&high).map(Quantity::dimension);
        assert_eq!(found.ok(), formula.gives(), "{}", formula.name());
        let base: Vec<_> = high.iter().map(|input| input.base()).collect();
        assert_eq!(formula.compute(&base[1..]), None, "{} with an input too few", formula.name());
        for place in 0..base.len() {
            for nonsense in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let mut inputs = base.clone();
                inputs[place] = nonsense;
                assert_eq!(formula.compute(&inputs), None, "{} {nonsense}", formula.name());
            }
        }
    }
}

fn refusal(name: &str, inputs: &[(&str, Dimension)]) -> String {
    let formula = Formula::by_name(name);
    let inputs: Result<Vec<_>, _> =
        inputs.iter().map(|&(text, dimension)| Quantity::parse_as(text, dimension)).collect();
    match (formula, inputs) {
        (Some(formula), Ok(inputs)) => match formula.explain(&inputs) {
            Ok(said) => said,
            Err(refused) => refused.to_string(),
        },
        _ => "the test's own inputs are wrong".to_owned(),
    }
}

#[test]
fn a_refusal_says_what_would_do() {
    use Dimension::{Count, Current, Length, Power, Resistance, Temperature, Voltage};
    let wire = |gauge| refusal("line-drop-solid", &[(gauge, Count), ("50 ft", Length), ("9.8 A", Current)]);
    assert_eq!(
        wire("13"),
        "`line-drop-solid` has no value here: 18, 16, 14, 12 or 10 AWG copper, as in the table"
    );
    assert_eq!(wire("8"), "`gauge` is 8, expected 10 to 18");
    assert_eq!(
        refusal("electric-heat", &[("240 V", Voltage), ("40 V", Voltage)]),
        "`current` of `electric-heat` is a current, found a voltage"
    );
    assert_eq!(refusal("airflow-target", &[]), "`airflow-target` takes 1 input, 0 given");
    assert_eq!(
        refusal("insulation-at-40-c", &[("OL Mohm", Resistance), ("70 F", Temperature)]),
        "`insulation-at-40-c` needs a number for `resistance`, found over range"
    );
    assert_eq!(
        refusal("ratio", &[("70 F", Temperature), ("60 F", Temperature)]),
        "`ratio` does not go with a temperature and a temperature"
    );
    assert_eq!(
        refusal("learning-power-ratio", &[("5 W", Power), ("0 W", Power)]),
        "`learning-power-ratio` has no value here: both powers are above nothing, with the power at standstill \
         taken off"
    );
    assert_eq!(
        refusal("share", &[("5 W", Power), ("0 W", Power)]),
        "`share` has no value here: both are of one kind, and the whole is not nothing"
    );
}

#[test]
fn generic_formulas_take_what_goes_together() {
    use Dimension::{Percent, Pressure, Ratio, Temperature, TemperatureDifference, Voltage};
    for (name, inputs, gives) in [
        ("difference", &[Temperature, Temperature][..], Some(TemperatureDifference)),
        ("difference", &[Temperature, TemperatureDifference], Some(Temperature)),
        ("difference", &[TemperatureDifference, Temperature], None),
        ("difference", &[Voltage, Voltage], Some(Voltage)),
        ("sum", &[Pressure; 4], Some(Pressure)),
        ("sum", &[Temperature, TemperatureDifference], Some(Temperature)),
        ("sum", &[Temperature, Temperature], None),
        ("sum", &[Voltage], None),
        ("ratio", &[Voltage, Voltage], Some(Ratio)),
        ("ratio", &[Voltage, Pressure], None),
        ("share", &[Pressure, Pressure], Some(Percent)),
        ("share", &[Temperature, Temperature], None),
        ("deviation", &[Voltage, Voltage], Some(Percent)),
        ("product", &[Percent, Voltage], Some(Voltage)),
        ("product", &[Percent, Percent], Some(Percent)),
        ("product", &[Voltage, Percent], None),
        ("product", &[Percent, Temperature], None),
        ("larger-over-smaller", &[Percent, Percent], Some(Ratio)),
    ] {
        let found = Formula::by_name(name).and_then(|formula| formula.typed(inputs).ok());
        assert_eq!(found, gives, "{name} of {inputs:?}");
    }
    let share = Formula::by_name("share").map(|formula| formula.typed(&[Voltage; 3]));
    assert_eq!(share, Some(Err(Mismatch::Number { formula: "share", takes: 2, given: 3 })));
}

#[test]
fn the_arithmetic_is_shown_as_the_trade_says_it() {
    use Dimension::{
        Count, Current, Frequency, Length, Percent, Power, Pressure, Temperature, TemperatureDifference,
        Voltage,
    };
    let said = refusal;
    assert_eq!(
        said(
            "sensible-airflow",
            &[
                ("18757 W", Power),
                ("27.778 K", TemperatureDifference),
                ("182.9 m", Length),
                ("294.26 K", Temperature)
            ]
        ),
        "18 757 W over 50 °F at 600.1 ft and 70 °F: about 1 211 CFM"
    );
    assert_eq!(said("airflow-target", &[("3 tons", Power)]), "3 tons at 400 CFM a ton: 1 200 CFM");
    assert_eq!(
        said("line-drop-solid", &[("14", Count), ("50 ft", Length), ("9.8 A", Current)]),
        "50 ft each way of 14 AWG solid copper with 9.8 A: about 3.009 V"
    );
    assert_eq!(
        said("run-capacitor", &[("370 V", Voltage), ("2 A", Current), ("60 Hz", Frequency)]),
        "2 A at 370 V and 60 Hz: about 14.34 µF"
    );
    assert_eq!(
        said("learning-power-ratio", &[("2.5 W", Power), ("6 W", Power)]),
        "2.5 W one way and 6 W the other, the larger over the smaller: 2.4 to 1"
    );
    assert_eq!(said("mount-overlap", &[("11 in", Length), ("9 1/2 in", Length)]), {
        "11 in. over an opening of 9 1/2 in.: 1 1/2 in."
    });
    assert_eq!(
        said("difference", &[("118.4 V", Voltage), ("115.1 V", Voltage)]),
        "118.4 V less 115.1 V: 3.3 V"
    );
    assert_eq!(
        said("difference", &[("125 F", Temperature), ("21 C", Temperature)]),
        "125 °F less 21 °C: 55.2 °F"
    );
    assert_eq!(
        said("sum", &[("0.22 in wc", Pressure), ("0.31 in wc", Pressure), ("-0.1 in wc", Pressure)]),
        "0.22 in. w.c. plus 0.31 in. w.c. plus -0.1 in. w.c.: 0.43 in. w.c."
    );
    assert_eq!(
        said("share", &[("0.2 in wc", Pressure), ("0.6 in wc", Pressure)]),
        "0.2 in. w.c. of 0.6 in. w.c.: about 33.33 %"
    );
    assert_eq!(
        said("deviation", &[("104 V", Voltage), ("115 V", Voltage)]),
        "104 V against 115 V: about -9.565 %"
    );
    assert_eq!(said("product", &[("90 %", Percent), ("115 V", Voltage)]), "90 % of 115 V: 103.5 V");
}

#[test]
fn a_value_outside_its_range_is_refused_but_still_computed() {
    let Some(airflow) = Formula::by_name("sensible-airflow") else { return };
    let base = [18_757.0, 0.2, 0.0, 294.0];
    assert!(airflow.compute(&base).is_some());
    let inputs = base
        .iter()
        .zip(airflow.inputs())
        .filter_map(|(&number, input)| Quantity::new(number, input.dimension()?.base_unit()));
    let refused = airflow.work(&inputs.collect::<Vec<_>>());
    assert!(matches!(refused, Err(NoValue::Outside { input: "rise", .. })), "{refused:?}");
}
