//! What is heard follows from what turns, carries current and moves air: published laws and limiting cases.

use super::{near, units};
use crate::cabinet::{edge_tone, through_slot};
use crate::chance::Chance;
use crate::control::{CallFor, Tap};
use crate::deed;
use crate::fault::Fault;
use crate::mount::{Fixing, Mount};
use crate::ranges::sound::{rush, shake};
use crate::read::{Reading, read};
use crate::sound::{Noise, Place, With, fan_is_louder, louder_by_speed};
use crate::supply::System;
use crate::unit::{Symptom, Unit};
use crate::wheel::Shape;
use std::f64::consts::TAU;

/// A unit with a fault as bad as it gets, the first of many that can have it.
fn with(fault: &str) -> Unit {
    let fault = Fault::named(fault).unwrap();
    let mut unit = units(50).find(|unit| fault.fits(unit)).unwrap();
    fault.put(&mut unit, 1.0, &mut Chance::of_call(61, 0));
    unit
}

fn first(unit: &Unit) -> (Noise, With, Place) {
    let sound = unit.heard()[0];
    assert!(sound.is_minded(), "{sound:?}");
    (sound.noise, sound.with, sound.place)
}

fn reads(unit: &Unit, fact: &str) -> &'static str {
    match read(unit, fact) {
        Some(Reading::Choice(choice)) => choice,
        other => panic!("`{fact}`: {other:?}"),
    }
}

/// One mass on a spring: everything far below its own beat passes, at √2 times it exactly everything, and far above it
/// 1/(r² - 1) without damping: 1/143 at twelve times.
#[test]
fn rubber_passes_what_a_damped_spring_passes() {
    let mount = |damping| Mount {
        fixing: Fixing::Tight,
        sways_at: 10.0,
        damping,
        stiffness: 1.0,
        play: 0.0,
        touching: 0.0,
    };
    near(mount(0.1).passes(0.01), 1.0, 1e-5);
    for damping in [0.0, 0.1, 0.5] {
        near(mount(damping).passes(10.0 * 2.0_f64.sqrt()), 1.0, 1e-9);
    }
    near(mount(0.0).passes(120.0), 1.0 / 143.0, 1e-9);
    near(mount(0.1).passes(10.0), (1.0_f64 + 0.04).sqrt() / 0.2, 1e-9);
    let hard = Mount { stiffness: 1e9, ..mount(0.1) };
    near(hard.passes(500.0), 1.0, 1e-3);
    let touching = Mount { touching: 0.4, ..mount(0.1) };
    near(touching.passes(500.0), 0.4, 1e-9);
}

/// ISO 21940-11: G 6.3 is 6.3 mm/s of the centre of mass; half a millimetre at 955 rpm is 50 mm/s.
#[test]
fn shake_is_what_turns_times_how_far_it_is_out() {
    for unit in units(200) {
        let running = unit.run().unwrap();
        let turns = running.wheel_speed / 60.0 * TAU;
        assert!(turns * unit.wheel.balance < 6.3 * 1.2, "a wheel as made keeps its grade");
        assert!(unit.shake(&running) < shake::DRONES_FROM);
        let mut bent = unit.clone();
        bent.wheel.shape = Shape::Bent(0.5);
        let out = bent.shake(&running) / bent.wheel.share_of_mass / turns;
        near(out, 0.5_f64.hypot(unit.wheel.balance), 1e-9);
        // A wheel that is not turned round shakes nothing.
        let still = crate::unit::Running { wheel_speed: 0.0, ..running };
        assert!(bent.shake(&still).abs() < 1e-12);
    }
}

/// Twice the speed of the air is 18 dB more; twice the flow and four times the pressure of a fan 15 dB.
#[test]
fn sound_of_air_goes_by_its_laws() {
    near(louder_by_speed(2.0), 18.06, 1e-3);
    near(fan_is_louder(2.0, 4.0), 15.05, 1e-3);
    near(fan_is_louder(1.0, 1.0) + 1.0, 1.0, 1e-12);
    // 50 Pa drive air of 1.2 kg/m³ at 9.13 m/s, and over 2 mm it sings at 913 Hz.
    near(through_slot(50.0, 1.2), 9.128_7, 1e-4);
    near(edge_tone(through_slot(-50.0, 1.2), 2.0), 912.87, 1e-4);
}

