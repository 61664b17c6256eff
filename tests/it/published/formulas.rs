//! Formulas against published and exactly worked numbers: T1, T2, T4, T6, T7 of our list of trade facts.
//!
//! Where nothing else is said a number may be off by half of its last printed digit.

use super::{near, worked};

/// NEC chapter 9, table 8, copper at 75 °C (two transcriptions agree). T1.1 and T1.3, worked exactly from its ohms.
#[test]
#[expect(clippy::approx_constant, reason = "3.14 ohms of the table is no circle")]
fn a_wire_drops_what_the_table_says() {
    let solid = |gauge, feet, amps| worked("line-drop-solid", &[gauge, feet, amps]);
    near(solid("14", "50 ft", "9.8 A"), 3.0086, 5e-5, "14 AWG solid");
    near(solid("12", "50 ft", "9.8 A"), 1.8914, 5e-5, "12 AWG solid");
    near(worked("line-drop-stranded", &["14", "50 ft", "9.8 A"]), 3.0772, 5e-5, "14 AWG stranded");
    near(solid("18", "50 ft", "0.4 A"), 0.3108, 5e-5, "18 AWG control wire");
    near(solid("18", "100 ft", "0.8 A"), 1.2432, 5e-5, "18 AWG control wire");
    for (gauge, ohms, stranded) in
        [("18", 7.77, 7.95), ("16", 4.89, 4.99), ("14", 3.07, 3.14), ("12", 1.93, 1.98), ("10", 1.21, 1.24)]
    {
        // 500 ft there and back is the table's 1000 ft; the last binary digits are let off.
        near(solid(gauge, "500 ft", "1 A"), ohms, 1e-12, gauge);
        near(worked("line-drop-stranded", &[gauge, "500 ft", "1 A"]), stranded, 1e-12, gauge);
    }
}

/// T1.1: the drop in percent of the supply.
#[test]
fn a_drop_is_a_share_of_the_supply() {
    for (drop, supply, percent) in [
        ("3.0086 V", "120 V", 2.507),
        ("3.0086 V", "115 V", 2.616),
        ("3.0772 V", "120 V", 2.564),
        ("1.8914 V", "120 V", 1.576),
    ] {
        near(worked("share", &[drop, supply]), percent, 5e-4, drop);
    }
}

/// T1.2: the longest run for 3 % of 120 V at 9.8 A (the 3 % is NEC 210.19(A), informational note 4: advice).
#[test]
fn the_longest_run_drops_three_percent() {
    let limit = worked("product", &["3 %", "120 V"]);
    for (gauge, feet) in [("14", "59.83 ft"), ("12", "95.17 ft")] {
        // Feet are given to 0.01: half of that is one part in 12 000 of the shorter run.
        near(worked("line-drop-solid", &[gauge, feet, "9.8 A"]), limit, limit / 11_000.0, gauge);
    }
}

/// T2.1 and T2.2 (NEC chapter 9, table 11): volt-amps over 24 V, read as watts of an ideal load.
#[test]
fn a_control_transformer_gives_its_volt_amps() {
    for (volt_amps, amps) in [("40 W", 1.6667), ("20 W", 0.8333), ("100 W", 4.1667), ("1000 W", 41.667)] {
        let found = worked("expected-current", &[volt_amps, "24 V", "100 %", "100 %"]);
        near(found, amps, if amps > 10.0 { 5e-4 } else { 5e-5 }, volt_amps);
    }
}

/// T2.3: the secondary follows the primary. Section 15 (common practice): by the tap in use.
#[test]
fn the_control_side_follows_the_primary() {
    for (primary, tap, secondary) in [
        ("114 V", "120 V", 22.8),
        ("126 V", "120 V", 25.2),
        ("110 V", "120 V", 22.0),
        ("127 V", "120 V", 25.4),
        ("104 V", "120 V", 20.8),
        ("208 V", "208 V", 24.0),
        ("240 V", "240 V", 24.0),
        ("208 V", "240 V", 20.8),
    ] {
        near(worked("control-voltage-expected", &[primary, tap]), secondary, 1e-12, primary);
    }
}

/// T2.4: 0.40 A and 0.50 A are more than the 0.833 A of 20 VA.
#[test]
fn loads_add_up_to_an_overload() {
    let loads = worked("sum", &["0.40 A", "0.50 A"]);
    near(loads, 0.90, 1e-12, "loads");
    assert!(loads > worked("expected-current", &["20 W", "24 V", "100 %", "100 %"]));
}

