//! What a key may be: one plain word or a few, once in a mapping.

use std::borrow::Cow;
use std::ops::Range;

use super::{Again, Frame, Walk, first_character};
use crate::finding::{Code, Draft, Place, quoted};
use crate::gate::events::Written;
use crate::gate::syntax;
use crate::parsed::KINDS;

/// Other keys that stand twice and are shown.
const MOST_SHOWN: usize = 3;

impl<'s> Walk<'s> {
    pub(super) fn key(&mut self, text: Cow<'s, str>, written: Written, span: Range<usize>) {
        let broken = self.source.text().get(span.clone()).is_some_and(|key| key.contains(['\n', '\r']));
        if text.is_empty() {
            let span = span.start..span.end.max(span.start + 1);
            self.tell(
                Code::ForbiddenYaml,
                span,
                "expected a key, found nothing",
                "write a word before the colon",
            );
        } else if written == Written::Block || broken || text.contains('\n') {
            let help = "write the key as one plain word or a few";
            self.tell(Code::ForbiddenYaml, first_character(span), "a key over several lines", help);
        } else if written == Written::Plain && text == "<<" {
            self.tell(Code::ForbiddenYaml, span, "a merge key, `<<`", syntax::WRITE_OUT);
        } else {
            self.plain_key(text, span);
        }
    }

    fn plain_key(&mut self, text: Cow<'s, str>, span: Range<usize>) {
        if let [Frame::Mapping { .. }] = self.frames.as_slice() {
            self.top.push(text.clone().into_owned());
        }
        let item = matches!(self.frames.as_slice(), [.., Frame::List, Frame::Mapping { .. }])
            && matches!(self.brackets.last(), Some(None));
        let Some(Frame::Mapping { keys, again, .. }) = self.frames.last_mut() else {
            return;
        };
        let Some(first) = keys.get(&text).cloned() else {
            keys.insert(text, span);
            return;
        };
        let place = |span: &Range<usize>| Place::new(self.source.clone(), span.clone());
        if item && keys.values().all(|other| first.start <= other.start) {
            let title = format!("the key {} stands twice in this item: is a dash missing?", quoted(&text));
            let draft = Draft::at(Code::DuplicateKey, place(&span), title)
                .also_at(place(&first), "the item begins here")
                .help(format!(
                    "write {} where the next item begins; or keep one of the two",
                    quoted(&format!("- {text}"))
                ));
            // What follows is taken for the next item.
            keys.clear();
            keys.insert(text, span);
            self.findings.push(draft);
        } else {
            self.twice += 1;
            again.1 += 1;
            if again.0.len() <= MOST_SHOWN {
                again.0.push(Again { key: text, span, first });
            }
        }
    }

    /// Tells of the keys that stand twice in a mapping that is at its end: where there are many, it is a copy.
    pub(super) fn tell_twice(&mut self, again: &[Again<'s>], count: usize) {
        let Some((Again { key, span, first }, others)) = again.split_first() else { return };
        let place = |span: &Range<usize>| Place::new(self.source.clone(), span.clone());
        let item =
            matches!(self.frames.last(), Some(Frame::List)) && matches!(self.brackets.last(), Some(None));
        let of_a_file = self.frames.is_empty() && KINDS.contains(&&**key);
        let key = quoted(key);
        let (title, help) = if count == 1 {
            let help = if of_a_file {
                "put what begins with the second in a file of its own"
            } else if item {
                "keep one of the two; or write the line with a dash that is missing between them"
            } else {
                "keep one of the two; or give the second the name it should have"
            };
            (format!("the key {key} stands here twice"), help)
        } else {
            let keys = if count == 2 { "1 more key".to_owned() } else { format!("{} more keys", count - 1) };
            let help =
                "keep one of the two; or put the copy in a file of its own, and give its parts other names";
            (format!("the key {key} stands here twice, and so do {keys} behind it: is it a copy?"), help)
        };
        let draft = Draft::at(Code::DuplicateKey, place(span), title)
            .also_at(place(first), "first written here")
            .help(help);
        let draft = others.iter().fold(draft, |draft, other| draft.also_at(place(&other.span), "here too"));
        self.findings.push(draft);
    }

    pub(super) fn odd_key(&mut self, span: Range<usize>, block: bool, found: &str) {
        let title = format!("expected a word as the key, found {found}");
        let help = if block { "write one word before the colon" } else { syntax::QUOTE_IT };
        self.tell(Code::ForbiddenYaml, first_character(span), &title, help);
    }
}
