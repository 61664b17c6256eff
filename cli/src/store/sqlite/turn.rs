//! Waiting for a file that others write to.

use std::time::{Duration, Instant};

/// How long another program may keep the file to itself.
pub(super) const PATIENCE: Duration = Duration::from_secs(30);

/// How long to wait before it is tried once more: less than a write to a disk takes.
const A_MOMENT: Duration = Duration::from_millis(2);

/// Waits for a file that others write to, until patience ends.
///
/// All wait the same short while. The database's own way waits longer each time, so that at a full desk whoever came
/// last gets its turn first, and whoever waited longest runs out of time.
pub(super) fn waits_its_turn() -> impl FnMut(i32) -> bool {
    let mut since = Instant::now();
    move |tries| {
        if tries == 0 {
            since = Instant::now();
        }
        std::thread::sleep(A_MOMENT);
        since.elapsed() < PATIENCE
    }
}
