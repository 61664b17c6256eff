//! The file of a log: made for its owner alone, looked at before it is trusted, and named in every fault.

use crate::store::Number;
use crate::store::fault::Fault;
use rusqlite::{Connection, ErrorCode};
use std::fs::{self, DirBuilder, OpenOptions};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// The shortest database, in bytes: its header (`SQLite`, "Database File Format", 1.3).
const SHORTEST: u64 = 100;

/// A file, and its name for whoever has to mend something.
#[derive(Clone, Debug)]
pub(super) struct Guard {
    path: PathBuf,
}

impl Guard {
    /// The file at this path, made where there is none; nobody else may read it or its folder.
    pub(super) fn at(path: &Path) -> Result<Self, Fault> {
        let guard = Self { path: path.to_owned() };
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            let mut make = DirBuilder::new();
            make.recursive(true);
            only_for_owner::folder(&mut make);
            make.create(folder).map_err(|error| guard.disk(&error))?;
        }
        let mut make = OpenOptions::new();
        make.write(true).create_new(true);
        only_for_owner::file(&mut make);
        match make.open(path) {
            Ok(_) => Ok(guard),
            Err(error) if error.kind() == ErrorKind::AlreadyExists => guard.looked_at(),
            Err(error) => Err(guard.disk(&error)),
        }
    }

    /// The file at this path, which is there.
    pub(super) fn to_read(path: &Path) -> Result<Self, Fault> {
        Self { path: path.to_owned() }.looked_at()
    }

    /// A file that was there, if it is long enough for a database or empty; what is in it is the database's to judge.
    ///
    /// Its library takes a file of one byte for an empty one, and throws away what stands beside an empty one. The
    /// file is not opened here: closing it would let go of every lock that this process has on it.
    fn looked_at(self) -> Result<Self, Fault> {
        let place = self.name();
        let is = fs::metadata(&self.path).map_err(|error| self.disk(&error))?;
        match is.len() {
            _ if is.is_dir() => Err(Fault::Foreign { place, what: ": it is a folder".to_owned() }),
            0 if self.is_ahead() => {
                let why = "it is empty, and its newest pages still stand beside it".to_owned();
                Err(Fault::Damaged { place, why })
            }
            1..SHORTEST => Err(Fault::Foreign { place, what: ", nor any database".to_owned() }),
            _ => Ok(self),
        }
    }

    /// Whether pages of the file still stand in its write-ahead file.
    pub(super) fn is_ahead(&self) -> bool {
        let mut ahead = self.path.clone().into_os_string();
        ahead.push("-wal");
        fs::metadata(ahead).is_ok_and(|ahead| ahead.len() > 0)
    }

    pub(super) fn name(&self) -> String {
        format!("`{}`", self.path.display())
    }

    pub(super) fn disk(&self, error: &std::io::Error) -> Fault {
        let place = self.name();
        match error.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => Fault::Full { place },
            _ => Fault::ReadOnly { place, why: error.to_string() },
        }
    }

    pub(super) fn foreign(&self) -> Fault {
        Fault::Foreign { place: self.name(), what: ", but another program's database".to_owned() }
    }

    pub(super) fn not_erased(&self, number: Number, fault: &Fault) -> Fault {
        let why = format!(
            "call {number} is gone from the log, but its pages could not be made anew: {fault}. What is left of it there \
             goes when the next call is forgotten"
        );
        Fault::Other { place: self.name(), why }
    }

    pub(super) fn still_read(&self, number: Number) -> Fault {
        let why = format!(
            "call {number} is gone from the log, but another program reads it still, so the write-ahead file could \
             not be emptied. Close that program, then run any command on this log"
        );
        Fault::Other { place: self.name(), why }
    }

    /// Whether the file is as long as it says; while a write-ahead file has pages of it, that is not known.
    pub(super) fn whole(&self, file: &Connection) -> Result<(), Fault> {
        if self.is_ahead() {
            return Ok(());
        }
        let number = |name: &str| -> rusqlite::Result<u64> {
            let number: i64 = file.pragma_query_value(None, name, |row| row.get(0))?;
            Ok(u64::try_from(number).unwrap_or_default())
        };
        let says = number("page_count").and_then(|pages| Ok(pages * number("page_size")?));
        let says = says.map_err(|error| self.fault(&error))?;
        let is = fs::metadata(&self.path).map_err(|error| self.disk(&error))?.len();
        // Another program may have begun to write since.
        if is < says && !self.is_ahead() {
            let why = format!("it is {is} bytes long and should be {says}");
            return Err(Fault::Damaged { place: self.name(), why });
        }
        Ok(())
    }

    /// What a fault of the database means to whoever has to mend it.
    pub(super) fn fault(&self, error: &rusqlite::Error) -> Fault {
        let place = self.name();
        let why = error.to_string();
        // What stands in a column and is none of its kind.
        if matches!(
            error,
            rusqlite::Error::InvalidColumnType(..) | rusqlite::Error::FromSqlConversionFailure(..)
        ) {
            return Fault::Damaged { place, why };
        }
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Fault::Full { place },
            Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                Fault::ReadOnly { place, why }
            }
            Some(ErrorCode::NotADatabase) => Fault::Foreign { place, what: ", nor any database".to_owned() },
            Some(ErrorCode::DatabaseCorrupt) => Fault::Damaged { place, why },
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
                Fault::Busy { place, seconds: super::PATIENCE.as_secs() }
            }
            // A write that the disk refuses is most often one that it has no room for.
            Some(ErrorCode::SystemIoFailure) if self.is_full() => Fault::Full { place },
            _ => Fault::Other { place, why },
        }
    }

    #[cfg(unix)]
    fn is_full(&self) -> bool {
        rustix::fs::statvfs(&self.path).is_ok_and(|disk| disk.f_bavail == 0)
    }

    #[cfg(not(unix))]
    fn is_full(&self) -> bool {
        false
    }
}

#[cfg(unix)]
mod only_for_owner {
    use std::fs::{DirBuilder, OpenOptions};
    use std::os::unix::fs::{DirBuilderExt as _, OpenOptionsExt as _};

    pub(super) fn folder(make: &mut DirBuilder) {
        make.mode(0o700);
    }

    pub(super) fn file(make: &mut OpenOptions) {
        make.mode(0o600);
    }
}

/// Elsewhere a user's data folder is their own already.
#[cfg(not(unix))]
mod only_for_owner {
    use std::fs::{DirBuilder, OpenOptions};

    pub(super) fn folder(_: &mut DirBuilder) {}

    pub(super) fn file(_: &mut OpenOptions) {}
}
