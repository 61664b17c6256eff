//! Every fault can be put in, shows in at least one reading, and is gone once its deeds are done.

use super::BOOK;
use crate::UNMODELLED;
use crate::chance::Chance;
use crate::control::CallFor;
use crate::deed;
use crate::fault::Fault;
use crate::household::{COMPLAINTS, Callback};
use crate::ranges;
use crate::read::{Reading, read};
use crate::unit::Unit;
use engine::quantity::Expected;
use engine::rulebook::EndingKind;
use std::collections::BTreeSet;

/// Calls with one fault, the same each time.
fn callbacks(fault: Fault, count: u64) -> impl Iterator<Item = Callback> {
    (0..count).map(move |call| Callback::draw(&[fault], &mut Chance::of_call(5, call)).unwrap())
}

/// Everything that could be read, live with the panel on and then dead with it off, to two digits.
fn readings(unit: &Unit) -> Vec<(String, String)> {
    let live = unit.in_use(CallFor::Fan);
    let mut dead = unit.clone();
    (dead.stand.locked, dead.stand.panel.on) = (true, false);
    let facts = BOOK.facts().iter().filter(|fact| fact.asking.is_some());
    facts
        .flat_map(|fact| [("live", &live), ("dead", &dead)].map(|(how, unit)| (how, unit, &fact.id)))
        .filter_map(|(how, unit, id)| read(unit, id).map(|found| (format!("{id} {how}"), shown(found))))
        .collect()
}

fn shown(found: Reading) -> String {
    match found {
        Reading::Is(number, unit) => format!("{number:.1e} {unit}"),
        other => format!("{other:?}"),
    }
}

/// A name is told to people: words, and each fault's own.
#[test]
fn every_fault_has_a_name_of_its_own() {
    let names: BTreeSet<&str> = Fault::all().map(Fault::name).collect();
    assert_eq!(names.len(), Fault::all().count());
    for fault in Fault::all() {
        let name = fault.name();
        assert!(name.contains(' ') && !name.contains('-') || name.contains("roll-out"), "`{name}`");
        assert!(name.len() <= 34, "`{name}` is long for a table");
    }
}

#[test]
fn every_fault_shows_in_a_reading() {
    for fault in Fault::all() {
        // What a lock-out itself finds is no reading.
        if fault.id() == "fed-from-elsewhere" {
            continue;
        }
        for call in 0..5 {
            let mut chance = Chance::of_call(23, call);
            let sound = loop {
                let unit = Unit::draw(&mut chance.branch());
                if fault.fits(&unit) {
                    break unit;
                }
            };
            let mut faulty = sound.clone();
            // As bad as it gets: what is heard may need it.
            fault.put(&mut faulty, 1.0, &mut chance);
            assert_ne!(readings(&faulty), readings(&sound), "`{}` shows in nothing", fault.id());
        }
    }
}

/// The faults that nobody in the house would notice: found at a check, or told as a danger.
const SILENT: [&str; 3] = ["filter-missing", "rating-too-high", "mount-too-small"];

#[test]
fn people_would_call_about_every_fault_but_a_few() {
    for fault in Fault::all() {
        let noticed = |callback: &Callback| {
            let unit = &callback.unit;
            !unit.shows().is_empty() || !unit.dangers.is_empty()
        };
        assert!(callbacks(fault, 10).all(|callback| COMPLAINTS.contains(&callback.complaint)));
        let count = callbacks(fault, 10).filter(noticed).count();
        if SILENT.contains(&fault.id()) {
            assert!(
                callbacks(fault, 10).all(|callback| noticed(&callback) || callback.complaint == "start_up")
            );
        } else {
            assert!(count >= 7, "`{}` is noticed in {count} of 10 calls", fault.id());
        }
    }
}

/// Does the deeds of an ending, as they come.
fn mend(unit: &mut Unit, ending: &str, chance: &mut Chance) {
    let rule = BOOK.ending(BOOK.ending_named(ending).unwrap());
    for deed in &rule.deeds {
        assert!(deed::apply(unit, &BOOK.deed(*deed).id, chance), "`{}` is not known", BOOK.deed(*deed).id);
    }
    unit.supply.reset();
    deed::switch_on(unit);
    unit.stand.panel.on = true;
    unit.power_up(chance);
}

