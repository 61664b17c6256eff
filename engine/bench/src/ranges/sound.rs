//! What is heard: tremble and shake, hum, rattle, whistle and rush, and from where people mind it.

use super::{Range, from};

/// The wheel's shake and the mount that holds it.
pub(crate) mod shake {
    use super::{Range, from};

    /// Millimetres from the shaft to the centre of mass of a wheel as made: ISO 21940-11 grades G 2.5 to G 6.3 at
    /// about 16 turns a second.
    pub(crate) const BALANCE: Range = from(0.025, 0.063);
    /// Share of wheel and motor together that the wheel weighs: 1.5 to 2.5 kg beside 4 to 6. From memory.
    pub(crate) const WHEEL_SHARE: Range = from(0.22, 0.34);
    /// mm/s at the mount from which a drone is felt: ISO 14694 lets a fan of its kind BV-2 start with 5.6. From memory.
    pub(crate) const DRONES_FROM: f64 = 5.6;
    /// mm/s at the mount from which it shakes: the alarm of the same kind, on a rigid mount.
    pub(crate) const SHAKES_FROM: f64 = 9.0;
    /// mm/s at which metal that has play is heard to knock. Chosen.
    pub(crate) const KNOCKS_FROM: f64 = 1.5;
    /// A wheel bent or cracked: millimetres that its centre of mass is out. A tenth of an inch is a plain wobble.
    pub(crate) const BENT: Range = from(0.3, 2.5);
    /// A balance weight lost: 5 to 20 grams at 0.13 m, of a wheel of 1.5 to 2.5 kg.
    pub(crate) const WEIGHT_LOST: Range = from(0.26, 1.7);
    /// A caked wheel: millimetres for a share of its pressure that dirt takes. 100 to 400 grams, uneven by a tenth or
    /// two, at 0.11 m, of a wheel of 2 kg. Chosen.
    pub(crate) const UNEVEN_DIRT: Range = from(0.3, 2.5);
    /// Hz at which motor and wheel sway on sound rubber. From memory.
    pub(crate) const SWAYS_AT: Range = from(9.0, 15.0);
    /// Damping of rubber, share of critical: 0.05 to 0.15 in handbooks of vibration. From memory.
    pub(crate) const DAMPING: Range = from(0.05, 0.15);
    /// Pulses of torque in a turn: six for each pair of poles, with 4 to 6 pairs. Common practice.
    pub(crate) const PULSES: [f64; 3] = [24.0, 30.0, 36.0];
    /// Those pulses, share of the torque: 2 to 5 % of a motor with a steady drive. From memory.
    pub(crate) const PULSE_SHARE: Range = from(0.02, 0.05);
    /// Nm of pulses behind the rubber from which a hum is heard. Chosen.
    pub(crate) const HUMS_FROM: f64 = 0.01;
    /// Hard rubber: times the stiffness of sound rubber. Decades, chosen; metal on metal is the upper end.
    pub(crate) const HARDENED: Range = from(30.0, 3000.0);
    /// Millimetres of play where band, bolt or arm is loose, or a grommet is torn. Decades, chosen.
    pub(crate) const PLAY: Range = from(0.015, 1.0);
    /// A shell that touches metal: share of its pulses that goes past the rubber. Chosen.
    pub(crate) const TOUCHES: Range = from(0.25, 1.0);
}

/// Bearings, and a speed that will not stand.
pub(crate) mod motor {
    use super::{Range, from};

    /// Nm of worn bearings; sound ones have 0.01 to 0.04. Chosen.
    pub(crate) const WORN_BEARING: Range = from(0.06, 0.35);
    /// Watts that a bearing turns into heat and sound, from which it is heard. Sound ones stay under 4.5. Chosen.
    pub(crate) const BEARING_HEARD_FROM: f64 = 6.0;
    /// Watts of rubbing from which it is heard. Chosen.
    pub(crate) const RUBBING_HEARD_FROM: f64 = 0.5;
    /// A control that hunts: share of its speed that it swings by, either way.
    pub(crate) const HUNTS: Range = from(0.04, 0.35);
    /// Share of the speed from which a swing is heard: the ear tells 3 % of a pitch apart with ease. Chosen.
    pub(crate) const SWING_HEARD_FROM: f64 = 0.03;
}

