//! The clock that runs while the other end needs time.

use super::power::many;
use engine::call::PowerStep;
use jiff::Zoned;
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

/// So many minutes, in words, rounded up.
pub(super) fn in_minutes(time: Duration) -> String {
    many((time.as_secs_f64() / 60.0).ceil(), "minute")
}

/// Until when something takes its time that was just asked for, by the clock on the wall.
pub(super) fn not_before(what: &str, wait: Duration, left: Duration) -> String {
    if left.is_zero() {
        return format!("{what} takes {}, and that has passed", in_minutes(wait));
    }
    format!("{what} takes {}: not before {}", in_minutes(wait), at(left))
}

/// What is said of an answer that is given before its time.
pub(super) fn too_early(wait: Duration, passed: Duration) -> String {
    format!(
        "that takes {}, and it was asked for {} ago: it can be told at {}",
        in_minutes(wait),
        since(passed),
        at(wait.saturating_sub(passed))
    )
}

/// A time that has passed: seconds where it is less than a minute.
fn since(passed: Duration) -> String {
    let seconds = many(passed.as_secs_f64().floor(), "second");
    if passed.as_secs() < 60 { seconds } else { self::passed(passed) }
}

/// What the clock on the wall shows after this time, to the whole minute behind it.
fn at(left: Duration) -> String {
    let whole = Duration::from_secs(left.as_secs() + 59);
    let then = Zoned::now().saturating_add(whole);
    then.strftime("%H:%M").to_string()
}

/// How long a step has to wait, where it is a wait.
pub(super) fn wait(step: &PowerStep) -> Option<Duration> {
    step.wait.and_then(minutes)
}

/// So many minutes.
pub(super) fn minutes(minutes: f64) -> Option<Duration> {
    Duration::try_from_secs_f64(minutes * 60.0).ok()
}

/// What is asked where a step of a piece of work is said to be done before its time, once.
pub(super) fn too_soon(wait: Duration, passed: Duration) -> String {
    format!(
        "this step takes {}, and only {} went by since it was asked for: it is over at {}. Let it take its time, then \
         type done; if it began sooner, type done once more",
        in_minutes(wait),
        since(passed),
        at(wait.saturating_sub(passed)),
    )
}

/// What is said of a wait that is not over.
pub(super) fn not_over(wait: Duration, passed: Duration) -> String {
    let left = wait.saturating_sub(passed);
    format!(
        "the wait is {}, and {} passed: {} to go, until {}. Wait, then type done; if it was off and locked before \
         this, type for how many minutes",
        in_minutes(wait),
        self::passed(passed),
        in_minutes(left),
        at(left),
    )
}

/// Why a time that is told cannot be so: the unit was live since, as this has it; and how much of the wait is left.
pub(super) fn was_on(told: Duration, since_live: Duration, by: &str, left: Duration) -> String {
    let (live, told) = (passed(since_live), passed(told));
    let cannot = format!("the unit was live {by} {live} ago, so it was not off for {told}");
    if left.is_zero() {
        return format!("{cannot}. The wait is over all the same: type done");
    }
    let (to_go, until) = (in_minutes(left), at(left));
    format!("{cannot}: {to_go} to go, until {until}. Wait with everything locked off, then type done")
}

/// What the clock on the wall showed this long ago.
pub(super) fn ago(time: Duration) -> String {
    Zoned::now().saturating_sub(time).strftime("%H:%M").to_string()
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