#[test]
fn each_repair_takes_its_fault_away() {
    for fault in Fault::all() {
        for (ending, _) in fault.right() {
            let rule = BOOK.ending(BOOK.ending_named(ending).unwrap());
            if !matches!(rule.kind, EndingKind::Repair | EndingKind::Reset) {
                continue;
            }
            for (call, callback) in callbacks(fault, 12).enumerate() {
                let mut unit = callback.unit;
                let mut chance = Chance::of_call(29, 0);
                mend(&mut unit, ending, &mut chance);
                // One step up may not be enough of it.
                if ending == "raise-speed" && !unit.shows().is_empty() {
                    mend(&mut unit, ending, &mut chance);
                }
                assert_eq!(unit.shows(), vec![], "`{}` after `{ending}`, call {call}", fault.id());
            }
        }
    }
}

#[test]
fn no_other_repair_takes_a_dead_motor_away() {
    let fault = Fault::named("electronics-dead").unwrap();
    for ending in [
        "fit-link-115",
        "change-filter",
        "tighten-line-connection",
        "reseat-connectors",
        "set-thermostat-call",
    ] {
        for callback in callbacks(fault, 4) {
            let mut unit = callback.unit;
            mend(&mut unit, ending, &mut Chance::of_call(29, 0));
            assert!(!unit.shows().is_empty(), "`{ending}` brought dead electronics to life");
        }
    }
}

#[test]
fn every_ending_that_has_a_fault_behind_it_is_right_for_one() {
    let right: BTreeSet<&str> =
        Fault::all().flat_map(|fault| fault.right().map(|(ending, _)| ending)).collect();
    let roles = BOOK.roles();
    let again = BOOK.endings().iter().filter_map(|ending| ending.again);
    let of_the_call: BTreeSet<_> =
        again.chain([roles.not_enough_readings, roles.same_fault_again, roles.left]).collect();
    for ending in BOOK.endings() {
        let id = BOOK.ending_named(&ending.id).unwrap();
        if ending.kind == EndingKind::InOrder || of_the_call.contains(&id) || ending.id == "tree-not-written"
        {
            continue;
        }
        let known = !UNMODELLED.contains(&ending.id.as_str());
        assert_eq!(
            right.contains(ending.id.as_str()),
            known,
            "`{}` and the faults that end in it",
            ending.id
        );
    }
    for ending in right {
        assert!(BOOK.ending_named(ending).is_some(), "`{ending}` is no ending");
    }
}

#[test]
fn every_fact_that_is_asked_is_known_and_of_its_kind() {
    // What the person is asked of themself, and what only the routine may find.
    let not_of_the_unit = ["complaint", "live_work_allowed", "proved_dead"];
    for fact in BOOK.facts().iter().filter(|fact| fact.asking.is_some()) {
        if not_of_the_unit.contains(&fact.id.as_str()) {
            continue;
        }
        if UNMODELLED.contains(&fact.id.as_str()) {
            assert!(super::units(1).all(|unit| read(&unit, &fact.id).is_none()), "`{}` is known", fact.id);
            continue;
        }
        for unit in super::units(40) {
            match read(&unit, &fact.id) {
                Some(Reading::Choice(choice)) => {
                    assert!(fact.choice(choice).is_some(), "`{choice}` of `{}`", fact.id);
                }
                Some(Reading::Is(..) | Reading::Ghost(_)) => {
                    assert!(fact.expected().is_some(), "{}", fact.id);
                }
                Some(Reading::Over) => {
                    assert!(fact.expected().is_some_and(Expected::over_range), "{}", fact.id);
                }
                Some(Reading::Cannot) => {}
                None => panic!("`{}` is asked for, and the unit knows nothing of it", fact.id),
            }
        }
    }
}

#[test]
fn every_deed_is_known() {
    let mut chance = Chance::of_call(1, 1);
    for rule in BOOK.deeds() {
        let mut unit = super::units(1).next().unwrap();
        let known = deed::apply(&mut unit, &rule.id, &mut chance);
        assert!(known || UNMODELLED.contains(&rule.id.as_str()), "`{}` does nothing", rule.id);
    }
    let mut unit = super::units(1).next().unwrap();
    assert!(!deed::apply(&mut unit, "paint-the-cabinet", &mut chance));
}

/// A severity drawn lies in its range: the worst filter is the highest of it.
#[test]
fn severity_runs_through_its_range() {
    let fault = Fault::named("filter-dirty").unwrap();
    for callback in callbacks(fault, 20) {
        assert!(ranges::air::DIRTY_FILTER.holds(callback.unit.air.filter.clogged));
    }
}
