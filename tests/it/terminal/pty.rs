//! A terminal with the program on it: keys in, screen out.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// How long something may take to be seen: far longer than any machine needs.
const PATIENCE: Duration = Duration::from_secs(20);
/// Nobody reads an order of a power step and answers it sooner: what comes before that is not taken.
const READ_IN: Duration = Duration::from_millis(110);
/// The rows of a small window.
const ROWS: u16 = 24;
/// Rows kept that have left the window.
const KEPT: usize = 1_000_000;

pub(crate) const ENTER: &str = "\r";
pub(crate) const TAB: &str = "\t";
pub(crate) const CTRL_C: &str = "\u{3}";
pub(crate) const CTRL_D: &str = "\u{4}";

/// What came out of the program so far.
struct Seen {
    parser: vt100::Parser,
    raw: Vec<u8>,
    /// Whether the program may still write.
    open: bool,
}

impl Seen {
    fn contents(&self) -> String {
        self.parser.screen().contents()
    }

    /// The cursor's row, counted from the first row ever written.
    fn row(&self) -> usize {
        let screen = self.parser.screen();
        screen.scrollback_len() + usize::from(screen.cursor_position().0)
    }

    /// Whether the program waits for a line of which nothing is typed yet.
    fn asks(&self) -> bool {
        let (row, column) = self.parser.screen().cursor_position();
        column > 0 && self.rows().nth(usize::from(row)).is_some_and(|row| row.trim() == ">")
    }

    fn rows(&self) -> impl Iterator<Item = String> {
        let screen = self.parser.screen();
        screen.rows(0, screen.size().1.get())
    }
}

/// How a terminal is to be, before the program is started on it.
pub(crate) struct Window {
    size: PtySize,
    command: CommandBuilder,
}

impl Window {
    /// A colour terminal with so many columns.
    pub(crate) fn of(columns: u16) -> Self {
        Self::with(columns, CommandBuilder::new(env!("CARGO_BIN_EXE_motorwright")), &["call"])
    }

    /// The same, with the program started by a line for the shell; `$0` is the program.
    pub(crate) fn by_shell(columns: u16, line: &str) -> Self {
        let arguments = ["-c", line, env!("CARGO_BIN_EXE_motorwright")];
        Self::with(columns, CommandBuilder::new("/bin/sh"), &arguments)
    }

    fn with(columns: u16, mut command: CommandBuilder, arguments: &[&str]) -> Self {
        command.args(arguments);
        // What the tests themselves run under must not show through.
        command.env_clear();
        command.env("TERM", "xterm-256color");
        command.env("MOTORWRIGHT_LOG_TO", "none");
        Self { size: size(ROWS, columns), command }
    }

    pub(crate) fn rows(mut self, rows: u16) -> Self {
        self.size.rows = rows;
        self
    }

    pub(crate) fn env(mut self, name: &str, value: &str) -> Self {
        self.command.env(name, value);
        self
    }

    /// Starts the program, and does not wait.
    pub(crate) fn open(self) -> Terminal {
        let pair = native_pty_system().openpty(self.size).unwrap();
        let child = pair.slave.spawn_command(self.command).unwrap();
        // The program alone holds the other side now: when it ends, reading ends.
        drop(pair.slave);
        let parser = vt100::Parser::new(positive(self.size.rows), positive(self.size.cols), KEPT);
        let seen = Arc::new((Mutex::new(Seen { parser, raw: Vec::new(), open: true }), Condvar::new()));
        let (out, into) = (pair.master.try_clone_reader().unwrap(), Arc::clone(&seen));
        thread::spawn(move || watch(out, &into));
        Terminal { keys: pair.master.take_writer().unwrap(), master: pair.master, child, seen, from: 0 }
    }

    /// Starts the program, waits for its first question, and types these lines.
    pub(crate) fn call(self, lines: &[&str]) -> Terminal {
        let mut terminal = self.open();
        terminal.asked();
        for line in lines {
            terminal.line(line);
        }
        terminal
    }
}

/// Takes in what the program writes, until it writes no more.
fn watch(mut out: Box<dyn Read + Send>, into: &(Mutex<Seen>, Condvar)) {
    let mut bytes = [0; 4096];
    loop {
        // A terminal whose program has ended is told as an error on Linux.
        let read = out.read(&mut bytes).unwrap_or(0);
        let mut seen = into.0.lock().unwrap_or_else(PoisonError::into_inner);
        seen.parser.process(&bytes[..read]);
        seen.raw.extend(&bytes[..read]);
        seen.open = read > 0;
        into.1.notify_all();
        if read == 0 {
            return;
        }
    }
}

/// A terminal with the program on it.
pub(crate) struct Terminal {
    keys: Box<dyn Write + Send>,
    master: Box<dyn MasterPty + Send>,
    child: Box<dyn Child + Send + Sync>,
    seen: Arc<(Mutex<Seen>, Condvar)>,
    /// The row of the newest line that was sent off.
    from: usize,
}

impl Terminal {
    /// Types keys.
    pub(crate) fn keys(&mut self, keys: impl AsRef<[u8]>) {
        self.keys.write_all(keys.as_ref()).unwrap();
        self.keys.flush().unwrap();
    }

