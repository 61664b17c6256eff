//! The model's laws against published figures and limiting cases.

use super::{near, units};
use crate::breaker::{Breaker, GroundFault, Handle};
use crate::control::{Tap, Transformer};
use crate::heater::Heater;
use crate::solve::root;
use crate::supply::{Ahead, Amps, System, Volts};
use crate::units::{BTU_H, CFM, DEGREE_F, FOOT, HP, IN_WC, atmosphere, density, ohms_per_foot};
use crate::wheel::{Hub, Turn};
use std::f64::consts::TAU;

/// Voltage drop, NEC chapter 9 table 8: 50 ft of 14 AWG solid at 9.8 A drop 3.0086 V, of 12 AWG 1.8914 V; 50 ft of
/// 18 AWG at 0.4 A 0.311 V.
#[test]
fn wire_drops_what_the_code_books_table_says() {
    let drop = |awg: u32, feet: f64, amps: f64| 2.0 * feet * ohms_per_foot(awg) * amps;
    near(drop(14, 50.0, 9.8), 3.0086, 1e-5);
    near(drop(12, 50.0, 9.8), 1.8914, 1e-5);
    near(drop(18, 50.0, 0.4), 0.3108, 1e-4);
    // The longest run for 3 % of 120 V at 9.8 A: 59.83 ft of 14 AWG.
    near(drop(14, 59.83, 9.8), 3.6, 1e-3);
}

/// Ohm's law all along the chain: the source less every resistance times what flows through it.
#[test]
fn volts_at_the_motor_follow_ohms_law() {
    for unit in units(200) {
        let supply = &unit.supply;
        let amps = Amps { motor: 5.0, control: 0.2 };
        let branch = supply.source_ohms + supply.branch_ohms;
        let expected = supply.source_volts
            - branch * (5.2 + supply.other_amps)
            - (supply.entry_ohms + supply.panel_switch_ohms) * 5.2
            - (supply.worse_lead_ohms + supply.better_lead_ohms) * 5.0;
        near(supply.at_motor(true, amps).solid(), expected, 1e-12);
        assert_eq!(supply.at_motor(false, amps), Volts::None, "an open switch passes nothing");
    }
}

/// A ghost stands on a lead that hangs free, and across no primary of a transformer.
#[test]
fn a_ghost_stands_where_nothing_loads_it() {
    for unit in units(20) {
        let mut supply = unit.supply.clone();
        let amps = Amps::default();
        supply.worse_lead_ohms = f64::INFINITY;
        assert!(matches!(supply.at_motor(true, amps), Volts::Ghost(_)));
        supply.ahead = Ahead::Open;
        assert_eq!(supply.read_at_entry(true, amps), Volts::None);
        assert_eq!(supply.at_board(true, amps), Volts::None);
        assert!(matches!(supply.read_at_entry(false, amps), Volts::Ghost(_)), "the open switch parts them");
    }
}

#[test]
fn legs_to_ground_are_half_or_one_over_root_three() {
    near(System::V230.to_ground(240.0), 120.0, 1e-12);
    near(System::V208.to_ground(208.0), 120.09, 1e-4);
    near(System::V115.to_ground(118.0), 118.0, 1e-12);
}

/// An ideal transformer follows its primary: 114, 126, 110 and 104 V on the 120 V tap make 22.8, 25.2, 22.0 and 20.8.
/// 208 V on the 240 V tap makes 20.8.
#[test]
fn the_secondary_follows_the_primary() {
    let ideal = |tap| Transformer { volt_amperes: 40.0, tap, regulation: 0.0, makes: 1.0, loose: 1.0 };
    for (primary, secondary) in [(114.0, 22.8), (126.0, 25.2), (110.0, 22.0), (104.0, 20.8)] {
        near(ideal(Tap::V120).secondary(primary, 10.0), secondary, 1e-9);
    }
    near(ideal(Tap::V240).secondary(208.0, 10.0), 20.8, 1e-9);
    // At full load 24 volts by its plate, and more at less: a sound one reads 25 to 28 lightly loaded.
    for unit in units(300) {
        let transformer = unit.control.transformer;
        near(transformer.secondary(transformer.tap.volts(), transformer.volt_amperes), 24.0, 1e-9);
        let light = transformer.secondary(transformer.tap.volts(), unit.control.load);
        assert!((24.4..28.0).contains(&light), "{light}");
    }
}

