//! Chance from a seed: the same on any number of threads.

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha12Rng;

/// A range that something is drawn from, every value equally likely.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Range {
    /// The lowest value.
    pub(crate) low: f64,
    /// The highest value.
    pub(crate) high: f64,
}

impl Range {
    /// The value at a share of the way from low to high.
    pub(crate) fn at(self, share: f64) -> f64 {
        self.low + (self.high - self.low) * share
    }

    /// The value at a share of the way, every decade equally likely. The range lies above zero.
    pub(crate) fn at_by_decades(self, share: f64) -> f64 {
        (self.low.ln() + (self.high.ln() - self.low.ln()) * share).exp()
    }

    /// Whether a value lies within it.
    #[cfg(test)]
    pub(crate) fn holds(self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

/// Chance of one call, or of one part of it.
#[derive(Clone, Debug)]
pub(crate) struct Chance(ChaCha12Rng);

impl Chance {
    /// The chance of call number `call` under a seed: each call is a stream of its own.
    pub(crate) fn of_call(seed: u64, call: u64) -> Self {
        let mut stream = ChaCha12Rng::seed_from_u64(seed);
        stream.set_stream(call);
        Self(stream)
    }

    /// A chance of its own, so that what is drawn from it moves nothing else.
    pub(crate) fn branch(&mut self) -> Self {
        Self(ChaCha12Rng::seed_from_u64(self.0.random()))
    }

    /// From 0 up to 1.
    pub(crate) fn share(&mut self) -> f64 {
        self.0.random()
    }

    /// Out of a range.
    pub(crate) fn within(&mut self, range: Range) -> f64 {
        range.at(self.share())
    }

    /// Out of a range, every decade equally likely.
    pub(crate) fn by_decades(&mut self, range: Range) -> f64 {
        range.at_by_decades(self.share())
    }

    /// From -1 to 1.
    pub(crate) fn either_way(&mut self) -> f64 {
        2.0 * self.share() - 1.0
    }

    /// Whether something happens that happens this often.
    pub(crate) fn happens(&mut self, often: f64) -> bool {
        self.share() < often
    }

    /// A position below `end`; 0 where there is none.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        self.0.random_range(0..end.max(1))
    }

    /// One of a list that is not empty; the fallback of an empty one.
    pub(crate) fn one_of<T: Copy>(&mut self, list: &[T], fallback: T) -> T {
        list.get(self.below(list.len())).copied().unwrap_or(fallback)
    }
}
