//! Types the rule files' shapes are built from: a value as its author sees it, one or a list.

mod many;
mod word;

pub(crate) use many::OneOrMany;
pub(crate) use word::Word;
