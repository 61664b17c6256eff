//! Fuzz bytes as an edit of a rulebook's files.
//!
//! The first byte says which files stand beside it, the second which of them is edited, and whether the rest is its
//! whole new text or cuts into the old one. A cut is five bytes and what goes in: where (two bytes, as a share of the
//! text), how many bytes go out, how many come in, and from where in the same file the others come when none do.

use crate::house;
use std::sync::LazyLock;

type File = (String, Vec<u8>);

/// The rules of another machine, which are small, and those that are shipped.
static BASES: LazyLock<[Vec<File>; 2]> =
    LazyLock::new(|| [house::files("tests/it/wrong/base"), house::files("rules")]);

/// The first byte of an input that is an edit of the shipped rules.
pub const SHIPPED: u8 = 1;

/// Bytes of one cut, before what goes in.
const CUT: usize = 5;

/// How an input begins whose rest is the new text of a file of a base.
pub fn whole_text(base: usize, file: usize, text: &[u8]) -> Vec<u8> {
    let mut bytes = vec![base as u8, (file as u8) << 1];
    bytes.extend(text);
    bytes
}

/// The files of a base, for seeds.
pub fn base(which: usize) -> &'static [File] {
    &BASES[which % BASES.len()]
}

/// The files that the bytes stand for.
pub fn files(bytes: &[u8]) -> Vec<File> {
    let [which, file, rest @ ..] = bytes else { return Vec::new() };
    // One in four is alone: nothing else stands beside it.
    if which & 0b10 != 0 && which & 0b100 != 0 {
        return vec![("alone.yaml".to_owned(), rest.to_vec())];
    }
    // The shipped rules take a hundred times as long as the small ones: only this one byte stands for them, so that
    // most runs are of the others.
    let mut files = base(usize::from(*which == SHIPPED)).to_vec();
    let at = usize::from(file >> 1) % files.len();
    files[at].1 = if file & 1 == 0 { rest.to_vec() } else { cut(&files[at].1, rest) };
    files
}

fn cut(text: &[u8], mut cuts: &[u8]) -> Vec<u8> {
    let mut text = text.to_vec();
    while let Some((head, rest)) = cuts.split_at_checked(CUT) {
        let share = usize::from(u16::from_le_bytes([head[0], head[1]]));
        let at = text.len() * share / usize::from(u16::MAX);
        let out = at..(at + usize::from(head[2])).min(text.len());
        let (new, rest) = rest.split_at(usize::from(head[3]).min(rest.len()));
        let new = if new.is_empty() {
            let from = text.len() * usize::from(head[4]) / usize::from(u8::MAX);
            text[from..(from + 40).min(text.len())].to_vec()
        } else {
            new.to_vec()
        };
        text.splice(out, new);
        cuts = rest;
    }
    text
}
