//! Where typed lines come from: an editor on a terminal, or plain lines off a pipe.

use super::complete::{Complete, Words};
use super::hint::Typing;
use rustix::termios::{QueueSelector, tcflush};
use rustyline::error::ReadlineError;
use rustyline::history::MemHistory;
use rustyline::{CompletionType, Config, Editor};
use std::io::{self, BufRead, IsTerminal};

/// The most characters of a typed line that are taken.
pub(crate) const LONGEST: usize = 4_000;

/// What came of waiting for a line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum Heard {
    /// A line.
    Line(String),
    /// More than any answer needs.
    TooLong,
    /// Ctrl-C.
    Interrupted,
    /// Ctrl-D, or the end of the input.
    Ended,
}

/// What the source shows by itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Shows {
    /// The prompt and the line.
    PromptAndLine,
    /// The line: a terminal without an editor.
    Line,
    /// Nothing: a pipe.
    Nothing,
}

/// A source of lines.
pub(crate) trait Lines {
    /// What it shows by itself.
    fn shows(&self) -> Shows;

    /// Waits for the next line, which is typed for this.
    fn next(&mut self, typing: Typing) -> io::Result<Heard>;

    /// Forgets what was typed on a terminal before now, and returns as much of it as is known. What comes through a pipe
    /// was written beforehand, and stays.
    fn forget_ahead(&mut self) -> io::Result<String>;

    /// The columns of the terminal, where there is one.
    fn columns(&mut self) -> Option<usize>;
}

/// The source that fits what the program was started on.
pub(crate) fn of_this_terminal(words: Words) -> io::Result<Box<dyn Lines>> {
    let typed = io::stdin().is_terminal();
    if typed && io::stdout().is_terminal() && !is_dumb() {
        return Ok(Box::new(Edited::new(words)?));
    }
    let shows = if typed { Shows::Line } else { Shows::Nothing };
    Ok(Box::new(Plain::new(io::stdin().lock(), shows)))
}

/// A terminal that cannot move its cursor, or that nobody described.
fn is_dumb() -> bool {
    std::env::var("TERM").map_or(true, |term| matches!(term.as_str(), "" | "dumb" | "cons25" | "emacs"))
}

/// The columns of the terminal that is written to, where there is one.
pub(crate) fn columns() -> Option<usize> {
    let mut editor = Editor::<(), MemHistory>::with_history(Config::default(), MemHistory::new()).ok()?;
    editor.dimensions().map(|(columns, _)| usize::from(columns))
}

/// Takes what waits in the terminal's own queue: whole lines as they are, of a line that is begun nothing but its end.
fn take_waiting() -> io::Result<String> {
    let stdin = io::stdin();
    let mut taken = Vec::new();
    while taken.len() < LONGEST && rustix::io::ioctl_fionread(&stdin)? > 0 {
        let mut bytes = [0; 256];
        match rustix::io::read(&stdin, &mut bytes)? {
            0 => break,
            read => taken.extend(&bytes[..read]),
        }
    }
    tcflush(&stdin, QueueSelector::IFlush)?;
    Ok(String::from_utf8_lossy(&taken).trim().to_owned())
}

/// An editor with completion, and a history that lives as long as the call.
struct Edited {
    editor: Editor<Complete, MemHistory>,
}

impl Edited {
    fn new(words: Words) -> io::Result<Self> {
        let mut editor = Self::editor()?;
        editor.set_helper(Some(Complete::new(words)));
        Ok(Self { editor })
    }

    fn editor() -> io::Result<Editor<Complete, MemHistory>> {
        let config = Config::builder().completion_type(CompletionType::List).build();
        Editor::with_history(config, MemHistory::new()).map_err(broken)
    }
}

impl Lines for Edited {
    fn shows(&self) -> Shows {
        Shows::PromptAndLine
    }

    fn next(&mut self, typing: Typing) -> io::Result<Heard> {
        let prompt = typing.prompt.clone();
        if let Some(helper) = self.editor.helper_mut() {
            helper.typing(typing);
        }
        match self.editor.readline(&prompt) {
            Ok(line) if line.chars().nth(LONGEST).is_some() => Ok(Heard::TooLong),
            Ok(line) => {
                if !line.trim().is_empty() {
                    self.editor.add_history_entry(line.as_str()).map_err(broken)?;
                }
                Ok(Heard::Line(line))
            }
            Err(ReadlineError::Interrupted) => Ok(Heard::Interrupted),
            Err(ReadlineError::Eof) => Ok(Heard::Ended),
            // Bytes that are no text: the editor drops what it holds, and the call must not end of it.
            Err(ReadlineError::Io(error)) if error.kind() == io::ErrorKind::InvalidData => {
                Ok(Heard::Line(char::REPLACEMENT_CHARACTER.to_string()))
            }
            Err(error) => Err(broken(error)),
        }
    }

