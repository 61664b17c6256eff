//! Supply limits: NEMA MG 1 12.44.1 (Condensed MG 1-2011, 9.9.1), a motor runs within 10 % of its rated voltage.
//!
//! The bands are T1.4 of our list of trade facts: 115 V 103.5 to 126.5, 208 V 187.2 to 228.8, 230 V 207 to 253. A
//! plate of 208 V stands for the dual marking 208-230 V, so that its upper limit is 253 V: our reading of the mark.

use crate::house::ending_of;

/// The ending of a unit whose link is right, at this voltage.
fn at(plate: &str, link: &str, volts: f64) -> String {
    ending_of(&format!(
        "case: measured\nanswers:\n  complaint: wrong_link\n  unit_rated_supply: {plate}\n  motor_model: tarnhow-a\n  \
         supply_sources: 1\n  breaker_position: on\n  disconnect_position: on\n  access_panel_switch: made\n  \
         live_work_allowed: yes\n  line_voltage_at_unit: {volts} V\n  \
         connectors_condition: sound\n  harness_condition: sound\n  motor_runs: yes\n  link_fitted: {link}\nends: not-enough-readings\n"
    ))
}

#[test]
fn a_supply_within_ten_percent_of_its_plate_is_in_order_and_beyond_it_is_not() {
    for (plate, link, low, high) in [
        ("115-volt", "link-115", 103.5, 126.5),
        ("208-volt", "link-230", 187.2, 253.0),
        ("230-volt", "link-230", 207.0, 253.0),
    ] {
        // An ordinary meter, ±(1 % + 3 counts of 0.1 V), tells 2 % and half a volt apart at any of these edges.
        let apart = |edge: f64| 0.02 * edge + 0.5;
        for in_order in [low + apart(low), f64::midpoint(low, high), high - apart(high)] {
            assert_eq!(at(plate, link, in_order), "link-matches-supply", "{in_order} V on {plate}");
        }
        assert_eq!(at(plate, link, low - apart(low)), "supply-voltage-low", "below {low} V on {plate}");
        assert_eq!(at(plate, link, high + apart(high)), "supply-voltage-high", "above {high} V on {plate}");
        // Too close for the meter to tell: at the bottom the hand-over, which is the safer of the two. At the
        // top, where sound supplies lie, the reading as it stands decides.
        assert_eq!(at(plate, link, low), "supply-voltage-low", "on {low} V on {plate}");
        assert_eq!(at(plate, link, high), "link-matches-supply", "on {high} V on {plate}");
        assert_eq!(at(plate, link, high + 0.5), "supply-voltage-high", "just above {high} V on {plate}");
    }
}

/// ANSI C84.1 Range B (figures from memory) reaches 127 V and 254 V: a supply that the utility may deliver, half a
/// volt and a volt beyond what the motor may have. The trap is to take the one for the other.
#[test]
fn a_supply_that_the_utility_may_deliver_can_be_too_much_for_the_motor() {
    assert_eq!(at("115-volt", "link-115", 127.0), "supply-voltage-high");
    assert_eq!(at("230-volt", "link-230", 254.0), "supply-voltage-high");
}

#[test]
fn the_link_is_judged_by_the_measured_supply() {
    assert_eq!(at("115-volt", "link-230", 118.0), "fit-link-115");
    assert_eq!(at("208-volt", "none", 208.0), "fit-link-230");
}
