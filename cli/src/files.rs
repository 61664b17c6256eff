//! Finding and reading rule and case files.

use crate::failure::Failure;
use engine::finding::{Findings, Reported};
use engine::source::{MOST_BYTES, Source};
use std::fs::{self, File, Metadata};
use std::io::{ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};

/// Bytes of a file that is not read that are looked at to see what it is.
const MOST_OF_HEAD: u64 = 4096;

/// Every `.yaml` file below a folder, in order; a file stands for itself.
pub(crate) fn yaml_below(path: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut found = Vec::new();
    if fs::metadata(path).map_err(|error| unseen(path, error))?.is_dir() {
        collect(path, is_yaml, &mut found)?;
        found.sort();
        if found.is_empty() {
            return Err(Failure::NoYaml(path.to_owned()));
        }
    } else {
        found.push(path.to_owned());
    }
    Ok(found)
}

/// How the other files below a folder begin, in order: as far as the last whole line that is looked at. What the disk
/// does not give is none of ours.
pub(crate) fn heads_of_others(path: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, Failure> {
    let mut found = Vec::new();
    if path.is_dir() {
        let is_another = |path: &Path| !is_yaml(path) && path.is_file();
        collect(path, is_another, &mut found)?;
        found.sort();
    }
    let head = |path: PathBuf| {
        let mut bytes = Vec::new();
        File::open(&path).ok()?.take(MOST_OF_HEAD).read_to_end(&mut bytes).ok()?;
        let whole = bytes.iter().rposition(|byte| *byte == b'\n').unwrap_or_default();
        bytes.truncate(whole);
        Some((path, bytes))
    };
    Ok(found.into_iter().filter_map(head).collect())
}

/// Those of them that are text.
pub(crate) fn heads_as_sources(heads: &[(PathBuf, Vec<u8>)]) -> Vec<Source> {
    heads.iter().filter_map(|(path, head)| Source::new(path.display().to_string(), head).ok()).collect()
}

fn is_yaml(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml")
}

/// Whether an editor or the system keeps it for itself, by its name.
fn is_of_a_program(path: &Path) -> bool {
    let name = path.file_name().map(|name| name.to_string_lossy());
    name.is_some_and(|name| name.starts_with('.') || name.ends_with('~'))
}

fn collect(folder: &Path, is_one: fn(&Path) -> bool, found: &mut Vec<PathBuf>) -> Result<(), Failure> {
    for entry in fs::read_dir(folder).map_err(|error| Failure::read(folder, error))? {
        let entry = entry.map_err(|error| Failure::read(folder, error))?;
        let path = entry.path();
        if is_of_a_program(&path) {
            continue;
        }
        // A link is not followed into a folder: it could lead round in a circle.
        // A folder with a file's name is told of when it is read: it was surely not meant to be one.
        if is_one(&path) {
            found.push(path);
        } else if entry.file_type().map_err(|error| Failure::read(&path, error))?.is_dir() {
            collect(&path, is_one, found)?;
        }
    }
    Ok(())
}

/// Reads files as text, and reports every one that is not.
pub(crate) fn read(paths: &[PathBuf]) -> Result<Vec<Source>, Failure> {
    let mut findings = Findings::new();
    let mut sources = Vec::with_capacity(paths.len());
    for path in paths {
        sources.extend(findings.keep(source(path)?));
    }
    findings.finish()?;
    Ok(sources)
}

/// Reads one file. The outer error is the disk's, the inner one the text's.
///
/// Only files are opened: a pipe would be waited for, a device might never end. Of one that is too large only the
/// beginning is read.
pub(crate) fn source(path: &Path) -> Result<Result<Source, Reported>, Failure> {
    let fails = |error| Failure::read(path, error);
    let what = fs::metadata(path).map_err(|error| unseen(path, error))?;
    if !what.is_file() {
        return Err(no_file(path, &what));
    }
    let name = path.display().to_string();
    let most = MOST_BYTES as u64;
    let mut bytes = Vec::new();
    // A file may grow while it is read.
    File::open(path).map_err(fails)?.take(most + 1).read_to_end(&mut bytes).map_err(fails)?;
    if what.len() > most {
        return Ok(Err(Source::too_large(name, &bytes, what.len())));
    }
    Ok(Source::new(name, bytes))
}

/// Why nothing is known of a path: a link may lead nowhere.
fn unseen(path: &Path, error: std::io::Error) -> Failure {
    let is_link = fs::symlink_metadata(path).is_ok_and(|what| what.is_symlink());
    if is_link && error.kind() == ErrorKind::NotFound {
        let (is, mend) = ("is a link that leads nowhere", "mend the link, or take it away");
        return Failure::NoFile { path: path.to_owned(), is, mend };
    }
    Failure::read(path, error)
}

fn no_file(path: &Path, what: &Metadata) -> Failure {
    let (is, mend) = if what.is_dir() {
        ("is a folder with the name of a file", "give it another name, or move what is in it")
    } else {
        ("is no file but a pipe or a device", "save its text in a file")
    };
    Failure::NoFile { path: path.to_owned(), is, mend }
}

/// Writes a whole file, or leaves what was there as it was: under another name beside it first.
pub(crate) fn write_whole(path: &Path, text: &str) -> Result<(), Failure> {
    let fails = |error| Failure::Write { path: path.to_owned(), error };
    // Through a link, to where it leads; a device or a pipe takes the text as it comes.
    let target = match fs::canonicalize(path) {
        Ok(target) if target.is_file() => target,
        Ok(_) => return fs::write(path, text).map_err(fails),
        Err(_) => path.to_owned(),
    };
    let mut beside = target.clone().into_os_string();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = PathBuf::from(beside);
    let written = File::create_new(&beside).and_then(|mut file| {
        if let Ok(before) = fs::metadata(&target) {
            file.set_permissions(before.permissions())?;
        }
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        fs::rename(&beside, &target)
    });
    written.map_err(|error| {
        // Where it cannot even be taken away, the fault that is told is still the first.
        let _ = fs::remove_file(&beside);
        fails(error)
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::write_whole;
    use std::fs;
    use std::path::Path;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_is_written_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("page.html");
        for text in ["one", "two"] {
            write_whole(&path, text).unwrap();
            assert_eq!(fs::read_to_string(&path).unwrap(), text);
        }
        assert_eq!(names(folder.path()), ["page.html"]);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_one_and_a_device_is_no_file_to_be_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let [page, link] = ["page.html", "link.html"].map(|name| folder.path().join(name));
        fs::write(&page, "old").unwrap();
        std::os::unix::fs::symlink(&page, &link).unwrap();
        write_whole(&link, "new").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&page).unwrap(), "new");
        write_whole(Path::new("/dev/null"), "gone").unwrap();
        assert!(!fs::metadata("/dev/null").unwrap().is_file());
    }

    #[test]
    fn where_it_cannot_be_written_nothing_is_left() {
        let folder = tempfile::tempdir().unwrap();
        assert!(write_whole(&folder.path().join("missing/page.html"), "x").is_err());
        assert_eq!(names(folder.path()), [""; 0]);
    }
}
