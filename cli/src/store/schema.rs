//! The tables of the log, version by version. A version is never changed once it is out: the next one is added.

use super::fault::Fault;

/// The schema that this program writes.
pub(super) const NOW: i64 = 4;

/// What marks a database file as a call log: "MWCL" in ASCII.
pub(super) const APPLICATION: i64 = 0x4D57_434C;

/// This version of the program, kept beside the schema so that an older one can say what it needs.
pub(super) const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// What makes each version out of the one before, from none, in a file.
pub(super) const SQLITE: [&str; 4] = [
    "CREATE TABLE about (schema INTEGER NOT NULL, program TEXT NOT NULL);
     INSERT INTO about VALUES (0, '');
     CREATE TABLE calls (
         number INTEGER PRIMARY KEY AUTOINCREMENT,
         id TEXT NOT NULL UNIQUE,
         opening TEXT NOT NULL,
         seat TEXT, token TEXT, since INTEGER
     );
     CREATE TABLE events (
         call INTEGER NOT NULL REFERENCES calls (number) ON DELETE CASCADE,
         place INTEGER NOT NULL,
         at INTEGER NOT NULL,
         event TEXT NOT NULL,
         PRIMARY KEY (call, place)
     ) WITHOUT ROWID;",
    // What lists are made of: found and counted without looking at any event.
    "ALTER TABLE calls ADD COLUMN unit TEXT;
     ALTER TABLE calls ADD COLUMN opened INTEGER NOT NULL DEFAULT 0;
     ALTER TABLE calls ADD COLUMN last INTEGER NOT NULL DEFAULT 0;
     ALTER TABLE calls ADD COLUMN events INTEGER NOT NULL DEFAULT 0;
     ALTER TABLE calls ADD COLUMN summary TEXT;
     UPDATE calls SET
         unit = lower(replace(opening ->> '$.unit', ' ', '')),
         opened = CAST(ROUND((julianday(opening ->> '$.at') - 2440587.5) * 86400000) AS INTEGER),
         events = (SELECT COUNT(*) FROM events WHERE call = number);
     UPDATE calls SET last = COALESCE(
         (SELECT at FROM events WHERE call = number ORDER BY place DESC LIMIT 1), opened);
     CREATE INDEX calls_unit ON calls (unit);
     CREATE INDEX calls_opened ON calls (opened);",
    // What can be gone on with is found without looking at the rest. Of what was erased, only the made-up id is left.
    "ALTER TABLE calls ADD COLUMN is_open INTEGER NOT NULL DEFAULT 1;
     UPDATE calls SET is_open = 0
     WHERE summary NOT LIKE '%\"ends\":[]%' AND summary NOT LIKE '%\"outcome\":\"left\"}],\"stands\"%';
     CREATE INDEX calls_open ON calls (number) WHERE is_open;
     CREATE TABLE forgotten (id TEXT PRIMARY KEY) WITHOUT ROWID;",
    // The tables stay. Calls have a word since then, `worked`, that no program of schema 3 knows.
    "",
];

/// The same on a server.
pub(super) const POSTGRES: [&str; 4] = [
    "CREATE TABLE about (schema BIGINT NOT NULL, program TEXT NOT NULL);
     INSERT INTO about VALUES (0, '');
     CREATE TABLE calls (
         number BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
         id TEXT NOT NULL UNIQUE,
         opening TEXT NOT NULL,
         seat TEXT, token TEXT, since BIGINT
     );
     CREATE TABLE events (
         call BIGINT NOT NULL REFERENCES calls (number) ON DELETE CASCADE,
         place BIGINT NOT NULL,
         at BIGINT NOT NULL,
         event TEXT NOT NULL,
         PRIMARY KEY (call, place)
     );",
    "ALTER TABLE calls ADD COLUMN unit TEXT;
     ALTER TABLE calls ADD COLUMN opened BIGINT NOT NULL DEFAULT 0;
     ALTER TABLE calls ADD COLUMN last BIGINT NOT NULL DEFAULT 0;
     ALTER TABLE calls ADD COLUMN events BIGINT NOT NULL DEFAULT 0;
     ALTER TABLE calls ADD COLUMN summary TEXT;
     UPDATE calls SET
         unit = translate(opening::json ->> 'unit', 'ABCDEFGHIJKLMNOPQRSTUVWXYZ ', 'abcdefghijklmnopqrstuvwxyz'),
         opened = ROUND(EXTRACT(EPOCH FROM (opening::json ->> 'at')::timestamptz) * 1000)::bigint,
         events = (SELECT COUNT(*) FROM events WHERE call = number);
     UPDATE calls SET last = COALESCE(
         (SELECT at FROM events WHERE call = number ORDER BY place DESC LIMIT 1), opened);
     CREATE INDEX calls_unit ON calls (unit);
     CREATE INDEX calls_opened ON calls (opened);",    "ALTER TABLE calls ADD COLUMN is_open BOOLEAN NOT NULL DEFAULT TRUE;
     UPDATE calls SET is_open = FALSE
     WHERE summary NOT LIKE '%\"ends\":[]%' AND summary NOT LIKE '%\"outcome\":\"left\"}],\"stands\"%';
     CREATE INDEX calls_open ON calls (number) WHERE is_open;
     CREATE TABLE forgotten (id TEXT PRIMARY KEY);",
    "",
];

/// The steps that a log of this schema still needs, or why it is not for this program.
pub(super) fn steps<'s>(
    all: &'s [&'s str],
    found: i64,
    program: impl FnOnce() -> String,
    place: &str,
) -> Result<&'s [&'s str], Fault> {
    match usize::try_from(found).ok().and_then(|found| all.get(found..)) {
        Some(steps) => Ok(steps),
        None => Err(Fault::Newer {
            place: place.to_owned(),
            found,
            known: NOW,
            program: PROGRAM,
            needs: program(),
        }),
    }
}
