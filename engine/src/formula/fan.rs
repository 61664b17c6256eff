//! Fans and the ducts they blow through.

use super::{Formula, Input, Kind, Named};
use crate::quantity::Dimension;

const LAWS: &str =
    "fan laws: AMCA 201; ASHRAE Handbook, HVAC Systems and Equipment, chapter 21 (clauses from memory)";
const CURVE: &str =
    "system curve: AMCA 201; ASHRAE Handbook, HVAC Systems and Equipment, chapter 21 (clauses from memory)";
const SAME: &str = "the same fan in the same ducts, with air of the same density";
const SAME_DUCTS: &str = "the same ducts, filter and coil, with nothing opened, shut or cleaned in between";

const SPEED: Input = rpm("speed", "speed it was read at");
const NEW_SPEED: Input = rpm("new-speed", "speed it would turn at");
const FLOW: Input = cfm("flow", "airflow it was read at");

const fn rpm(name: &'static str, what: &'static str) -> Input {
    Input::any(name, what).of(Dimension::RotationalSpeed, "rpm", 1.0, 10_000.0)
}

const fn cfm(name: &'static str, what: &'static str) -> Input {
    Input::any(name, what).of(Dimension::Airflow, "cfm", 1.0, 100_000.0)
}

const fn inches(name: &'static str, what: &'static str) -> Input {
    Input::any(name, what).of(Dimension::Pressure, "in wc", 0.001, 20.0)
}

/// Airflow at another speed (1 to 10 000 rpm): in proportion.
pub(super) static FLOW_LAW: Formula = Formula {
    name: "fan-law-flow",
    meaning: "airflow of the same fan at another speed",
    written: "new CFM = CFM × new rpm ÷ rpm",
    source: LAWS,
    limits: SAME,
    inputs: &[FLOW, SPEED, NEW_SPEED],
    kind: Kind::Named(Named {
        gives: Dimension::Airflow,
        unit: "cfm",
        said: "{flow} at {speed}, turned at {new-speed}",
        hand: Some("{flow} × {new-speed} ÷ {speed}"),
        work: |inputs| law(inputs, 1),
    }),
};

/// Pressure of the fan at another speed (1 to 10 000 rpm): with the square.
pub(super) static PRESSURE_LAW: Formula = Formula {
    name: "fan-law-pressure",
    meaning: "pressure of the same fan at another speed",
    written: "new pressure = pressure × (new rpm ÷ rpm) squared",
    source: LAWS,
    limits: SAME,
    inputs: &[inches("pressure", "pressure across the fan"), SPEED, NEW_SPEED],
    kind: Kind::Named(Named {
        gives: Dimension::Pressure,
        unit: "in wc",
        said: "{pressure} at {speed}, turned at {new-speed}",
        hand: Some("{pressure} × {new-speed} × {new-speed} ÷ ({speed} × {speed})"),
        work: |inputs| law(inputs, 2),
    }),
};

/// Shaft power of the fan at another speed (1 to 10 000 rpm): with the cube.
pub(super) static POWER_LAW: Formula = Formula {
    name: "fan-law-power",
    meaning: "shaft power of the same fan at another speed",
    written: "new power = power × (new rpm ÷ rpm) cubed",
    source: LAWS,
    limits: SAME,
    inputs: &[
        Input::any("power", "power at the fan's shaft").of(Dimension::Power, "hp", 0.001, 100.0),
        SPEED,
        NEW_SPEED,
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Power,
        unit: "hp",
        said: "{power} at {speed}, turned at {new-speed}",
        hand: Some("{power} × {new-speed} × {new-speed} × {new-speed} ÷ ({speed} × {speed} × {speed})"),
        work: |inputs| law(inputs, 3),
    }),
};

/// Pressure that the same ducts take at another airflow: with the square of it.
pub(super) static SYSTEM_PRESSURE: Formula = Formula {
    name: "system-pressure",
    meaning: "pressure that the same ducts take at another airflow",
    written: "new pressure = pressure × (new CFM ÷ CFM) squared",
    source: CURVE,
    limits: SAME_DUCTS,
    inputs: &[
        inches("pressure", "pressure that the ducts take"),
        FLOW,
        cfm("new-flow", "airflow that would pass"),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Pressure,
        unit: "in wc",
        said: "{pressure} at {flow}, with {new-flow}",
        hand: Some("{pressure} × {new-flow} × {new-flow} ÷ ({flow} × {flow})"),
        work: |inputs| law(inputs, 2),
    }),
};

/// Airflow that passes the same ducts at another pressure: with the root of it.
pub(super) static SYSTEM_FLOW: Formula = Formula {
    name: "system-flow",
    meaning: "airflow that passes the same ducts at another pressure",
    written: "new CFM = CFM × square root of (new pressure ÷ pressure)",
    source: CURVE,
    limits: SAME_DUCTS,
    inputs: &[
        FLOW,
        inches("pressure", "pressure that the ducts take at it"),
        inches("new-pressure", "pressure that would be across them"),
    ],
    kind: Kind::Named(Named {
        gives: Dimension::Airflow,
        unit: "cfm",
        said: "{flow} at {pressure}, with {new-pressure}",
        hand: None,
        work: |inputs| {
            let &[flow, pressure, new] = inputs else { return None };
            (pressure > 0.0 && new >= 0.0).then(|| flow * (new / pressure).sqrt())
        },
    }),
};

/// Power in moved air: airflow times pressure. What a shaft needs is this over the fan's efficiency.
///
/// The inch of water is the conventional one, of 1000 kg/m³; handbooks that divide by 6356 take water at about 70 °F.
pub(super) static AIR_POWER: Formula = Formula {
    name: "air-power",
    meaning: "power that is in moved air, before any loss",
    written: "hp = CFM × in. w.c. ÷ 6343",
    source: "airflow times pressure; 6343 with water of 1000 kg/m³ (6356 in handbooks: water at about 70 °F)",
    limits: "1 to 100 000 CFM, 0.001 to 20 in. w.c.",
    inputs: &[FLOW, inches("pressure", "pressure across the fan")],
    kind: Kind::Named(Named {
        gives: Dimension::Power,
        unit: "W",
        said: "{flow} against {pressure}",
        hand: Some("745.7 × {flow} × {pressure} ÷ 6343"),
        work: |inputs| Some(inputs.iter().product()),
    }),
};

/// A value at one speed or flow, carried to another by the power of their ratio.
fn law(inputs: &[f64], power: i32) -> Option<f64> {
    let &[value, old, new] = inputs else { return None };
    (old > 0.0).then(|| value * (new / old).powi(power))
}
