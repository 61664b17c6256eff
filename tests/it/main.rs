//! The one integration test binary: the program as people meet it, and the engine against the world outside.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed"
)]

mod ahead;
mod below;
mod callbacks;
mod calls;
mod cases;
mod check;
mod contradictions;
mod conversations;
mod doubt;
mod earlier;
mod explain;
mod figure;
mod hostile;
mod house;
mod kept;
mod leaving_it;
mod mutation;
mod outline;
mod page;
mod paths;
mod pond;
mod properties;
mod published;
mod recipe;
mod recorded;
mod replays;
mod report;
mod scene;
mod script;
mod server;
mod shipped;
mod skipped;
mod slips;
mod staged;
mod swaps;
mod talk;
mod terminal;
mod trial;
mod workings;
mod wrong;
