//! How sure a computed value is.

/// A computed value with its standard uncertainty; everything in base units.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The value at the inputs as they are.
    pub value: f64,
    /// The standard uncertainty u of the value, from 0 up; 2 u covers about 95 in 100.
    pub u: f64,
    /// What each input adds, signed: its sensitivity times its own standard uncertainty.
    pub shares: Vec<f64>,
}

/// The value of `work` at `at` and what the inputs' standard uncertainties `u` make of it.
///
/// By finite differences: the share of an input is (f(x + u) - f(x - u)) / 2, as JCGM 100:2008, note 2 to 5.1.3,
/// allows; u of the value is the root of the sum of their squares (5.1.2). The inputs are taken as independent: where
/// one reading enters twice, let `work` start from that reading. Where the formula bends within an uncertainty, as at
/// the meeting point of larger and smaller, the result is only as good as the bend is small.
///
/// `None` where `work` has no value at one of the points, or where `at` and `u` differ in length.
///
/// ```
/// use engine::formula::spread;
/// let rise = |t: &[f64]| Some(t[0] - t[1]);
/// let one = 2.0 / 3.0_f64.sqrt();
/// let found = spread(rise, &[125.0, 70.0], &[one, one]).unwrap();
/// assert!((found.u - 1.633).abs() < 5e-4);
/// ```
pub fn spread(work: impl Fn(&[f64]) -> Option<f64>, at: &[f64], u: &[f64]) -> Option<Spread> {
    if at.len() != u.len() {
        return None;
    }
    let value = work(at)?;
    let mut point = at.to_vec();
    let mut shares = Vec::with_capacity(at.len());
    for (place, (&middle, &u)) in at.iter().zip(u).enumerate() {
        let mut with = |input: f64| {
            point[place] = input;
            work(&point)
        };
        // A sure input is not moved: a wire gauge has no neighbours.
        let share = if u == 0.0 { 0.0 } else { (with(middle + u)? - with(middle - u)?) / 2.0 };
        point[place] = middle;
        shares.push(share);
    }
    let u = shares.iter().map(|share| share * share).sum::<f64>().sqrt();
    u.is_finite().then_some(Spread { value, u, shares })
}
