//! The one integration test binary: the program as people meet it, and the engine against the world outside.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed"
)]

mod calls;
mod cases;
<<<<<<< HEAD
mod contradictions;
mod doubt;
=======
mod figure;
>>>>>>> formulas
mod house;
mod properties;
mod published;
mod shipped;
mod talk;
mod wrong;
