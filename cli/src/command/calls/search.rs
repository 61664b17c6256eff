//! Which calls have words in them: in what a list knows of a call, or in what was answered.

use super::{LEFT_WITH, left};
use crate::command::kept;
use crate::store::{Listed, Written};
use engine::record::{Entry, Said};
use engine::rulebook::{Fact, Rulebook};
use std::collections::BTreeSet;

/// Words that all have to stand in a call, in small letters.
pub(super) struct Search<'b> {
    book: &'b Rulebook,
    words: Vec<String>,
}

/// What is known of a call without looking at what was said in it.
pub(super) enum Found {
    /// All words stand in it.
    Yes,
    /// Those that do not may still have been answered.
    Maybe,
    /// A word does not, and no answer has it.
    No,
}

impl<'b> Search<'b> {
    pub(super) fn of(book: &'b Rulebook, words: &[String]) -> Self {
        Self { book, words: words.iter().map(|word| word.to_lowercase()).collect() }
    }

    pub(super) const fn is_for_nothing(&self) -> bool {
        self.words.is_empty()
    }

    /// By what a list knows of a call: its unit, complaint, endings and remarks, and how it left the
    /// unit.
    pub(super) fn in_short(&self, listed: &Listed) -> Found {
        let text = self.listed(listed);
        let mut missing = self.words.iter().filter(|word| !text.contains(word.as_str())).peekable();
        if missing.peek().is_none() {
            Found::Yes
        } else if missing.all(|word| self.is_an_answer(word)) {
            Found::Maybe
        } else {
            Found::No
        }
    }

    /// By all that was answered in it too, but for what was taken back.
    pub(super) fn in_full(&self, listed: &Listed, events: &[Written]) -> bool {
        let mut text = self.listed(listed);
        let taken_back: BTreeSet<u32> = events
            .iter()
            .filter_map(|written| match written.event {
                Entry::Retract { event } => Some(event),
                _ => None,
            })
            .collect();
        for (place, written) in (0..).zip(events) {
            if taken_back.contains(&place) {
                continue;
            }
            match &written.event {
                Entry::Told { fact, is: Said::Is(choices), .. }
                | Entry::Again { fact, is: Said::Is(choices) } => self.answered(&mut text, fact, choices),
                Entry::Danger { what } => {
                    let (danger, _) = self.book.roles().danger;
                    self.answered(&mut text, &self.book.fact(danger).id, what);
                }
                _ => {}
            }
        }
        self.words.iter().all(|word| text.contains(word))
    }

    fn listed(&self, listed: &Listed) -> String {
        let mut text = listed.opening.unit.as_deref().unwrap_or_default().to_lowercase();
        if let Some(summary) = &listed.summary {
            add(&mut text, summary.complaint.as_deref().unwrap_or_default());
            for end in &summary.ends {
                for part in [&end.ending, kept::name(self.book, &end.ending), &end.outcome] {
                    add(&mut text, part);
                }
            }
            summary.notes.iter().for_each(|note| add(&mut text, note));
            // As the list shows it: what is found is what stands there.
            if let Some(left) = left(summary) {
                add(&mut text, &format!("{LEFT_WITH} {left}"));
            }
        }
        text
    }

    /// Whether any answer of these rules has it; those of other rules are known by their id alone.
    fn is_an_answer(&self, word: &str) -> bool {
        let has = |fact: &Fact| {
            !fact.choices().is_empty() && fact.name.to_lowercase().contains(word)
                || fact
                    .choices()
                    .iter()
                    .any(|choice| choice.id.contains(word) || plain(&choice.id).contains(word))
        };
        self.book.facts().iter().any(has)
    }

    /// What was asked, and the choices that were answered, as a record shows them. What a choice means is no word of
    /// the call's: it tells of what else might have been.
    fn answered(&self, text: &mut String, fact: &str, choices: &[String]) {
        add(text, &kept::reading(self.book, fact));
        for id in choices {
            add(text, id);
            add(text, &plain(id));
        }
    }
}

fn plain(id: &str) -> String {
    id.replace('_', " ")
}

/// Adds what no word reaches across.
fn add(text: &mut String, part: &str) {
    text.push('\n');
    text.push_str(&part.to_lowercase());
}
