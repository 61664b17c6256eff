//! Random units with one true state, read as an ordinary meter reads.

use super::fact;
use crate::house::BOOK;
use engine::quantity::{Quantity, Unit as Measure};
use engine::rulebook::{FactId, Kind, Value};

/// A slip of the tongue, the hand or the ear.
#[derive(Clone, Copy, Debug)]
pub(super) enum Slip {
    MisheardDigit,
    TenTimes,
    ATenth,
    SwappedLeads,
    CelsiusForFahrenheit,
    WrongSign,
}

impl Slip {
    pub(super) const ALL: [Self; 6] = [
        Self::MisheardDigit,
        Self::TenTimes,
        Self::ATenth,
        Self::SwappedLeads,
        Self::CelsiusForFahrenheit,
        Self::WrongSign,
    ];
}

/// Where the statics of both sides stand among the readings.
const STATICS: [usize; 2] = [17, 18];

/// A small generator of its own, so that a seed gives the same units everywhere.
struct Chance(u64);

impl Chance {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 32).unwrap()) / f64::from(u32::MAX)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }

    fn pick(&mut self, many: usize) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a small index"
        )]
        let pick = (self.share() * many as f64) as usize;
        pick.min(many - 1)
    }
}

/// What is read on one unit: choices, and quantities in the usual unit as the meter shows them.
pub(super) struct Unit {
    choices: Vec<(&'static str, &'static str)>,
    shown: Vec<(&'static str, f64)>,
}

impl Unit {
    /// A heating unit at work, drawn from one true state.
    pub(super) fn draw(seed: u64) -> Self {
        let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66);
        let (nominal, tap, tap_volts) =
            [(115.0, "tap_120", 120.0), (208.0, "tap_208", 208.0), (230.0, "tap_240", 240.0)][chance.pick(3)];
        let entry: f64 = nominal * chance.between(0.93, 1.08);
        let unit = entry - chance.between(0.0, 1.0);
        let motor = unit - chance.between(0.0, 1.5);
        let running = motor - chance.between(0.0, 3.0);
        let control = 24.0 * unit / tap_volts * chance.between(0.95, 1.15);
        let call = control - chance.between(0.0, 1.5);
        let current = chance.between(0.8, 8.0);
        let circuit = current + chance.between(0.0, 4.0);
        let power = running * current * chance.between(0.4, 0.8);
        let back = chance.between(58.0, 76.0);
        let supply = back + chance.between(25.0, 70.0);
        let filter = chance.between(0.03, 0.25);
        let coil = chance.between(0.05, 0.30);
        let input = (chance.between(40.0, 120.0) * 1_000.0).round();
        let rise_low = chance.between(20.0, 45.0).round();
        let shown = [
            ("line_voltage_before_panel_switch", entry),
            ("line_voltage_at_unit", unit),
            ("line_voltage_at_motor", motor),
            ("line_voltage_running", running),
            ("transformer_primary_voltage", unit),
            ("control_voltage", control),
            ("call_voltage", call),
            ("motor_current", current),
            ("circuit_current", circuit),
            ("motor_power", power),
            ("return_air_temperature", back),
            ("supply_air_temperature", supply),
            ("rating_lead_voltage", unit - chance.between(0.0, 1.0)),
            ("motor_rated_current", (current / chance.between(0.5, 1.2) * 10.0).round() / 10.0),
            ("breaker_rating", if circuit > 10.0 { 20.0 } else { 15.0 }),
            ("filter_pressure_drop", filter),
            ("coil_pressure_drop", coil),
            ("static_return", -filter - chance.between(0.02, 0.30)),
            ("static_supply", coil + chance.between(0.02, 0.30)),
            ("heat_input", input),
            ("heat_output", (input * chance.between(0.78, 0.97)).round()),
            ("rise_low", rise_low),
            ("rise_high", rise_low + 30.0),
        ];
        let shown = shown.into_iter().map(|(id, truth)| (id, read(&mut chance, id, truth))).collect();
        let choices = vec![
            ("thermostat_calling", "heat"),
            ("unit_kind", "furnace"),
            ("heat_source", "gas"),
            ("breaker_position", "on"),
            ("transformer_tap", tap),
            ("motor_runs", "yes"),
            ("rotation_seen", "right"),
            ("shaft_turn", "free"),
            ("disconnect_position", "on"),
        ];
        Self { choices, shown }
    }