/// T4.1, T4.2: IEEE 43, 6.3, the halving rule; its worked example of 35 °C, 0.707, is from memory.
#[test]
fn insulation_halves_for_every_ten_degrees() {
    for (celsius, factor, half) in [
        ("20 C", 0.25, 1e-9),
        ("30 C", 0.5, 1e-9),
        ("40 C", 1.0, 1e-9),
        ("50 C", 2.0, 1e-9),
        ("60 C", 4.0, 1e-9),
        ("35 C", 0.707, 5e-4),
    ] {
        near(worked("insulation-at-40-c", &["1 Mohm", celsius]), factor, half, celsius);
    }
    near(worked("insulation-at-40-c", &["100 Mohm", "20 C"]), 25.0, 1e-9, "100 megohms");
    near(worked("insulation-at-40-c", &["12 Mohm", "20 C"]), 3.0, 1e-9, "12 megohms");
}

/// T6.1: fan laws (AMCA 201; ASHRAE HVAC Systems and Equipment chapter 21; clauses from memory).
#[test]
fn a_fan_follows_its_laws() {
    for (new, flow, pressure, power) in
        [("1100 rpm", 1320.0, 0.605, 0.5324), ("900 rpm", 1080.0, 0.405, 0.2916)]
    {
        near(worked("fan-law-flow", &["1200 cfm", "1000 rpm", new]), flow, 1e-9, new);
        near(worked("fan-law-pressure", &["0.50 in wc", "1000 rpm", new]), pressure, 1e-12, new);
        near(worked("fan-law-power", &["0.40 hp", "1000 rpm", new]), power, 1e-12, new);
    }
}

/// T6.2: the system curve through 1200 CFM at 0.50 in.
#[test]
fn ducts_follow_their_curve() {
    let pressure = |flow| worked("system-pressure", &["0.50 in wc", "1200 cfm", flow]);
    near(pressure("1400 cfm"), 0.6806, 5e-5, "1400 CFM");
    near(pressure("1000 cfm"), 0.3472, 5e-5, "1000 CFM");
    near(worked("system-flow", &["1200 cfm", "0.50 in wc", "0.80 in wc"]), 1517.9, 0.05, "0.80 in.");
}

/// T6.3: by CFM times in. w.c. over 6343.3, of conventional water. Handbooks' 6356, of water at 70 °F, is 0.2 % less.
#[test]
fn moved_air_has_its_power() {
    let watts = worked("air-power", &["1200 cfm", "0.5 in wc"]);
    near(watts, 70.53, 5e-3, "watts");
    near(watts / 745.699_871_58, 0.09459, 5e-6, "horsepower");
    near(watts / 745.699_871_58, 0.0944, 0.0944 * 0.002 + 5e-5, "horsepower with 6356");
}

/// T7.1: derived, 1e6 I / (2 pi f V); with the trade's 2652 at 60 Hz 14.335, which is 0.02 % less.
#[test]
fn a_run_capacitor_is_measured_in_use() {
    let microfarads = worked("run-capacitor", &["370 V", "2.00 A", "60 Hz"]);
    near(microfarads, 14.338, 5e-4, "60 Hz");
    near(microfarads, 14.335, 14.335 * 2.5e-4, "by 2652");
    near(worked("run-capacitor", &["370 V", "2.00 A", "50 Hz"]), 3183.10 * 2.0 / 370.0, 5e-5, "50 Hz");
    for (percent, edge) in [("94 %", 9.4), ("106 %", 10.6)] {
        near(worked("product", &[percent, "10 uF"]), edge, 1e-12, percent);
    }
}

/// T7.5: half a horsepower at 1075 rpm is 2.4428 lbf ft. There is no formula of torque: this checks the two
/// units, with the pound-force foot of NIST SP 811, appendix B (1.355 818 J).
#[test]
fn horsepower_and_rpm_make_the_published_torque() {
    let base = |text| engine::quantity::Quantity::parse_exact(text).unwrap().base();
    near(base("1/2 hp") / base("1075 rpm") / 1.355_818, 2.4428, 5e-5, "lbf ft");
}

/// Trade facts, trap 4: 1127 VA of NEC table 430.248 against 373 W of shaft is 0.331 for efficiency times
/// power factor.
#[test]
fn an_expected_current_closes_on_the_trap_of_the_code_table() {
    let amps = worked("expected-current", &["1/2 hp", "115 V", "33.1 %", "100 %"]);
    // The 0.331 is given to three digits, the table's 9.8 A to two.
    near(amps, 9.8, 9.8 * 0.0015 + 0.05, "table");
}

/// T9.3, computed: 120 V at 60 Hz, 750 pF to the live wire and 750 pF to ground. A meter of 10 MΩ shows 59.08 V, one of
/// 1 MΩ 29.53 V, a low-impedance one of 3 kΩ 0.1018 V.
#[test]
fn a_ghost_voltage_fades_with_the_meters_resistance() {
    let shown = |meter| worked("ghost-voltage", &["120 V", "60 Hz", "0.00075 uF", "0.00075 uF", meter]);
    near(shown("10 Mohm"), 59.08, 5e-3, "10 MΩ");
    near(shown("1 Mohm"), 29.53, 5e-3, "1 MΩ");
    near(shown("3 kohm"), 0.1018, 5e-5, "3 kΩ");
}
