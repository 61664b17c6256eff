//! A disk that fills up while a call runs.

use super::answerer::{Answerer, in_words};
use super::driven::{Came, Driven};
use super::mounted::Mounted;
use super::{Exported, on, said};
use crate::house::BOOK;
use engine::call::{Call, Event};
use engine::record::Entry;
use std::fs;
use std::sync::Arc;

/// How much of the disk is left to a call at first, in kilobytes: from nothing to enough for some dozens of words.
const LEFT: [usize; 7] = [0, 4, 20, 60, 150, 220, 300];

#[test]
fn a_full_disk_is_told_before_the_next_question_and_nothing_acknowledged_is_lost() {
    let mut in_the_call = 0;
    for left in LEFT {
        let Some(disk) = Mounted::disk("a full disk", 1 << 20) else { return };
        let (log, ballast) = (disk.log(), disk.path().join("ballast"));
        fs::write(&ballast, vec![1; (1 << 20) - left * 1024]).unwrap();
        let mut answerer = Answerer::at(&Call::new(Arc::clone(&BOOK)));
        let mut driven = Driven::start(&log, &["call"]);
        let mut came = driven.wait();
        let mut in_flight = Vec::new();
        while came == Came::Prompt {
            let typed = answerer.types().expect("the disk is full before the end");
            in_flight = in_words(&typed.events);
            for line in &typed.lines {
                driven.type_line(line);
                came = driven.wait();
                if came == Came::End {
                    break;
                }
            }
            if came == Came::Prompt {
                answerer.take_in(typed.events);
            }
        }
        let (shown, code) = driven.end();
        assert_eq!(code, Some(2), "{left}: {shown}");
        let once = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(once.contains("is full") && once.contains("Free some space"), "{left}: {shown}");
        assert!(!shown.contains("    SAY  "), "{left}: another question was asked: {shown}");
        let acknowledged = answerer.entries();
        if !acknowledged.is_empty() {
            in_the_call += 1;
            assert!(once.contains("what is not written yet is not on record, all before it is"), "{shown}");
        }
        // A list on a full disk shows them, or says that it is full.
        let (told, code) = said(on(&log).arg("calls"));
        assert!(code == Some(0) || told.contains("is full"), "{left}: {told}");

        fs::remove_file(&ballast).unwrap();
        let kept = Exported::only(&log);
        let events: Vec<Entry> = kept.iter().flat_map(Exported::entries).cloned().collect();
        let may = [acknowledged.clone(), in_flight].concat();
        assert!(events.starts_with(&acknowledged) && may.starts_with(&events), "{left}: {events:?}");
        let Some(kept) = kept else { continue };
        let mut answerer = Answerer::at(&kept.call());
        answerer.take_in(vec![Event::Resumed]);
        let (shown, code) = Driven::start(&log, &["resume"]).lead(&mut answerer);
        assert_eq!(code, Some(0), "{left}: {shown}");
        let ends = Exported::only(&log).unwrap().ends();
        assert_eq!(ends, [("fit-link-115".to_owned(), "proved".to_owned())], "{left}");
    }
    assert!(in_the_call >= 3, "the disk was full in the middle of {in_the_call} calls only");
}
