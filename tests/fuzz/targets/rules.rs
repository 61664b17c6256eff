//! Any text as rules: from bytes to findings, to what a person is shown of them, and to a call where one can be made.
#![no_main]

#[path = "../src/edit.rs"]
#[expect(dead_code, reason = "seeds are written in it too")]
mod edit;
#[path = "../src/house.rs"]
#[expect(dead_code, reason = "the other target starts from cases")]
mod house;

use engine::call::{Answerer, Call, DeedResult, Halt, Prompt, Refusal, Reply, StepResult, Wants, drive};
use engine::finding::Finding;
use engine::rulebook::Answer;
use engine::source::Source;
use libfuzzer_sys::fuzz_target;
use std::sync::Arc;

/// More than any call with nothing but `cannot` in it needs.
const MOST_PROMPTS: usize = 5_000;

/// Nothing can be read, everything can be done.
struct Blind(usize);

impl Answerer for Blind {
    fn reply(&mut self, _: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.0 += 1;
        assert!(self.0 < MOST_PROMPTS, "a call without an end");
        Ok(match prompt.wants() {
            Wants::Fact { .. } => Reply::Answer(Answer::Cannot),
            Wants::Power { .. } => Reply::Step(StepResult::Done),
            Wants::Conflict { .. } => Reply::Insist,
            Wants::Consent { .. } => Reply::Deed(DeedResult::Now),
            Wants::Deed { .. } => Reply::Deed(DeedResult::Done),
        })
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("a fitting answer is refused: {refusal}");
    }
}

/// Every place is one that the file has, and every way to show it stands it.
fn shown(finding: &Finding) {
    for place in std::iter::once(finding.place()).chain(finding.more().iter().map(|(place, _)| place)) {
        assert!(place.source().text().get(place.span()).is_some());
        assert!(place.line() >= 1 && place.column() >= 1);
    }
    let said = finding.with_source() + &finding.plain();
    assert!(said.chars().all(|sign| sign == '\n' || !sign.is_control()), "{said:?}");
    assert!(!finding.title().is_empty());
}

fuzz_target!(|bytes: &[u8]| {
    let mut sources = Vec::new();
    for (name, text) in edit::files(bytes) {
        match Source::new(name, text) {
            Ok(source) => sources.push(source),
            Err(reported) => {
                reported.into_findings().iter().for_each(shown);
                return;
            }
        }
    }
    let checked = engine::check_rules(sources.clone());
    checked.findings.iter().for_each(shown);
    // A start reads the same rules by the quicker way, and must say the same of them.
    assert_eq!(engine::read_rules(sources).is_ok(), checked.book.is_some());
    if let Some(book) = checked.book {
        drive(&mut Call::new(Arc::new(book)), &mut Blind(0)).unwrap();
    }
});
