//! What others did to a unit before a call, as somebody said in it.

use engine::call::{Call, DeedResult, Event};
use engine::rulebook::{EndingId, Rulebook};

/// It in words, oldest first.
pub(crate) fn told(call: &Call) -> impl Iterator<Item = String> + '_ {
    call.events().iter().filter_map(|event| match event {
        Event::Earlier { ending, result: DeedResult::Done, of: None } => {
            Some(format!("{} (before this call, as said)", named(call.book(), *ending)))
        }
        _ => None,
    })
}

/// What was done: a repair, or whatever an earlier call handed over.
pub(crate) fn named(book: &Rulebook, ending: EndingId) -> String {
    let ending = book.ending(ending);
    if ending.is_repair() { ending.name.clone() } else { format!("seen to: {}", ending.name) }
}
