//! Encrypted connections to a server, and the proof of who answers: against a real server, and by what that one says.

use super::driven::{Came, Driven};
use super::on;
use super::places::refused;
use crate::server::{Server, started};
use crate::skipped::skipped;
use postgres::{Client, NoTls};
use std::fs;
use std::net::TcpListener;
use std::os::unix::fs::PermissionsExt as _;
use std::process::Command;
use std::time::Duration;
use tempfile::TempDir;

/// Certificates. `server` and `foreign` are made as the README says; `authority` as many are, with nothing said, and
/// `old` signed by it in the same way; `signed` by it too, and made out to a name.
const MADE: &str = r"
for name in server foreign; do
    openssl req -x509 -newkey rsa:2048 -nodes -days 3650 -keyout $name.key -out $name.crt -subj /CN=calls.test \
        -addext subjectAltName=DNS:calls.test -addext basicConstraints=critical,CA:FALSE
done
openssl req -x509 -newkey rsa:2048 -nodes -days 30 -keyout authority.key -out authority.crt -subj /CN=elsewhere
echo subjectAltName=DNS:calls.test >named
for name in old signed; do
    openssl req -new -newkey rsa:2048 -nodes -keyout $name.key -out $name.csr -subj /CN=calls.test
done
by='-CA authority.crt -CAkey authority.key -CAcreateserial -days 30'
openssl x509 -req -in old.csr -out old.crt $by
openssl x509 -req -in signed.csr -out signed.crt $by -extfile named
";

/// A desk's server: a name that only the address says the way to.
struct Desk {
    server: Server,
    port: u16,
    /// The home of whoever runs the program.
    home: TempDir,
}

impl Desk {
    fn open() -> Result<Self, String> {
        let port = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr());
        let port = port.map_err(|error| error.to_string())?.port();
        let server = started(&format!("{MADE}export PGPORT={port}"), &["-c", "listen_addresses=127.0.0.1"])?;
        Ok(Self { server, port, home: tempfile::tempdir().unwrap() })
    }

    /// A file in the server's folder.
    fn file(&self, name: &str) -> String {
        format!("{}/{name}", self.server.folder)
    }

    /// The server itself, past every network.
    fn inside(&self) -> Client {
        let folder = &self.server.folder;
        Client::connect(&format!("host={folder} port={} user=tests dbname=postgres", self.port), NoTls)
            .unwrap()
    }

    /// Has it make encrypted connections, with this certificate.
    fn shows(&self, name: &str) {
        let (certificate, key) = (self.file(&format!("{name}.crt")), self.file(&format!("{name}.key")));
        let mut inside = self.inside();
        for (setting, value) in [("ssl", "on"), ("ssl_cert_file", &*certificate), ("ssl_key_file", &*key)] {
            inside.batch_execute(&format!("ALTER SYSTEM SET {setting} = '{value}'")).unwrap();
        }
        inside.batch_execute("SELECT pg_reload_conf()").unwrap();
        // A new connection goes by the new settings once the server has read them.
        let shown = || -> String { self.inside().query_one("SHOW ssl_cert_file", &[]).unwrap().get(0) };
        while shown() != certificate {
            std::thread::sleep(Duration::from_millis(20));
        }
        let on: String = self.inside().query_one("SHOW ssl", &[]).unwrap().get(0);
        assert_eq!(on, "on", "the server does not take {name}");
    }

    /// The program on the server by a name, with these options behind it. Its home has what the test puts there.
    fn program(&self, host: &str, options: &str) -> Command {
        let options = options.replace("sslrootcert=/", &format!("sslrootcert={}/", self.server.folder));
        let port = self.port;
        let mut program = on(format!("postgres://tests@{host}:{port}/postgres?hostaddr=127.0.0.1{options}"));
        program.env("HOME", self.home.path()).env_remove("SSL_CERT_DIR").arg("call");
        program
    }

    /// Whether the connection of a call is encrypted, as the server has it.
    fn encrypts(&self, program: Command) -> bool {
        let mut call = Driven::of(program);
        assert_eq!(call.wait(), Came::Prompt, "{}", call.end().0);
        let sql = "SELECT ssl FROM pg_stat_ssl JOIN pg_stat_activity USING (pid) WHERE application_name = 'motorwright'";
        let encrypted = self.inside().query_one(sql, &[]).unwrap().get(0);
        call.end();
        while !self.inside().query(sql, &[]).unwrap().is_empty() {
            std::thread::sleep(Duration::from_millis(20));
        }
        encrypted
    }

    /// Refused for a reason, with a way to mend it.
    fn refuses(&self, host: &str, options: &str, words: &[&str]) {
        let told = refused(&mut self.program(host, options));
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.iter().all(|word| told.contains(word)), "{options}: {told}");
    }
}

