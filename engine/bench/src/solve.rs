//! Roots between two ends, by Brent's method out of a library.

use argmin::core::{CostFunction, Error, Executor, State};
use argmin::solver::brent::BrentRoot;

/// Steps that a root may take: Brent's method needs some ten.
const MOST_STEPS: u64 = 200;

struct Function<F>(F);

impl<F: Fn(f64) -> f64> CostFunction for Function<F> {
    type Param = f64;
    type Output = f64;

    fn cost(&self, at: &f64) -> Result<f64, Error> {
        Ok((self.0)(*at))
    }
}

/// Where a function crosses zero between two ends, to a billionth of their distance; `None` where it has one sign at
/// both.
pub(crate) fn root(function: impl Fn(f64) -> f64, low: f64, high: f64) -> Option<f64> {
    let (at_low, at_high) = (function(low), function(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    if (at_low > 0.0) == (at_high > 0.0) || !at_low.is_finite() || !at_high.is_finite() {
        return None;
    }
    let solver = BrentRoot::new(low, high, (high - low) * 1e-9);
    let middle = f64::midpoint(low, high);
    let run = Executor::new(Function(function), solver)
        .configure(|state| state.param(middle).max_iters(MOST_STEPS))
        .timer(false)
        .run();
    run.ok().and_then(|run| run.state().get_best_param().copied())
}
