//! The simulated unit: a furnace or air handler with its replacement blower motor, as physics and not as a tree.
//!
//! It answers a call's prompts as a technician with a meter would who stands before a unit with a fault in it. So the
//! rules are judged end to end by something that never read them: the model knows the catalogue's ids, and no tree.
//!
//! A unit in order is drawn and sized ([`trial`] starts there), faults are put in at a severity at which people would
//! call, its true state is read as facts, a technician reads them through a meter, deeds change the unit, and what the
//! call ended in is held against what was put in. Quantities are in SI units inside; every range stands in one file.
//!
//! ```
//! # fn trials(rules: &std::sync::Arc<engine::rulebook::Rulebook>) {
//! use bench::trial::{PutIn, Setup, Verdict, run_all};
//! use bench::Care;
//! let setup = Setup { seed: 1, put_in: PutIn::Drawn, care: Care::Human };
//! let trials = run_all(rules, &setup, 0..1000, std::num::NonZeroUsize::MIN);
//! let right = trials.iter().filter(|trial| trial.verdict == Verdict::Right).count();
//! assert!(right > 500 && trials.iter().all(|trial| trial.unsafe_prompts.is_empty()));
//! # }
//! ```

mod units;

mod solve;

mod chance;

mod ranges;

mod breaker;

mod supply;

mod control;

mod wheel;

mod mount;

mod air;

mod cabinet;

mod motor;

mod heater;

mod sound;

mod unit;

mod fault;

mod household;

mod read;

mod deed;

mod technician;

mod bystander;

pub mod trial;

pub mod parts;

mod unmodelled;

pub use technician::Care;

pub use fault::Fault;

pub use household::{COMPLAINTS, Complaint};

pub use unmodelled::UNMODELLED;

#[cfg(test)]
mod tests;
