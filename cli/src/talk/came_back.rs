//! The repair that came round a second time, and where it was done before.

use engine::call::{Call, DeedResult, Event};
use engine::rulebook::{DeedId, EndingId};

/// Which repair did not last, and in which call it was done; `None` where no repair came back.
pub(crate) fn told(call: &Call) -> Option<String> {
    let ending = call.came_back()?;
    let same = |other: EndingId| deeds(call, other) == deeds(call, ending);
    let done_in = |event: &Event| match event {
        Event::Earlier { ending, result: DeedResult::Done, of } if same(*ending) => {
            Some(of.as_ref().map_or_else(|| "before this call".to_owned(), |of| format!("in {of}")))
        }
        Event::Deed { ending, result: DeedResult::Done, .. } if same(*ending) => {
            Some("in this call".to_owned())
        }
        _ => None,
    };
    let done_in = call.events().iter().rev().find_map(done_in)?;
    Some(format!("{}, done {done_in}, and it did not last", call.book().ending(ending).name))
}

fn deeds(call: &Call, ending: EndingId) -> Vec<DeedId> {
    let mut deeds = call.book().ending(ending).deeds.clone();
    deeds.sort_unstable();
    deeds
}
