//! What is done between two visits: the work that a call handed over or left for somebody else, on the unit itself.

use crate::air::Coil;
use crate::chance::Chance;
use crate::deed::{self, switch_on};
use crate::fault::Fault;
use crate::motor::Plugs;
use crate::supply::Ahead;
use crate::unit::{Danger, Unit};
use crate::wheel::Turn;
use engine::rulebook::{EndingId, Rulebook};

/// Those who come between two visits, and what there is for them to find.
pub(crate) struct Others<'t> {
    pub(crate) book: &'t Rulebook,
    pub(crate) faults: &'t [Fault],
    /// The unit as it was before anything was put in.
    pub(crate) sound: &'t Unit,
}

impl Others<'_> {
    /// Has them do what an ending leaves to them, and puts the unit back in service. `false` where nobody would.
    pub(crate) fn carry_out(&self, unit: &mut Unit, ending: EndingId, chance: &mut Chance) -> bool {
        let rule = self.book.ending(ending);
        // A motor that stood in water is not dried and used again.
        if rule.id == "make-safe-and-hand-over" && unit.motor.plugs == Plugs::Wet {
            deed::apply(unit, "replace-motor-wet", chance);
        }
        let done = self.do_deeds(unit, ending, chance)
            || handed_over(unit, self.sound, &rule.id)
            || self.judge(unit, ending, chance);
        if done {
            back_in_service(unit, chance);
        }
        done
    }

    fn do_deeds(&self, unit: &mut Unit, ending: EndingId, chance: &mut Chance) -> bool {
        let deeds = self.book.ending(ending).deeds.iter().map(|deed| self.book.deed(*deed));
        let done: Vec<bool> = deeds.map(|deed| deed::apply(unit, &deed.id, chance)).collect();
        done.contains(&true)
    }

    /// Whoever is asked to judge a part finds the fault that the ending is right for, and does what mends it.
    fn judge(&self, unit: &mut Unit, ending: EndingId, chance: &mut Chance) -> bool {
        let id = &self.book.ending(ending).id;
        let mut done = false;
        for fault in self.faults.iter().filter(|fault| fault.right().any(|(right, _)| right == id)) {
            if fault.is_in(unit, self.sound) {
                let work = fault.right().filter_map(|(right, _)| self.book.ending_named(right));
                done |= work.filter(|right| *right != ending).any(|right| {
                    self.do_deeds(unit, right, chance)
                        || handed_over(unit, self.sound, &self.book.ending(right).id)
                });
            }
        }
        done
    }
}

/// The work of other trades, each as its ending asks for it.
fn handed_over(unit: &mut Unit, sound: &Unit, ending: &str) -> bool {
    let mut clear = |dangers: &[Danger]| unit.dangers.retain(|danger| !dangers.contains(danger));
    match ending {
        "leave-and-call-emergency" => clear(&[Danger::GasSmell, Danger::Burning, Danger::CarbonMonoxide]),
        "make-safe-and-hand-over" => clear(&[Danger::Shock, Danger::Water]),
        "help-the-injured" => clear(&[Danger::Hurt]),
        "rollout-stop" => {
            clear(&[Danger::Rollout]);
            unit.rollout_tripped = false;
        }
        "cannot-prove-dead" => unit.supply.back_fed = false,
        // Read at the panel and along the circuit: a leg, the source, and every joint up to the unit.
        "supply-voltage-low" | "supply-voltage-high" => {
            unit.supply.ahead = Ahead::Whole;
            unit.supply.source_volts = sound.supply.source_volts;
            unit.supply.entry_ohms = sound.supply.entry_ohms;
        }
        "circuit-overloaded" => unit.supply.other_amps = sound.supply.other_amps,
        "ground-fault-circuit" => unit.supply.stray_milliamps = sound.supply.stray_milliamps,
        "thaw-and-find-cause" => {
            unit.air.coil_state = Coil::Clean;
            unit.air.coil.clogged = 1.0;
        }
        "check-firing-rate" => {
            unit.heater.firing = sound.heater.firing;
            unit.rollout_tripped = false;
            unit.dangers.retain(|danger| *danger != Danger::Rollout);
        }
        "burner-noise" => {
            unit.heater.lights_after = sound.heater.lights_after;
            unit.heater.draft_fan = None;
        }
        "outdoor-unit-noise" => unit.cabinet.outdoor = None,
        // A grille as large as the air asks for.
        "sound-of-the-ducts" => {
            unit.cabinet.grille = sound.cabinet.grille;
            unit.air.return_side.too_small = sound.air.return_side.too_small;
        }
        // What the unit's maker approves: a wheel and a motor that suit each other, its way of turning set.
        "wheel-type-not-suited" => {
            unit.wheel = sound.wheel.clone();
            unit.motor.learned = Some(Turn::Right);
        }
        _ => return false,
    }
    true
}

/// Closed up, what tripped reset, switched on. A plug that was pulled on purpose stays out.
fn back_in_service(unit: &mut Unit, chance: &mut Chance) {
    unit.stand.panel.on = true;
    unit.stand.panel.seated = true;
    unit.stand.panel.defeated = false;
    unit.told.off_for_trips = false;
    unit.supply.reset();
    switch_on(unit);
    unit.power_up(chance);
}
