//! Lines that come to be the rest of the text above them.

use std::collections::BTreeSet;

use crate::gate::{Events, Kind};
use crate::source::Source;

/// The lines of a file, counted from 0, that go on with a text begun above them.
pub(super) fn rests(source: &Source) -> BTreeSet<usize> {
    let mut rests = BTreeSet::new();
    for tick in Events::of(source.text()).filter_map(Result::ok) {
        if !matches!(tick.kind, Kind::Scalar { .. }) {
            continue;
        }
        let text = source.text().get(tick.span.clone()).unwrap_or_default().trim_end();
        let (first, _) = source.line_column(tick.span.start);
        rests.extend((0..text.matches('\n').count()).map(|more| first + more));
    }
    rests
}
