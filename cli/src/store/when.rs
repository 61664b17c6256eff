//! A moment, as records keep it and as people read it.

use jiff::{Timestamp, Zoned, tz::TimeZone};
use serde::{Deserialize, Serialize};
use std::fmt;

/// A moment by this machine's clock, to the millisecond; written as RFC 3339 in UTC.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize, Deserialize)]
#[serde(transparent)]
pub(crate) struct When(Timestamp);

impl When {
    /// Now.
    pub(crate) fn now() -> Self {
        let now = Timestamp::now();
        Self(Timestamp::from_millisecond(now.as_millisecond()).unwrap_or(now))
    }

    /// Milliseconds since 1970 began, in UTC.
    pub(crate) fn millis(self) -> i64 {
        self.0.as_millisecond()
    }

    /// The moment so many milliseconds after 1970 began; the nearest that there is.
    pub(crate) fn from_millis(millis: i64) -> Self {
        let end = if millis < 0 { Timestamp::MIN } else { Timestamp::MAX };
        Self(Timestamp::from_millisecond(millis).unwrap_or(end))
    }

    /// The moment so many days before this one.
    pub(crate) fn days_before(self, days: i64) -> Self {
        Self::from_millis(self.millis() - days * 86_400_000)
    }

    /// The day by the clock on the wall: `2026-11-29`.
    pub(crate) fn day(self) -> String {
        Zoned::new(self.0, TimeZone::system()).date().to_string()
    }

    /// The beginning of a day, as in `2026-11-29`, `today` or `yesterday`, or a moment in RFC 3339.
    pub(crate) fn parse(text: &str) -> Option<Self> {
        if let Ok(moment) = text.parse::<Timestamp>() {
            return Some(Self(moment));
        }
        let today = Zoned::now().date();
        let day = match text {
            "today" => today,
            "yesterday" => today.yesterday().ok()?,
            day => day.parse().ok()?,
        };
        day.to_zoned(TimeZone::system()).ok().map(|zoned| Self(zoned.timestamp()))
    }
}

/// As people read it, by the clock on the wall: `2026-11-29 14:02`.
impl fmt::Display for When {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let zoned = Zoned::new(self.0, TimeZone::system());
        write!(out, "{}", zoned.strftime("%Y-%m-%d %H:%M"))
    }
}