#[test]
fn a_unit_in_order_is_heard_and_not_minded() {
    for unit in units(1000) {
        let heard = unit.heard();
        assert!(heard.iter().all(|sound| !sound.is_minded()), "{heard:?}");
        assert!(heard.iter().any(|sound| sound.noise == Noise::Hums && sound.with == With::Nothing));
    }
}

#[test]
fn each_fault_sounds_as_what_makes_it() {
    let sounds = [
        ("wheel-out-of-true", Noise::Shakes, With::Blower, Place::Unit),
        ("wheel-weight-lost", Noise::Shakes, With::Blower, Place::Unit),
        ("mount-loose", Noise::Shakes, With::Blower, Place::Unit),
        ("motor-askew", Noise::Hums, With::Blower, Place::Unit),
        ("grommets-hard", Noise::Hums, With::Blower, Place::Unit),
        ("motor-hunts", Noise::Surges, With::Blower, Place::Unit),
        ("call-flaps", Noise::Surges, With::Blower, Place::Unit),
        ("transformer-loose", Noise::Hums, With::Nothing, Place::Unit),
        ("panel-rattles", Noise::Rattles, With::Blower, Place::Unit),
        ("duct-rattles", Noise::Rattles, With::Blower, Place::Ducts),
        ("duct-pops", Noise::Bangs, With::Blower, Place::Ducts),
        ("cabinet-leaks", Noise::Whistles, With::Blower, Place::Unit),
        ("return-grille-too-small", Noise::Rushes, With::Blower, Place::Grille),
        ("burner-bangs", Noise::Bangs, With::Burner, Place::Unit),
        ("registers-shut", Noise::Rushes, With::Blower, Place::Grille),
        ("wheel-rubs", Noise::Scrapes, With::Blower, Place::Unit),
    ];
    for (fault, noise, with_what, place) in sounds {
        let mut unit = with(fault);
        if fault == "wheel-rubs" {
            unit.wheel.rub = 0.5 * unit.motor.torque();
        }
        assert_eq!(first(&unit), (noise, with_what, place), "`{fault}`: {:?}", unit.heard());
        assert!(unit.shows().contains(&Symptom::TooNoisy), "`{fault}`");
    }
}

/// What stands still makes no sound of its own; a transformer hums on.
#[test]
fn a_blower_at_rest_is_another_complaint() {
    for fault in ["mount-loose", "panel-rattles", "cabinet-leaks", "transformer-loose"] {
        let mut unit = with(fault);
        unit.motor.seized = true;
        assert!(!unit.shows().contains(&Symptom::TooNoisy), "`{fault}`");
        assert!(unit.heard().iter().all(|sound| sound.with != With::Blower), "`{fault}`");
    }
    let mut unit = with("transformer-loose");
    unit.motor.seized = true;
    assert!(unit.heard()[0].is_minded());
    unit.control.transformer.tap = Tap::V240;
    unit.supply.source_volts = 1.0;
    assert!(!unit.heard()[0].is_minded(), "a core without flux is silent");
}

/// A tap for 208 volts on 240: the core takes 15 % more flux and hums; the tap for 240 takes the hum away.
#[test]
fn a_core_hums_by_its_flux() {
    let mut unit = units(200).find(|unit| unit.supply.system == System::V230).unwrap();
    unit.supply.source_volts = 240.0;
    let level = |unit: &Unit| {
        let heard = unit.heard();
        heard.iter().find(|sound| sound.with == With::Nothing).unwrap().level
    };
    let right = level(&unit);
    unit.control.transformer.tap = Tap::V208;
    near(level(&unit) / right, (240.0_f64 / 208.0).powi(8), 1e-9);
    assert!(right < 1.0 && level(&unit) > 1.0);
}

