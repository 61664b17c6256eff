//! Units as they are drawn: in order, and of sizes that are met in houses.

use super::{near, units};
use crate::units::{CFM, FOOT, IN_WC};
use crate::wheel::Turn;

#[test]
fn a_unit_in_order_shows_nothing() {
    for (index, unit) in units(2_000).enumerate() {
        assert_eq!(unit.shows(), vec![], "unit {index}: {unit:?} {:?}", unit.run());
    }
}

#[test]
fn a_unit_in_order_moves_what_it_is_to_move_within_its_plates() {
    for unit in units(500) {
        let running = unit.run().unwrap();
        assert_eq!(running.turn, Turn::Right);
        near(running.flow, unit.plate.wanted, 0.06);
        let statics = unit.air.statics(running.flow);
        assert!(statics.supply - statics.return_side < unit.plate.static_limit);
        assert!(running.amps < unit.motor.plate_amps(unit.supply.system.has_two_legs()));
        assert!((600.0..1100.0).contains(&running.speed), "{running:?}");
        let inches = unit.wheel.diameter / FOOT * 12.0;
        assert!((6.5..16.0).contains(&inches), "{inches} in");
        assert!(running.flow / CFM > 500.0 && unit.plate.static_limit / IN_WC < 0.51);
    }
}
