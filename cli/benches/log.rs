//! How long a word takes to be on disk: an append to each kind of log beside a bare append to a file on the same disk,
//! by one seat and by many at once.
//!
//! `cargo bench --bench log` prints the table for 50 seats of 40 words each; `cargo bench --bench log -- 10 100` for 10
//! seats of 100. Files and the server's folder lie in the temporary folder.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a benchmark that cannot start has failed")]
#![expect(clippy::duplicate_mod, reason = "the log's own tests, which come along, have a server too")]

#[path = "../../tests/it/server.rs"]
mod server;
#[path = "../../tests/it/skipped.rs"]
mod skipped;
#[expect(dead_code, unused_imports, reason = "only what writes is measured")]
#[path = "../src"]
mod program {
    pub(crate) mod store;
}

use engine::call::Purpose;
use engine::record::{Entry, Said};
use program::store;
use std::fs::OpenOptions;
use std::io::Write as _;
use std::path::Path;
use std::time::{Duration, Instant};
use store::{Opening, Place, RulesUsed, Seat, When, Written};

fn main() {
    let mut given = std::env::args().skip(1).filter_map(|given| given.parse::<u32>().ok());
    let (seats, words) = (given.next().unwrap_or(50), given.next().unwrap_or(40));
    let folder = tempfile::tempdir().unwrap();
    println!(
        "milliseconds an append            seats   words     50 %     95 %     99 %    worst   all in s"
    );
    for seats in [1, seats] {
        // One seat alone says as much as all together, up to some hundreds.
        let words = if seats == 1 { 400 } else { words };
        let bare = |seat: u32| bare(&folder.path().join(format!("{seats}-{seat}")), words);
        row("bare append and fdatasync", seats, words, &bare);
        let file = Place::File(folder.path().join(format!("{seats}.db")));
        row("log in a file (SQLite)", seats, words, &|seat| kept(&file, seat, words));
        if let Some(url) = server::database("log") {
            let server = Place::Server(url);
            row("log on a server (PostgreSQL)", seats, words, &|seat| kept(&server, seat, words));
        }
    }
}

/// Runs seats at once and shows how long their appends took.
fn row(name: &str, seats: u32, words: u32, run: &(dyn Fn(u32) -> Vec<Duration> + Sync)) {
    let start = Instant::now();
    let mut took: Vec<Duration> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..seats).map(|seat| scope.spawn(move || run(seat))).collect();
        threads.into_iter().flat_map(|thread| thread.join().unwrap()).collect()
    });
    let all = start.elapsed().as_secs_f64();
    took.sort();
    let part =
        |hundredths: usize| took[(took.len() * hundredths / 100).min(took.len() - 1)].as_secs_f64() * 1e3;
    let [middle, most, nearly_all, worst] = [50, 95, 99, 100].map(part);
    println!(
        "{name:32}  {seats:5}  {words:6}  {middle:7.2}  {most:7.2}  {nearly_all:7.2}  {worst:7.2}  {all:9.2}"
    );
}

/// What a person says in one answer.
fn word(place: u32) -> Written {
    let is = Said::Read(f64::from(place), "V".to_owned());
    let event = Entry::Told { fact: "line_voltage_at_unit".to_owned(), is, purpose: Purpose::Step };
    Written { at: When::now(), event }
}

/// Appends the same bytes to a file of its own, each through to the disk.
fn bare(path: &Path, words: u32) -> Vec<Duration> {
    let mut file = OpenOptions::new().append(true).create(true).open(path).unwrap();
    let mut append = |place| {
        let line = serde_json::to_vec(&word(place)).unwrap();
        let start = Instant::now();
        file.write_all(&line).unwrap();
        file.sync_data().unwrap();
        start.elapsed()
    };
    (0..words).map(&mut append).collect()
}

/// A call that is kept.
fn kept(place: &Place, seat: u32, words: u32) -> Vec<Duration> {
    let rules = RulesUsed {
        folder: None,
        decide: "d".repeat(64),
        prose: "p".repeat(64),
        program: "0.1.0".to_owned(),
    };
    let opening =
        Opening { id: seat.to_string(), at: When::now(), unit: None, again_of: None, rules, meter: None };
    let seat = Seat::of_this_process();
    let mut log = place.open().unwrap_or_else(|fault| panic!("{fault}"));
    let number = log.open(&opening, &seat).unwrap();
    let mut append = |place| {
        let word = word(place);
        let start = Instant::now();
        log.append(number, place, &word, &seat).unwrap_or_else(|fault| panic!("{fault}"));
        start.elapsed()
    };
    (0..words).map(&mut append).collect()
}
