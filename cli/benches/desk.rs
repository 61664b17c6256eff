//! What a desk's years take: lists, the report and the replay over 200 000 calls, time and memory.
//!
//! `cargo bench --bench desk` prints the table; `cargo bench --bench desk -- 20000` over fewer. The calls are those of the
//! cases, one after the other, each as it went, on made-up units over three years. They are taken in by the program
//! itself. Each measurement is a process of its own; beside it stands what reading the file alone takes.
#![expect(clippy::unwrap_used, reason = "a benchmark that cannot start has failed")]

#[path = "../../tests/it/below.rs"]
mod below;

use below::below;
use engine::call::{Call, Event, drive};
use engine::case::{Case, Player};
use engine::record::{Names, Summary};
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::fs;
use std::io::{BufWriter, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// How many calls.
const CALLS: usize = 200_000;
/// How many units they are on: a unit has some calls in three years.
const UNITS: usize = 60_000;

/// What is measured: commands, and what stands in the table for them.
const WORK: [(&str, &[&str]); 6] = [
    ("calls", &["calls"]),
    ("calls fuse", &["calls", "fuse"]),
    ("calls --all --json", &["calls", "--all", "--json"]),
    ("report", &["report"]),
    ("replay --calls", &["replay", "--calls"]),
    ("export", &["export"]),
];

fn main() {
    let count = std::env::args().skip(1).find_map(|given| given.parse().ok()).unwrap_or(CALLS);
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    let start = Instant::now();
    take_in(&log, count);
    let megabytes = megabytes(fs::metadata(&log).unwrap().len());
    println!("{count} calls, {megabytes:.0} MB, taken in in {:.1} s", start.elapsed().as_secs_f64());
    println!("what                        s  MB at the most  times the file alone");
    // Once to warm what the machine keeps of it.
    read_alone(&log);
    let alone = read_alone(&log);
    println!("{:22}  {:7.2}", "reading the file alone", alone.as_secs_f64());
    for (name, words) in WORK {
        let (took, peak) = run(&log, words);
        println!(
            "{name:22}  {:7.2}  {:14.0}  {:20.1}",
            took.as_secs_f64(),
            self::megabytes(peak * 1024),
            took.as_secs_f64() / alone.as_secs_f64()
        );
    }
}

#[expect(clippy::cast_precision_loss, reason = "figures to be shown")]
fn megabytes(bytes: u64) -> f64 {
    bytes as f64 / 1e6
}

/// The whole file, as fast as it can be read.
fn read_alone(log: &Path) -> Duration {
    let start = Instant::now();
    let mut file = fs::File::open(log).unwrap();
    let mut buffer = vec![0; 1 << 20];
    while file.read(&mut buffer).unwrap() > 0 {}
    start.elapsed()
}

fn program(log: &Path) -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_motorwright"));
    program.env("MOTORWRIGHT_LOG_TO", log);
    program
}

/// Runs a command to its end: how long it took, and the kilobytes that it held at the most, looked at as it ran.
fn run(log: &Path, words: &[&str]) -> (Duration, u64) {
    let start = Instant::now();
    let mut child = program(log).args(words).stdout(Stdio::null()).spawn().unwrap();
    let mut peak = 0;
    loop {
        peak = peak.max(held(child.id()));
        if let Some(status) = child.try_wait().unwrap() {
            assert!(status.code().is_some_and(|code| code < 2), "{words:?}");
            return (start.elapsed(), peak);
        }
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// The most memory that a process ever held, in kilobytes, as Linux tells it.
fn held(process: u32) -> u64 {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok()).unwrap_or_default()
}

/// Has the program take in so many calls.
fn take_in(log: &Path, count: usize) {
    let calls = played();
    let mut child =
        program(log).args(["import", "-"]).stdin(Stdio::piped()).stdout(Stdio::null()).spawn().unwrap();
    let mut lines = BufWriter::new(child.stdin.take().unwrap());
    for (number, (events, summary)) in (0..count).zip(calls.iter().cycle()) {
        // Three years, one call after the other, in steps of eight minutes.
        let at = format!(
            "{}-{:02}-{:02}T{:02}:{:02}:00Z",
            2023 + number / 67_000,
            1 + number / 5_600 % 12,
            1 + number / 180 % 28,
            number / 8 % 24,
            number * 8 % 60
        );
        let events = events.replace("\"AT\"", &format!("\"{at}\""));
        let unit = number * 7 % UNITS;
        writeln!(
            lines,
            r#"{{"form":"motorwright-call-1","number":1,"opening":{{"id":"made-{number}","at":"{at}","unit":"job {unit}","rules":{{"decide":"","prose":"","program":"0"}}}},"events":{events},"summary":{summary}}}"#
        )
        .unwrap();
    }
    drop(lines);
    assert!(child.wait().unwrap().success());
}

/// Every case as a call that was kept: its events and its summary as JSON.
fn played() -> Vec<(String, String)> {
    let sources = files("rules").into_iter().map(|path| Source::new("", fs::read(path).unwrap()).unwrap());
    let book = Arc::new(engine::read_rules(sources).unwrap());
    files("cases").into_iter().map(|path| kept(&book, &path)).collect()
}

fn kept(book: &Arc<Rulebook>, path: &Path) -> (String, String) {
    let name = path.file_name().unwrap().to_str().unwrap();
    let case = Case::read(book, Source::new(name, fs::read(path).unwrap()).unwrap()).unwrap();
    let mut call = Call::new(Arc::clone(book));
    let mut player = Player::new(book, &case);
    drive(&mut call, &mut player).unwrap();
    let names = Names::of(book);
    let event = |event: &Event| serde_json::json!({"at": "AT", "event": names.write(event)});
    let events: Vec<_> = call.events().iter().map(event).collect();
    (serde_json::to_string(&events).unwrap(), serde_json::to_string(&Summary::of(&call)).unwrap())
}

fn files(folder: &str) -> Vec<PathBuf> {
    below(&Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(folder), "yaml")
}
