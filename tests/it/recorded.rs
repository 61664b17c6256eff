//! A call that was made becomes a case, and the case a file.

use crate::house::{BOOK, PLAYED, Played};
use engine::call::{Call, Ended, drive};
use engine::case::{Case, Player, Recorded};
use engine::source::Source;
use std::sync::Arc;

/// A recorded call as its file, read again.
fn read_back(recorded: &Recorded) -> Case {
    let text = recorded.to_yaml(&BOOK);
    let source = Source::new(format!("{}.yaml", recorded.case.name), &text).unwrap();
    Case::read(&BOOK, source).unwrap_or_else(|found| panic!("{found}\n{text}"))
}

fn play(case: &Case) -> (Call, Ended) {
    let mut call = Call::new(Arc::clone(&BOOK));
    let ended = drive(&mut call, &mut Player::new(&BOOK, case)).unwrap();
    (call, ended)
}

fn ids(ended: &Ended) -> Vec<&'static str> {
    ended.all().map(|reached| BOOK.ending(reached.ending).id.as_str()).collect()
}

#[test]
fn every_case_that_is_played_is_recorded_as_a_case_that_plays_the_same() {
    let mut differ = Vec::new();
    for (case, Played { call, ended, .. }) in PLAYED.iter() {
        let recorded = Case::of_call(call, &case.name, case.about.as_deref());
        let text = recorded.to_yaml(&BOOK);
        let source = Source::new(format!("{}.yaml", case.name), &text).unwrap();
        let read = match Case::read(&BOOK, source) {
            Ok(read) => read,
            Err(found) => {
                differ.push(format!("{}: not read: {found}", case.name));
                continue;
            }
        };
        if read != recorded.case {
            differ.push(format!("{}: read otherwise than written:\n{text}", case.name));
        }
        let (again, came_to) = play(&read);
        let (was, is) = (call.power().lockouts(), again.power().lockouts());
        if ids(&came_to) != ids(ended) || is != was || !recorded.unsaid.is_empty() {
            differ.push(format!(
                "{}: {:?} and {was} lock-outs, as a case {:?} and {is}; {:?}",
                case.name,
                ids(ended),
                ids(&came_to),
                recorded.unsaid
            ));
        }
        if std::env::var("SHOW").is_ok_and(|name| name == case.name) {
            eprintln!("{text}");
        }
    }
    assert!(differ.is_empty(), "{} of {}:\n{}", differ.len(), PLAYED.len(), differ.join("\n"));
}

#[test]
fn explore() {
    use crate::properties::person::Person;
    use engine::call::Next;
    let mut kinds: std::collections::BTreeMap<String, usize> = Default::default();
    let mut only = 0;
    for seed in 0..6000_u64 {
        let unruly = (seed % 4) as u8;
        let mut person = Person::new(seed, unruly);
        let mut call = Call::new(Arc::clone(&BOOK));
        for _ in 0..400 {
            let prompt = match call.next() {
                Next::Prompt(prompt) => Some(prompt),
                Next::Ended(_) => None,
            };
            let Some(events) = person.says(&call, prompt.as_ref()) else { break };
            for event in events {
                call.apply(event);
            }
        }
        let recorded = Case::of_call(&call, "made-up", None);
        assert_eq!(read_back(&recorded), recorded.case, "{}", recorded.to_yaml(&BOOK));
        for text in &recorded.unsaid {
            let key: String =
                text.split('`').enumerate().map(|(i, p)| if i % 2 == 0 { p } else { "X" }).collect();
            let key = if let Some(at) = key.find("was told as") { key[..at + 11].to_owned() } else { key };
            *kinds.entry(format!("u{unruly} {}", key.chars().take(70).collect::<String>())).or_default() += 1;
        }
        let rest: Vec<_> = recorded.unsaid.iter().filter(|t| !t.contains("remark")).collect();
        if rest.len() == 1 && rest[0].starts_with("played back")
            || unruly == 0 && rest.iter().any(|t| t.contains("went on after"))
        {
            only += 1;
            if only < 6 {
                eprintln!("seed {seed}");
                for (i, e) in call.events().iter().enumerate() {
                    eprintln!("  {i} {e:?}");
                }
                if let Next::Ended(ended) = call.next() {
                    eprintln!("  {:?}", ids(&ended));
                }
                eprintln!("{}", recorded.to_yaml(&BOOK));
            }
        }
    }
    eprintln!("{only} {kinds:#?}");
}
