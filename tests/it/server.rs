//! A `PostgreSQL` server of the tests' own: one a process, on a socket in a folder of its own. It goes when the process
//! does, however that ends.

use super::skipped::skipped;
use postgres::{Client, NoTls};
use std::env;
use std::fs;
use std::io::{BufRead as _, BufReader};
use std::os::unix::process::CommandExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU32, Ordering};

/// Where Debian keeps the programs, by version.
const DEBIAN: &str = "/usr/lib/postgresql";

/// Makes a server, says where its socket is, and keeps it until the input closes. What is said before it starts is done
/// in its folder.
const KEEP: &str = r#"
set -eu
umask 077
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
programs=$1 before=$2
shift 2
fail() { cat "$folder/log" >&2; exit 1; }
cd "$folder"
eval "$before" </dev/null >>"$folder/log" 2>&1 || fail
"$programs/initdb" -D "$folder/data" -A trust -U tests -E UTF8 --no-locale --no-sync </dev/null >>"$folder/log" 2>&1 || fail
"$programs/postgres" -D "$folder/data" -k "$folder" -c max_connections=200 "$@" </dev/null >>"$folder/log" 2>&1 &
server=$!
until "$programs/pg_isready" -q -h "$folder"; do kill -0 "$server" || fail; sleep 0.05; done
echo "$folder"
read -r _ || :
kill -QUIT "$server"
wait "$server" || :
"#;

/// A server's folder, and its keeper: its input closes when this process goes.
pub(crate) struct Server {
    pub(crate) folder: String,
    _keeper: Child,
}

/// The one server, or why there is none.
static SERVER: LazyLock<Result<Server, String>> = LazyLock::new(|| started("", &["-c", "listen_addresses="]));

/// A server with these options, after this was done in its folder.
pub(crate) fn started(before: &str, options: &[&str]) -> Result<Server, String> {
    let programs = programs().ok_or("PostgreSQL's programs (initdb, postgres) are not installed")?;
    let mut keep = as_somebody();
    keep.args(["sh", "-c", KEEP, "sh"]).arg(programs).arg(before).args(options).current_dir("/");
    // Ctrl-C is for the tests: the keeper cleans up behind them.
    keep.process_group(0).stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut keeper = keep.spawn().map_err(|error| format!("no keeper for a server: {error}"))?;
    let mut folder = String::new();
    let said = keeper.stdout.take().map(|said| BufReader::new(said).read_line(&mut folder));
    match said {
        Some(Ok(1..)) => Ok(Server { folder: folder.trim().to_owned(), _keeper: keeper }),
        _ => Err("PostgreSQL is installed, and its server would not start".to_owned()),
    }
}

/// `PostgreSQL` refuses to run as root: it gets a user of its own.
fn as_somebody() -> Command {
    if !rustix::process::geteuid().is_root() {
        return Command::new("env");
    }
    let users = fs::read_to_string("/etc/passwd").unwrap_or_default();
    let user = if users.lines().any(|user| user.starts_with("postgres:")) { "postgres" } else { "nobody" };
    let mut command = Command::new("setpriv");
    command.args(["--reuid", user, "--clear-groups"]);
    command
}

/// The folder with `PostgreSQL`'s programs, the newest where there are several.
fn programs() -> Option<PathBuf> {
    let there = |folder: &PathBuf| {
        ["initdb", "postgres", "pg_isready"].iter().all(|name| folder.join(name).is_file())
    };
    let path = env::var_os("PATH").unwrap_or_default();
    let debian =
        fs::read_dir(DEBIAN).into_iter().flatten().flatten().map(|version| version.path().join("bin"));
    let version = |folder: &PathBuf| {
        let name = folder.parent().and_then(Path::file_name).unwrap_or_default();
        name.to_string_lossy().parse::<u32>().unwrap_or_default()
    };
    debian.filter(there).max_by_key(version).or_else(|| env::split_paths(&path).find(there))
}

/// The address of a database that nothing is in yet; none where the test has to be skipped.
pub(crate) fn database(test: &str) -> Option<String> {
    static DATABASES: AtomicU32 = AtomicU32::new(0);
    let folder = match &*SERVER {
        Ok(server) => &server.folder,
        Err(why) => {
            skipped(test, why);
            return None;
        }
    };
    let name = format!("{test}_{}", DATABASES.fetch_add(1, Ordering::Relaxed));
    let mut server = Client::connect(&format!("host={folder} user=tests dbname=postgres"), NoTls).unwrap();
    server.batch_execute(&format!("CREATE DATABASE {name}")).unwrap();
    Some(format!("postgres:///{name}?host={folder}&user=tests"))
}
