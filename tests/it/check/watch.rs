//! `--watch`: shown again at every save, whatever happens to the files meanwhile.

use super::{error, note, warning};
use crate::pond::{File, Folder};
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// Far longer than a look takes, on any machine.
const LONG: Duration = Duration::from_secs(30);
/// Some looks.
const A_WHILE: Duration = Duration::from_millis(1_200);

/// A program that watches a folder, and the lines that it shows.
struct Watching {
    program: Child,
    lines: Receiver<String>,
}

impl Watching {
    fn of(folder: &Path) -> Self {
        let mut program = crate::house::program()
            .arg("check")
            .arg(folder)
            .arg("--watch")
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (send, lines) = channel();
        let out = BufReader::new(program.stdout.take().unwrap());
        std::thread::spawn(move || out.lines().map_while(Result::ok).try_for_each(|line| send.send(line)));
        Self { program, lines }
    }

    /// What is shown up to the line that has this in it.
    fn until(&self, wanted: &str) -> String {
        let mut shown = String::new();
        while !shown.lines().next_back().is_some_and(|line| line.contains(wanted)) {
            let line = self.lines.recv_timeout(LONG).unwrap_or_else(|_| panic!("no {wanted:?} in:\n{shown}"));
            shown.push_str(&line);
            shown.push('\n');
        }
        shown
    }

    fn is_silent(&self) {
        let line = self.lines.recv_timeout(A_WHILE);
        assert!(line.is_err(), "{line:?}");
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

const CLEAN: &str = "endings: nothing found";

#[test]
fn a_save_is_shown_and_nothing_else_is() {
    let folder = Folder::new("watch", &[]);
    let watching = Watching::of(folder.path());
    watching.until(CLEAN);
    folder.save(&note());
    let shown = watching.until("1 note");
    assert!(shown.starts_with("\n---\n\n") && shown.contains("unused-reading"), "{shown}");
    watching.until("explain CODE");
    // Saved again with the same text.
    folder.save(&note());
    watching.is_silent();
    fs::remove_file(folder.path().join(note().name)).unwrap();
    watching.until(CLEAN);
}

#[test]
fn a_file_that_is_gone_while_it_is_saved_is_no_change() {
    let folder = Folder::new("watch-gone", &[]);
    let watching = Watching::of(folder.path());
    watching.until(CLEAN);
    let file = folder.path().join("water.yaml");
    for _ in 0..5 {
        let text = fs::read(&file).unwrap();
        fs::remove_file(&file).unwrap();
        fs::write(&file, text).unwrap();
    }
    watching.is_silent();
}

#[test]
fn what_cannot_be_read_is_said_and_the_watch_goes_on() {
    let folder = Folder::new("watch-unreadable", &[]);
    let watching = Watching::of(folder.path());
    watching.until(CLEAN);
    let link = folder.path().join("lost.yaml");
    std::os::unix::fs::symlink("nowhere", &link).unwrap();
    let shown = watching.until("cannot read");
    assert!(shown.contains("lost.yaml"), "{shown}");
    fs::remove_file(&link).unwrap();
    watching.until(CLEAN);
    folder.save(&File::new("garbled.yaml", *b"readings: \xff\xfe\x00"));
    watching.until("not-text");
    watching.until("explain CODE");
    fs::remove_file(folder.path().join("garbled.yaml")).unwrap();
    watching.until(CLEAN);
    let away = folder.path().with_extension("away");
    fs::rename(folder.path(), &away).unwrap();
    watching.until("cannot read");
    fs::rename(&away, folder.path()).unwrap();
    watching.until(CLEAN);
    folder.save(&File::new("water.yaml", error().bytes));
    watching.until("1 error;");
    folder.save(&File::new("water.yaml", warning().bytes));
    watching.until("1 warning");
}

/// Ctrl-C ends it at once, behind the last whole screen.
#[test]
fn it_is_stopped_by_an_interrupt() {
    use std::os::unix::process::ExitStatusExt;
    let folder = Folder::new("watch-stopped", &[note()]);
    let mut watching = Watching::of(folder.path());
    watching.until("explain CODE");
    let id = watching.program.id().to_string();
    assert!(Command::new("kill").args(["-INT", &id]).status().unwrap().success());
    let ended = watching.program.wait().unwrap();
    assert_eq!(ended.signal(), Some(2), "{ended:?}");
    assert!(watching.lines.recv_timeout(LONG).is_err());
}

#[test]
fn there_is_nothing_to_watch_in_the_rules_built_in() {
    for words in [&["--watch"][..], &["no-such-folder", "--watch"]] {
        let output = crate::house::program().arg("check").args(words).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{words:?}");
    }
}
