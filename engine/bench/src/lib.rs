//! The simulated unit: a furnace or air handler with its replacement blower motor, as physics and not as a tree.
//!
//! It answers a call's prompts as a technician with a meter would who stands before a unit with a fault in it. So the
//! rules are judged end to end by something that never read them: the model knows the catalogue's ids, and no tree.

mod units;

mod solve;

mod chance;

mod ranges;

mod breaker;

mod supply;

mod control;

mod wheel;

mod air;

mod motor;

mod heater;

mod unit;

mod fault;

mod household;

mod read;

mod deed;

mod technician;

mod bystander;

pub mod trial;

pub use technician::Care;

pub use fault::Fault;

#[cfg(test)]
mod tests;
