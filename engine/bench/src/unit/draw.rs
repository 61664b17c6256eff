//! A unit in order, drawn: sized as an installer would, so that it moves what it is to move.

use super::draw_sound;
use super::{Kind, Panel, Plate, Stand, Told, Unit};
use crate::air::{Air, Coil, Duct, Filter, Part};
use crate::breaker::{Breaker, GroundFault, Handle};
use crate::chance::Chance;
use crate::control::{CallFor, CallWire, Control, SpeedLead, Tap, Thermostat, Transformer};
use crate::heater::{Heater, Source};
use crate::motor::{Electronics, FirstRun, History, Link, Model, Motor, Plugs, RATED_SPEED, Speed};
use crate::ranges;
use crate::ranges::often;
use crate::supply::{Ahead, Disconnect, Supply, System};
use crate::units::{CFM, DEGREE_F, FOOT, HP, IN_WC, from_fahrenheit, ohms_per_foot};
use crate::wheel::{Blades, Curve, Hub, Shape, Shares, Turn, Wheel};
use std::f64::consts::PI;

/// Best place of the forward-curved efficiency, x·ψ(x)/Π(x), by the shapes in [`Curve`].
const BEST_SHAPE: f64 = 0.938;

impl Unit {
    /// A unit with nothing wrong.
    pub(crate) fn draw(chance: &mut Chance) -> Self {
        let furnace = chance.happens(often::FURNACE);
        let kind = if furnace { Kind::Furnace } else { Kind::AirHandler };
        let source = draw_source(kind, chance);
        let system = draw_system(kind, source, chance);
        let tons = chance.one_of(&ranges::air::TONS, 3.0);
        let wanted = tons * chance.within(ranges::air::FLOW_PER_TON) * CFM;
        let air = draw_air(kind, wanted, chance);
        let (mut wheel, choice) = loop {
            if let Some(found) = size_wheel(&air, wanted, chance) {
                break found;
            }
        };
        let mut motor = draw_motor(choice, system, &air, chance);
        let supply = draw_supply(system, &motor, chance);
        let mut heater = draw_heater(source, wanted, &air, chance);
        let opening = (chance.within(ranges::plate::OPENING) * 4.0).round() / 4.0;
        let mount = ranges::plate::MOUNTS.into_iter().find(|size| *size >= opening + 1.0).unwrap_or(13.0);
        let mut control = draw_control(system, chance);
        // Last, so that what is heard moves nothing else.
        draw_sound::parts(&mut wheel, &mut motor, &mut heater, chance);
        let (mount_of_motor, cabinet) = (draw_sound::mount(chance), draw_sound::cabinet(chance));
        control.delay = chance.within(ranges::heater::DELAY);
        control.delay_built = control.delay;
        Self {
            plate: Plate {
                kind,
                tons,
                wanted,
                static_limit: ranges::air::STATIC_LIMIT * IN_WC,
                old_motor: motor.rating,
                sources: if matches!(source, Source::Electric | Source::HeatPump) { 2 } else { 1 },
                opening,
                mount,
                charge_wait: ranges::plate::CHARGE_MINUTES,
            },
            control,
            supply,
            motor,
            wheel,
            mount: mount_of_motor,
            air,
            cabinet,
            heater,
            stand: Stand {
                locked: false,
                panel: Panel { on: true, seated: true, defeated: false },
                unplugged: false,
                call: CallFor::Fan,
                minutes_off: 0.0,
                just_learned: false,
            },
            dangers: Vec::new(),
            rollout_tripped: false,
            pinched: None,
            told: Told::default(),
        }
    }
}

fn draw_source(kind: Kind, chance: &mut Chance) -> Source {
    let share = chance.share();
    match kind {
        Kind::Furnace if share < often::GAS => Source::Gas,
        Kind::Furnace => Source::Oil,
        Kind::AirHandler if share < often::ELEMENTS => Source::Electric,
        Kind::AirHandler if share < often::ELEMENTS + often::HEAT_PUMP => Source::HeatPump,
        Kind::AirHandler => Source::None,
    }
}

fn draw_system(kind: Kind, source: Source, chance: &mut Chance) -> System {
    let share = chance.share();
    match kind {
        Kind::Furnace if share < often::FURNACE_ON_115 => System::V115,
        Kind::AirHandler if source == Source::None && share < often::AIR_HANDLER_ON_115 => System::V115,
        _ if chance.happens(often::ON_208) => System::V208,
        _ => System::V230,
    }
}

