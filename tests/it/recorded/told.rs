//! What was told in a call, and where it stands in the case.

use super::{file, play};
use crate::house::{BOOK, PLAYED};
use crate::scene::{Scene, choice, fact, name, wants, wants_deed, wrong_link};
use engine::call::{Call, DeedResult, Ended, Event, Next, Purpose, Reply, Wants};
use engine::case::{Case, Recorded};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, Value};

fn recorded(call: &Call) -> Recorded {
    Case::of_call(call, "on-the-phone", Some("Dead since the motor was changed."))
}

fn volts(id: &str, text: &str) -> Answer {
    Answer::Value(Value::Quantity(Quantity::parse(text, BOOK.fact(fact(id)).expected().unwrap()).unwrap()))
}

/// The reading of a fact by how often it was read before.
fn first(recorded: &Recorded, id: &str, before: usize) -> Option<Answer> {
    recorded.case.answers.reading(fact(id), before)
}

/// The case plays to the same end as the call, and nothing is left unsaid.
fn agrees(recorded: &Recorded, ended: &Ended) {
    assert_eq!(recorded.unsaid, Vec::<String>::new());
    assert_eq!(play(&recorded.case).1, super::ids(ended));
}

#[test]
fn only_what_was_told_is_in_it() {
    let mut scene = wrong_link(&[]);
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    agrees(&recorded, &ended);
    let text = file(&recorded);
    assert!(
        text.starts_with("# kind: recorded call, not yet judged by the trade\ncase: on-the-phone\n"),
        "{text}"
    );
    assert!(
        text.contains("\nabout: Dead since the motor was changed.\nanswers:\n  complaint: no_run\n"),
        "{text}"
    );
    assert!(text.contains("  unit_rated_supply: 115-volt\n"), "{text}");
    assert!(text.contains("\nends: fit-link-115\nafter:\n  fit-link-115:\n"), "{text}");
    // The link that the deed fitted, and what comes with the plates.
    assert_eq!(text.matches("link_fitted").count(), 1, "{text}");
    assert!(!text.contains("rated_voltage"), "{text}");
}

#[test]
fn what_was_put_right_is_told_rightly_only() {
    let mut scene = wrong_link(&[]);
    scene.until(wants("motor_runs"));
    let prompt = scene.until(|_, _| true);
    for word in ["off", "on"] {
        let put_right = Reply::Correct(fact("breaker_position"), choice("breaker_position", word));
        scene.say(Some(&prompt), put_right).unwrap();
    }
    scene.say(Some(&prompt), Reply::Back).unwrap();
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    agrees(&recorded, &ended);
    assert_eq!(first(&recorded, "breaker_position", 0), Some(choice("breaker_position", "on")));
    assert!(file(&recorded).contains("\n  breaker_position: on\n"));
}

#[test]
fn what_is_put_right_after_a_deed_that_does_not_change_it_was_so_from_the_start() {
    let mut scene = wrong_link(&[]);
    let proof =
        scene.until(|call, wants| call.being_proved().is_some() && matches!(wants, Wants::Fact { .. }));
    scene.say(Some(&proof), Reply::Correct(fact("shaft_turn"), choice("shaft_turn", "rubs"))).unwrap();
    let told = scene.call.known(fact("shaft_turn"));
    let recorded = recorded(&scene.call);
    assert_eq!(first(&recorded, "shaft_turn", 0), told);
    let after = recorded.case.after.values().flatten();
    assert!(after.flat_map(engine::case::Layer::facts).all(|(told, _)| told != fact("shaft_turn")));
}

const NEAR_AN_EDGE: &str = "
case: near-an-edge
answers:
  complaint: wrong_link
  unit_rated_supply: 230-volt
  motor_model: tarnhow-a
  supply_sources: 1
  live_work_allowed: yes
  line_voltage_at_unit: [207.0 V, 211.5 V, 208.0 V]
  motor_runs: yes
  connectors_condition: sound
  harness_condition: sound
  link_fitted: link-230
ends: not-enough-readings
";

#[test]
fn second_and_third_readings_are_a_list() {
    let mut scene = Scene::of(NEAR_AN_EDGE);
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    agrees(&recorded, &ended);
    let text = file(&recorded);
    assert!(text.contains("\n  line_voltage_at_unit: [207 V, 211.5 V, 208 V]\n"), "{text}");
    // Read the same twice: one value says it.
    let mut scene = Scene::of(&NEAR_AN_EDGE.replace("[207.0 V, 211.5 V, 208.0 V]", "207.0 V"));
    scene.end();
    let again = |event: &Event| matches!(event, Event::Again { .. });
    assert!(scene.call.events().iter().any(again), "a second reading is asked for");
    let text = file(&self::recorded(&scene.call));
    assert!(text.contains("\n  line_voltage_at_unit: 207 V\n"), "{text}");
}

