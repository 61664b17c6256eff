//! A server's address, without what is secret in it, and what its faults mean.

use crate::store::fault::Fault;
use postgres::Config;
use postgres::config::Host;
use postgres::error::SqlState;
use std::time::Duration;

/// How long a server may take to answer a first call.
const PATIENCE: Duration = Duration::from_secs(10);

/// A server, named for whoever has to mend something. The password is not in it.
#[derive(Debug)]
pub(super) struct Guard {
    name: String,
}

impl Guard {
    /// How to reach the server of this address, and its name.
    pub(super) fn at(url: &str) -> Result<(Config, Self), Fault> {
        if wants_encryption(url) {
            return Err(Fault::NoEncryption);
        }
        let mut config: Config = url.parse().map_err(|error: postgres::Error| Fault::Unreachable {
            // The address is not shown: there may be a password in it.
            place: "of that address".to_owned(),
            why: format!("{error}; write it as postgres://USER@HOST/DATABASE"),
        })?;
        if config.get_connect_timeout().is_none() {
            config.connect_timeout(PATIENCE);
        }
        config.application_name("motorwright");
        let host = config.get_hosts().first().map_or("this machine".to_owned(), |host| match host {
            Host::Tcp(name) => name.clone(),
            #[cfg(unix)]
            Host::Unix(path) => path.display().to_string(),
        });
        let name = format!("`{}` on {host}", config.get_dbname().unwrap_or("the user's own database"));
        Ok((config, Self { name }))
    }

    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// What a fault of the server means to whoever has to mend it.
    pub(super) fn fault(&self, error: &postgres::Error) -> Fault {
        let place = self.name.clone();
        let Some(said) = error.as_db_error() else {
            return Fault::Unreachable { place, why: with_source(error) };
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

/// Whether the address asks for a connection that nobody can read along.
fn wants_encryption(url: &str) -> bool {
    let asks = |part: &str| matches!(part, "sslmode=require" | "sslmode=verify-ca" | "sslmode=verify-full");
    url.split_once('?').is_some_and(|(_, options)| options.split('&').any(asks))
}

/// The fault with what lies behind it, which its own words leave out.
fn with_source(error: &postgres::Error) -> String {
    match std::error::Error::source(error) {
        Some(source) => format!("{error}: {source}"),
        None => error.to_string(),
    }
}
