//! What has a rule file's name and cannot be read as one: said at once, with exit code 2, and never waited for.

use super::check;
use crate::pond::{File, Folder};
use std::fs::{self, Permissions};
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::os::unix::net::UnixListener;
use std::path::Path;
use std::process::Command;

/// What is said of the base with something more in its folder.
fn said(name: &str, add: impl FnOnce(&Path)) -> String {
    let folder = Folder::new(name, &[]);
    let path = folder.path().join("x.yaml");
    add(&path);
    for asked in [folder.path(), &path] {
        // The folder that is asked for by its name is looked into.
        if asked.is_dir() && asked != folder.path() {
            continue;
        }
        let output = check(&[asked.as_os_str()]);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), output.stdout), (Some(2), Vec::new()), "{said}");
        assert!(said.starts_with("motorwright: ") && said.contains("x.yaml`"), "{said}");
        assert_eq!(said.lines().count(), 1, "{said}");
        if asked == path {
            return said;
        }
    }
    String::from_utf8(check(&[folder.path().as_os_str()]).stderr).unwrap()
}

#[test]
fn a_pipe_is_not_waited_for() {
    let said = said("fifo", |path| {
        assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    });
    assert!(said.ends_with("is no file but a pipe or a device: save its text in a file\n"), "{said}");
}

#[test]
fn a_socket_is_no_file() {
    let said = said("sock", |path| drop(UnixListener::bind(path).unwrap()));
    assert!(said.contains("is no file but a pipe or a device"), "{said}");
}

#[test]
fn a_folder_with_a_files_name_is_told_of() {
    let said = said("folder", |path| fs::create_dir(path).unwrap());
    assert!(said.contains("is a folder with the name of a file: give it another name"), "{said}");
}

#[test]
fn a_link_that_leads_nowhere_round_or_into_a_folder_is_told_of() {
    let nowhere = said("link", |path| symlink("no-such-file", path).unwrap());
    assert!(nowhere.ends_with("is a link that leads nowhere: mend the link, or take it away\n"), "{nowhere}");
    let round = said("round", |path| symlink("x.yaml", path).unwrap());
    assert!(round.contains("cannot read `"), "{round}");
    let up = said("up", |path| symlink("..", path).unwrap());
    assert!(up.contains("is a folder with the name of a file"), "{up}");
}

#[test]
fn a_file_that_nobody_may_read_is_told_of() {
    let folder = Folder::new("locked", &[File::new("x.yaml", *b"deeds: {}\n")]);
    let path = folder.path().join("x.yaml");
    fs::set_permissions(&path, Permissions::from_mode(0o000)).unwrap();
    // Whoever may do everything may read it all the same.
    if fs::read(&path).is_err() {
        let output = check(&[folder.path().as_os_str()]);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains("x.yaml`: ") && said.to_lowercase().contains("permission denied"), "{said}");
    }
}
