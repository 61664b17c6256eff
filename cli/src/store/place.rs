//! Where the call log is.

use super::Store;
use super::fault::Fault;
use super::postgres::Postgres;
use super::sqlite::Sqlite;
use etcetera::BaseStrategy as _;
use std::ffi::OsStr;
use std::path::PathBuf;

/// What is written where nothing is to be kept; a file of that name is `./none`.
const NOWHERE: &str = "none";

/// Where calls are written down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// In a file of this machine.
    File(PathBuf),
    /// On a `PostgreSQL` server; the whole address, with what may be secret in it.
    Server(String),
}

/// A log that was opened to look something up.
pub(crate) struct Opened {
    pub(crate) log: Box<dyn Store>,
    /// Why nothing can be written to it, where it is so.
    pub(crate) why_only_read: Option<Fault>,
}

impl Place {
    /// The place of this name: an address that begins with `postgres://`, or else a file.
    fn named(name: &OsStr) -> Self {
        match name.to_str() {
            Some(url) if url.starts_with("postgres://") || url.starts_with("postgresql://") => {
                Self::Server(url.to_owned())
            }
            _ => Self::File(name.into()),
        }
    }

    /// The place that was named; none for `none`; the usual one where nothing was named.
    pub(crate) fn chosen(name: Option<&OsStr>) -> Result<Option<Self>, Fault> {
        match name {
            Some(name) if name == NOWHERE => Ok(None),
            Some(name) if name.is_empty() => Err(Fault::NoName),
            Some(name) => Ok(Some(Self::named(name))),
            None => Self::usual().map(Some),
        }
    }

    /// The file in the user's data folder.
    fn usual() -> Result<Self, Fault> {
        let folders = etcetera::choose_base_strategy().map_err(|_| Fault::NoHome)?;
        Ok(Self::File(folders.data_dir().join("motorwright").join("calls.db")))
    }

    /// Opens the log, if there is one: to look something up, none is made.
    pub(crate) fn open_existing(&self) -> Result<Option<Box<dyn Store>>, Fault> {
        match self {
            Self::File(path) if !path.try_exists().unwrap_or(true) => Ok(None),
            _ => self.open().map(Some),
        }
    }

    /// Opens the log, if there is one, for a command that only looks things up: also where nothing can be written.
    pub(crate) fn open_to_read(&self) -> Result<Option<Opened>, Fault> {
        match self.open_existing() {
            Ok(log) => Ok(log.map(|log| Opened { log, why_only_read: None })),
            Err(why @ (Fault::ReadOnly { .. } | Fault::Full { .. })) => self.only_read(why).map(Some),
            Err(fault) => Err(fault),
        }
    }

    fn only_read(&self, why: Fault) -> Result<Opened, Fault> {
        let Self::File(path) = self else { return Err(why) };
        match Sqlite::open_to_read(path) {
            Ok(log) => Ok(Opened { log: Box::new(log), why_only_read: Some(why) }),
            // It can be read no more than it can be written; or it was never made, for want of room.
            Err(Fault::ReadOnly { .. } | Fault::Full { .. }) => Err(why),
            Err(_) if matches!(why, Fault::Full { .. }) => Err(why),
            Err(fault) => Err(fault),
        }
    }

    /// Opens the log, and makes it where there is none.
    pub(crate) fn open(&self) -> Result<Box<dyn Store>, Fault> {
        Ok(match self {
            Self::File(path) => Box::new(Sqlite::open(path)?),
            Self::Server(url) => Box::new(Postgres::open(url)?),
        })
    }
}

/// Without what may be secret in a server's address.
impl std::fmt::Display for Place {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::File(path) => write!(out, "`{}`", path.display()),
            Self::Server(_) => write!(out, "the server"),
        }
    }
}
