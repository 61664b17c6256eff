//! `motorwright call --script`: a call on paper, for the day the computer is down.
//!
//! Everything that a call can come to is numbered, so that a person with the sheet alone goes by numbers: questions
//! from 1 on, in walking order, so that every jump leads forward; `W` for what is written down, `P` for edges that go
//! by a plate, `F` for what is worked out, letters for the routines of power, `K` for readings in doubt, `H` for what holds power off, `E` for endings.

mod asking;
mod doubt;
mod ending;
mod figure;
mod front;
mod numbers;
mod order;
mod page;
mod power;
mod question;
mod repair;
mod text;
mod words;

use crate::args::Paper;
use crate::failure::{Failure, OK};
use engine::rulebook::{Rulebook, TreeId};
use numbers::Numbers;
use page::Section;
use std::io::Write;

/// A script in the making: the rules, and the numbers that everything has on paper.
struct Script<'b> {
    book: &'b Rulebook,
    numbers: Numbers,
    paper: Paper,
}

/// Prints the script of a tree and all that it leads to; with no name, of the tree that every call starts in.
pub(crate) fn run(book: &Rulebook, tree: &str, paper: Paper) -> Result<u8, Failure> {
    let tree = if tree.is_empty() { book.roles().start } else { tree_named(book, tree)? };
    let numbers = Numbers::of(book, order::steps(book, tree));
    let script = Script { book, numbers, paper };
    anstream::stdout().lock().write_all(script.print().as_bytes())?;
    Ok(OK)
}

fn tree_named(book: &Rulebook, id: &str) -> Result<TreeId, Failure> {
    book.steps().iter().map(|step| step.tree).find(|tree| book.tree(*tree).id == id).ok_or_else(|| {
        let trees = book.trees().iter().map(|tree| tree.id.as_str()).collect::<Vec<_>>().join(", ");
        Failure::NoTree { asked: text::plain(id), trees: text::plain(&trees) }
    })
}

impl Script<'_> {
    fn print(&self) -> String {
        // How many lines the contents take does not hang on the page numbers in them: found first, then written.
        let sections = self.sections(&[]);
        let pages = page::pages(&sections, self.paper);
        let firsts: Vec<usize> = (0..sections.len())
            .map(|section| pages.iter().position(|page| page.section == section).map_or(0, |at| at + 1))
            .collect();
        page::print(&self.sections(&firsts), self.paper)
    }

    /// Everything, in order; `firsts` has the first page of each section for the contents.
    fn sections(&self, firsts: &[usize]) -> Vec<Section> {
        let mut how = Section::new("how to go through a call");
        how.blocks = self.how(firsts);
        let mut sections = vec![self.danger_page(), how, self.record()];
        if self.numbers.has_edges() {
            sections.push(self.plates());
        }
        sections.extend(self.questions());
        if !self.numbers.figures.is_empty() {
            sections.push(self.figures());
        }
        sections.extend([
            self.doubts(),
            self.lock_out(),
            self.behind_the_panel(),
            self.restoring(),
            self.hold_offs(),
        ]);
        sections.extend([self.after_a_repair(), self.endings(), self.other_readings()]);
        sections
    }
}
