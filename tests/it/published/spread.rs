//! How sure computed values are: T5.7 of our list of trade facts, and a million draws by numpy.

use super::{inputs, near};
use engine::formula::{Spread, spread};
use engine::quantity::{Dimension, Quantity, Unit};

/// Evenly spread over a half-width: u = a / √3 (JCGM 100, 4.3.7).
fn even(half: f64, unit: Unit) -> f64 {
    // A difference of temperatures has no offset.
    (unit.to_base(half) - unit.to_base(0.0)) / 3.0_f64.sqrt()
}

/// T5.7: two thermometers of ±2 °F on a rise of 55 °F: u 1.633 °F, U 3.266 °F, 80 CFM of 1347.
#[test]
fn two_thermometers_make_an_airflow_uncertain_by_eighty_cfm() {
    let (rise, temperatures) = inputs("difference", &["125 F", "70 F"]);
    let at: Vec<_> = temperatures.iter().map(|input| input.base()).collect();
    let one = even(2.0, temperatures[0].unit());
    let of_rise = spread(|at| rise.compute(at), &at, &[one, one]).unwrap();
    near(of_rise.u * 9.0 / 5.0, 1.633, 5e-4, "u of the rise");
    near(2.0 * of_rise.u * 9.0 / 5.0, 3.266, 5e-4, "U of the rise");

    let (airflow, measured) = inputs("sensible-airflow", &["80000 Btu/h", "55 F", "0 ft", "70 F"]);
    let at: Vec<_> = measured.iter().map(|input| input.base()).collect();
    let cfm = Unit::parse_in("cfm", Dimension::Airflow).unwrap();
    // Published as ±80, to the whole CFM.
    let found = spread(|at| airflow.compute(at), &at, &[0.0, of_rise.u, 0.0, 0.0]).unwrap();
    near(cfm.from_base(2.0 * found.u), 80.0, 0.5, "U of the airflow");
    // The worst of both: 51 to 59 °F.
    for (rise, published) in [("51 F", 1452.4), ("59 F", 1255.5)] {
        near(
            super::worked("sensible-airflow", &["80000 Btu/h", rise, "0 ft", "70 F"]),
            published,
            0.05,
            rise,
        );
    }
}

/// Against a million draws of each formula, written anew in trade units (`monte_carlo.py`). What may lie
/// between: the draws' own scatter (u of a standard deviation of 10⁶ draws is under 0.1 %), and the bend of
/// the formula over ±u, which differences leave out: at most 0.2 % of u here. So half a percent of u. The
/// mean moves with the bend too: by less than a twentieth of u. U = 2u is said to cover 95 in 100. It does:
/// half of the draws' 95 % span is never above 2 u, and never below 1.645 u, which is 0.95 √3, one evenly
/// drawn input alone.
#[test]
fn differences_agree_with_a_million_draws() {
    let mut rows = 0;
    for line in include_str!("monte_carlo.tsv").lines().filter(|line| !line.starts_with('#')) {
        let cells: Vec<_> = line.split('\t').collect();
        let (name, unit) = (cells[0], cells[2]);
        let number = |place: usize| cells[place].parse::<f64>().unwrap();
        let given: Vec<Vec<&str>> =
            cells[1].split("; ").map(|input| input.splitn(3, ' ').collect()).collect();
        let typed: Vec<_> = given
            .iter()
            .map(|input| format!("{} {}", input[0], input.get(2).unwrap_or(&"")).trim().to_owned())
            .collect();
        let typed: Vec<_> = typed.iter().map(String::as_str).collect();
        let (formula, inputs) = inputs(name, &typed);
        let at: Vec<_> = inputs.iter().map(|input| input.base()).collect();
        let u: Vec<_> = inputs
            .iter()
            .zip(&given)
            .map(|(input, given)| even(given[1].parse().unwrap(), input.unit()))
            .collect();
        let Spread { value, u, shares } = spread(|at| formula.compute(at), &at, &u).unwrap();

        let unit = Unit::parse_in(unit, formula.gives().unwrap()).unwrap();
        let (mean, deviation) = (unit.to_base(number(3)), unit.to_base(number(4)));
        near(u, deviation, 0.005 * deviation, line);
        near(value, mean, 0.05 * deviation, line);
        let half = unit.to_base((number(6) - number(5)) / 2.0);
        assert!((1.64..=2.0).contains(&(half / u)), "{line}: {}", half / u);
        assert_eq!(shares.len(), inputs.len());
        rows += 1;
    }
    assert!(rows >= 6, "only {rows} rows");
}

/// A sure input is not moved: the table of wires has no gauge a little off 14.
#[test]
fn a_sure_input_is_left_alone() {
    let (wire, inputs) = inputs("line-drop-solid", &["14", "50 ft", "9.8 A"]);
    let at: Vec<_> = inputs.iter().map(|input: &Quantity| input.base()).collect();
    assert!(spread(|at| wire.compute(at), &at, &[0.0, 0.1, 0.1]).is_some());
    assert_eq!(spread(|at| wire.compute(at), &at, &[0.5, 0.1, 0.1]), None);
    assert_eq!(spread(|at| wire.compute(at), &at, &[0.1]), None);
}
