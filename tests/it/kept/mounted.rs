//! Folders that a test mounts for itself: as root only.

use crate::skipped::not_allowed;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A folder with something mounted on it, until it is dropped.
pub(super) struct Mounted {
    folder: TempDir,
}

impl Mounted {
    /// A small disk in memory; none where the test has to be skipped.
    pub(super) fn disk(test: &str, bytes: u32) -> Option<Self> {
        let size = format!("size={bytes}");
        Self::mount(test, tempfile::tempdir().unwrap(), &["-t", "tmpfs", "-o", &size, "tmpfs"])
    }

    /// A folder that was filled before and cannot be written any more; none where the test has to be skipped.
    pub(super) fn read_only(test: &str, fill: impl FnOnce(&Path)) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        fill(folder.path());
        let itself = folder.path().display().to_string();
        let mounted = Self::mount(test, folder, &["--bind", &itself])?;
        let mount = Command::new("mount").args(["-o", "remount,ro,bind"]).arg(mounted.path()).status();
        assert!(mount.unwrap().success());
        Some(mounted)
    }

    fn mount(test: &str, folder: TempDir, arguments: &[&str]) -> Option<Self> {
        let mount = Command::new("mount").args(arguments).arg(folder.path()).output();
        if mount.is_ok_and(|mount| mount.status.success()) {
            return Some(Self { folder });
        }
        not_allowed(test, "nothing can be mounted here; run as root, where mounting is allowed");
        None
    }

    pub(super) fn path(&self) -> &Path {
        self.folder.path()
    }

    pub(super) fn log(&self) -> PathBuf {
        self.path().join("calls.db")
    }
}

impl Drop for Mounted {
    fn drop(&mut self) {
        // What stays mounted only stays in memory.
        let _ = Command::new("umount").arg("--lazy").arg(self.path()).status();
    }
}