    fn forget_ahead(&mut self) -> io::Result<String> {
        // The editor keeps to itself what it has read behind the line that it returned: a fresh one has nothing of it.
        let mut fresh = Self::editor()?;
        std::mem::swap(fresh.history_mut(), self.editor.history_mut());
        fresh.set_helper(self.editor.helper().cloned());
        self.editor = fresh;
        take_waiting()
    }

    fn columns(&mut self) -> Option<usize> {
        self.editor.dimensions().map(|(columns, _)| usize::from(columns))
    }
}

fn broken(error: ReadlineError) -> io::Error {
    match error {
        ReadlineError::Io(error) => error,
        other => io::Error::other(other),
    }
}

/// Plain lines: off a pipe, off a terminal without an editor, or out of a test.
pub(crate) struct Plain<R> {
    lines: R,
    shows: Shows,
}

impl<R: BufRead> Plain<R> {
    pub(crate) const fn new(lines: R, shows: Shows) -> Self {
        Self { lines, shows }
    }

    /// The bytes up to the end of the line, and how many there were; of a long line only its beginning is kept.
    fn read(&mut self) -> io::Result<(Vec<u8>, usize)> {
        // No character takes more than four bytes.
        let most = 4 * LONGEST + 2;
        let (mut line, mut read) = (Vec::new(), 0);
        loop {
            let chunk = match self.lines.fill_buf() {
                Ok(chunk) => chunk,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                Err(error) => return Err(error),
            };
            let end = chunk.iter().position(|byte| *byte == b'\n');
            let taken = end.map_or(chunk.len(), |end| end + 1);
            line.extend(chunk.iter().take(taken).take(most.saturating_sub(line.len())));
            self.lines.consume(taken);
            read += taken;
            if taken == 0 || end.is_some() {
                return Ok((line, read));
            }
        }
    }
}

impl<R: BufRead> Lines for Plain<R> {
    fn shows(&self) -> Shows {
        self.shows
    }

    fn next(&mut self, _: Typing) -> io::Result<Heard> {
        let (bytes, read) = self.read()?;
        if read == 0 {
            return Ok(Heard::Ended);
        }
        let text = String::from_utf8_lossy(&bytes);
        let line = text.trim_end_matches(['\n', '\r']);
        if read > bytes.len() || line.chars().nth(LONGEST).is_some() {
            return Ok(Heard::TooLong);
        }
        Ok(Heard::Line(line.to_owned()))
    }

    fn forget_ahead(&mut self) -> io::Result<String> {
        // Without an editor, a terminal gives one line at a time.
        if self.shows == Shows::Line { take_waiting() } else { Ok(String::new()) }
    }

    fn columns(&mut self) -> Option<usize> {
        if self.shows == Shows::Line { columns() } else { None }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{Heard, LONGEST, Lines, Plain, Shows, Typing};

    #[test]
    fn lines_come_one_by_one_and_then_the_end() {
        let mut plain = Plain::new(&b"118\r\n\xff\nlast"[..], Shows::Nothing);
        let mut next = || plain.next(Typing::default()).unwrap();
        assert_eq!(next(), Heard::Line("118".to_owned()));
        assert_eq!(next(), Heard::Line("\u{fffd}".to_owned()));
        assert_eq!(next(), Heard::Line("last".to_owned()));
        assert_eq!(next(), Heard::Ended);
    }

    #[test]
    fn a_line_that_is_too_long_is_refused_whole() {
        let input =
            format!("{}\n{}\n{}\nback\n", "é".repeat(LONGEST), "é".repeat(LONGEST + 1), "x".repeat(100_000));
        let mut plain = Plain::new(input.as_bytes(), Shows::Nothing);
        let mut next = || plain.next(Typing::default()).unwrap();
        assert_eq!(next(), Heard::Line("é".repeat(LONGEST)));
        assert_eq!(next(), Heard::TooLong);
        assert_eq!(next(), Heard::TooLong);
        assert_eq!(next(), Heard::Line("back".to_owned()));
    }
}