/// A charge falls by e^(-t/RC): 470 µF over 100 kΩ go from 340 V to 50 V in 90.10 s, from 170 V in 57.52 s.
#[test]
fn stored_charge_falls_as_a_capacitor_does() {
    let mut motor = units(1).next().unwrap().motor;
    motor.link = crate::motor::Link::V230;
    (motor.rail_farads, motor.bleeder_ohms) = (470e-6, 100e3);
    for (rail, seconds) in [(340.0, 90.10), (170.0, 57.52)] {
        near(motor.charge_after(rail / 2.0_f64.sqrt(), seconds / 60.0), 50.0, 1e-3);
    }
    for unit in units(300) {
        let left = unit.motor.charge_after(unit.supply.source_volts, unit.plate.charge_wait);
        assert!(left < 50.0, "{left} V after the time on its label");
    }
}

/// Standard atmosphere, psia at 0, 1000, 2000, 5000 and 7500 ft (ASHRAE Fundamentals, by its library), and dry air of
/// 70 °F in lb/ft³.
#[test]
fn air_is_as_thin_as_the_tables_say() {
    let rows = [
        (0.0, 14.6960, 0.07489),
        (1000.0, 14.1727, 0.07222),
        (2000.0, 13.6645, 0.06963),
        (5000.0, 12.2278, 0.06231),
        (7500.0, 11.1263, 0.05670),
    ];
    for (feet, psia, pounds) in rows {
        near(atmosphere(feet * FOOT) / 6894.757, psia, 2e-4);
        near(density(feet * FOOT, 21.111) / 16.018_46, pounds, 5e-4);
    }
}

/// q = 1.08 CFM ΔT at sea level: 80,000 Btu/h over 55 °F are 1,346.8 CFM, 1,618.7 at 5,000 ft.
#[test]
fn the_rise_balances_the_heat() {
    for (feet, cfm) in [(0.0, 1346.80), (2000.0, 1448.5), (5000.0, 1618.7), (7500.0, 1778.9)] {
        let rise = Heater::rise(80_000.0 * BTU_H, 0.0, cfm * CFM, density(feet * FOOT, 21.111));
        near(rise / DEGREE_F, 55.0, 3e-3);
    }
    // The blower's watts end up in the air too: 3.412 Btu/h each.
    let with = Heater::rise(20_000.0, 500.0, 0.6, 1.2);
    near(with, Heater::rise(20_500.0, 0.0, 0.6, 1.2), 1e-12);
}

/// The fan laws (AMCA 201): 1200 CFM, 0.50 in., 0.40 hp at 1000 rpm become 1320, 0.605 and 0.5324 at 1100.
#[test]
fn a_wheel_obeys_the_fan_laws() {
    for unit in units(100) {
        let meeting = unit.wheel.meets(Turn::Right, unit.air.resistance(true), unit.air.density());
        let at = |rpm: f64| {
            let turns = rpm / 60.0;
            let flow = meeting.flow * turns;
            let power = meeting.torque * turns.powi(2) * turns * TAU;
            (flow, unit.air.statics(flow).supply, power)
        };
        let (slow, fast) = (at(1000.0), at(1100.0));
        near(fast.0 / slow.0, 1320.0 / 1200.0, 1e-9);
        near(fast.1 / slow.1, 0.605 / 0.50, 1e-9);
        near(fast.2 / slow.2, 0.5324 / 0.40, 1e-9);
    }
}

