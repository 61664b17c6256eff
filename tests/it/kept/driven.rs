//! The program, led prompt by prompt through a pipe.

use super::answerer::Answerer;
use super::on;
use std::ffi::OsStr;
use std::io::{Read as _, Write as _};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::time::Duration;

/// What stands on the screen where a line is waited for.
const PROMPT: &str = "       >  ";

/// A call that runs in the program.
pub(super) struct Driven {
    child: Child,
    keys: Option<ChildStdin>,
    /// What was shown since the last line.
    pub(super) shown: String,
}

/// What came of waiting for the next prompt.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Came {
    /// The next prompt.
    Prompt,
    /// The program ended.
    End,
}

impl Driven {
    /// Starts a command on a log.
    pub(super) fn start(log: impl AsRef<OsStr>, arguments: &[&str]) -> Self {
        let mut command = on(log);
        command.args(arguments);
        Self::of(command)
    }

    /// Starts a command.
    pub(super) fn of(mut command: Command) -> Self {
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let keys = child.stdin.take();
        Self { child, keys, shown: String::new() }
    }

    /// Waits for the next prompt, or the end.
    pub(super) fn wait(&mut self) -> Came {
        self.shown.clear();
        let mut bytes = Vec::new();
        let mut chunk = [0; 4096];
        let screen = self.child.stdout.as_mut().unwrap();
        let came = loop {
            let read = screen.read(&mut chunk).unwrap();
            bytes.extend_from_slice(&chunk[..read]);
            if bytes.ends_with(PROMPT.as_bytes()) {
                break Came::Prompt;
            }
            if read == 0 {
                break Came::End;
            }
        };
        self.shown = String::from_utf8_lossy(&bytes).into_owned();
        came
    }

    /// Types a line. A program that is gone hears nothing.
    pub(super) fn type_line(&mut self, line: &str) {
        let _ = self.keys.as_mut().unwrap().write_all(format!("{line}\n").as_bytes());
    }

    /// Kills it after a while; what it still showed is there.
    pub(super) fn kill(mut self, after: Duration) -> (Came, String) {
        std::thread::sleep(after);
        self.child.kill().unwrap();
        let came = self.wait();
        self.child.wait().unwrap();
        (came, self.shown)
    }

    /// Types what the answerer says until the program ends: what it said at last, and its exit code.
    pub(super) fn lead(mut self, answerer: &mut Answerer) -> (String, Option<i32>) {
        let mut came = self.wait();
        while came == Came::Prompt {
            let Some(typed) = answerer.types() else {
                // At the end Enter closes.
                self.type_line("");
                came = self.wait();
                continue;
            };
            for line in &typed.lines {
                assert_eq!(came, Came::Prompt, "after a step of a deed:\n{}", self.shown);
                self.type_line(line);
                came = self.wait();
            }
            if came == Came::Prompt {
                answerer.take_in(typed.events);
            }
        }
        self.end()
    }

    /// What it said at last, once it has ended, and its exit code.
    pub(super) fn end(mut self) -> (String, Option<i32>) {
        drop(self.keys.take());
        let mut shown = std::mem::take(&mut self.shown);
        self.wait();
        shown.push_str(&self.shown);
        self.child.stderr.take().unwrap().read_to_string(&mut shown).unwrap();
        (shown, self.child.wait().unwrap().code())
    }
}
