//! How far the reading has come, on a terminal.

use indicatif::{ProgressBar, ProgressStyle};

/// It is drawn anew every so many calls: a small log is read before anything could be seen.
const STEP: u64 = 2_000;

/// A line on standard error that counts calls; nothing where that is no terminal.
pub(super) struct Progress {
    bar: ProgressBar,
    calls: u64,
}

impl Progress {
    /// The calls are looked at for the first time.
    pub(super) fn begin() -> Self {
        Self { bar: styled(ProgressBar::new_spinner(), "{spinner} {human_pos} calls found"), calls: 0 }
    }

    /// They are gone through once more.
    pub(super) fn again(&self) -> Self {
        self.bar.finish_and_clear();
        let bar = ProgressBar::new(self.calls);
        Self { bar: styled(bar, "{wide_bar} {human_pos} of {human_len} calls counted"), calls: 0 }
    }

    /// One more.
    pub(super) fn step(&mut self) {
        self.calls += 1;
        if self.calls.is_multiple_of(STEP) {
            self.bar.set_position(self.calls);
        }
    }
}

/// What is drawn is gone when it is over, however it ends.
impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

fn styled(bar: ProgressBar, template: &str) -> ProgressBar {
    match ProgressStyle::with_template(template) {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
