//! Who is at the keyboard of a call, and whether they still are.

use super::when::When;
use std::fmt;
use std::sync::atomic::{AtomicU32, Ordering};

/// One running program that leads calls. The token is its own: no two seats ever share one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Seat {
    /// Who and where, to be told to others: `ann on desk-3, process 4711`.
    pub(crate) name: String,
    /// What its words are known by.
    pub(crate) token: String,
}

/// Who holds a call, and since when.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Holder {
    pub(crate) seat: Seat,
    pub(crate) since: When,
}

impl Seat {
    /// The seat of this process.
    pub(crate) fn of_this_process() -> Self {
        static SEATS: AtomicU32 = AtomicU32::new(0);
        let process = std::process::id();
        let host = host();
        let user = std::env::var("USER").or_else(|_| std::env::var("LOGNAME"));
        let user = user.ok().filter(|user| !user.is_empty()).unwrap_or_else(|| "someone".to_owned());
        let seat = SEATS.fetch_add(1, Ordering::Relaxed);
        let token = format!("{}/{process}/{}/{seat}", machine(), When::now().millis());
        Self { name: format!("{user} on {host}, process {process}"), token }
    }

    /// Whether the seat is surely gone: its process was on this machine, and is there no more.
    ///
    /// A process of another machine, or of this one before it was started anew, or a new one under the same number, counts as alive: it is for people to say.
    pub(crate) fn is_gone(&self) -> bool {
        let mut parts = self.token.split('/');
        let (Some(on), Some(process)) = (parts.next(), parts.next()) else {
            return false;
        };
        on == machine() && process.parse().is_ok_and(|process| !is_running(process))
    }
}

impl fmt::Display for Holder {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}, since {}", self.seat.name, self.since)
    }
}

#[cfg(unix)]
fn host() -> String {
    rustix::system::uname().nodename().to_string_lossy().into_owned()
}

/// What tells the place from every other in which processes have numbers of their own: a machine since it was started,
/// or a container on it. Two of them may well have the same name. A `/` would end it early in a token.
fn machine() -> String {
    let boot = std::fs::read_to_string("/proc/sys/kernel/random/boot_id").unwrap_or_default();
    let numbers = std::fs::read_link("/proc/self/ns/pid").unwrap_or_default();
    format!("{} {} {}", host(), boot.trim(), numbers.display()).replace('/', "-")
}

#[cfg(not(unix))]
fn host() -> String {
    std::env::var("COMPUTERNAME").unwrap_or_default()
}

#[cfg(unix)]
fn is_running(process: i32) -> bool {
    let known = rustix::process::Pid::from_raw(process).map(rustix::process::test_kill_process);
    // One that may not be asked is there.
    !matches!(known, Some(Err(rustix::io::Errno::SRCH)))
}

/// Nothing is known there: people say who is gone.
#[cfg(not(unix))]
fn is_running(_: i32) -> bool {
    true
}
