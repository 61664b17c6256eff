//! What a key may be: one plain word or a few, once in a mapping.

use std::borrow::Cow;
use std::ops::Range;

use super::{Frame, Walk, first_character};
use crate::finding::{Code, Draft, Place, quoted};
use crate::gate::events::Written;
use crate::gate::syntax;

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
        let Some(Frame::Mapping { keys, .. }) = self.frames.last_mut() else {
            return;
        };
        let Some(first) = keys.get(&text).cloned() else {
            keys.insert(text, span);
            return;
        };
        let place = |span: &Range<usize>| Place::new(self.source.clone(), span.clone());
        let draft = if item && keys.values().all(|other| first.start <= other.start) {
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
            draft
        } else {
            Draft::at(
                Code::DuplicateKey,
                place(&span),
                format!("the key {} stands here twice", quoted(&text)),
            )
            .also_at(place(&first), "first written here")
            .help("keep one of the two; or give the second the name it should have")
        };
        self.findings.push(draft);
    }

    pub(super) fn odd_key(&mut self, span: Range<usize>, block: bool, found: &str) {
        let title = format!("expected a word as the key, found {found}");
        let help = if block { "write one word before the colon" } else { syntax::QUOTE_IT };
        self.tell(Code::ForbiddenYaml, first_character(span), &title, help);
    }
}
