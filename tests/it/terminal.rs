//! `motorwright call` as a person sees it: keys go in through a pseudo-terminal, and the screen is read.
//!
//! What is looked for is the sense of a screen, wrapped lines joined; labels and layout may change. Nothing here
//! waits for a time: every wait is for something to be seen, and only its patience has an end.

mod kept;
mod kinds;
mod leaving;
pub(crate) mod person;
pub(crate) mod pty;
mod time;
mod typing;
mod whole_call;

/// The widths that every screen must be good at.
const WIDTHS: [u16; 2] = [80, 60];

/// From the greeting to the question where the breaker stands.
const TO_THE_BREAKER: [&str; 4] = ["none", "no run", "115", "other"];
/// Shown from when the panel interlock is defeated until it is restored.
const DEFEATED: &str = "interlock is defeated";
