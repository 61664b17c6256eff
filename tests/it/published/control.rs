//! The 24 V side: T2 of our list of trade facts.
//!
//! An ideal transformer's secondary follows its primary by the turns of the tap in use: 24 · V / tap (computed). The
//! control working band is 0.85 to 1.10 of 24 V, 20.4 to 26.4 V (NEMA ICS and UL 873 practice, from memory); lightly
//! loaded, a sound one reads up to 28 V (common practice), and Class 2 ends at 30 V (NEC Ch. 9 Table 11(A)).

use crate::house::ending_of;

/// The ending of a dead unit on a 120 V tap with this primary and secondary.
fn at(primary: f64, secondary: f64) -> String {
    ending_of(&format!(
        "case: control\nanswers:\n  complaint: no_run\n  unit_rated_supply: 115-volt\n  motor_model: tarnhow-a\n  \
         supply_sources: 1\n  breaker_position: on\n  disconnect_position: on\n  access_panel_switch: made\n  \
         thermostat_calling: fan\n  motor_runs: no\n  live_work_allowed: yes\n  line_voltage_at_unit: {primary} V\n  \
         line_voltage_before_panel_switch: {primary} V\n  line_voltage_at_motor: {primary} V\n  \
         transformer_primary_voltage: {primary} V\n  transformer_tap: tap_120\n  control_voltage: {secondary} V\n  \
         call_voltage: 0 V\n  rating_lead_voltage: 0 V\n  control_fuse: good\n  control_wiring_resistance: 22 ohm\n  \
         connectors_condition: sound\n  harness_condition: sound\n  link_fitted: link-115\n  \
         speed_lead_position: on_call_terminal\n  rating_leads_position: as_needed\n  shaft_turn: free\n  \
         insulation_to_case: OL\n  line_pin_resistance: OL\n  power_cycled: yes\nends: not-enough-readings\n"
    ))
}

/// T2.3: primaries of 114 and 110 V give 22.8 and 22.0 V (and 118 and 121 V by the same rule 23.6 and 24.2 V): in the
/// working band, so the transformer is not blamed. The call that does not come is. The list's 126, 127 and 104 V lie too
/// close to the limits of a 115 V unit, or beyond them, for an ordinary meter to pass the supply.
#[test]
fn a_secondary_that_follows_its_primary_is_not_blamed_on_the_transformer() {
    for (primary, published) in [(114.0, 22.8), (110.0, 22.0), (118.0, 23.6), (121.0, 24.2)] {
        let secondary: f64 = 24.0 * primary / 120.0;
        assert!((secondary - published).abs() < 1e-9, "{primary} V");
        assert_eq!(at(primary, secondary), "repair-call-wiring", "{primary} V");
    }
}

#[test]
fn a_secondary_below_the_working_band_on_a_sound_primary_is() {
    assert_eq!(at(118.0, 20.3), "replace-control-transformer");
    assert_eq!(at(118.0, 0.0), "replace-control-transformer");
}

#[test]
fn the_edge_of_the_working_band_is_in_it() {
    assert_eq!(at(118.0, 24.0 * 0.85), "repair-call-wiring");
}