/// The name on the certificates.
const NAME: &str = "calls.test";

#[test]
fn a_connection_is_as_safe_as_its_address_asks_or_there_is_none() {
    let desk = match Desk::open() {
        Ok(desk) => desk,
        Err(why) => return skipped("encrypted connections", &why),
    };
    let encrypts = |host: &str, options: &str| desk.encrypts(desk.program(host, options));

    // A server without a certificate.
    assert!(!encrypts(NAME, ""));
    desk.refuses(NAME, "&sslmode=require", &["the server makes none", "ssl = on", "ssh -N -L"]);

    let key = fs::metadata(desk.file("server.key")).unwrap();
    assert_eq!(key.permissions().mode() & 0o777, 0o600);
    desk.shows("server");
    for (options, encrypted) in [
        ("", true),
        ("&sslmode=disable", false),
        ("&sslmode=prefer", true),
        ("&sslmode=require", true),
        ("&sslmode=require&sslrootcert=/server.crt", true),
        ("&sslmode=verify-ca&sslrootcert=/server.crt", true),
        ("&sslmode=verify-full&sslrootcert=/server.crt", true),
    ] {
        assert_eq!(encrypts(NAME, options), encrypted, "{options}");
    }
    let mut trusts = desk.program(NAME, "&sslrootcert=system");
    trusts.env("SSL_CERT_FILE", desk.file("server.crt"));
    assert!(desk.encrypts(trusts));

    // Somebody else with a certificate of their own.
    for mode in ["require", "verify-ca", "verify-full"] {
        for other in ["foreign", "authority"] {
            let options = format!("&sslmode={mode}&sslrootcert=/{other}.crt");
            desk.refuses(NAME, &options, &["signed by none of those", "name that file", "somebody else"]);
        }
    }
    let mut trusts = desk.program(NAME, "&sslmode=verify-full&sslrootcert=system");
    trusts.env("SSL_CERT_FILE", desk.file("foreign.crt"));
    assert!(refused(&mut trusts).contains("signed by none of those"));

    // A name that is not its own.
    let full = "&sslmode=verify-full&sslrootcert=/server.crt";
    let words = ["is made out to calls.test, not to localhost", "hostaddr=", "subjectAltName"];
    desk.refuses("localhost", full, &words);
    assert!(encrypts("localhost", "&sslmode=verify-ca&sslrootcert=/server.crt"));

    // Nothing to hold it against.
    desk.refuses(NAME, "&sslmode=verify-full", &["add sslrootcert=FILE"]);
    desk.refuses(
        NAME,
        "&sslmode=verify-full&sslrootcert=/none.crt",
        &["cannot be read", "BEGIN CERTIFICATE"],
    );
    desk.refuses(NAME, "&sslmode=verify-full&sslrootcert=/named", &["there is none in it"]);
    // The user's own file stands in for it.
    let own = desk.home.path().join(".postgresql/root.crt");
    fs::create_dir(own.parent().unwrap()).unwrap();
    fs::copy(desk.file("server.crt"), &own).unwrap();
    assert!(encrypts(NAME, "&sslmode=verify-full"));
    fs::copy(desk.file("foreign.crt"), &own).unwrap();
    desk.refuses(NAME, "&sslmode=require", &["signed by none of those"]);

    // Certificates made in other ways.
    desk.shows("signed");
    assert!(encrypts(NAME, "&sslmode=verify-full&sslrootcert=/authority.crt"));
    desk.shows("authority");
    desk.refuses(
        NAME,
        "&sslmode=verify-full&sslrootcert=/authority.crt",
        &["to sign others with", "CA:FALSE"],
    );
    desk.shows("old");
    desk.refuses(
        NAME,
        "&sslmode=verify-full&sslrootcert=/authority.crt",
        &["Have one made", "subjectAltName"],
    );
    // As before, where nothing was asked for.
    encrypts(NAME, "");
}