/// Pressure and power go by the density at the same flow and speed, so where wheel and system meet does not move.
#[test]
fn thin_air_takes_less_power_for_the_same_flow() {
    for unit in units(50) {
        let mut high = unit.clone();
        high.air.elevation = 2000.0;
        let [low, thin] = [&unit, &high]
            .map(|unit| unit.wheel.meets(Turn::Right, unit.air.resistance(true), unit.air.density()));
        near(thin.flow, low.flow, 1e-6);
        near(thin.torque / low.torque, high.air.density() / unit.air.density(), 1e-6);
    }
}

/// Δp = kQ²: with k = 3.4722e-7 in. w.c./CFM², 1400 CFM take 0.6806 in., and 0.80 in. go with 1517.9 CFM.
#[test]
fn resistance_goes_by_the_square() {
    let unit = units(1).next().unwrap();
    let (one, two) = (unit.air.statics(0.3), unit.air.statics(0.6));
    near(two.filter / one.filter, 4.0, 1e-12);
    near(two.supply / one.supply, 4.0, 1e-12);
    let k = 3.4722e-7 * IN_WC / (CFM * CFM);
    near(k * (1400.0 * CFM).powi(2) / IN_WC, 0.6806, 1e-4);
    near((0.80 * IN_WC / k).sqrt() / CFM, 1517.9, 1e-4);
}

/// A forward-curved wheel at one speed takes less power the more it is choked, and most with nothing against it; turned
/// the wrong way it takes less than half.
#[test]
fn a_forward_curved_wheel_takes_less_when_choked_and_less_than_half_backwards() {
    for unit in units(200) {
        let k = unit.air.resistance(true);
        let torque = |turn, times: f64| unit.wheel.meets(turn, k * times, unit.air.density()).torque;
        assert!(torque(Turn::Right, 10.0) < torque(Turn::Right, 1.0));
        assert!(torque(Turn::Right, 1.0) < torque(Turn::Right, 0.1));
        assert!(torque(Turn::Wrong, 1.0) < 0.5 * torque(Turn::Right, 1.0));
        let flow = |turn| unit.wheel.meets(turn, k, unit.air.density()).flow;
        let share = flow(Turn::Wrong) / flow(Turn::Right);
        assert!((0.2..0.65).contains(&share), "{share} of the flow backwards");
    }
}

/// Energy: the air gets no more than the shaft gives, the shaft no more than the line.
#[test]
fn no_more_comes_out_than_goes_in() {
    for unit in units(500) {
        let running = unit.run().unwrap();
        let air = unit.air.resistance(true) * running.flow.powi(3);
        assert!(air < 0.6 * running.shaft, "{air} W of air from {} W", running.shaft);
        assert!(running.shaft < running.line);
        let apparent = running.volts * running.amps;
        assert!(running.line < apparent, "a power factor above one");
        assert!(running.shaft <= unit.motor.rated_watts() * 1.000_001, "more than its rating");
    }
}

/// At full load it draws no more than its plate: 7.2 A for half a horsepower at 115 V, 3.6 A from 208 V up.
#[test]
fn full_load_agrees_with_the_plate() {
    for unit in units(200) {
        let motor = &unit.motor;
        let full = motor.line_watts(motor.rated_watts());
        near(full * motor.efficiency, motor.rated_watts(), 1e-9);
        let volts = if unit.supply.system == System::V115 { 115.0 } else { 208.0 };
        let share = motor.amps(full, volts) / motor.plate_amps(volts > 150.0);
        assert!((0.80..=1.0).contains(&share), "{share} of the plate");
    }
}

/// No load, blocked, and a hub that slips altogether.
#[test]
fn limiting_cases_hold() {
    for unit in units(100) {
        let mut blocked = unit.clone();
        blocked.air.supply.clogged = 1e9;
        blocked.air.leak = 1e12;
        let running = blocked.run().unwrap();
        assert!(running.flow < 0.01 * unit.plate.wanted);
        assert!(running.speed > unit.run().unwrap().speed, "it races when choked");

        let mut free = unit.clone();
        free.wheel.hub = Hub::SlipsAbove(0.0);
        let running = free.run().unwrap();
        near(running.speed, unit.motor.top_speed, 1e-6);
        assert!(running.flow.abs() < 1e-9 && running.shaft < 12.0, "{running:?}");

        let mut stuck = unit.clone();
        stuck.motor.seized = true;
        assert!(stuck.run().is_err());
    }
}

