//! What a person cannot take, and how a figure is misread.

use crate::chance::Chance;
use crate::ranges::technician as ranges;
use engine::quantity::{Expected, Quantity};
use engine::rulebook::{Answer, Fact, Kind, Lasts, Value};

/// How often a fact cannot be taken. What is asked of everybody can always be told.
pub(super) fn cannot(rule: &Fact) -> f64 {
    match rule.id.as_str() {
        "complaint" | "danger_seen" | "live_work_allowed" | "motor_runs" | "complaint_gone" | "unit_kind"
        | "unit_rated_supply" | "heat_source" => 0.0,
        "learning_power_cw" | "learning_power_ccw" | "way_kept" => ranges::CANNOT_LEARNING,
        "trips_with_motor_unplugged" => 0.3,
        _ => match &rule.kind {
            Kind::Quantity { meter, .. } if !meter.is_exact() => ranges::CANNOT_METER,
            _ if rule.lasts == Lasts::Unit => ranges::CANNOT_PLATE,
            Kind::Quantity { .. } => ranges::CANNOT_PLATE,
            Kind::Choice { .. } => ranges::CANNOT_LOOK,
        },
    }
}

/// A figure said wrong: a digit too many or too few, or one off. One that nobody would take for a reading is not said.
pub(super) fn misread(rule: &Fact, told: Answer, chance: &mut Chance) -> Answer {
    let Answer::Value(Value::Quantity(quantity)) = told else { return told };
    let times = chance.one_of(&[0.1, 0.9, 1.1, 10.0], 1.1);
    let wrong = Quantity::new(quantity.number() * times, quantity.unit());
    let range = rule.expected().and_then(Expected::range);
    let plausible = |quantity: &Quantity| {
        range.is_none_or(|(low, high)| (low.base()..=high.base()).contains(&quantity.base()))
    };
    wrong.filter(plausible).map_or(told, |wrong| Answer::Value(Value::Quantity(wrong)))
}
