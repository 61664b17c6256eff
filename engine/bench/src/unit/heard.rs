//! What is heard of a unit in use: tremble and shake of what turns, hum of what carries current, and sound of the air.

use super::{Running, Unit};
use crate::air::Filter;
use crate::cabinet::{edge_tone, through_slot};
use crate::control::{CallFor, CallWire};
use crate::ranges::air::NO_FILTER;
use crate::ranges::sound::{metal, motor, others, rush, shake};
use crate::sound::{Loose, Noise, Place, Sound, With, fan_is_louder, louder_by_speed, off_its_best};
use crate::units::IN_WC;
use crate::wheel::Hub;
use std::f64::consts::TAU;

/// A sound that nobody can fail to mind.
const PLAIN: f64 = 10.0;

impl Unit {
    /// Every sound of it in use, the one that is told first in front: what people mind, the more harmful first, then
    /// the rest by how near it comes to that.
    pub(crate) fn heard(&self) -> Vec<Sound> {
        let mut unit = self.in_use(CallFor::Fan);
        unit.supply.reset();
        let mut sounds = unit.hums();
        sounds.extend(unit.of_other_machines());
        if let Ok(running) = unit.run() {
            sounds.extend(unit.turning(&running));
            sounds.extend(unit.rattles(&running).into_iter().map(|(_, sound)| sound));
            sounds.extend(unit.of_air(&running));
            sounds.extend(unit.surges());
        } else if unit.falters().is_some() {
            sounds.push(Sound::of_blower(Noise::Surges, Place::Unit, PLAIN));
        }
        sounds.sort_by(|one, other| {
            let minded = |sound: &Sound| (!sound.is_minded(), sound.is_minded().then_some(sound.noise));
            minded(one).cmp(&minded(other)).then(other.level.total_cmp(&one.level))
        });
        sounds
    }

    /// Whether people mind how it sounds. One whose blower stands still is another complaint.
    pub(crate) fn is_too_noisy(&self) -> bool {
        let in_use = self.in_use(CallFor::Fan);
        let turns = in_use.run().is_ok() || in_use.falters().is_some();
        turns && self.heard().first().is_some_and(Sound::is_minded)
    }

    /// What turns: rubbing, a hub that slips, bearings, shake, and the pulses of the torque behind the rubber.
    fn turning(&self, running: &Running) -> Vec<Sound> {
        let at_unit = |noise, level| Sound::of_blower(noise, Place::Unit, level);
        let (shaft, wheel) = (running.speed / 60.0 * TAU, running.wheel_speed / 60.0 * TAU);
        let slips = match self.wheel.hub {
            Hub::SlipsAbove(torque) => torque * (shaft - wheel),
            Hub::Tight => 0.0,
        };
        // A hub that hardly holds at all turns without a watt to speak of, and knocks all the same.
        let hub = if shaft > wheel + 1.0 { slips.max(motor::RUBBING_HEARD_FROM) } else { 0.0 };
        let rubbing = self.wheel.rub * shaft + hub;
        let bearing = self.motor.bearing * shaft / motor::BEARING_HEARD_FROM;
        let speed = self.shake(running);
        let shaking = if speed >= shake::SHAKES_FROM {
            at_unit(Noise::Shakes, speed / shake::SHAKES_FROM)
        } else {
            at_unit(Noise::Rumbles, speed / shake::DRONES_FROM)
        };
        vec![
            at_unit(Noise::Scrapes, rubbing / motor::RUBBING_HEARD_FROM),
            at_unit(self.motor.bearing_sounds.unwrap_or(Noise::Rumbles), bearing),
            shaking,
            at_unit(Noise::Hums, self.pulses(running) / shake::HUMS_FROM),
        ]
    }

    /// mm/s of the motor in its mount: what is out of balance drags motor and wheel round, and play lets them go.
    pub(crate) fn shake(&self, running: &Running) -> f64 {
        let out = self.wheel.out_of_balance() * self.wheel.share_of_mass + self.mount.play;
        running.wheel_speed / 60.0 * TAU * out
    }

    /// Nm of the torque's pulses that come through the mount.
    pub(crate) fn pulses(&self, running: &Running) -> f64 {
        let hertz = self.motor.pulses * running.speed / 60.0;
        let torque = running.shaft / (running.speed / 60.0 * TAU);
        torque * self.motor.pulse_share * self.mount.passes(hertz)
    }

    /// What rattles, and where it is: whatever is held by less than the shaking.
    pub(crate) fn rattles(&self, running: &Running) -> Vec<(Loose, Sound)> {
        let turns = running.wheel_speed / 60.0 * TAU;
        let shaking = self.shake(running) / 1000.0 * turns;
        let knocks = self.mount.play * turns / shake::KNOCKS_FROM;
        let rattle =
            |loose, place, level: f64| (loose, Sound::of_blower(Noise::Rattles, place, level.min(PLAIN)));
        vec![
            rattle(Loose::Panel, Place::Unit, shaking / self.cabinet.panel_held),
            rattle(Loose::Duct, Place::Ducts, shaking / self.cabinet.duct_held),
            rattle(Loose::Inside, Place::Unit, knocks),
        ]
    }

    /// A speed that does not stand.
    fn surges(&self) -> Vec<Sound> {
        let flaps = self.control.call_wire == CallWire::Flaps;
        let level = if flaps { PLAIN } else { self.motor.hunts / motor::SWING_HEARD_FROM };
        vec![Sound::of_blower(Noise::Surges, Place::Unit, level)]
    }

