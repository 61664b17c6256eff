//! What the shipped rules promise, as a list that a person looks through when it changes.
//!
//! No check can know that a caution was needed, or that a look needs the unit dead: only whoever wrote it does. So
//! whatever keeps people safe stands in a snapshot too, and none of it is lost or weakened without being seen. So do
//! the limits, by what they are limits of: a digit that was changed in one place stands beside those that were not.

use super::sense::Sense;
use crate::house::BOOK;
use std::fmt::Write as _;

#[test]
fn whatever_keeps_people_safe_is_as_it_was_looked_through() {
    let mut list = String::new();
    for (part, promises) in Sense::of(&BOOK).promises {
        let _ = writeln!(list, "{part}");
        for promise in promises {
            let _ = writeln!(list, "  {promise}");
        }
    }
    insta::with_settings!({ omit_expression => true }, {
        insta::assert_snapshot!("promises", list);
    });
}
