//! A step or a tree that was given another name, and is still gone to by the old one: one slip, at however many lines.

use super::Scope;
use crate::finding::{Code, Draft, On, Said};
use crate::parsed::tree::{StepDoc, TreeDoc};
use crate::resolve::{At, Resolver};
use crate::rulebook::TreeId;
use std::collections::HashSet;

/// A target that is not there.
struct Lost<'d> {
    /// The tree of a step; `None` for a tree.
    within: Option<TreeId>,
    name: &'d str,
    draft: Draft,
    /// How many lines go by this name.
    places: usize,
    /// What nothing leads to, of its kind.
    unled: Vec<&'d str>,
    near: Option<&'d str>,
}

impl Resolver<'_> {
    /// Tells of a step that is not there, where it most probably is one that nothing leads to now.
    pub(super) fn renamed_step(&mut self, scope: Scope<'_>, lost: &str, at: &At<'_>) -> Option<Said> {
        let doc = scope.doc;
        let names = || doc.steps.keys().map(String::as_str);
        let (places, unled) = led(lost, steps_gone_to(doc), names());
        let title = format!("no step `{lost}` in the tree `{}`{}", doc.tree, at_places(places));
        let draft = at.draft(Code::UnknownTarget, title);
        let (within, near) = (Some(scope.tree), self.findings.near(lost, names()));
        let lost = Lost { within, name: lost, draft, places, unled, near };
        self.renamed("step", lost, |draft, unled| {
            let (top, text) = (At::top(at.gated()), "nothing leads to this step");
            let pointer = top.key("steps").key(unled).pointer();
            draft.also(at.gated(), pointer, On::Key, text)
        })
    }

    /// The same of a tree.
    pub(super) fn renamed_tree(&mut self, lost: &str, at: &At<'_>) -> Option<Said> {
        let docs = &self.parsed.trees;
        // Of two trees under one name, this may be the name of the second: that they are two is told.
        if let Some(said) = self.findings.said().filter(|_| self.tree_names.len() < docs.len()) {
            return Some(said);
        }
        let ways = docs.iter().flat_map(|doc| doc.body.steps.values()).flat_map(StepDoc::ways);
        let gone_to = ways.flat_map(|way| [way.continue_in, way.visit]).flatten();
        let start = self.parsed.calls.first().map(|call| call.body.call.start.as_str());
        let names = || docs.iter().map(|doc| doc.body.tree.as_str());
        let (places, unled) = led(lost, gone_to.chain(start), names());
        let draft = at.draft(Code::UnknownId, format!("unknown tree `{lost}`{}", at_places(places)));
        let near = self.findings.near(lost, names());
        let lost = Lost { within: None, name: lost, draft, places, unled, near };
        self.renamed("tree", lost, |draft, unled| {
            let mut unled = docs.iter().filter(|doc| doc.body.tree == unled);
            unled.next().into_iter().fold(draft, |draft, doc| {
                draft.also(&doc.gated, "/tree", On::Value, "nothing leads to this tree")
            })
        })
    }

    fn renamed(
        &mut self,
        kind: &str,
        lost: Lost<'_>,
        with_place: impl FnOnce(Draft, &str) -> Draft,
    ) -> Option<Said> {
        let Lost { within, name, draft, places, unled, near } = lost;
        let key = (within, name.to_owned());
        if self.told_targets.contains(&key) {
            return self.findings.said();
        }
        let renamed = near.filter(|near| unled.contains(near)).or(match unled.as_slice() {
            [one] => Some(*one),
            _ => None,
        })?;
        // A single line with a slip in its name needs no more than that name.
        if places == 1 && near == Some(renamed) {
            return None;
        }
        let or = near.filter(|near| *near != renamed).map(|near| format!(", or did you mean `{near}`"));
        let help = format!(
            "was the {kind} `{renamed}` called `{name}` before{}? write the name it has now wherever it is gone to",
            or.unwrap_or_default()
        );
        let said = self.say(with_place(draft, renamed).help(help));
        self.told_targets.insert(key);
        Some(said)
    }
}

/// At how many places a name is gone to, and which of the names at none: each looked through once, for there may be very
/// many of both.
fn led<'d>(
    lost: &str,
    gone_to: impl Iterator<Item = &'d str>,
    names: impl Iterator<Item = &'d str>,
) -> (usize, Vec<&'d str>) {
    let (mut places, mut led) = (0, HashSet::new());
    for name in gone_to {
        places += usize::from(name == lost);
        led.insert(name);
    }
    (places, names.filter(|name| !led.contains(name)).collect())
}

fn at_places(places: usize) -> String {
    match places.saturating_sub(1) {
        0 => String::new(),
        1 => ", here and at 1 more place".to_owned(),
        more => format!(", here and at {more} more places"),
    }
}

/// The steps that the lines of a tree and its start go to, as often as they do.
fn steps_gone_to(doc: &TreeDoc) -> impl Iterator<Item = &str> {
    let ways = doc.steps.values().flat_map(StepDoc::ways);
    std::iter::once(doc.start.as_str()).chain(ways.flat_map(|way| [way.go, way.then]).flatten())
}
