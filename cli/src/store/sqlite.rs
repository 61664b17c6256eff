//! The call log in a file of this machine: `SQLite`, in write-ahead mode, every write through to the disk.

mod guard;

use super::fault::Fault;
use super::row::{self, COLUMNS, Row};
use super::schema;
use super::{Holder, Listed, Number, Opening, Record, Seat, Store, Summary, Wanted, When, Written, unit_key};
use guard::Guard;
use rusqlite::types::Value;
use rusqlite::{
    Connection, OptionalExtension as _, Transaction, TransactionBehavior, params, params_from_iter,
};
use std::path::Path;
use std::time::{Duration, Instant};

/// How long another program may keep the file to itself.
const PATIENCE: Duration = Duration::from_secs(30);

/// How long to wait before it is tried once more: less than a write to a disk takes.
const A_MOMENT: Duration = Duration::from_millis(2);

/// A log in a file.
#[derive(Debug)]
pub(crate) struct Sqlite {
    file: Connection,
    guard: Guard,
}

type Sql<T> = rusqlite::Result<T>;

impl Sqlite {
    /// Opens a log, and makes it where there is no file. Only its owner may read it.
    pub(crate) fn open(path: &Path) -> Result<Self, Fault> {
        let guard = Guard::at(path)?;
        // From the root, it is a file's name whatever it is: `:memory:` and `file:…` say something else to the library.
        let from_root = std::path::absolute(path).map_err(|error| guard.disk(&error))?;
        let mut file = Connection::open(from_root).map_err(|error| guard.fault(&error))?;
        file.busy_handler(Some(waits_its_turn())).map_err(|error| guard.fault(&error))?;
        let mut log = Self { file, guard };
        log.set_up()?;
        Ok(log)
    }