fn draw_air(kind: Kind, wanted: f64, chance: &mut Chance) -> Air {
    let feet = if chance.happens(ranges::air::LOW_PLACES) {
        1000.0 * chance.share()
    } else {
        chance.within(ranges::air::ELEVATION)
    };
    let furnace = kind == Kind::Furnace;
    let external = chance.within(ranges::air::STATIC) * IN_WC;
    let filter = chance.within(ranges::air::FILTER_SHARE);
    let coil = chance.within(ranges::air::COIL_SHARE);
    let ducts = 1.0 - filter - if furnace { coil } else { 0.0 };
    let supply = ducts * chance.within(ranges::air::SUPPLY_SHARE);
    // Part of what an air handler has inside is its coil.
    let inside = chance.within(ranges::air::INSIDE) * IN_WC;
    let coil_inside = if furnace { 0.0 } else { 0.5 * inside };
    let k = |pascals: f64| Part::built(pascals / (wanted * wanted));
    let mut air = Air {
        elevation: (feet / 10.0).round() * 10.0 * FOOT,
        return_celsius: from_fahrenheit(chance.within(ranges::air::RETURN_AIR)),
        coil_outside: furnace,
        inside: k(inside - coil_inside),
        filter: k(external * filter),
        coil: k(if furnace { external * coil } else { coil_inside }),
        supply: k(external * supply),
        return_side: k(external * (ducts - supply)),
        leak: 0.0,
        leak_built: 0.0,
        filter_state: Filter::Clean,
        filter_behind_panel: chance.happens(often::FILTER_BEHIND_PANEL),
        coil_state: Coil::Clean,
        duct_state: Duct::Sound,
        registers_open: true,
        panel_off: ranges::air::PANEL_OFF,
    };
    air.leak_built = air.leak_that_loses(chance.within(ranges::air::LEAK));
    air.leak = air.leak_built;
    air
}

/// What an installer settles on: rating in hp and speed input with its share of the rated torque.
#[derive(Clone, Copy)]
struct Choice {
    rating: f64,
    speed: Speed,
    low: f64,
    medium: f64,
}

/// A wheel for the flow, with a rating and a speed input whose torque turns it at a fitting speed.
fn size_wheel(air: &Air, wanted: f64, chance: &mut Chance) -> Option<(Wheel, Choice)> {
    let density = air.density();
    let pressure = air.resistance(true) * wanted * wanted;
    let x = chance.within(ranges::wheel::CHOSEN_AT);
    let mut curve = Curve {
        pressure: chance.within(ranges::wheel::PRESSURE),
        free: 1.0,
        power: 1.0,
        blades: Blades::ForwardCurved,
    };
    let here = x * curve.pressure_at(x) / curve.pressure / curve.power_at(x);
    let efficiency = chance.within(ranges::wheel::EFFICIENCY) * here / BEST_SHAPE;
    let watts = pressure * wanted / efficiency;
    let (low, medium) =
        (chance.within(ranges::motor::LOW_TORQUE), chance.within(ranges::motor::MEDIUM_TORQUE));
    let mut fitting = Vec::new();
    for rating in [1.0 / 6.0, 0.25, 1.0 / 3.0, 0.5, 0.75] {
        for (speed, share) in [(Speed::Medium, medium), (Speed::High, 1.0)] {
            // Turns a minute at which this torque gives these watts.
            let turns = RATED_SPEED * watts / (rating * HP * share);
            if (650.0..=1060.0).contains(&turns) && watts <= 0.92 * rating * HP {
                fitting.push((Choice { rating, speed, low, medium }, turns / 60.0));
            }
        }
    }
    let &(choice, turns) = fitting.get(chance.below(fitting.len()))?;
    let tip = (pressure / (curve.pressure_at(x) * density)).sqrt();
    let diameter = tip / (PI * turns);
    curve.free = wanted / (x * turns * diameter.powi(3));
    curve.power = watts / (curve.power_at(x) * density * turns.powi(3) * diameter.powi(5));
    let mut wheel = Wheel {
        diameter,
        curve,
        backward: Shares {
            pressure: chance.within(ranges::wheel::BACKWARD_PRESSURE),
            free: chance.within(ranges::wheel::BACKWARD_FLOW),
            power: chance.within(ranges::wheel::BACKWARD_POWER),
        },
        against_housing: Shares {
            pressure: chance.within(ranges::wheel::AGAINST_HOUSING_PRESSURE),
            free: chance.within(ranges::wheel::AGAINST_HOUSING_FLOW),
            power: chance.within(ranges::wheel::AGAINST_HOUSING_POWER),
        },
        back_to_front: false,
        hub: Hub::Tight,
        dirt: 0.0,
        rub: 0.0,
        shape: Shape::True,
        balance: 0.0,
        uneven: 0.0,
        share_of_mass: 0.0,
    };
    // The share of the power holds where the wheel meets this system, each way.
    let k = air.resistance(true);
    let torque = |turn| wheel.meets(turn, k, density).torque;
    wheel.backward.power *= wheel.backward.power * torque(Turn::Right) / torque(Turn::Wrong);
    Some((wheel, choice))
}

