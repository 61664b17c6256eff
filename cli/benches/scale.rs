//! What the whole of `check` takes beside the YAML library alone, and how both grow with the steps of a rulebook.
//!
//! `cargo bench --bench scale` prints the table; `cargo bench --bench scale -- diamonds 10000` one line of it. Each
//! measurement is a process of its own, so that its peak memory is that of nothing else.
#![expect(clippy::unwrap_used, reason = "a benchmark that cannot start has failed")]

#[path = "scale/made.rs"]
mod made;

use engine::check_rules;
use engine::source::Source;
use made::{File, Shape};
use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

/// The sizes of the table, in steps.
const SIZES: [usize; 5] = [1_000, 3_000, 10_000, 30_000, 100_000];

/// Of several runs the fastest counts: the others were disturbed.
const RUNS: usize = 3;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|given| given != "--bench").collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [] => Shape::ALL.into_iter().for_each(|shape| table(shape, &SIZES)),
        [shape] => table(Shape::named(shape).unwrap(), &SIZES),
        [shape, steps] => table(Shape::named(shape).unwrap(), &[steps.parse().unwrap()]),
        [work, shape, steps] => {
            run(work, Shape::named(shape).unwrap(), steps.parse().unwrap());
        }
        _ => println!("expected nothing, a shape, or a shape and a number of steps"),
    }
}

/// Does one thing with the rule files of a shape and a size, and says how many milliseconds and kilobytes it took.
fn run(work: &str, shape: Shape, steps: usize) {
    let files = shape.files(steps);
    let start = Instant::now();
    match work {
        "yaml" => {
            let parse = |(_, text): &File| serde_yaml::from_str::<serde_yaml::Value>(text).unwrap();
            drop(black_box(files.iter().map(parse).collect::<Vec<_>>()));
        }
        "check" => {
            let sources = files.iter().map(|(name, text)| Source::new(name, text).unwrap());
            let checked = black_box(check_rules(sources));
            assert_eq!(checked.book.is_some(), shape.is_right());
        }
        _ => println!("no such work: {work}"),
    }
    println!("{} {}", start.elapsed().as_secs_f64() * 1e3, peak());
}

/// The most memory that this process ever held, in kilobytes, as Linux tells it.
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok()).unwrap_or_default()
}

/// Milliseconds, and megabytes at the most.
type Taken = (f64, f64);

/// What one run of this program in a process of its own takes.
fn one_run(work: &str, shape: Shape, steps: usize) -> Taken {
    let program = std::env::current_exe().unwrap();
    let output = Command::new(program).args([work, shape.name(), &steps.to_string()]).output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    let mut numbers = said.split_whitespace().map(|number| number.parse::<f64>().unwrap());
    (numbers.next().unwrap(), numbers.next().unwrap() / 1024.0)
}

/// What the YAML library and the whole of `check` take; by turns, so that what disturbs them disturbs both.
fn measured(shape: Shape, steps: usize) -> (Taken, Taken) {
    let faster = |one: Taken, other: Taken| if other.0 < one.0 { other } else { one };
    (0..RUNS)
        .map(|_| (one_run("yaml", shape, steps), one_run("check", shape, steps)))
        .reduce(|best, next| (faster(best.0, next.0), faster(best.1, next.1)))
        .unwrap()
}

fn table(shape: Shape, sizes: &[usize]) {
    println!("\n{}", shape.name());
    println!("   steps   text MB   yaml ms  check ms  ratio   µs/step   yaml MB  check MB  ratio");
    for &steps in sizes {
        let bytes: usize = shape.files(steps).iter().map(|(_, text)| text.len()).sum();
        let ((yaml, yaml_peak), (check, check_peak)) = measured(shape, steps);
        #[expect(clippy::cast_precision_loss, reason = "figures to be shown")]
        let (megabytes, each) = (bytes as f64 / 1e6, check * 1e3 / steps as f64);
        println!(
            "{steps:8}  {megabytes:8.2}  {yaml:8.1}  {check:8.1}  {:5.1}  {each:8.1}  {yaml_peak:8.1}  {check_peak:8.1}  {:5.1}",
            check / yaml,
            check_peak / yaml_peak
        );
    }
}