/// More load on a weak supply draws more current, and past a point nothing meets any more.
#[test]
fn a_constant_power_draws_more_from_less() {
    for unit in units(100) {
        let mut weak = unit.clone();
        weak.supply.entry_ohms = 0.5;
        let (sound, sagging) = (unit.run().unwrap(), weak.run().unwrap());
        assert!(sagging.volts < sound.volts && sagging.amps > sound.amps);
        weak.supply.entry_ohms = 100.0;
        assert!(weak.run().is_err());
    }
}

/// UL 943: at most 5.594 s at 6 mA, 1 s at 20, 0.025 at 264. A class A device trips by 6 mA and not below 4.
#[test]
fn a_ground_fault_device_keeps_to_its_standard() {
    for (milliamps, seconds) in [(6.0, 5.594), (20.0, 1.0), (30.0, 0.560), (100.0, 0.1001), (264.0, 0.0250)] {
        near(GroundFault::longest_seconds(milliamps), seconds, 2e-3);
    }
    for device in units(300).filter_map(|unit| unit.supply.ground_fault) {
        assert!(device.trips(6.0) && !device.trips(3.9));
    }
}

/// UL 489: holds its rating, trips within an hour at 135 % and within two minutes at 200 %.
#[test]
fn a_breaker_keeps_to_its_standard() {
    for Breaker { amps, .. } in units(1).map(|unit| unit.supply.breaker) {
        assert!(amps >= 15.0);
    }
    for breaker in units(500).map(|unit| unit.supply.breaker) {
        assert_eq!(breaker.handle, Handle::On);
        assert_eq!(breaker.trips_after(breaker.amps), None);
        assert!(breaker.trips_after(1.35 * breaker.amps).unwrap() < 60.0);
        assert!(breaker.trips_after(2.0 * breaker.amps).unwrap() < 2.0);
        assert_eq!(breaker.trips_after(20.0 * breaker.amps), Some(0.0));
    }
}

/// I = 2πfCV: 4.7 nF at 120 V and 60 Hz leak 0.2126 mA, 10 nF 0.4524: what a filter leaks when in order.
#[test]
fn a_filter_leaks_what_its_capacitors_pass() {
    let leak = |farads: f64, volts: f64| TAU * 60.0 * farads * volts * 1e3;
    near(leak(4.7e-9, 120.0), 0.2126, 1e-3);
    near(leak(10e-9, 120.0), 0.4524, 1e-3);
    for unit in units(200) {
        assert!((leak(4.4e-9, 120.0)..leak(11.1e-9, 120.0)).contains(&unit.motor.filter_leak));
        assert!(
            crate::ranges::supply::GROUND_FAULT_TRIP.low > unit.motor.filter_leak,
            "a sound motor trips nothing"
        );
    }
}

/// Half a horsepower at 1075 rpm is 2.4428 lbf ft.
#[test]
fn rated_torque_follows_from_power_and_speed() {
    let mut motor = units(1).next().unwrap().motor;
    (motor.rating, motor.speed) = (0.5, crate::motor::Speed::High);
    near(motor.torque() / 1.355_818, 2.4428, 1e-4);
    near(motor.torque_at(1075.0) * 1075.0 / 60.0 * TAU, 0.5 * HP, 1e-9);
}

#[test]
fn a_root_is_found_where_there_is_one() {
    near(root(|x| x * x - 2.0, 0.0, 2.0).unwrap(), 2.0_f64.sqrt(), 1e-8);
    assert_eq!(root(|x| x * x + 1.0, -1.0, 1.0), None);
    assert_eq!(root(|x| x, 0.0, 1.0), Some(0.0));
}