fn draw_motor(choice: Choice, system: System, air: &Air, chance: &mut Chance) -> Motor {
    let models: Vec<Model> = [Model::A, Model::B, Model::B, Model::Other]
        .into_iter()
        .filter(|model| model.ratings().iter().any(|rating| (rating - choice.rating).abs() < 1e-9))
        .collect();
    let share = chance.share();
    let history = if share < often::NEW_MOTOR { History::New } else { History::RunningHere };
    let within = |chance: &mut Chance, range| chance.within(range);
    let space = air.return_celsius + within(chance, ranges::motor::SPACE_OVER_RETURN);
    Motor {
        model: chance.one_of(&models, Model::B),
        rating: choice.rating,
        link: if system == System::V115 { Link::V115 } else { Link::V230 },
        speed: choice.speed,
        low_torque: choice.low,
        medium_torque: choice.medium,
        top_speed: within(chance, ranges::motor::TOP_SPEED),
        efficiency: within(chance, ranges::motor::EFFICIENCY),
        under_plate: within(chance, ranges::motor::UNDER_PLATE),
        standby: within(chance, ranges::motor::STANDBY_WATTS),
        rail_low: within(chance, ranges::motor::RAIL_LOW),
        rail_high: within(chance, ranges::motor::RAIL_HIGH),
        call_needs: within(chance, ranges::control::CALL_NEEDS),
        electronics: Electronics::Sound,
        insulation: chance.by_decades(ranges::motor::INSULATION),
        filter_leak: within(chance, ranges::motor::FILTER_LEAK),
        pin_ohms: if chance.happens(often::EITHER) {
            f64::INFINITY
        } else {
            within(chance, ranges::motor::PIN_OHMS)
        },
        rail_farads: within(chance, ranges::motor::RAIL_MICROFARADS) * 1e-6,
        bleeder_ohms: within(chance, ranges::motor::BLEEDER_KILOHMS) * 1e3,
        bearing: within(chance, ranges::motor::BEARING_TORQUE),
        bearing_built: 0.0,
        bearing_sounds: None,
        pulses: 0.0,
        pulse_share: 0.0,
        hunts: 0.0,
        seized: false,
        plugs: Plugs::Sound,
        history,
        first_run: FirstRun::Normal,
        learned: Some(Turn::Right),
        learn_speed: within(chance, ranges::motor::LEARN_SPEED),
        feel: within(chance, ranges::motor::FEEL_WATTS),
        misreads: false,
        watched: None,
        rise_at_rating: within(chance, ranges::motor::RISE_AT_RATING),
        trips_at: within(chance, ranges::motor::TRIPS_AT),
        thermal_minutes: within(chance, ranges::motor::THERMAL_MINUTES),
        start_joules: within(chance, ranges::motor::START_JOULES),
        smothered: 1.0,
        space,
        space_built: space,
    }
}