    fn set_up(&mut self) -> Result<(), Fault> {
        let ready = |file: &Connection| -> Sql<(i64, i64, i64)> {
            let number = |name: &str| file.pragma_query_value(None, name, |row| row.get(0));
            Ok((number("application_id")?, number("user_version")?, number("schema_version")?))
        };
        let (application, schema, made) = self.ask(ready)?;
        if application != schema::APPLICATION && (application != 0 || made != 0) {
            return Err(self.guard.foreign());
        }
        self.guard.whole(&self.file)?;
        let program = || {
            let program = self.file.query_row("SELECT program FROM about", [], |row| row.get(0));
            program.unwrap_or_else(|_| "a later version".to_owned())
        };
        let steps = schema::steps(&schema::SQLITE, schema, program, &self.guard.name())?;
        let made_anew = !steps.is_empty();
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

    /// Asks something of the file.
    fn ask<T>(&self, question: impl FnOnce(&Connection) -> Sql<T>) -> Result<T, Fault> {
        question(&self.file).map_err(|error| self.guard.fault(&error))
    }

    /// Writes to the file, all or nothing.
    fn write<T>(&mut self, change: impl FnOnce(&Transaction<'_>) -> Sql<T>) -> Result<T, Fault> {
        let written = (|| {
            let transaction = self.file.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let done = change(&transaction)?;
            transaction.commit()?;
            Ok(done)
        })();
        written.map_err(|error| self.guard.fault(&error))
    }

    fn holder(&self, number: Number) -> Result<Option<Holder>, Fault> {
        let found = self.ask(|file| {
            let sql = "SELECT seat, token, since FROM calls WHERE number = ?1";
            let row = |row: &rusqlite::Row<'_>| Ok(row::holder(row.get(0)?, row.get(1)?, row.get(2)?));
            file.query_row(sql, [number], row).optional()
        })?;
        found.ok_or(Fault::NoCall(number))
    }

    /// Why a word of a seat was not taken.
    fn refused(&self, number: Number, seat: &Seat) -> Fault {
        match self.holder(number) {
            Err(fault) => fault,
            Ok(Some(holder)) if holder.seat.token != seat.token => Fault::TakenOver { number, holder },
            Ok(_) => Fault::NotHeld(number),
        }
    }

    fn events(&self, number: Number) -> Result<Vec<Written>, Fault> {
        let found: Vec<(i64, i64, String)> = self.ask(|file| {
            let sql = "SELECT place, at, event FROM events WHERE call = ?1 ORDER BY place";
            let mut asked = file.prepare_cached(sql)?;
            let rows = asked.query_map([number], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
            rows.collect()
        })?;
        found.iter().map(|(place, at, event)| row::written(number, *place, *at, event)).collect()
    }
}

/// Waits for a file that others write to, until patience ends.
///
/// All wait the same short while. The database's own way waits longer each time, so that at a full desk whoever came
/// last gets its turn first, and whoever waited longest runs out of time.
fn waits_its_turn() -> impl FnMut(i32) -> bool {
    let mut since = Instant::now();
    move |tries| {
        if tries == 0 {
            since = Instant::now();
        }
        std::thread::sleep(A_MOMENT);
        since.elapsed() < PATIENCE
    }
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

fn listed(row: &rusqlite::Row<'_>) -> Sql<Row> {
    Ok(Row {
        number: row.get(0)?,
        opening: row.get(1)?,
        last: row.get(2)?,
        events: row.get(3)?,
        summary: row.get(4)?,
        seat: row.get(5)?,
        token: row.get(6)?,
        since: row.get(7)?,
    })
}

impl Store for Sqlite {
    fn open(&mut self, opening: &Opening, seat: &Seat) -> Result<Number, Fault> {
        let text = row::json(opening, &self.guard.name())?;
        let at = opening.at.millis();
        self.write(|file| {
            let sql = "INSERT INTO calls (id, opening, unit, opened, last, seat, token, since)
                       VALUES (?1, ?2, ?3, ?4, ?4, ?5, ?6, ?4)";
            file.execute(
                sql,
                params![opening.id, text, opening.unit.as_deref().map(unit_key), at, seat.name, seat.token],
            )?;
            Ok(file.last_insert_rowid())
        })
    }

    fn hold(&mut self, number: Number, seat: &Seat, at: When, take_over: bool) -> Result<(), Fault> {
        let held = self.holder(number)?;
        if let Some(holder) = held.clone().filter(|holder| !take_over && !holder.seat.is_gone()) {
            return Err(Fault::Held { number, holder });
        }
        let before = held.map(|holder| holder.seat.token);
        let taken = self.write(|file| {
            let sql = "UPDATE calls SET seat = ?2, token = ?3, since = ?4 WHERE number = ?1 AND token IS ?5";
            file.execute(sql, params![number, seat.name, seat.token, at.millis(), before])
        })?;
        if taken == 1 {
            return Ok(());
        }
        // Somebody was faster.
        match self.holder(number)? {
            Some(holder) => Err(Fault::Held { number, holder }),
            None => self.hold(number, seat, at, take_over),
        }
    }

    fn append(&mut self, number: Number, place: u32, written: &Written, seat: &Seat) -> Result<(), Fault> {
        let event = row::json(&written.event, &self.guard.name())?;
        let at = written.at.millis();
        let taken = self.write(|file| {
            let sql = "UPDATE calls SET last = ?3, events = ?2 + 1, summary = NULL
                       WHERE number = ?1 AND token = ?4 AND events = ?2";
            let taken = file.prepare_cached(sql)?.execute(params![number, place, at, seat.token])?;
            if taken == 1 {
                let sql = "INSERT INTO events (call, place, at, event) VALUES (?1, ?2, ?3, ?4)";
                file.prepare_cached(sql)?.execute(params![number, place, at, event])?;
            }
            Ok(taken)
        })?;
        if taken == 1 { Ok(()) } else { Err(self.refused(number, seat)) }
    }

    fn release(&mut self, number: Number, summary: &Summary, seat: &Seat) -> Result<(), Fault> {
        let text = row::json(summary, &self.guard.name())?;
        let let_go = self.write(|file| {
            let sql = "UPDATE calls SET summary = ?2, seat = NULL, token = NULL, since = NULL
                       WHERE number = ?1 AND token = ?3";
            file.execute(sql, params![number, text, seat.token])
        })?;
        if let_go == 1 { Ok(()) } else { Err(self.refused(number, seat)) }
    }

    fn sum_up(&mut self, number: Number, summary: &Summary) -> Result<(), Fault> {
        let text = row::json(summary, &self.guard.name())?;
        self.write(|file| {
            let sql = "UPDATE calls SET summary = ?2 WHERE number = ?1 AND events = ?3";
            file.execute(sql, params![number, text, summary.events]).map(drop)
        })
    }

    fn call(&mut self, number: Number) -> Result<Record, Fault> {
        let found = self.ask(|file| {
            let sql = format!("SELECT {COLUMNS} FROM calls WHERE number = ?1");
            file.query_row(&sql, [number], listed).optional()
        })?;
        let listed = found.ok_or(Fault::NoCall(number))?.listed()?;
        let events = self.events(number)?;
        if events.is_empty() {
            // Erased between the two, it is not damaged.
            self.holder(number)?;
        }
        row::record(listed, events, &self.guard.name())
    }

    fn number_of(&mut self, id: &str) -> Result<Option<Number>, Fault> {
        self.ask(|file| {
            file.query_row("SELECT number FROM calls WHERE id = ?1", [id], |row| row.get(0)).optional()
        })
    }

    fn each(
        &mut self,
        wanted: &Wanted,
        ear: &mut dyn FnMut(Listed) -> Result<bool, Fault>,
    ) -> Result<(), Fault> {
        let mut sql = format!("SELECT {COLUMNS} FROM calls WHERE TRUE");
        let mut values: Vec<Value> = Vec::new();
        if let Some(unit) = &wanted.unit {
            sql.push_str(" AND unit = ?");
            values.push(unit_key(unit).into());
        }
        if let Some(since) = wanted.since {
            sql.push_str(" AND opened >= ?");
            values.push(since.millis().into());
        }
        if let Some(before) = wanted.before {
            sql.push_str(" AND opened < ?");
            values.push(before.millis().into());
        }
        sql.push_str(" ORDER BY number DESC");
        if let Some(most) = wanted.most {
            sql.push_str(" LIMIT ?");
            values.push(i64::from(most).into());
        }
        let mut asked = self.file.prepare(&sql).map_err(|error| self.guard.fault(&error))?;
        let mut rows = asked.query(params_from_iter(values)).map_err(|error| self.guard.fault(&error))?;
        loop {
            let row = rows.next().and_then(|row| row.map(listed).transpose());
            let Some(row) = row.map_err(|error| self.guard.fault(&error))? else {
                return Ok(());
            };
            if !ear(row.listed()?)? {
                return Ok(());
            }
        }
    }

    fn events_of(&mut self, number: Number) -> Result<Vec<Written>, Fault> {
        self.events(number)
    }

    fn import(&mut self, record: &Record) -> Result<Number, Fault> {
        let place = self.guard.name();
        let opening = row::json(&record.listed.opening, &place)?;
        let summary = record.listed.summary.as_ref().map(|summary| row::json(summary, &place)).transpose()?;
        let events: Vec<String> =
            record.events.iter().map(|event| row::json(&event.event, &place)).collect::<Result<_, _>>()?;
        let listed = &record.listed;
        self.write(|file| {
            let sql = "INSERT INTO calls (id, opening, unit, opened, last, events, summary)
                       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)";
            let of = &listed.opening;
            file.prepare_cached(sql)?.execute(params![
                of.id,
                opening,
                of.unit.as_deref().map(unit_key),
                of.at.millis(),
                listed.last.millis(),
                i64::try_from(events.len()).unwrap_or(i64::MAX),
                summary
            ])?;
            let number = file.last_insert_rowid();
            let sql = "INSERT INTO events (call, place, at, event) VALUES (?1, ?2, ?3, ?4)";
            let mut insert = file.prepare_cached(sql)?;
            for (place, (event, written)) in events.iter().zip(&record.events).enumerate() {
                insert.execute(params![
                    number,
                    i64::try_from(place).unwrap_or(i64::MAX),
                    written.at.millis(),
                    event
                ])?;
            }
            Ok(number)
        })
    }

    fn forget(&mut self, number: Number) -> Result<(), Fault> {
        let gone = self.write(|file| file.execute("DELETE FROM calls WHERE number = ?1", [number]))?;
        if gone == 0 {
            return Err(Fault::NoCall(number));
        }
        // Its cells are written over; but where a page was split before, a copy may stand in what the page has left.
        // So all pages are made anew; and what the write-ahead file still has of it goes too.
        self.ask(|file| file.execute_batch("VACUUM"))
            .map_err(|fault| self.guard.not_erased(number, &fault))?;
        let busy: i64 =
            self.ask(|file| file.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0)))?;
        if busy == 0 { Ok(()) } else { Err(self.guard.still_read(number)) }
    }
}
