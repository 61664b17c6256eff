//! A server's address, as `libpq` reads one: what of it says how the connection is kept from others.
//!
//! The library for servers knows no proof of who answers, so `sslmode` and `sslrootcert` are read here (`PostgreSQL`,
//! "SSL Support" in the chapter on `libpq`). Without a mode it is `prefer`, so that an address means here what it means to `psql`.

use crate::store::fault::Fault;
use percent_encoding::percent_decode_str;
use postgres::Config;
use postgres::config::{Host, SslMode};
use std::borrow::Cow;
use std::path::PathBuf;
use std::time::Duration;

/// How long a server may take to answer a first call.
const PATIENCE: Duration = Duration::from_secs(10);

/// What an address may ask for, weakest first.
const MODES: &str = "disable, prefer, require, verify-ca or verify-full";

/// How to reach a server, and what the way to it has to be.
#[derive(Clone, Debug)]
pub(super) struct Address {
    pub(super) config: Config,
    pub(super) link: Link,
}

/// How the connection is kept from others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Link {
    /// Anybody on the way can read it; or it does not leave this machine.
    Plain,
    /// Encrypted where the server can, in plain where it cannot.
    EncryptedIfItCan,
    /// Encrypted, whoever answers.
    Encrypted,
    /// Encrypted, with a server whose certificate one of these signed, whatever its name.
    Signed(Roots),
    /// Encrypted, with a server whose certificate one of these signed, and made out to the name in the address.
    SignedAndNamed(Roots),
}

/// Whose signature is good.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Roots {
    /// Those in a file.
    File(PathBuf),
    /// Those that this machine trusts.
    System,
}

impl Address {
    /// # Errors
    /// It cannot be read, or asks for what there is not.
    pub(super) fn read(url: &str) -> Result<Self, Fault> {
        let mut asked = Asked::default();
        let plain = asked.taken_out_of(url)?;
        let mut config: Config = plain.parse().map_err(|error: postgres::Error| Fault::Address {
            // The address is not shown: there may be a password in it.
            why: format!("{}; write it as postgres://USER@HOST/DATABASE", super::guard::with_source(&error)),
        })?;
        if config.get_connect_timeout().is_none() {
            config.connect_timeout(PATIENCE);
        }
        config.application_name("motorwright");
        if config.get_hosts().is_empty() {
            let numbers: Vec<String> = config.get_hostaddrs().iter().map(ToString::to_string).collect();
            for number in numbers {
                config.host(&number);
            }
        }
        let link = if is_of_this_machine(&config) { Link::Plain } else { asked.link()? };
        config.ssl_mode(match link {
            Link::Plain => SslMode::Disable,
            Link::EncryptedIfItCan => SslMode::Prefer,
            Link::Encrypted | Link::Signed(_) | Link::SignedAndNamed(_) => SslMode::Require,
        });
        Ok(Self { config, link })
    }
}

/// Whether it names nothing but sockets, which nobody on a network can read: there a mode means nothing.
fn is_of_this_machine(config: &Config) -> bool {
    let mut hosts = config.get_hosts().iter();
    config.get_hostaddrs().is_empty() && hosts.all(|host| !matches!(host, Host::Tcp(_)))
}

/// The options of an address that are read here.
#[derive(Default)]
struct Asked {
    mode: Option<String>,
    roots: Option<String>,
}

impl Asked {
    /// Takes them out of an address.
    fn taken_out_of<'u>(&mut self, url: &'u str) -> Result<Cow<'u, str>, Fault> {
        // As the library reads it: whatever comes before an `@` is the user and the password.
        let host = url.find('@').unwrap_or(0);
        let Some(from) = url.get(host..).and_then(|rest| rest.find('?')).map(|found| host + found) else {
            return Ok(url.into());
        };
        let (before, options) = url.split_at(from);
        let mut others = Vec::new();
        for option in options.trim_start_matches('?').split('&') {
            let (name, value) = option.split_once('=').unwrap_or((option, ""));
            let value = || percent_decode_str(value).decode_utf8_lossy().into_owned();
            match &*percent_decode_str(name).decode_utf8_lossy() {
                "sslmode" => self.mode = Some(value()),
                "sslrootcert" => self.roots = Some(value()),
                "sslnegotiation" => others.push(option),
                name if name.starts_with("ssl") => {
                    let why =
                        format!("this program knows no `{name}`, only sslmode and sslrootcert: leave it out");
                    return Err(Fault::Address { why });
                }
                _ => others.push(option),
            }
        }
        let mark = if others.is_empty() { "" } else { "?" };
        Ok(format!("{before}{mark}{}", others.join("&")).into())
    }

    fn link(self) -> Result<Link, Fault> {
        let refused = |why: String| Err(Fault::Address { why });
        let roots = match self.roots.as_deref() {
            None | Some("") => None,
            Some("system") => Some(Roots::System),
            Some(file) => Some(Roots::File(file.into())),
        };
        match (self.mode.as_deref(), roots) {
            // Anybody can have a certificate that those sign: without its name it proves nothing.
            (None | Some("verify-full"), Some(Roots::System)) => Ok(Link::SignedAndNamed(Roots::System)),
            (Some(mode), Some(Roots::System)) => refused(format!(
                "sslmode={mode} proves nothing with sslrootcert=system, since anybody can have a certificate that those \
                 sign: write sslmode=verify-full"
            )),
            (Some("disable"), None) => Ok(Link::Plain),
            (None | Some("prefer"), None) => Ok(Link::EncryptedIfItCan),
            (mode @ (None | Some("disable" | "prefer")), Some(_)) => refused(format!(
                "it names a certificate (sslrootcert), and with sslmode={} that would prove nothing: write \
                 sslmode=verify-full",
                mode.unwrap_or("prefer, as it is where none is named,")
            )),
            // A file that proves whom one speaks to is looked at, as `libpq` does.
            (Some("require"), roots) => {
                let roots = roots.or_else(|| usual().filter(|file| file.is_file()).map(Roots::File));
                Ok(roots.map_or(Link::Encrypted, Link::Signed))
            }
            (Some("verify-ca"), roots) => or_usual(roots).map(Link::Signed),
            (Some("verify-full"), roots) => or_usual(roots).map(Link::SignedAndNamed),
            (Some("allow"), _) => refused(format!(
                "sslmode=allow is not known here, as it encrypts only what is refused in plain: write {MODES}"
            )),
            (Some(mode), _) => refused(format!("there is no sslmode `{mode}`: write {MODES}")),
        }
    }
}

/// The named roots, or those in the user's own file, where `libpq` looks for them.
fn or_usual(roots: Option<Roots>) -> Result<Roots, Fault> {
    let usual = || usual().filter(|file| file.is_file()).map(Roots::File);
    roots.or_else(usual).ok_or_else(|| Fault::Address {
        why: "it asks whose certificate the server has (sslmode), and names none to hold it against: add \
              sslrootcert=FILE with the certificate of whoever signed the server's, or sslrootcert=system for those that \
              this machine trusts"
            .to_owned(),
    })
}

fn usual() -> Option<PathBuf> {
    let folder = if cfg!(windows) {
        PathBuf::from(std::env::var_os("APPDATA")?).join("postgresql")
    } else {
        etcetera::home_dir().ok()?.join(".postgresql")
    };
    Some(folder.join("root.crt"))
}

#[cfg(test)]
mod tests;
