//! A server's address, without what is secret in it, and what its faults mean.

use super::unproved;
use crate::store::fault::Fault;
use postgres::Config;
use postgres::config::Host;
use postgres::error::SqlState;

/// A server, named for whoever has to mend something. The password is not in it.
#[derive(Debug)]
pub(super) struct Guard {
    name: String,
}

impl Guard {
    /// The server that is reached like this.
    pub(super) fn of(config: &Config) -> Self {
        let host = config.get_hosts().first().map_or("this machine".to_owned(), |host| match host {
            Host::Tcp(name) => name.clone(),
            #[cfg(unix)]
            Host::Unix(path) => path.display().to_string(),
        });
        Self { name: format!("`{}` on {host}", config.get_dbname().unwrap_or("the user's own database")) }
    }

    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// What a fault of the server means to whoever has to mend it.
    pub(super) fn fault(&self, error: &postgres::Error) -> Fault {
        let place = self.name.clone();
        let Some(said) = error.as_db_error() else {
            let unproved = unproved::fault(error, &place);
            return unproved.unwrap_or_else(|| Fault::Unreachable { place, why: with_source(error) });
        };
        let why = said.message().to_owned();
        match *said.code() {
            SqlState::DISK_FULL => Fault::Full { place },
            SqlState::INSUFFICIENT_PRIVILEGE | SqlState::READ_ONLY_SQL_TRANSACTION => {
                Fault::ReadOnly { place, why }
            }
            SqlState::DATA_CORRUPTED | SqlState::INDEX_CORRUPTED => Fault::Damaged { place, why },
            SqlState::UNDEFINED_TABLE | SqlState::UNDEFINED_COLUMN | SqlState::DUPLICATE_TABLE => {
                Fault::Foreign { place, what: format!(": {why}") }
            }
            SqlState::ADMIN_SHUTDOWN
            | SqlState::CANNOT_CONNECT_NOW
            | SqlState::INVALID_PASSWORD
            | SqlState::INVALID_AUTHORIZATION_SPECIFICATION
            | SqlState::INVALID_CATALOG_NAME
            | SqlState::TOO_MANY_CONNECTIONS => Fault::Unreachable { place, why },
            _ => Fault::Other { place, why },
        }
    }
}

/// The fault with what lies behind it, which its own words leave out.
pub(super) fn with_source(error: &postgres::Error) -> String {
    match std::error::Error::source(error) {
        Some(source) => format!("{error}: {source}"),
        None => error.to_string(),
    }
}
