//! Rules of another machine than any that is shipped, a pond pump, and files put among them.
//!
//! Nothing that starts from here can lean on a name that the engine knows. A file marks every line that is to be
//! told of with `# <- code`.

use engine::finding::{Finding, Reported};
use engine::rulebook::Rulebook;
use engine::source::Source;
use engine::{check_rules, left_unread, read_rules, unknown_still};
use std::borrow::Cow;
use std::fs;
use std::path::{Path, PathBuf};

const MARK: &str = "# <- ";

/// The first line of a file that takes the place of a file of the base.
const IN_PLACE_OF: &str = "# in place of ";

/// A file by its name and its text.
#[derive(Clone)]
pub(crate) struct File {
    pub(crate) name: String,
    pub(crate) bytes: Vec<u8>,
}

impl File {
    pub(crate) fn new(name: &str, bytes: impl Into<Vec<u8>>) -> Self {
        Self { name: name.to_owned(), bytes: bytes.into() }
    }

    pub(crate) fn text(&self) -> Cow<'_, str> {
        String::from_utf8_lossy(&self.bytes)
    }

    pub(crate) fn source(&self) -> Result<Source, Reported> {
        Source::new(&self.name, &self.bytes)
    }

    /// The lines that are to be told of, with their codes.
    pub(crate) fn marks(&self) -> Vec<(usize, String)> {
        let text = self.text();
        let marked =
            (1..).zip(text.lines()).filter_map(|(line, text)| Some((line, text.split_once(MARK)?.1)));
        marked.flat_map(|(line, codes)| codes.split(", ").map(move |code| (line, code.to_owned()))).collect()
    }

    /// The file of the base whose place it takes: the one that its first line names, or the one of its name.
    fn replaces(&self) -> String {
        let text = self.text();
        let named = text.lines().next().and_then(|line| line.strip_prefix(IN_PLACE_OF));
        named.unwrap_or(&self.name).to_owned()
    }
}

/// The files of a folder below `tests/it/wrong`, in order.
pub(crate) fn files(folder: &str) -> Vec<File> {
    crate::house::files(&format!("tests/it/wrong/{folder}"), "yaml")
        .iter()
        .map(|path| File::new(path.file_name().unwrap().to_str().unwrap(), fs::read(path).unwrap()))
        .collect()
}

/// The base with files in it: each takes the place of one of the base, or is added.
pub(crate) fn base_with(added: &[File]) -> Vec<File> {
    let mut all = files("base");
    for file in added {
        match all.iter().position(|other| other.name == file.replaces()) {
            Some(place) => all[place] = file.clone(),
            None => all.push(file.clone()),
        }
    }
    all
}

fn read(files: &[File]) -> Result<Rulebook, Reported> {
    let sources: Result<Vec<_>, _> = files.iter().map(File::source).collect();
    read_rules(sources?)
}

/// Everything that is found in rules: errors, warnings and notes.
pub(crate) fn found(files: &[File]) -> Vec<Finding> {
    let sources: Result<Vec<_>, _> = files.iter().map(File::source).collect();
    match sources {
        Ok(sources) => {
            let read =
                |source: &Source| Path::new(source.name()).extension().is_some_and(|end| end == "yaml");
            let (rules, others): (Vec<_>, Vec<_>) = sources.into_iter().partition(read);
            let unread = left_unread(&others);
            let is_told =
                |other: &Source| unread.iter().any(|finding| finding.place().source().name() == other.name());
            let more: Vec<Source> = others.into_iter().filter(is_told).collect();
            let found = check_rules(rules.clone()).findings;
            [unread, unknown_still(found, rules, more)].concat()
        }
        Err(reported) => reported.into_findings(),
    }
}

pub(crate) fn base() -> Rulebook {
    read(&files("base")).unwrap()
}

/// The base with files in it, as a rulebook.
pub(crate) fn book_with(added: &[File]) -> Rulebook {
    read(&base_with(added)).unwrap_or_else(|reported| panic!("{reported}"))
}

pub(crate) fn shown(found: &[Finding]) -> String {
    let shown: Vec<_> = found.iter().map(Finding::with_source).collect();
    shown.join("\n")
}

/// The base with its trees replaced by one: it asks of danger, goes on at a step, and has these readings besides.
pub(crate) fn with_tree(first: &str, steps: &str, readings: &str) -> Rulebook {
    let danger = "  danger:\n    ask: danger_at_pump\n    because: Nobody goes near what can hurt.\n    answers:\n      \
                  - {is: none, means: it is safe to go on, go: FIRST}\n      \
                  - {is: [shock, flood], means: it can hurt, end: keep-away}\n    cannot: {end: keep-away}\n";
    let danger = danger.replace("FIRST", first);
    let mut files = files("base");
    files.retain(|file| !["pump.yaml", "water.yaml"].contains(&file.name.as_str()));
    files.push(File::new(
        "pump.yaml",
        format!("tree: pump\nname: made\nstart: danger\nsteps:\n{danger}{steps}"),
    ));
    files.push(File::new("made.yaml", readings));
    read(&files).unwrap_or_else(|reported| panic!("{reported}"))
}

/// The base with files in it, on the disk for as long as a test lasts.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new(name: &str, added: &[File]) -> Self {
        let folder = Self(std::env::temp_dir().join(format!("motorwright-{name}-{}", std::process::id())));
        fs::create_dir_all(&folder.0).unwrap();
        for file in base_with(added) {
            folder.save(&file);
        }
        folder
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }

    pub(crate) fn save(&self, file: &File) {
        fs::write(self.0.join(&file.name), &file.bytes).unwrap();
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be removed is left to whoever clears the temporary folder.
        let _ = fs::remove_dir_all(&self.0);
    }
}
