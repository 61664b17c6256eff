//! Lines that are shared: the conversation takes as many as it wants, and who leads it sees what is left.

use std::cell::RefCell;
use std::collections::VecDeque;
use std::io::{BufRead, Read, Result};
use std::rc::Rc;

/// Lines, each with its break.
#[derive(Clone, Default)]
pub struct Shared(Rc<RefCell<VecDeque<Vec<u8>>>>);

impl Shared {
    pub fn of(bytes: &[u8]) -> Self {
        let lines = bytes.split_inclusive(|byte| *byte == b'\n').map(<[u8]>::to_vec);
        Self(Rc::new(RefCell::new(lines.collect())))
    }

    pub fn is_empty(&self) -> bool {
        self.0.borrow().is_empty()
    }

    /// Takes the next line, if it is this.
    pub fn takes(&self, what: &[u8]) -> bool {
        let mut lines = self.0.borrow_mut();
        let is = lines.front().is_some_and(|line| line == what);
        if is {
            lines.pop_front();
        }
        is
    }

    pub fn reader(&self) -> Reader {
        Reader { lines: self.clone(), line: Vec::new() }
    }
}

/// One line at a time, and nothing ahead.
pub struct Reader {
    lines: Shared,
    line: Vec<u8>,
}

impl Read for Reader {
    fn read(&mut self, into: &mut [u8]) -> Result<usize> {
        let read = self.fill_buf()?.read(into)?;
        self.consume(read);
        Ok(read)
    }
}

impl BufRead for Reader {
    fn fill_buf(&mut self) -> Result<&[u8]> {
        if self.line.is_empty() {
            self.line = self.lines.0.borrow_mut().pop_front().unwrap_or_default();
        }
        Ok(&self.line)
    }

    fn consume(&mut self, many: usize) {
        self.line.drain(..many);
    }
}