/// Transformer, cabinet and ducts.
pub(crate) mod metal {
    use super::{Range, from};

    /// How loud a core hums grows by this power of its flux. From memory: sound power some 3 dB for 5 %, from IEC
    /// 60076-10 about steel driven towards its knee.
    pub(crate) const HUM_POWER: f64 = 8.0;
    /// Times the hum of a core at its rated volts from which people mind it. Chosen: 10 % over stays below.
    pub(crate) const HUM_HEARD_FROM: f64 = 2.2;
    /// Times that a transformer on loose screws, or a loose sheet in it, hums louder. Chosen.
    pub(crate) const LOOSE_CORE: Range = from(2.0, 12.0);
    /// m/s² that hold a panel still as it is fastened. Chosen: far more than any shaking in order.
    pub(crate) const FASTENED: f64 = 50.0;
    /// m/s² that hold one still that came loose: it lies there by its weight or its spring. Chosen.
    pub(crate) const LOOSENED: Range = from(0.0, 0.6);
    /// Pa at which a flat side of a duct pops, braced as usual: beyond what a blower gives. Chosen.
    pub(crate) const POPS_AT: Range = from(250.0, 500.0);
    /// Pa at which a limp flat side pops. Chosen.
    pub(crate) const LIMP_POPS_AT: Range = from(8.0, 70.0);
    /// Millimetres of a slot at the cabinet.
    pub(crate) const SLOT: Range = from(0.8, 4.0);
    /// m/s through a slot from which it whistles. Chosen: 4 m/s are 10 Pa.
    pub(crate) const WHISTLES_FROM: f64 = 4.0;
    /// Hz of the tone from which it is a whistle and no rush: Strouhal number 0.2. Chosen.
    pub(crate) const WHISTLE_HERTZ: f64 = 300.0;
    /// Pa across a filter from which the air whistles past its frame: 0.3 in. w.c. Chosen.
    pub(crate) const FILTER_WHISTLES_FROM: f64 = 75.0;
    /// Shares of a return grille's area that is built too small. Chosen.
    pub(crate) const SMALL_GRILLE: Range = from(0.4, 0.8);
    /// Share of the return side that its grille takes, built in order. Chosen.
    pub(crate) const GRILLE_PART: f64 = 0.25;
}

/// The rush of the air.
pub(crate) mod rush {
    use super::{Range, from};

    /// dB over the unit in order from which people call it louder: 3 is just noticed and 5 plainly. From memory.
    pub(crate) const LOUDER_FROM: f64 = 4.0;
    /// dB for a decade of air speed in ducts and grilles: sound of struts and bends goes by its sixth power. ASHRAE
    /// Applications, sound and vibration control, from memory.
    pub(crate) const BY_SPEED: f64 = 60.0;
    /// dB that a filter takes of what comes through the return. Chosen.
    pub(crate) const FILTER_MUFFLES: Range = from(1.5, 4.0);
    /// dB that make it plainly quieter.
    pub(crate) const QUIETER: f64 = 3.0;
}

/// What another machine makes.
pub(crate) mod others {
    use super::{Range, from};

    /// Seconds until a burner's fuel catches, in order: at most 4 for gas that is lit direct. Common practice.
    pub(crate) const LIGHTS_WITHIN: Range = from(0.5, 3.0);
    /// Seconds of one that lights late.
    pub(crate) const LIGHTS_LATE: Range = from(4.5, 12.0);
    /// Seconds of fuel from which its lighting is a bang. Common practice.
    pub(crate) const BANGS_FROM: f64 = 4.0;
}
