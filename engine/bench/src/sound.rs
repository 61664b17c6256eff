//! Sounds: their kinds in the order in which the more harmful one is told, where and when they are heard.

/// How it sounds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) enum Noise {
    Scrapes,
    Shakes,
    Squeals,
    Surges,
    Hums,
    Rumbles,
    Rattles,
    Bangs,
    Whistles,
    Rushes,
}

/// What has to run for it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum With {
    Blower,
    Burner,
    OutdoorUnit,
    /// It has power all the time.
    Nothing,
}

/// Where it is loudest.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Place {
    Unit,
    Ducts,
    Grille,
}

/// What is loose, where a rattle comes from it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Loose {
    Panel,
    Duct,
    Inside,
}

/// One sound, and how near it is to what people mind: from 1 up they mind it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Sound {
    pub(crate) noise: Noise,
    pub(crate) with: With,
    pub(crate) place: Place,
    pub(crate) level: f64,
}

impl Sound {
    pub(crate) const fn of_blower(noise: Noise, place: Place, level: f64) -> Self {
        Self { noise, with: With::Blower, place, level }
    }

    /// Whether people mind it.
    pub(crate) fn is_minded(&self) -> bool {
        self.level >= 1.0
    }
}

/// dB between two speeds of air, the sound of ducts and grilles going by a power of it.
pub(crate) fn louder_by_speed(ratio: f64) -> f64 {
    crate::ranges::sound::rush::BY_SPEED * ratio.max(1e-6).log10()
}

/// dB that a fan is louder at so much of its flow and its pressure: specific sound power, with 10 dB a decade of flow
/// and 20 a decade of pressure. ASHRAE Applications, sound and vibration control, from memory.
pub(crate) fn fan_is_louder(flow: f64, pressure: f64) -> f64 {
    10.0 * flow.max(1e-6).log10() + 20.0 * pressure.max(1e-6).log10()
}

/// dB that a fan at this share of its best efficiency adds: none from 90 %, 15 below 55 %, and a line between in place
/// of the steps of the same table.
pub(crate) fn off_its_best(share: f64) -> f64 {
    let (best, worst) = (0.9, 0.55);
    15.0 * ((best - share) / (best - worst)).clamp(0.0, 1.0)
}
