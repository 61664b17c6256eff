//! Where in a document we are: the pointer is only written out when there is something to report.

use crate::finding::{Code, Draft, On, Place};
use crate::gate::Gated;

/// A place in a document, as a chain of keys up to the top.
#[derive(Clone, Copy)]
pub(crate) struct At<'a> {
    gated: &'a Gated,
    up: Option<&'a At<'a>>,
    seg: Seg<'a>,
    on: On,
}

#[derive(Clone, Copy)]
enum Seg<'a> {
    Top,
    Key(&'a str),
    Index(usize),
}

impl<'a> At<'a> {
    pub(crate) const fn top(gated: &'a Gated) -> Self {
        Self { gated, up: None, seg: Seg::Top, on: On::Value }
    }

    pub(crate) const fn key(&'a self, key: &'a str) -> At<'a> {
        At { gated: self.gated, up: Some(self), seg: Seg::Key(key), on: On::Value }
    }

    pub(crate) const fn index(&'a self, index: usize) -> At<'a> {
        At { gated: self.gated, up: Some(self), seg: Seg::Index(index), on: On::Value }
    }

    pub(crate) const fn gated(&self) -> &'a Gated {
        self.gated
    }

    /// The key of this place; nothing for a list item and the top.
    pub(crate) const fn name(&self) -> &'a str {
        match self.seg {
            Seg::Key(key) => key,
            Seg::Top | Seg::Index(_) => "",
        }
    }

    /// The RFC 6901 pointer of this place.
    pub(crate) fn pointer(&self) -> String {
        let mut text = self.up.map(At::pointer).unwrap_or_default();
        match self.seg {
            Seg::Top => {}
            Seg::Key(key) => {
                text.push('/');
                text.push_str(&key.replace('~', "~0").replace('/', "~1"));
            }
            Seg::Index(index) => {
                text.push('/');
                text.push_str(&index.to_string());
            }
        }
        text
    }

    /// The key here, in its file.
    pub(crate) fn place(&self) -> Place {
        self.gated.place(&self.pointer(), On::Key)
    }

    /// The same place, where what is meant is the key itself.
    pub(crate) const fn as_key(self) -> Self {
        Self { on: On::Key, ..self }
    }

    /// A finding about the value here, or about the key where that is meant.
    pub(crate) fn draft(&self, code: Code, title: impl Into<String>) -> Draft {
        Draft::new(code, self.gated, self.pointer(), self.on, title)
    }

    /// A finding about the key here.
    pub(crate) fn draft_key(&self, code: Code, title: impl Into<String>) -> Draft {
        Draft::new(code, self.gated, self.pointer(), On::Key, title)
    }

    /// A finding about two keys here of which only one can hold.
    pub(crate) fn clash(&self, first: &str, second: &str, title: impl Into<String>) -> Draft {
        let beside = self.key(first).pointer();
        self.key(second).draft_key(Code::ClashingKeys, title).also(self.gated, beside, On::Key, "beside this")
    }
}
