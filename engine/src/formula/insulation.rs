//! Insulation resistance at another temperature.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// 40 °C, in kelvins.
const FORTY: f64 = 313.15;

/// Insulation to the case brought to 40 °C: halved for every 10 °C up (0 to 200 °F).
///
/// Arithmetic only: the standard leaves fractional horsepower out, and a motor with onboard electronics is
/// judged by its own sheet and without correction (common practice).
pub(super) static AT_40_C: Formula = Formula {
    name: "insulation-at-40-c",
    meaning: "insulation resistance brought to 40 °C; a check of arithmetic, no limit of the field",
    written: "megohms at 40 °C = megohms × 0.5 to the power ((40 - °C) ÷ 10)",
    source: "IEEE 43, 6.3 (halving rule); the standard leaves fractional horsepower out",
    limits: "a winding of 0 to 200 °F; motors with onboard electronics are not corrected",
    inputs: &[
        Input::any("resistance", "resistance to the case").of(Dimension::Resistance, "Mohm", 0.0, 100_000.0),
        Input::any("temperature", "temperature of the winding").of(Dimension::Temperature, "F", 0.0, 200.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Resistance,
        unit: "Mohm",
        said: "{resistance} at {temperature}, brought to 40 °C",
        hand: None,
        work: |inputs| {
            let &[resistance, temperature] = inputs else { return None };
            Some(resistance * 0.5_f64.powf((FORTY - temperature) / 10.0))
        },
    }),
};
