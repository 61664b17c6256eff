//! The meter and the person.

use super::{BOOK, near};
use crate::Care;
use crate::chance::Chance;
use crate::read::Reading;
use crate::technician::Meter;
use engine::rulebook::{Answer, Fact, Value};
use std::f64::consts::TAU;

fn fact(id: &str) -> &'static Fact {
    BOOK.facts().iter().find(|fact| fact.id == id).unwrap()
}

fn number(answer: Answer) -> f64 {
    match answer {
        Answer::Value(Value::Quantity(quantity)) => quantity.number(),
        other => panic!("no figure: {other:?}"),
    }
}

/// Readings of one truth by many meters, each twice.
fn readings(id: &str, found: Reading, care: Care) -> Vec<(f64, f64)> {
    (0..400)
        .map(|call| {
            let mut chance = Chance::of_call(53, call);
            let meter = Meter::draw(care, &mut chance);
            let mut read = || number(meter.shows(fact(id), found, &mut chance));
            (read(), read())
        })
        .collect()
}

/// An ordinary meter's 1 % + 3 counts of 0.1 V: at 207.0 V a is 2.37 V.
#[test]
fn readings_stay_within_the_meters_statement_and_use_it() {
    let read = readings("line_voltage_at_unit", Reading::Is(207.0, "V"), Care::Human);
    let off: Vec<f64> = read.iter().map(|(first, _)| first - 207.0).collect();
    assert!(off.iter().all(|off| off.abs() <= 2.37 + 0.051));
    assert!(
        off.iter().any(|off| *off > 1.8) && off.iter().any(|off| *off < -1.8),
        "no meter is ever far off"
    );
    // Equally likely all over the band: u = a/√3, here 1.368 V.
    let mean_square = off.iter().map(|off| off * off).sum::<f64>() / 400.0;
    near(mean_square.sqrt(), 1.368, 0.15);
    // One meter agrees with itself far better than with another.
    assert!(read.iter().all(|(first, second)| (first - second).abs() <= 2.0 * 0.15 * 2.37 + 0.11));
    assert!(read.iter().all(|(first, _)| (first * 10.0 - (first * 10.0).round()).abs() < 1e-6), "tenths");
}

/// A display has digits: 253.2 V are told as 253.2, and 665,538.6 Ω on 6,000 counts as 666 kΩ.
#[test]
fn figures_have_no_more_digits_than_a_display() {
    let decimals = |number: f64| format!("{number}").split_once('.').map_or(0, |(_, after)| after.len());
    for care in [Care::Human, Care::Careful] {
        for truth in [253.2, 120.3, 71.6, 108.6] {
            let read = readings("line_voltage_at_unit", Reading::Is(truth, "V"), care);
            assert!(read.iter().all(|(first, second)| decimals(*first) <= 1 && decimals(*second) <= 1));
        }
        let read = readings("motor_current", Reading::Is(5.52, "A"), care);
        assert!(read.iter().all(|(first, _)| decimals(*first) <= 2));
        let read = readings("line_pin_resistance", Reading::Is(665_538.6, "ohm"), care);
        assert!(read.iter().all(|(first, _)| (first / 1000.0).fract() == 0.0), "{read:?}");
        let read = readings("line_pin_resistance", Reading::Is(12.3, "ohm"), care);
        assert!(read.iter().any(|(first, _)| decimals(*first) == 1));
    }
    let read = readings("line_voltage_at_unit", Reading::Is(124.359_202_992, "V"), Care::Perfect);
    assert!(read.iter().all(|(first, _)| (*first - 124.359).abs() < 1e-12));
}

#[test]
fn a_perfect_meter_shows_the_truth() {
    let read = readings("line_voltage_at_unit", Reading::Is(207.04, "V"), Care::Perfect);
    assert!(
        read.iter().all(|(first, second)| (first - 207.04).abs() < 1e-9 && (first - second).abs() < 1e-9)
    );
}

#[test]
fn a_reading_comes_in_the_facts_own_unit() {
    let read = readings("supply_air_temperature", Reading::Is(50.0, "°C"), Care::Perfect);
    near(read[0].0, 122.0, 1e-9);
    let read = readings("static_supply", Reading::Is(0.3, "in wc"), Care::Perfect);
    near(read[0].0, 0.3, 1e-9);
    let read = readings("insulation_to_case", Reading::Is(2e6, "ohm"), Care::Perfect);
    near(read[0].0, 2.0, 1e-9);
}

/// A divider of two runs of 750 pF and a meter of 10 MΩ shows 59.08 V beside 120 V; of 3 kΩ 0.1018 V.
#[test]
fn ghost_volts_are_those_of_a_divider() {
    let divider = |ohms: f64| {
        let admittance = TAU * 60.0 * ohms * 750e-12;
        120.0 * admittance / (1.0 + (2.0 * admittance).powi(2)).sqrt()
    };
    near(divider(10e6), 59.08, 1e-3);
    near(divider(3e3), 0.1018, 1e-3);
    let read = readings("line_voltage_at_motor", Reading::Ghost(120.0), Care::Human);
    let high: Vec<f64> = read.iter().map(|(first, _)| *first).filter(|volts| *volts > 2.0).collect();
    assert!((60..200).contains(&high.len()), "{} of 400 have a high-impedance meter", high.len());
    assert!(high.iter().all(|volts| (20.0..90.0).contains(volts)), "they show a good part of 120 V");
    assert!(high.iter().any(|volts| *volts < 59.08) && high.iter().any(|volts| *volts > 59.08));
}

#[test]
fn over_range_is_said_where_a_meter_can_show_no_more() {
    let meter = Meter::draw(Care::Careful, &mut Chance::of_call(1, 1));
    let shown = meter.shows(fact("line_lead_continuity"), Reading::Over, &mut Chance::of_call(1, 2));
    assert!(number(shown).is_infinite());
}
