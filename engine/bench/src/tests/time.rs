//! Time passes in a call, and the unit's state follows.

use super::{BOOK, near, units};
use crate::Care;
use crate::breaker::Handle;
use crate::chance::Chance;
use crate::control::CallFor;
use crate::fault::Fault;
use crate::household::Callback;
use crate::trial::{PutIn, Setup, run_all, watched};
use crate::unit::{Device, Unit};
use engine::call::{Reply, Wants};
use std::num::NonZeroUsize;

/// Units whose circuit carries too much, none of them tripped yet.
fn overloaded() -> impl Iterator<Item = Unit> {
    let fault = Fault::named("circuit-overloaded").unwrap();
    (0..40).map(move |call| {
        let mut unit = Callback::draw(&[fault], &mut Chance::of_call(71, call)).unwrap().unit;
        unit.supply.reset();
        unit.supply.breaker.handle = Handle::On;
        unit.in_use(CallFor::Fan)
    })
}

/// Heat that is taken in parts trips the breaker when the same heat at one go does: the law is that of one time constant.
#[test]
fn a_breaker_trips_in_the_minute_that_it_should_however_the_time_is_cut() {
    for unit in overloaded() {
        let trip = unit.trip().unwrap();
        assert_eq!(trip.device, Device::Breaker);
        let amps = unit.circuit_amps();
        let cut = |parts: u32, minutes: f64| {
            let mut breaker = unit.supply.breaker;
            (0..parts).any(|_| breaker.warms(amps, minutes / f64::from(parts)))
        };
        for parts in [1, 7, 100] {
            assert!(!cut(parts, trip.minutes * 0.999), "too early in {parts} parts");
            assert!(cut(parts, trip.minutes * 1.001), "too late in {parts} parts");
        }
    }
}

/// Without current it cools by its time constant, and then holds as long as from cold.
#[test]
fn a_breaker_that_rested_holds_longer_than_one_that_did_not() {
    for unit in overloaded() {
        let mut breaker = unit.supply.breaker;
        let (amps, minutes) = (unit.circuit_amps(), unit.trip().unwrap().minutes);
        assert!(breaker.warms(amps, minutes * 1.001));
        near(breaker.heat, breaker.holds.powi(2), 1e-9);
        let mut warm = breaker;
        assert!(warm.warms(amps, minutes * 0.2), "switched on again warm, it goes sooner");
        breaker.warms(0.0, breaker.minutes);
        near(breaker.heat, breaker.holds.powi(2) / 1.0_f64.exp(), 1e-9);
        breaker.warms(0.0, 1000.0);
        assert!(!breaker.warms(amps, minutes * 0.999));
    }
}

/// A current within its rating never trips it, and time alone changes nothing else of a unit in order.
#[test]
fn time_changes_nothing_of_a_unit_in_order() {
    for unit in units(100) {
        let mut later = unit.in_use(CallFor::Fan);
        for _ in 0..50 {
            later.passes(30.0);
        }
        assert!(later.supply.is_on() && later.shows().is_empty());
        later.supply.breaker.heat = unit.supply.breaker.heat;
        assert_eq!(later, unit.in_use(CallFor::Fan));
    }
}

/// What is locked out loses its charge with every minute that goes by, whatever is done in it.
#[test]
fn a_locked_unit_loses_its_charge() {
    for mut unit in units(20) {
        let held = unit.charge_left();
        unit.stand.locked = true;
        unit.passes(2.0);
        unit.passes(3.0);
        near(unit.stand.minutes_off, 5.0, 1e-12);
        near(unit.charge_left(), unit.motor.charge_after(unit.supply.source_volts, 5.0), 1e-12);
        assert!(unit.charge_left() < held);
        unit.stand.locked = false;
        unit.passes(1.0);
        near(unit.stand.minutes_off, 0.0, 1e-12);
    }
}

/// The readings that come after a trip are those of a unit without power, and whoever reads says that it died.
#[test]
fn a_trip_in_the_middle_of_a_call_is_told_before_the_next_reading() {
    let faults = vec![Fault::named("circuit-overloaded").unwrap()];
    let setup = Setup { seed: 9, put_in: PutIn::Always(faults), care: Care::Perfect };
    let mut told = 0;
    for call in 0..60 {
        let _ = watched(&BOOK, &setup, call, &mut |call, prompt, reply| {
            if let Reply::Tell(fact, _) = reply {
                let fact = &call.book().fact(*fact).id;
                assert!(["breaker_position", "disconnect_position"].contains(&fact.as_str()));
                assert!(matches!(prompt.wants(), Wants::Fact { .. }));
                told += 1;
            }
        });
    }
    assert!(told > 0, "no breaker trips in the middle of any call");
    let trials = run_all(&BOOK, &setup, 0..60, NonZeroUsize::MIN);
    for trial in trials {
        assert!(trial.unsafe_prompts.is_empty() && trial.halted.is_none(), "{trial:?}");
    }
}
