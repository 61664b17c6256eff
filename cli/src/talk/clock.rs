//! The clock that runs while the other end needs time.

use super::power::many;
use engine::call::PowerStep;
use std::time::{Duration, Instant};

/// A wait that was begun.
#[derive(Debug)]
pub(super) struct Clock {
    since: Instant,
    what: String,
}

impl Clock {
    pub(super) fn start(what: &str) -> Self {
        Self { since: Instant::now(), what: what.to_owned() }
    }

    /// What is said when it starts.
    pub(super) fn started(&self) -> String {
        let what = if self.what.is_empty() { String::new() } else { format!(" for this: {}", self.what) };
        format!("Take your time{what}. The clock runs until the next line; the call stays where it is.")
    }

    /// What is said when the next line comes.
    pub(super) fn stopped(&self) -> String {
        let what = if self.what.is_empty() { String::new() } else { format!(" for this: {}", self.what) };
        format!("{} passed{what}", passed(self.since.elapsed()))
    }
}

/// How long a step has to wait, where it is a wait.
pub(super) fn wait(step: &PowerStep) -> Option<Duration> {
    step.wait.and_then(|minutes| Duration::try_from_secs_f64(minutes * 60.0).ok())
}

/// What is said of a wait that is not over.
pub(super) fn not_over(wait: Duration, passed: Duration) -> String {
    let minutes = |time: Duration| many((time.as_secs_f64() / 60.0).ceil(), "minute");
    format!(
        "the wait is {}, and {} passed: {} to go. Wait, then type done; if it was off and locked before this, type \
         for how many minutes",
        minutes(wait),
        self::passed(passed),
        minutes(wait.saturating_sub(passed)),
    )
}

/// A time as it is told: whole minutes.
pub(super) fn passed(time: Duration) -> String {
    match time.as_secs() / 60 {
        0 => "less than a minute".to_owned(),
        1 => "1 minute".to_owned(),
        more => format!("{more} minutes"),
    }
}

#[cfg(test)]
mod tests {
    use super::passed;
    use std::time::Duration;

    #[test]
    fn a_time_is_told_in_whole_minutes() {
        let told = [59, 60, 119, 125].map(|seconds| passed(Duration::from_secs(seconds)));
        assert_eq!(told, ["less than a minute", "1 minute", "1 minute", "2 minutes"]);
    }
}
