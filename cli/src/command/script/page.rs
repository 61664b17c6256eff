//! Pages: blocks that stay together, heads with page numbers, form feeds between.

use super::text::{WIDTH, plain};
use crate::args::Paper;

/// Lines of the head of a page.
const HEAD: usize = 3;

impl Paper {
    /// Lines of a page at six lines to the inch, what is left for margins taken off: 11.7 inches are 70 lines and 11
    /// inches are 66.
    pub(super) const fn lines(self) -> usize {
        match self {
            Self::A4 => 66,
            Self::Letter => 60,
        }
    }

    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        }
    }
}

/// Lines that stay on one page if they fit on one.
pub(super) struct Block {
    /// The number it is looked up by.
    pub(super) label: Option<String>,
    /// Its lines.
    pub(super) lines: Vec<String>,
}

impl Block {
    pub(super) const fn new() -> Self {
        Self { label: None, lines: Vec::new() }
    }

    pub(super) fn numbered(label: impl Into<String>) -> Self {
        Self { label: Some(label.into()), lines: Vec::new() }
    }
}

/// What starts on a page of its own.
pub(super) struct Section {
    /// Its title, in the head of each of its pages.
    pub(super) title: String,
    /// What stands in it.
    pub(super) blocks: Vec<Block>,
}

impl Section {
    pub(super) fn new(title: &str) -> Self {
        Self { title: plain(title), blocks: Vec::new() }
    }

    /// The numbers in it, such as `12 to 30`.
    pub(super) fn range(&self) -> String {
        range(&mut self.blocks.iter().filter_map(|block| block.label.as_deref()))
    }
}

fn range(labels: &mut dyn Iterator<Item = &str>) -> String {
    let Some(first) = labels.next() else {
        return String::new();
    };
    match labels.last() {
        Some(last) if last != first => format!("{first} to {last}"),
        _ => first.to_owned(),
    }
}

/// One page.
pub(super) struct Page<'s> {
    /// Which section it belongs to.
    pub(super) section: usize,
    labels: Vec<&'s str>,
    lines: Vec<&'s str>,
}

/// The sections as pages.
pub(super) fn pages(sections: &[Section], paper: Paper) -> Vec<Page<'_>> {
    let room = paper.lines() - HEAD;
    let mut pages = Vec::new();
    for (section, written) in sections.iter().enumerate() {
        let mut page = Page { section, labels: Vec::new(), lines: Vec::new() };
        for block in &written.blocks {
            let gap = usize::from(!page.lines.is_empty());
            if gap + page.lines.len() + block.lines.len() > room && !page.lines.is_empty() {
                pages.push(std::mem::replace(
                    &mut page,
                    Page { section, labels: Vec::new(), lines: Vec::new() },
                ));
            }
            if !page.lines.is_empty() {
                page.lines.push("");
            }
            for line in &block.lines {
                if page.lines.len() == room {
                    let full = Page { section, labels: Vec::new(), lines: Vec::new() };
                    pages.push(std::mem::replace(&mut page, full));
                }
                note(&mut page, block);
                page.lines.push(line);
            }
        }
        pages.push(page);
    }
    pages
}

/// Notes down that a page has lines of this block.
fn note<'s>(page: &mut Page<'s>, block: &'s Block) {
    if let Some(label) = block.label.as_deref()
        && page.labels.last() != Some(&label)
    {
        page.labels.push(label);
    }
}

/// The sections as text.
pub(super) fn print(sections: &[Section], paper: Paper) -> String {
    let pages = pages(sections, paper);
    let mut out = String::new();
    for (index, page) in pages.iter().enumerate() {
        if index > 0 {
            out.push('\u{c}');
        }
        let title = sections.get(page.section).map_or("", |section| section.title.as_str());
        let range = range(&mut page.labels.iter().copied());
        let danger = if index == 0 { "" } else { "Danger, at any time: page 1" };
        for line in [
            ends(title, &format!("page {} of {}", index + 1, pages.len())),
            ends(&range, danger),
            "-".repeat(WIDTH),
        ] {
            out.push_str(&line);
            out.push('\n');
        }
        for line in &page.lines {
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}

/// Two texts at the two ends of a line; the left one is cut where it would not fit.
fn ends(left: &str, right: &str) -> String {
    let room = WIDTH.saturating_sub(right.len() + 2);
    let left: String = left.chars().take(room).collect();
    let gap = WIDTH.saturating_sub(left.len() + right.len());
    format!("{left}{}{right}", " ".repeat(gap)).trim_end().to_owned()
}
