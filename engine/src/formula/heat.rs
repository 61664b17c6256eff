//! Heat of electric elements.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

/// Heat that watts make (1 W to 200 kW): every watt is 3.412 142 Btu/h.
pub(super) static FROM_WATTS: Formula = Formula {
    name: "electric-heat-from-watts",
    meaning: "heat of electric elements from their watts",
    written: "Btu/h = 3.412 × watts",
    source: "NIST SP 811, appendix B (International Table Btu)",
    limits: "1 W to 200 kW",
    inputs: &[Input::any("power", "watts of the elements that are on").of(Dimension::Power, "W", 1.0, 200e3)],
    kind: Kind::Named(Named {
        gives: Dimension::Power,
        unit: "Btu/h",
        said: "{power} of electric heat",
        hand: Some("3.412 × {power}"),
        work: |inputs| inputs.first().copied(),
    }),
};

/// Heat of elements from volts (1 to 600 V) and amps (0.01 to 400 A), single phase: no lag in a bare element.
pub(super) static FROM_VOLTS_AND_AMPS: Formula = Formula {
    name: "electric-heat",
    meaning: "heat of electric elements from volts and amps, single phase",
    written: "Btu/h = 3.412 × volts × amps",
    source: "volts times amps is watts where nothing lags; NIST SP 811, appendix B, for the Btu",
    limits: "single phase, elements only: a blower motor in the same circuit is taken off first",
    inputs: &[
        Input::any("voltage", "volts across the elements while they are on").of(
            Dimension::Voltage,
            "V",
            1.0,
            600.0,
        ),
        Input::any("current", "amps of the elements alone").of(Dimension::Current, "A", 0.01, 400.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Power,
        unit: "Btu/h",
        said: "{voltage} times {current}",
        hand: Some("3.412 × {voltage} × {current}"),
        work: |inputs| Some(inputs.iter().product()),
    }),
};

/// Heat of an element (plate 1 W to 200 kW) on another voltage than its plate's (1 to 600 V): with the square.
///
/// The element's resistance is taken as constant: it rises by a few percent from cold to glowing.
pub(super) static AT_VOLTAGE: Formula = Formula {
    name: "electric-heat-at-voltage",
    meaning: "heat of an element on another voltage than its plate's",
    written: "watts = plate watts × (volts ÷ plate volts) squared",
    source: "watts are volts squared over ohms; the ohms of an element hardly change",
    limits: "an element of constant resistance",
    inputs: &[
        Input::any("power", "watts on the plate").of(Dimension::Power, "kW", 0.001, 200.0),
        Input::any("rated", "volts on the plate").of(Dimension::Voltage, "V", 1.0, 600.0),
        Input::any("voltage", "volts across the element").of(Dimension::Voltage, "V", 0.0, 600.0),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Power,
        unit: "Btu/h",
        said: "{power} made for {rated}, on {voltage}",
        hand: Some("3412 × {power} × {voltage} × {voltage} ÷ ({rated} × {rated})"),
        work: |inputs| {
            let &[power, rated, voltage] = inputs else { return None };
            (rated > 0.0).then(|| power * (voltage / rated).powi(2))
        },
    }),
};
