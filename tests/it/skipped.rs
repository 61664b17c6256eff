//! What to do where a test lacks something of the machine: say so, or fail where nothing may be skipped.

use std::io::Write as _;

/// Says on standard error that a test was skipped, since a program is missing that can be installed.
///
/// With `MOTORWRIGHT_TESTS_SKIP_NOTHING=1` it fails instead: `.ci/run` sets that.
pub(crate) fn skipped(what: &str, why: &str) {
    let nothing = std::env::var_os("MOTORWRIGHT_TESTS_SKIP_NOTHING").is_some_and(|set| set == "1");
    assert!(!nothing, "{what} would be skipped, and nothing may be: {why}");
    not_allowed(what, why);
}

/// Says on standard error that a test was skipped, since the machine does not let it do what it needs.
pub(crate) fn not_allowed(what: &str, why: &str) {
    // Past the harness, which hides what tests that pass print.
    let _ = writeln!(std::io::stderr(), "skipped: {what}: {why}");
}