    pub(super) fn readings(&self) -> Vec<(FactId, Value)> {
        self.told(&self.shown)
    }

    fn told(&self, shown: &[(&'static str, f64)]) -> Vec<(FactId, Value)> {
        let choices = self
            .choices
            .iter()
            .map(|(id, choice)| (fact(id), Value::Choices(BOOK.fact(fact(id)).choice(choice).unwrap())));
        let readings = shown.iter().map(|(id, number)| (fact(id), Value::Quantity(quantity(id, *number))));
        choices.chain(readings).collect()
    }

    /// The readings with one slip in them, and the reading that slipped; `None` where the prompt would refuse it.
    pub(super) fn with_slip(&self, slip: Slip, seed: u64) -> Option<(Vec<(FactId, Value)>, FactId)> {
        let mut chance = Chance(seed ^ 0xA5A5_1234);
        let mut shown = self.shown.clone();
        let volts = [0, 1, 2, 3, 4, 5, 6];
        let place = match slip {
            Slip::CelsiusForFahrenheit => 10 + chance.pick(2),
            Slip::WrongSign => STATICS[chance.pick(2)],
            Slip::SwappedLeads => volts[chance.pick(volts.len())],
            Slip::MisheardDigit | Slip::TenTimes | Slip::ATenth => chance.pick(shown.len()),
        };
        let (id, number) = shown[place];
        let slipped = match slip {
            Slip::MisheardDigit => misheard(number, &mut chance)?,
            Slip::TenTimes => number * 10.0,
            Slip::ATenth => number / 10.0,
            // The leads of the 24 volt side and of the line taken one for the other.
            Slip::SwappedLeads => shown[if place >= 5 { 1 } else { 5 }].1,
            Slip::WrongSign => -number,
            Slip::CelsiusForFahrenheit => (number - 32.0) / 1.8,
        };
        let (low, high) = BOOK.fact(fact(id)).expected().unwrap().range()?;
        let plausible = (low.base()..=high.base()).contains(&quantity(id, slipped).base());
        if !plausible || (slipped - number).abs() < 1e-9 {
            return None;
        }
        shown[place].1 = slipped;
        Some((self.told(&shown), fact(id)))
    }
}

/// One digit of the shown number taken for another.
fn misheard(number: f64, chance: &mut Chance) -> Option<f64> {
    let places = if number.abs() < 10.0 { 2 } else { 1 };
    let mut text: Vec<char> = format!("{number:.places$}").chars().collect();
    let digits: Vec<usize> = (0..text.len()).filter(|index| text[*index].is_ascii_digit()).collect();
    let at = digits[chance.pick(digits.len())];
    text[at] = char::from_digit(u32::try_from(chance.pick(10)).ok()?, 10)?;
    text.into_iter().collect::<String>().parse().ok()
}

fn usual(id: &str) -> Measure {
    BOOK.fact(fact(id)).expected().unwrap().unit()
}

fn quantity(id: &str, number: f64) -> Quantity {
    Quantity::new(number, usual(id)).unwrap()
}

/// A true value as a meter shows it: anywhere within its statement, equally likely, and rounded to a tenth.
fn read(chance: &mut Chance, id: &str, truth: f64) -> f64 {
    let Kind::Quantity { meter, .. } = &BOOK.fact(fact(id)).kind else { unreachable!() };
    let one = quantity(id, truth);
    let off = Quantity::new(truth + 1.0, usual(id)).unwrap().base() - one.base();
    let half = meter.half_width(one) / off;
    let shown = truth + chance.between(-half, half);
    (shown * 100.0).round() / 100.0
}
