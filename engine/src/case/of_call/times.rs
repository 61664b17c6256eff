//! The layers of a case while they are filled.

use super::unsaid::Unsaid;
use crate::case::Layer;
use crate::case::write::is_writable;
use crate::rulebook::{Answer, EndingId, Fact, FactId, Rulebook};
use std::collections::BTreeMap;

/// When in a call something is found: at first, or once the work for an ending was begun, by how often before.
pub(super) type When = Option<(EndingId, usize)>;

/// What is found at each time.
#[derive(Debug, Default)]
pub(super) struct Times(BTreeMap<(When, FactId), Readings>);

/// What a case says of a fact at one time.
#[derive(Debug, Default)]
struct Readings {
    all: Vec<Answer>,
    /// Where in it the version begins that stands now; those before it were doubted, or a device was reset.
    version: usize,
}

impl Times {
    /// A fact is told anew. What stood at its place in the list, and behind it, gives way.
    pub(super) fn told(
        &mut self,
        book: &Rulebook,
        at: (When, FactId),
        place: usize,
        answer: Answer,
        unsaid: &mut Unsaid,
    ) {
        let readings = self.0.entry(at).or_default();
        readings.put(book.fact(at.1), place, answer, unsaid);
        readings.version = place;
    }

    /// A fact is read once more, beside the readings of its own version.
    pub(super) fn again(
        &mut self,
        book: &Rulebook,
        at: (When, FactId),
        own: Vec<Answer>,
        answer: Answer,
        unsaid: &mut Unsaid,
    ) {
        let readings = self.0.entry(at).or_default();
        let rule = book.fact(at.1);
        let place = own.len();
        // Second readings are counted from the front of the list: what was doubted gives way to them.
        if readings.version > 0 && readings.all.get(place) != Some(&answer) {
            if let (Some(first), Some(stands)) = (readings.all.first(), own.first()) {
                unsaid.gave_way(rule, *first, *stands);
            }
            *readings = Readings { all: own, version: 0 };
        }
        readings.put(rule, place, answer, unsaid);
    }

    /// Whether anything but this fact is found at a time.
    pub(super) fn has_more_than(&self, when: When, fact: FactId) -> bool {
        self.0.keys().any(|(other, found)| *other == when && *found != fact)
    }

    pub(super) fn forget(&mut self, at: (When, FactId)) {
        self.0.remove(&at);
    }

    /// What is found at first, and once the work for each ending was begun.
    pub(super) fn into_layers(
        self,
        book: &Rulebook,
        unsaid: &mut Unsaid,
    ) -> (Layer, BTreeMap<EndingId, Vec<Layer>>) {
        let (mut answers, mut after) = (Layer::default(), BTreeMap::<EndingId, Vec<Layer>>::new());
        for ((when, fact), readings) in self.0 {
            let all = readings.written(book.fact(fact), unsaid);
            if all.is_empty() {
                continue;
            }
            let Some((ending, times)) = when else {
                answers.found.insert(fact, all);
                continue;
            };
            let layers = after.entry(ending).or_default();
            layers.resize(layers.len().max(times + 1), Layer::default());
            if let Some(layer) = layers.get_mut(times) {
                layer.found.insert(fact, all);
            }
        }
        (answers, after)
    }
}

impl Readings {
    fn put(&mut self, rule: &Fact, place: usize, answer: Answer, unsaid: &mut Unsaid) {
        match self.all.get(place) {
            Some(other) if *other == answer => return,
            Some(other) => unsaid.gave_way(rule, *other, answer),
            None => {}
        }
        self.all.truncate(place);
        self.all.push(answer);
    }

    /// As a case holds them: those that a case file may hold, and the last one only once, since it repeats.
    fn written(self, rule: &Fact, unsaid: &mut Unsaid) -> Vec<Answer> {
        let (mut kept, refused): (Vec<_>, Vec<_>) =
            self.all.into_iter().partition(|answer| is_writable(rule, answer));
        for answer in refused {
            unsaid.out_of_range(rule, answer);
        }
        while let [.., before, last] = kept[..]
            && before == last
        {
            kept.pop();
        }
        kept
    }
}