    /// The transformer's core, by its flux: volts over those of the tap.
    fn hums(&self) -> Vec<Sound> {
        let transformer = &self.control.transformer;
        let flux = self.primary_volts() / transformer.tap.volts();
        let level = flux.powf(metal::HUM_POWER) * transformer.loose / metal::HUM_HEARD_FROM;
        vec![Sound { noise: Noise::Hums, with: With::Nothing, place: Place::Unit, level }]
    }

    /// Burner, its draft fan, and the outdoor unit.
    fn of_other_machines(&self) -> Vec<Sound> {
        let heater = &self.heater;
        let of_burner = |noise, level| Sound { noise, with: With::Burner, place: Place::Unit, level };
        let mut sounds = Vec::new();
        if heater.source.burns() {
            sounds.push(of_burner(Noise::Bangs, heater.lights_after / others::BANGS_FROM));
            sounds.extend(heater.draft_fan.map(|noise| of_burner(noise, PLAIN)));
        }
        sounds.extend(self.cabinet.outdoor.map(|noise| Sound {
            noise,
            with: With::OutdoorUnit,
            place: Place::Unit,
            level: PLAIN,
        }));
        sounds
    }

    /// The air: fan, ducts and grilles against what they are in order, slots that whistle, and metal that pops.
    pub(crate) fn of_air(&self, running: &Running) -> Vec<Sound> {
        let statics = self.air.statics(running.flow);
        let most = statics.supply.abs().max(statics.return_side.abs());
        let pops = Sound::of_blower(Noise::Bangs, Place::Ducts, most / self.cabinet.pops_at);
        let rushes = |place, louder: f64| Sound::of_blower(Noise::Rushes, place, louder / rush::LOUDER_FROM);
        let flow = running.flow / self.plate.wanted;
        let (supply, returning) = (&self.air.supply, &self.air.return_side);
        // Area goes by about the power 2/5 of the resistance in a duct that is small all along, and by its root where
        // the air squeezes past one place.
        let ducts = supply.too_small.powf(0.4) * supply.crushed.sqrt();
        let built_so = if self.cabinet.grille < 1.0 { 1.0 } else { returning.too_small.powf(0.4) };
        let back = built_so * returning.crushed.sqrt();
        let missing = self.air.filter_state == Filter::Missing;
        let unmuffled = if missing { self.cabinet.filter_muffles } else { 0.0 };
        let mut sounds = vec![
            pops,
            rushes(Place::Unit, self.fan_louder(running)),
            rushes(Place::Ducts, louder_by_speed(flow * ducts.max(back))),
            rushes(Place::Grille, louder_by_speed(flow * supply.clogged.sqrt())),
            rushes(Place::Grille, louder_by_speed(flow / self.cabinet.grille) + unmuffled),
        ];
        sounds.extend(self.slot(statics.return_side));
        // The lowest pressure that whistles past a filter's frame has a speed of its own.
        let past = (statics.filter / metal::FILTER_WHISTLES_FROM).sqrt();
        sounds.push(Sound::of_blower(Noise::Whistles, Place::Unit, over_its_start(past)));
        sounds
    }

    /// A slot of the cabinet: it whistles where its tone is high enough, else it rushes.
    fn slot(&self, pascals: f64) -> Option<Sound> {
        let millimetres = self.cabinet.slot;
        if millimetres <= 0.0 {
            return None;
        }
        let speed = through_slot(pascals, self.air.density());
        let whistles = edge_tone(speed, millimetres) >= metal::WHISTLE_HERTZ;
        let noise = if whistles { Noise::Whistles } else { Noise::Rushes };
        Some(Sound::of_blower(noise, Place::Unit, over_its_start(speed / metal::WHISTLES_FROM)))
    }

    /// dB that the fan itself is louder than in order.
    fn fan_louder(&self, running: &Running) -> f64 {
        let (wanted, turns) = (self.plate.wanted, running.wheel_speed / 60.0);
        let pressure = self.air.resistance(true) * running.flow.powi(2);
        let built = self.air.built_resistance() * wanted.powi(2);
        let watts = self.wheel_torque(running.turn) * turns.powi(3) * TAU;
        let share = pressure * running.flow / watts.max(1e-9) / self.wheel.best_efficiency();
        fan_is_louder(running.flow / wanted, pressure / built) + off_its_best(share)
    }

    /// Whether the air is plainly quieter with the filter out for a minute.
    pub(crate) fn is_quieter_without_filter(&self, running: &Running) -> bool {
        let mut without = self.clone();
        without.air.filter.clogged = NO_FILTER;
        without.air.filter_state = Filter::Missing;
        let loudest = |unit: &Self, running: &Running| {
            let air = unit.of_air(running);
            let of_air = air.iter().filter(|sound| matches!(sound.noise, Noise::Whistles | Noise::Rushes));
            of_air.map(|sound| sound.level * rush::LOUDER_FROM).fold(f64::NEG_INFINITY, f64::max)
        };
        let after = without.run().map_or(f64::NEG_INFINITY, |running| loudest(&without, &running));
        loudest(self, running) - after >= rush::QUIETER
    }

    /// Whether air is felt at an edge of the cabinet: more than some hundredths of an inch draw it.
    pub(crate) fn leaks_air(&self, running: &Running) -> bool {
        self.cabinet.slot > 0.0 && self.air.statics(running.flow).return_side.abs() > 0.02 * IN_WC
    }
}

/// How near a sound that goes by speed is to what people mind, at a share of the speed at which it starts.
fn over_its_start(share: f64) -> f64 {
    1.0 + louder_by_speed(share) / rush::LOUDER_FROM
}
