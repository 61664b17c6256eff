//! What holds the motor: rubber, band and arms, and what of its tremble goes through them into the cabinet.

/// What is wrong with a mount to look at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Fixing {
    Tight,
    /// Band, bolt or arm gives.
    Loose,
    /// A grommet is hard, torn or missing.
    Worn,
}

/// The mount of one unit.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Mount {
    pub(crate) fixing: Fixing,
    /// Hz at which motor and wheel sway on it, as built.
    pub(crate) sways_at: f64,
    /// Share of critical damping.
    pub(crate) damping: f64,
    /// Times the stiffness as built.
    pub(crate) stiffness: f64,
    /// Millimetres that the motor can move before anything holds it.
    pub(crate) play: f64,
    /// Share of the tremble that goes past the rubber, where the shell touches metal.
    pub(crate) touching: f64,
}

impl Mount {
    /// Share of a tremble of so many Hz that comes through: the force transmissibility of one mass on a damped spring,
    /// any handbook of vibration.
    pub(crate) fn passes(&self, hertz: f64) -> f64 {
        let ratio = hertz / (self.sways_at * self.stiffness.sqrt());
        let damped = (2.0 * self.damping * ratio).powi(2);
        let through = ((1.0 + damped) / ((1.0 - ratio * ratio).powi(2) + damped)).sqrt();
        through.max(self.touching)
    }
}