#[test]
fn a_reading_that_was_doubted_is_followed_by_what_was_read_anew() {
    let mut lists = 0;
    for (case, played) in PLAYED.iter() {
        for event in played.call.events() {
            let Event::Told { fact, answer, purpose: Purpose::Doubted } = event else { continue };
            let recorded = Case::of_call(&played.call, &case.name, None);
            if case.answers.reading(*fact, 1) == Some(*answer)
                && case.answers.reading(*fact, 0) != Some(*answer)
            {
                assert_eq!(
                    recorded.case.answers.reading(*fact, 0),
                    case.answers.reading(*fact, 0),
                    "{}",
                    case.name
                );
                assert_eq!(recorded.case.answers.reading(*fact, 1), Some(*answer), "{}", case.name);
                lists += 1;
            }
        }
    }
    assert!(lists >= 15, "only {lists} readings that were doubted");
}

/// A case counts second readings from the front of its list, so that one list cannot hold the slip as well.
#[test]
fn a_slip_gives_way_to_second_readings_of_what_was_read_anew() {
    let mut call = Call::new(std::sync::Arc::clone(&BOOK));
    let volts = |text: &str| volts("line_voltage_at_unit", text);
    let fact = fact("line_voltage_at_unit");
    call.apply(Event::Told { fact, answer: volts("20.7 V"), purpose: Purpose::Step });
    call.apply(Event::Told { fact, answer: volts("207 V"), purpose: Purpose::Doubted });
    let recorded = recorded(&call);
    assert_eq!(first(&recorded, "line_voltage_at_unit", 0), Some(volts("20.7 V")));
    assert_eq!(first(&recorded, "line_voltage_at_unit", 1), Some(volts("207 V")));
    call.apply(Event::Again { fact, answer: volts("211.5 V") });
    call.apply(Event::Again { fact, answer: volts("208 V") });
    let recorded = self::recorded(&call);
    let text = file(&recorded);
    assert!(text.contains("\n  line_voltage_at_unit: [207 V, 211.5 V, 208 V]\n"), "{text}");
    assert!(recorded.unsaid[0].contains("20.7 V"), "{:?}", recorded.unsaid);
}

#[test]
fn a_device_that_was_reset_is_seen_twice() {
    let device = "breaker_position: [tripped, on]\n  trip_device: breaker\n  trip_timing: at_random";
    let mut scene = wrong_link(&[("breaker_position: on", device)]);
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    agrees(&recorded, &ended);
    let text = file(&recorded);
    assert!(text.contains("\n  breaker_position: [tripped, on]\n"), "{text}");
}

/// The wheel is loose: two deeds, the second of which is not possible at first.
fn loose_wheel() -> Scene {
    let case = crate::house::root().join("cases/wrong-rotation/screw-on-the-round-of-the-shaft.yaml");
    Scene::of(&std::fs::read_to_string(case).unwrap())
}

#[test]
fn a_deed_that_is_done_twice_has_a_layer_for_each_time() {
    let mut scene = loose_wheel();
    scene.until(wants_deed);
    let second = |_: &Call, wants: &Wants| matches!(wants, Wants::Deed { deed, .. } if BOOK.deed(*deed).id == "relearn-motor");
    let prompt = scene.until(second);
    let tight = Reply::Tell(fact("wheel_tight"), choice("wheel_tight", "loose"));
    scene.say(Some(&prompt), tight).unwrap();
    scene.say(Some(&prompt), Reply::Deed(DeedResult::NotPossible)).unwrap();
    assert!(matches!(scene.call.next(), Next::Ended(_)));
    scene.say(None, Reply::Tell(fact("rotation_seen"), choice("rotation_seen", "wrong"))).unwrap();
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "tighten-wheel-then-relearn");
    let recorded = recorded(&scene.call);
    let layers = &recorded.case.after[&ended.last.ending];
    assert_eq!(layers.len(), 2);
    assert_eq!(layers[0].reading(fact("wheel_tight"), 0), Some(choice("wheel_tight", "loose")));
    assert_eq!(layers[1].reading(fact("rotation_seen"), 0), Some(choice("rotation_seen", "right")));
    let text = file(&recorded);
    assert!(text.contains("\n  tighten-wheel-then-relearn:\n    - "), "{text}");
    assert!(text.contains("\n    - rotation_seen: right\n"), "{text}");
    assert_eq!(recorded.unsaid[0], "`relearn-motor` was not possible: in a case it is done");
}

#[test]
fn danger_after_a_repair_is_in_its_layer() {
    let mut scene = wrong_link(&[]);
    let smoke = BOOK.fact(fact("danger_seen")).choice("smoke_or_burning").unwrap();
    let proof = scene.until(|call, _| call.being_proved().is_some());
    scene.say(Some(&proof), Reply::Danger(smoke)).unwrap();
    let Next::Ended(ended) = scene.call.next() else { panic!("danger asks nothing more") };
    let recorded = recorded(&scene.call);
    agrees(&recorded, &ended);
    let text = file(&recorded);
    assert!(text.contains("  danger_seen: none\n"), "{text}");
    assert!(text.contains("after:\n  fit-link-115: {danger_seen: smoke_or_burning}\n"), "{text}");
    assert_eq!(recorded.case.ends.len(), 2);
}

#[test]
fn what_could_not_be_told_is_written_even_where_a_case_would_not_need_it() {
    let mut scene = wrong_link(&[("live_work_allowed: yes", "live_work_allowed: cannot")]);
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    agrees(&recorded, &ended);
    assert_eq!(first(&recorded, "live_work_allowed", 0), Some(Answer::Cannot));
    assert!(file(&recorded).contains("\n  live_work_allowed: cannot\n"));
}
