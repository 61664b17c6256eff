//! Opening a file: it is made or brought up to date; or only read, where nothing can be written.

use super::guard::Guard;
use super::turn::waits_its_turn;
use super::{Sql, Sqlite};
use crate::store::fault::Fault;
use crate::store::schema;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_encode};
use rusqlite::{Connection, MAIN_DB, OpenFlags, Transaction, params};
use std::path::{Path, PathBuf};

/// What may stand in a file's address as it is.
const PLAIN: &AsciiSet = &NON_ALPHANUMERIC.remove(b'/').remove(b'.').remove(b'-').remove(b'_').remove(b':');

impl Sqlite {
    /// Opens a log, and makes it where there is no file. Only its owner may read it.
    pub(crate) fn open(path: &Path) -> Result<Self, Fault> {
        let guard = Guard::at(path)?;
        let path = from_root(path, &guard)?;
        let file = Connection::open(path).map_err(|error| guard.fault(&error))?;
        let mut log = Self::waiting(file, guard)?;
        log.set_up()?;
        Ok(log)
    }

    /// Opens a log that cannot be written, to read it. Nothing is made and nothing is changed.
    pub(crate) fn open_to_read(path: &Path) -> Result<Self, Fault> {
        let guard = Guard::to_read(path)?;
        let path = from_root(path, &guard)?;
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        // As others see it, with what they write now. That takes files beside it, which may not be there.
        let shared = Connection::open_with_flags(&path, flags)
            .map_err(|error| guard.fault(&error))
            .and_then(|file| Self::waiting(file, guard.clone())?.checked());
        match shared {
            Err(Fault::ReadOnly { .. }) if guard.is_ahead() => {
                // What the file alone says would be less than was written down.
                return Err(Fault::Ahead { place: guard.name() });
            }
            Err(Fault::ReadOnly { .. }) => {}
            other => return other,
        }
        // All of it is in the file, and nobody writes to it from here: it is read as it lies.
        let address = format!("file:{}?immutable=1", address(&path));
        let file = Connection::open_with_flags(address, flags | OpenFlags::SQLITE_OPEN_URI);
        Self::waiting(file.map_err(|error| guard.fault(&error))?, guard)?.checked()
    }

    fn waiting(mut file: Connection, guard: Guard) -> Result<Self, Fault> {
        file.busy_handler(Some(waits_its_turn())).map_err(|error| guard.fault(&error))?;
        Ok(Self { file, guard })
    }

    /// The steps that its tables still need; a fault where it is no log, or none for this program.
    fn needs(&self) -> Result<&'static [&'static str], Fault> {
        let ready = |file: &Connection| -> Sql<(i64, i64, i64)> {
            let number = |name: &str| file.pragma_query_value(None, name, |row| row.get(0));
            // Another seat may make the tables in between: whose they are is read once there are any.
            Ok((number("schema_version")?, number("application_id")?, number("user_version")?))
        };
        let (made, application, schema) = self.ask(ready)?;
        if application != schema::APPLICATION && (application != 0 || made != 0) {
            return Err(self.guard.foreign());
        }
        self.guard.whole(&self.file)?;
        let program = || {
            let program = self.file.query_row("SELECT program FROM about", [], |row| row.get(0));
            program.unwrap_or_else(|_| "a later version".to_owned())
        };
        schema::steps(&schema::SQLITE, schema, program, &self.guard.name())
    }

    fn set_up(&mut self) -> Result<(), Fault> {
        // The library opens a file that cannot be written too, and finds out at the first word.
        if self.ask(|file| file.is_readonly(MAIN_DB))? {
            let why = "it lies where things can only be read".to_owned();
            return Err(Fault::ReadOnly { place: self.guard.name(), why });
        }
        let made_anew = !self.needs()?.is_empty();
        self.ask(|file| {
            file.pragma_update(None, "journal_mode", "WAL")?;
            file.pragma_update(None, "synchronous", "FULL")?;
            file.pragma_update(None, "foreign_keys", true)?;
            // What is erased is written over.
            file.pragma_update(None, "secure_delete", true)?;
            file.pragma_update(None, "trusted_schema", false)
        })?;
        if made_anew {
            self.write(migrate)?;
        }
        Ok(())
    }

    /// Itself, if it can be read as it is.
    fn checked(self) -> Result<Self, Fault> {
        if !self.needs()?.is_empty() {
            return Err(Fault::Older { place: self.guard.name() });
        }
        self.ask(|file| {
            file.pragma_update(None, "query_only", true)?;
            file.pragma_update(None, "trusted_schema", false)
        })?;
        Ok(self)
    }
}

/// From the root, it is a file's name whatever it is: `:memory:` and `file:…` say something else to the library.
fn from_root(path: &Path, guard: &Guard) -> Result<PathBuf, Fault> {
    std::path::absolute(path).map_err(|error| guard.disk(&error))
}

/// A path from the root as it stands in an address.
fn address(path: &Path) -> String {
    let path = percent_encode(path.as_os_str().as_encoded_bytes(), PLAIN).to_string();
    if cfg!(windows) { format!("/{}", path.replace("%5C", "/")) } else { path }
}

/// Brings the tables up to this program's schema. Another seat may have been faster.
fn migrate(file: &Transaction<'_>) -> Sql<()> {
    let found: i64 = file.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let done = usize::try_from(found).unwrap_or(usize::MAX);
    for step in schema::SQLITE.get(done..).unwrap_or_default() {
        file.execute_batch(step)?;
    }
    file.execute("UPDATE about SET schema = ?1, program = ?2", params![schema::NOW, schema::PROGRAM])?;
    file.pragma_update(None, "application_id", schema::APPLICATION)?;
    file.pragma_update(None, "user_version", schema::NOW)
}