    /// Types a line at a prompt, and waits until the next one is asked for.
    pub(crate) fn line(&mut self, line: &str) {
        self.keys(line);
        self.enter();
    }

    /// Sends the line off, and waits until the next one is asked for.
    pub(crate) fn enter(&mut self) {
        self.send(ENTER);
    }

    /// A key that makes the program ask for a line afresh.
    pub(crate) fn send(&mut self, key: &str) {
        let (from, shown) = {
            let seen = self.seen();
            (seen.row(), flat(&seen.contents()))
        };
        self.from = from;
        // What is no reading or choice may be a power step, or a question beside one.
        if !shown.rsplit_once(" TYPE ").is_some_and(|(_, wanted)| wanted.starts_with("a ")) {
            read();
        }
        self.keys(key);
        self.wait("the next prompt", |seen| seen.row() > from && seen.asks());
    }

    /// Waits for a prompt.
    pub(crate) fn asked(&self) {
        self.wait("a prompt", Seen::asks);
    }

    /// Waits until a text stands on the screen, however it is wrapped.
    pub(crate) fn shows(&self, text: &str) {
        self.wait(text, |seen| flat(&seen.contents()).contains(text));
    }

    /// Waits until a prompt comes right after a text.
    pub(crate) fn asks_after(&self, text: &str) {
        let end = format!("{text} >");
        self.wait(&end, |seen| seen.asks() && flat(&seen.contents()).ends_with(&end));
    }

    /// Waits until this is typed at the cursor, whatever hint stands in brackets beside it.
    pub(crate) fn holds(&self, line: &str) {
        self.wait(line, |seen| {
            let row = usize::from(seen.parser.screen().cursor_position().0);
            let row = seen.rows().nth(row).unwrap_or_default();
            let typed = row.trim_start().strip_prefix("> ");
            typed.is_some_and(|typed| typed.split(" [").next().unwrap_or_default().trim() == line)
        });
    }

    /// The screen as it is.
    pub(crate) fn screen(&self) -> String {
        self.seen().contents()
    }

    /// What was written since the newest line was sent off, wrapped lines joined, and what of it has left the window.
    pub(crate) fn fresh(&self) -> String {
        let mut seen = self.seen();
        let screen = seen.parser.screen_mut();
        let (gone, columns) = (screen.scrollback_len(), screen.size().1.get());
        let mut rows = Vec::new();
        for row in self.from + 1..gone {
            screen.set_scrollback(gone - row);
            rows.extend(screen.rows(0, columns).next());
        }
        screen.set_scrollback(0);
        rows.extend(screen.rows(0, columns).skip((self.from + 1).saturating_sub(gone)));
        flat(&rows.join("\n"))
    }

    /// Whether all that was written since then is still in the window.
    pub(crate) fn is_in_the_window(&self) -> bool {
        self.seen().parser.screen().scrollback_len() <= self.from + 1
    }

    /// Whether the terminal itself had to break a line, in the middle of a word for all it knows.
    pub(crate) fn breaks_a_line(&self) -> bool {
        let seen = self.seen();
        let screen = seen.parser.screen();
        (0..screen.size().0.get()).any(|row| screen.row_wrapped(row))
    }

    /// Every byte that the program wrote.
    pub(crate) fn raw(&self) -> String {
        String::from_utf8(self.seen().raw.clone()).unwrap()
    }

    /// Makes the window another size, as a person pulling at its corner does.
    pub(crate) fn resize(&self, rows: u16, columns: u16) {
        let mut seen = self.seen();
        seen.parser.set_size(positive(rows), positive(columns));
        self.master.resize(size(rows, columns)).unwrap();
    }

    /// Waits until the program has ended: its exit code, or nothing where a signal ended it.
    pub(crate) fn ended(&mut self) -> Option<u32> {
        self.wait("the end of the program", |seen| !seen.open);
        let status = self.child.wait().unwrap();
        status.signal().is_none().then(|| status.exit_code())
    }

    fn seen(&self) -> MutexGuard<'_, Seen> {
        self.seen.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait(&self, what: &str, until: impl Fn(&Seen) -> bool) {
        let end = Instant::now() + PATIENCE;
        let mut seen = self.seen();
        while !until(&seen) {
            let left = end.saturating_duration_since(Instant::now());
            let over = !seen.open || left.is_zero();
            assert!(
                !over,
                "waited in vain for `{what}` (program over: {}):\n{}",
                !seen.open,
                seen.contents()
            );
            seen = self.seen.1.wait_timeout(seen, left).unwrap().0;
        }
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        // It may have ended by itself, and then there is nothing to do.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Reads what stands there, for as long as a person needs at least.
pub(crate) fn read() {
    thread::sleep(READ_IN);
}

/// A text with every stretch of blanks and line ends as one blank.
pub(crate) fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

const fn size(rows: u16, cols: u16) -> PtySize {
    PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
}

fn positive(cells: u16) -> NonZeroU16 {
    NonZeroU16::new(cells).unwrap()
}
