//! Rule files that are made to break a reader: each is one finding or a few, in little time and little memory.
//!
//! The program runs under a limit of address space, so that a text which unfolds into gigabytes fails here and not on
//! somebody's desk. `cargo test --test it -- hostile --nocapture` shows the time that each took.

use crate::pond::{File, Folder};
use std::path::Path;
use std::process::{Command, Output};
use std::time::{Duration, Instant};

/// Kilobytes of address space: the program, its libraries and what it reads. 1 MiB of commas takes a third of it.
const MOST_KILOBYTES: u32 = 400_000;

/// A hang, not a slow machine: a release build takes a tenth of a second for the worst.
const A_HANG: Duration = Duration::from_mins(1);

fn check(folder: &Path) -> (Output, Duration) {
    let clock = Instant::now();
    let output = if cfg!(unix) {
        let limited = format!("ulimit -v {MOST_KILOBYTES} && exec \"$0\" check \"$1\"");
        let program = env!("CARGO_BIN_EXE_motorwright");
        Command::new("sh").args(["-c", &limited, program]).arg(folder).output().unwrap()
    } else {
        crate::house::program().arg("check").arg(folder).output().unwrap()
    };
    (output, clock.elapsed())
}

/// Lines made of their numbers, as many as fit into a file of the size that is read.
fn full(head: &str, line: impl Fn(usize) -> String) -> String {
    let mut text = head.to_owned();
    for number in 0.. {
        let line = line(number);
        if text.len() + line.len() > engine::source::MOST_BYTES {
            break;
        }
        text.push_str(&line);
    }
    text
}

/// Every text with its name and the code that is told of first.
fn texts() -> Vec<(&'static str, Vec<u8>, &'static str)> {
    let tree = "tree: t\nname: n\nstart: s0\nsteps:\n";
    let bomb: Vec<String> = (1..20)
        .map(|level| {
            let below = vec![format!("*a{}", level - 1); 9].join(", ");
            format!("a{level}: &a{level} [{below}]\n")
        })
        .collect();
    let texts: Vec<(&str, String, &str)> = vec![
        ("aliases of aliases", format!("a0: &a0 x\n{}", bomb.concat()), "forbidden-yaml"),
        (
            "one alias, often",
            full(&format!("a: &a {}\nl:\n", "x".repeat(9_000)), |_| "  - *a\n".to_owned()),
            "forbidden-yaml",
        ),
        ("brackets on a line", "[".repeat(200_000), "too-large"),
        ("brackets on lines", full("", |_| "[\n".to_owned()), "too-deep"),
        ("blocks in blocks", full("", |deep| format!("{}a:\n", " ".repeat(deep))), "too-deep"),
        ("a scalar of 5 MB", format!("a: {}", "x".repeat(5_000_000)), "too-large"),
        ("a folded scalar", full("deeds: >\n", |_| format!("  {}\n", "x".repeat(100))), "wrong-type"),
        ("a quote left open", full("a: \"", |_| "\\\n".to_owned()), "bad-yaml"),
        ("a zero byte", "tree: x\0y\n".to_owned(), "not-text"),
        ("zero bytes", "\0".repeat(1_000_000), "too-large"),
        ("a byte-order mark", "\u{feff}deeds: 1\n".to_owned(), "wrong-type"),
        ("keys written twice", full("deeds:\n", |_| "  a: 1\n".to_owned()), "duplicate-key"),
        ("tabs", "deeds:\n\ta: 1\n".to_owned(), "bad-yaml"),
        ("many documents", full("", |_| "---\na: 1\n".to_owned()), "two-documents"),
        ("a merge key", "deeds: &d {}\nb:\n  <<: *d\n".to_owned(), "forbidden-yaml"),
        ("nothing but commas", full("deeds: [\n", |_| "a,".repeat(5_000) + "\n") + "]\n", "wrong-type"),
        ("faulty deeds", full("deeds:\n", |n| format!("  d{n}: 1\n")), "wrong-type"),
        ("faulty steps", full(tree, |n| format!("  s{n}: {{aks: x, b: c}}\n")), "unknown-key"),
        (
            "faults at the end",
            full(tree, |n| format!("  s{n}: {}\n", if n < 40_000 { "{ask: x}" } else { "1" })),
            "wrong-type",
        ),
        (
            "names of nothing",
            full(tree, |n| format!("  s{n}: {{ask: x{n}, cannot: {{go: z{n}}}}}\n")),
            "missing-key",
        ),
        (
            "a ring of workings",
            {
                let ring = |n: usize| {
                    format!("  w{n}: {{name: n, measures: voltage, by: sum, of: [w{}, w0]}}\n", n + 1)
                };
                full("workings:\n", ring)
            },
            "unknown-id",
        ),
        (
            "deeds of no ending",
            full("deeds:\n", |n| format!("  d{n}: {{name: n, power: any, panel: on, steps: [x]}}\n")),
            "unused-deed",
        ),
    ];
    let mut texts: Vec<_> =
        texts.into_iter().map(|(name, text, code)| (name, text.into_bytes(), code)).collect();
    texts.push(("bytes that are no text", b"tree: \xff\xfe\n".repeat(1_000), "not-text"));
    texts
}

#[test]
fn every_hostile_file_is_a_finding_without_a_hang_or_a_flood() {
    for (name, text, code) in texts() {
        let folder = Folder::new("hostile", &[File::new("x.yaml", text)]);
        let (output, took) = check(folder.path());
        let (shown, said) =
            (String::from_utf8(output.stdout).unwrap(), String::from_utf8(output.stderr).unwrap());
        println!("{name:24} {took:?}");
        assert_eq!((output.status.code(), said.as_str()), (Some(1), ""), "{name}: {shown:.500}");
        let first = shown.split(": ").nth(2).unwrap_or_default();
        assert_eq!(first, code, "{name}: {shown:.500}");
        assert!(shown.lines().count() < 2_000, "{name}: a flood of {} lines", shown.lines().count());
        assert!(took < A_HANG, "{name} took {took:?}");
    }
}