/// A panel rattles only while something shakes it, and only where it is held by less.
#[test]
fn a_loose_panel_needs_something_that_shakes_it() {
    let mut unit = with("panel-rattles");
    assert_eq!(reads(&unit.in_use(CallFor::Fan), "rattle_stops"), "panel");
    unit.wheel.balance = 0.0;
    unit.cabinet.panel_held = 0.05;
    assert!(unit.heard().iter().all(|sound| !sound.is_minded()), "a wheel in perfect balance shakes nothing");
    let torn = with("grommet-torn");
    assert_eq!(reads(&torn.in_use(CallFor::Fan), "rattle_stops"), "nothing");
}

/// Less air through the same grille is quieter by 60 dB a decade, until nobody minds it.
#[test]
fn a_grille_is_as_loud_as_its_air_is_fast() {
    let mut unit = with("return-grille-too-small");
    let rush = |unit: &Unit| {
        let heard = unit.heard();
        let at_grille =
            heard.iter().filter(|sound| sound.noise == Noise::Rushes && sound.place == Place::Grille);
        at_grille.map(|sound| sound.level * rush::LOUDER_FROM).fold(f64::NEG_INFINITY, f64::max)
    };
    let flow = |unit: &Unit| unit.run().unwrap().flow;
    let (loud, fast) = (rush(&unit), flow(&unit));
    unit.motor.speed = crate::motor::Speed::Low;
    near(loud - rush(&unit), 60.0 * (fast / flow(&unit)).log10(), 1e-6);
}

/// A speed lowered twice and put back is where it was before the last step.
#[test]
fn a_speed_comes_down_a_step_and_goes_back() {
    let mut unit = with("speed-too-high");
    let mut chance = Chance::of_call(61, 1);
    let mut does = |unit: &mut Unit, deed: &str| assert!(deed::apply(unit, deed, &mut chance));
    let before = unit.run().unwrap().flow;
    assert_eq!(reads(&unit, "lower_speed_tried"), "no");
    does(&mut unit, "lower-speed");
    assert_eq!(reads(&unit, "lower_speed_tried"), "lowered");
    assert!(unit.run().unwrap().flow < before && unit.shows().is_empty());
    assert!(["in_range", "no_heat"].contains(&reads(&unit, "rise_kept")));
    does(&mut unit, "put-speed-back");
    near(unit.run().unwrap().flow, before, 1e-9);
    assert_eq!(reads(&unit, "lower_speed_tried"), "needs_the_air");
}

/// Common practice: a coil lies 35 °F under air of 75 °F at 400 CFM for each ton, and freezes below about 325.
#[test]
fn a_coil_freezes_when_its_air_is_taken_away() {
    let unit = units(1).next().unwrap();
    let at = |cfm: f64| unit.coil_celsius(cfm * crate::units::CFM * unit.plate.tons);
    near(at(400.0), 4.444, 1e-3);
    near(at(350.0), 1.667, 1e-3);
    assert!(at(330.0) > 0.0 && at(320.0) < 0.0);
}

/// What heats the air is as heavy as its time constant says: with no air its limit opens when the heat has filled it.
#[test]
fn a_limit_opens_before_a_blower_that_is_called_too_late() {
    let fault = Fault::named("blower-delay-long").unwrap();
    for sound in units(200).filter(|unit| fault.fits(unit)) {
        assert!(sound.limit_opens_before_blower().is_none(), "a delay in order lets no limit open");
        let (air, heater) = (&sound.air, &sound.heater);
        let heat = heater.output;
        let minutes = heater
            .limit_opens_without_air(air.return_celsius, heat, sound.plate.wanted, air.density())
            .unwrap();
        let joules_a_kelvin =
            heater.minutes * 60.0 * air.density() * crate::units::AIR_HEAT * sound.plate.wanted;
        near(heat * minutes * 60.0, joules_a_kelvin * (heater.limit - air.return_celsius), 1e-9);
        let mut late = sound.clone();
        late.control.delay = 1000.0;
        late.heater.firing = 1.0;
        assert!(late.limit_opens_before_blower().is_some());
        assert_eq!(reads(&late, "blower_at_trip"), "not_yet");
        assert_eq!(read(&late, "supply_air_at_trip"), Some(Reading::Cannot));
        assert!(deed::apply(&mut late, "set-blower-delay", &mut Chance::of_call(61, 2)));
        assert!(late.shows().is_empty());
    }
}
