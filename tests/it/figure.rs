//! `motorwright figure`: formulas listed, shown, worked and refused.

use engine::formula::FORMULAS;
use std::process::Output;

/// What it shows, what it says on standard error, and its exit code.
fn figure(arguments: &[&str]) -> (String, String, Option<i32>) {
    let Output { status, stdout, stderr } =
        crate::house::program().arg("figure").args(arguments).output().unwrap();
    (String::from_utf8(stdout).unwrap(), String::from_utf8(stderr).unwrap(), status.code())
}

fn shown(arguments: &[&str]) -> String {
    let (shown, error, code) = figure(arguments);
    assert_eq!((error.as_str(), code), ("", Some(0)), "{arguments:?}");
    shown
}

/// The text behind a label, wrapped lines joined.
fn row(shown: &str, label: &str) -> String {
    let behind = |line: &str| {
        let text = line.strip_prefix("  ")?.strip_prefix(label)?;
        text.starts_with(' ').then(|| text.trim().to_owned())
    };
    let mut lines = shown.lines();
    let mut text = lines.by_ref().find_map(behind).unwrap_or_else(|| panic!("no {label} in:\n{shown}"));
    for line in lines.take_while(|line| line.starts_with("       ")) {
        text = text + " " + line.trim();
    }
    text
}

fn refused(arguments: &[&str]) -> String {
    let (shown, error, code) = figure(arguments);
    assert_eq!((shown.as_str(), code), ("", Some(2)), "{arguments:?}");
    error.trim_end().strip_prefix("motorwright: ").unwrap().to_owned()
}

#[test]
fn every_formula_is_listed_and_has_a_page_that_fits_a_screen() {
    let list = shown(&[]);
    for formula in FORMULAS {
        assert!(
            list.lines().any(|line| line.starts_with(&format!("{} ", formula.name()))),
            "{}",
            formula.name()
        );
        let page = shown(&[formula.name()]);
        assert!(row(&page, "source").starts_with(formula.source().split(';').next().unwrap()), "{page}");
        assert_eq!(row(&page, "formula"), formula.written());
        for input in formula.inputs() {
            assert!(row(&page, input.name()).starts_with(input.what()), "{page}");
        }
        assert!(page.lines().chain(list.lines()).all(|line| line.chars().count() <= 110), "{page}");
    }
}

#[test]
fn airflow_is_worked_by_name_and_in_order() {
    let by_name =
        shown(&["sensible-airflow", "rise=50F", "heat=64000Btu/h", "return=70F", "elevation=600ft"]);
    assert_eq!(row(&by_name, "result"), "1 211 CFM");
    assert_eq!(row(&by_name, "in SI"), "0.5716 m³/s");
    assert_eq!(row(&by_name, "worked"), "64 000 Btu/h over 50 °F at 600 ft and 70 °F: about 1 211 CFM");
    assert_eq!(shown(&["sensible-airflow", "64000", "50", "600", "70"]), by_name);
}

#[test]
fn the_same_in_si_units_gives_the_same_airflow() {
    let si =
        shown(&["sensible-airflow", "heat=18.757kW", "rise=27.778K", "elevation=182.88m", "return=21.11C"]);
    assert_eq!(row(&si, "result"), "1 211 CFM");
    assert_eq!(row(&si, "worked"), "18.757 kW over 50 °F at 600 ft and 70 °F: about 1 211 CFM");
}

/// T5.7 of our list of trade facts: two thermometers of ±2 °F make a rise uncertain by 3.266 °F, an airflow by 80 CFM.
#[test]
fn a_result_says_how_sure_it_is() {
    let rise = shown(&["difference", "125F +-2F", "70F ± 2"]);
    assert_eq!(row(&rise, "result"), "55 °F, give or take 3.3 °F");
    assert_eq!(row(&rise, "give or take"), "covers about 95 in 100; from first 50 %, second 50 %");
    // 3.266 = 2 a / √3.
    let airflow = shown(&["sensible-airflow", "80000", "55F +/-2.8284F", "0", "70"]);
    assert_eq!(row(&airflow, "result"), "1 347 CFM, give or take 80 CFM");
    let percent = shown(&["airflow-target", "3 tons +-10%"]);
    assert_eq!(row(&percent, "result"), "1 200 CFM, give or take 140 CFM");
}

#[test]
fn json_keeps_every_digit() {
    let line = shown(&["line-drop-solid", "14", "50ft", "9.8A +-0.1A", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&line).unwrap();
    assert_eq!(json["formula"], "line-drop-solid");
    assert_eq!(json["inputs"][1]["value"]["base"], 15.24);
    assert_eq!(json["inputs"][2]["base_half_width"], 0.1);
    let number = |key: &str| json[key].as_f64().unwrap();
    assert!((json["result"]["number"].as_f64().unwrap() - 3.0086).abs() < 1e-12);
    // 2 · 0.1 / √3 A times 0.307 Ω.
    assert!((number("expanded_uncertainty") - 0.2 / 3.0_f64.sqrt() * 0.307).abs() < 1e-12);
    assert_eq!(json["worked"], "50 ft each way of 14 AWG solid copper with 9.8 A: about 3.009 V");

    let all = shown(&["--json"]);
    let names: Vec<_> = all
        .lines()
        .map(|line| serde_json::from_str::<serde_json::Value>(line).unwrap()["formula"].clone())
        .collect();
    assert_eq!(names, FORMULAS.map(engine::formula::Formula::name).to_vec());
}

#[test]
fn what_is_wrong_is_told_with_what_would_do() {
    for (arguments, message) in [
        (
            &["fan-law-flw"][..],
            "`fan-law-flw` is no formula, did you mean `fan-law-flow`; `motorwright figure` lists them",
        ),
        (&["\u{1b}[2J"], "`\\u{1b}[2J` is no formula; `motorwright figure` lists them"),
        (
            &["run-capacitor", "volage=370V"],
            "`volage` is no input of `run-capacitor`, did you mean `voltage`; it takes `voltage`, `current`, \
             `frequency`",
        ),
        (&["run-capacitor", "370V", "frequency=60Hz"], "`run-capacitor` still needs `current`"),
        (&["airflow-target", "cooling=3", "cooling=4"], "`cooling` of `airflow-target` is given twice"),
        (&["airflow-target", "3", "4"], "`4` is one input too many: `airflow-target` takes `cooling`"),
        (
            &["airflow-target", "3 V"],
            "`cooling`: `3 V` is a voltage; a power is asked for: if only the unit is wrong, type `3 tons`",
        ),
        (&["airflow-target", "300"], "`cooling` is 300 tons, expected 0.1 tons to 100 tons"),
        (&["airflow-target", "3 +- -1"], "`cooling`: expected a size behind `+-`, such as `2F` or `1%`"),
        (
            &["line-drop-solid", "14 +-1", "50", "9.8"],
            "`line-drop-solid` has no value at an end of what is given behind `+-`",
        ),
        (
            &["line-drop-solid", "11", "50", "9.8"],
            "`line-drop-solid` has no value here: 18, 16, 14, 12 or 10 AWG copper, as in the table",
        ),
        (&["difference", "3 V", "2 A"], "`difference` does not go with a voltage and a current"),
        (&["sum", "3", "2"], "`first`: `3` has no unit: write it as in `3 V`"),
    ] {
        assert_eq!(refused(arguments), message, "{arguments:?}");
    }
}
