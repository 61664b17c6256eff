//! Whole calls by the shipped rules.

use super::BOOK;
use crate::trial::{PutIn, Setup, Verdict, run_all};
use crate::{Care, Fault};
use std::collections::BTreeMap;
use std::num::NonZeroUsize;

#[test]
fn overview() {
    for care in [Care::Perfect] {
        for fault in Fault::all() {
            let setup = Setup { seed: 1, put_in: PutIn::Always(vec![fault]), care };
            let trials = run_all(&BOOK, &setup, 0..20, NonZeroUsize::new(2).unwrap());
            let mut ends: BTreeMap<String, usize> = BTreeMap::new();
            for trial in &trials {
                let path: Vec<_> =
                    trial.reached.iter().map(|(e, o)| format!("{}:{o:?}", BOOK.ending(*e).id)).collect();
                *ends
                    .entry(format!(
                        "{}>{} {:?} {:?} {}",
                        trial.complaint,
                        path.join(","),
                        trial.verdict,
                        trial.halted,
                        trial.cured
                    ))
                    .or_default() += 1;
                for text in &trial.unsafe_prompts {
                    println!("   UNSAFE {text}");
                }
                if !trial.unknown.is_empty() {
                    println!("   UNKNOWN {:?}", trial.unknown);
                }
            }
            let right = trials.iter().filter(|trial| trial.verdict == Verdict::Right).count();
            println!("{:26} {right}/20", fault.id());
            for (end, count) in ends {
                println!("      {count:3} {end}");
            }
        }
    }
}
