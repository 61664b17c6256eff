//! Sheet metal about the blower: what rattles, pops, whistles and rushes.

/// Panels, ducts and grilles of one unit.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Cabinet {
    /// m/s² of shaking at which a panel leaves its seat.
    pub(crate) panel_held: f64,
    /// The same of a duct or a register.
    pub(crate) duct_held: f64,
    /// Pa at which a flat side of a duct pops.
    pub(crate) pops_at: f64,
    /// The same as built.
    pub(crate) pops_built: f64,
    /// Millimetres of a slot into the return side; none where it is tight.
    pub(crate) slot: f64,
    /// Share of the area that the return grille should have.
    pub(crate) grille: f64,
    /// dB that the filter takes of what comes through the return.
    pub(crate) filter_muffles: f64,
    /// A machine other than blower and burner that is loud, and how it sounds.
    pub(crate) outdoor: Option<crate::sound::Noise>,
}

/// m/s of air through a slot at a difference in Pa, by Bernoulli.
pub(crate) fn through_slot(pascals: f64, density: f64) -> f64 {
    (2.0 * pascals.abs() / density).sqrt()
}

/// Hz of the tone of an edge: Strouhal number 0.2, speed in m/s over the slot's width in millimetres.
pub(crate) fn edge_tone(speed: f64, millimetres: f64) -> f64 {
    0.2 * speed / (millimetres / 1000.0)
}