fn draw_supply(system: System, motor: &Motor, chance: &mut Chance) -> Supply {
    let volts = chance.within(match system {
        System::V115 => ranges::supply::SERVICE_120,
        System::V208 => ranges::supply::SERVICE_208,
        System::V230 => ranges::supply::SERVICE_240,
    });
    let fits_15 = motor.plate_amps(system.has_two_legs()) * 1.25 <= 14.0;
    let amps = if fits_15 && chance.happens(often::SMALL_BREAKER) { 15.0 } else { 20.0 };
    let gauge = if amps > 15.0 { 12 } else { 14 };
    let contact = |chance: &mut Chance| chance.within(ranges::supply::CONTACT_OHMS);
    let leads = [chance.within(ranges::supply::LEAD_OHMS), chance.within(ranges::supply::LEAD_OHMS)];
    Supply {
        system,
        source_volts: volts,
        source_ohms: chance.within(ranges::supply::SOURCE_OHMS),
        branch_ohms: 2.0 * chance.within(ranges::supply::RUN_FEET) * ohms_per_foot(gauge),
        other_amps: chance.within(ranges::supply::OTHER_AMPS),
        breaker: Breaker {
            amps,
            handle: Handle::On,
            holds: chance.within(ranges::supply::BREAKER_HOLDS),
            minutes: chance.within(ranges::supply::BREAKER_MINUTES),
            instant: chance.within(ranges::supply::BREAKER_INSTANT),
            heat: 0.0,
        },
        disconnect: Disconnect::On,
        fused: chance.happens(ranges::supply::FUSED),
        ground_fault: chance.happens(ranges::supply::GROUND_FAULT_DEVICE).then(|| GroundFault {
            tripped: false,
            trips_at: chance.within(ranges::supply::GROUND_FAULT_TRIP),
        }),
        ahead: Ahead::Whole,
        entry_ohms: contact(chance),
        panel_switch_ohms: contact(chance),
        worse_lead_ohms: leads[0].max(leads[1]),
        better_lead_ohms: leads[0].min(leads[1]),
        stray_milliamps: 0.0,
        tripped_unseen: false,
        back_fed: false,
    }
}

fn draw_control(system: System, chance: &mut Chance) -> Control {
    let volt_amperes = chance.one_of(&ranges::control::VOLT_AMPERES, 40.0);
    Control {
        transformer: Transformer {
            volt_amperes,
            tap: match system {
                System::V115 => Tap::V120,
                System::V208 => Tap::V208,
                System::V230 => Tap::V240,
            },
            regulation: chance.within(ranges::control::REGULATION),
            makes: 1.0,
            loose: 1.0,
        },
        fuse_amps: chance.one_of(&ranges::control::FUSES, 3.0),
        fuse_blown: false,
        wiring_ohms: chance.by_decades(ranges::control::SOUND_OHMS),
        load: chance.within(ranges::control::LOAD),
        thermostat: Thermostat {
            makes_calls: true,
            set_to: CallFor::Fan,
            batteries: chance.happens(often::EITHER),
            starts: chance.within(ranges::control::STARTS).round(),
        },
        call_wire: CallWire::Whole,
        call_ohms: 2.0 * chance.within(ranges::control::CABLE_FEET) * ohms_per_foot(18),
        speed_lead: SpeedLead::OnCall,
        relay_works: true,
        board_needs: chance.within(ranges::control::BOARD_NEEDS),
        delay: 0.0,
        delay_built: 0.0,
        rating_lead_on: true,
        rating_lead_ohms: chance.within(ranges::supply::LEAD_OHMS),
    }
}

fn draw_heater(source: Source, wanted: f64, air: &Air, chance: &mut Chance) -> Heater {
    let degrees = chance.within(match source {
        Source::Gas | Source::Oil => ranges::heater::FUEL_RISE,
        Source::Electric => ranges::heater::ELEMENT_RISE,
        Source::HeatPump | Source::None => ranges::heater::HEAT_PUMP_RISE,
    });
    let rise = degrees * DEGREE_F;
    // The plate's heat for the place; the middle of its range to the next five degrees.
    let middle = (degrees / 5.0).round() * 5.0;
    let reach = ranges::heater::RISE_REACH;
    let output = rise * air.density() * crate::units::AIR_HEAT * wanted;
    let over = chance.within(ranges::heater::LIMIT_OVER);
    let limit = if source.burns() || source == Source::Electric {
        from_fahrenheit(70.0 + middle + reach + over)
    } else {
        f64::INFINITY
    };
    Heater {
        source,
        output: if source == Source::None { 0.0 } else { output },
        efficiency: if source.burns() { chance.one_of(&ranges::heater::EFFICIENCY, 0.8) } else { 1.0 },
        firing: 1.0,
        rise_low: (middle - reach) * DEGREE_F,
        rise_high: (middle + reach) * DEGREE_F,
        limit,
        limit_built: limit,
        minutes: chance.within(ranges::heater::MINUTES),
        lights_after: 0.0,
        draft_fan: None,
    }
}
