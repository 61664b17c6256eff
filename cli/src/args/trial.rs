//! What `trial` takes.

use super::TalkArguments;
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLES: &str = "\
Examples:
  motorwright trial
      1000 calls with one fault each, every fault in its turn
  motorwright trial --count 200 --rules my-rules  how a trainer's own rules do
  motorwright trial --pairs --slips
      two faults at a time, a technician who sometimes slips
  motorwright trial --faults filter-dirty,coil-dirty
      only these; --faults list shows all
  motorwright trial --show 17
      call number 17 as a conversation; what was wrong comes last
  motorwright trial --show 17 --as-case > trial-17.yaml
      the same call as a case, to be judged
  motorwright trial --html trial.html
      a page with the table of faults and endings
  motorwright trial --json | jq -r 'select(.verdict == \"wrong\") | .call'

A unit is drawn and sized as physics, a fault is put into it, and somebody with
a meter answers what the rules ask. The model never reads the trees. A call is
its number under its seed: --count, --threads and what else is run change
nothing in it, while --pairs, --healthy, --drawn, --faults, --slips,
--every-reading and other rules make it another call.

With --json each call is one object on a line of its own: what was put in, what
it came to, and what it took.

Exit codes: 0 done, whatever the calls came to; 1 a prompt was unsafe, or a call
came to no end; 2 something could not be read or written.";

/// What `trial` takes.
#[derive(Args, Debug)]
pub(crate) struct TrialArguments {
    /// How many calls
    #[arg(long, value_name = "N", default_value_t = 1000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub(crate) count: u32,
    /// Where all chance comes from: the same seed makes the same calls
    #[arg(long, value_name = "S", default_value_t = 1)]
    pub(crate) seed: u64,
    #[command(flatten)]
    pub(crate) put_in: PutInArguments,
    #[command(flatten)]
    pub(crate) technician: TechnicianArguments,
    /// Calls that are made at a time [default: one a core]
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
    /// Show call number K as a conversation, and at its end what was put in
    #[arg(long, value_name = "K", value_parser = clap::value_parser!(u64).range(1..))]
    pub(crate) show: Option<u64>,
    /// With --show: print the call as a case file instead
    #[arg(long, requires = "show")]
    pub(crate) as_case: bool,
    /// One JSON object a call and line
    #[arg(long, conflicts_with_all = ["show", "html"])]
    pub(crate) json: bool,
    /// Write it as a page with the table of faults and endings to this file
    #[arg(long, value_name = "FILE", conflicts_with = "show")]
    pub(crate) html: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) talk: TalkArguments,
}

/// What is put into the units; one fault each by default.
#[derive(Args, Debug)]
pub(crate) struct PutInArguments {
    /// Two faults in each unit
    #[arg(long)]
    pub(crate) pairs: bool,
    /// No fault in any unit
    #[arg(long, conflicts_with_all = ["pairs", "faults"])]
    pub(crate) healthy: bool,
    /// None, one or two faults in each unit by chance, as calls come; most have one
    #[arg(long, conflicts_with_all = ["pairs", "healthy", "faults"])]
    pub(crate) drawn: bool,
    /// Only these faults, with commas between; `list` shows those there are
    #[arg(long, value_name = "FAULT", value_delimiter = ',')]
    pub(crate) faults: Vec<String>,
}

/// Who answers; by default somebody who cannot take some readings, and never slips.
#[derive(Args, Debug)]
pub(crate) struct TechnicianArguments {
    /// A technician who now and then says something else than was found
    #[arg(long, conflicts_with = "every_reading")]
    pub(crate) slips: bool,
    /// A technician who takes every reading there is
    #[arg(long)]
    pub(crate) every_reading: bool,
}
