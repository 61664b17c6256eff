//! The call log in a file of this machine: `SQLite`, in write-ahead mode, every write through to the disk.

mod guard;
mod moved;
mod setup;
mod turn;

use super::fault::Fault;
use super::row::{self, COLUMNS, Row};
use super::{
    Holder, Listed, Number, Opening, Record, Seat, Store, Summary, Wanted, When, Written, newest_alike,
    unit_key,
};
use guard::Guard;
use rusqlite::types::Value;
use rusqlite::{
    Connection, OptionalExtension as _, Transaction, TransactionBehavior, params, params_from_iter,
};
use turn::PATIENCE;

/// A log in a file.
#[derive(Debug)]
pub(crate) struct Sqlite {
    file: Connection,
    guard: Guard,
}

type Sql<T> = rusqlite::Result<T>;

impl Sqlite {
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

    fn held_by(&self, number: Number) -> Result<Option<Holder>, Fault> {
        let found = self.ask(|file| {
            let sql = "SELECT seat, token, since FROM calls WHERE number = ?1";
            let row = |row: &rusqlite::Row<'_>| Ok(row::holder(row.get(0)?, row.get(1)?, row.get(2)?));
            file.query_row(sql, [number], row).optional()
        })?;
        found.ok_or(Fault::NoCall(number))
    }

    /// Why a word of a seat was not taken.
    fn refused(&self, number: Number, seat: &Seat) -> Fault {
        match self.held_by(number) {
            Err(fault) => fault,
            Ok(Some(holder)) if holder.seat.token != seat.token => Fault::TakenOver { number, holder },
            Ok(_) => Fault::NotHeld(number),
        }
    }

    fn events(&self, number: Number) -> Result<Vec<Written>, Fault> {
        let found: Vec<(i64, i64, String)> = self.ask(|file| {
            let sql = "SELECT place, at, event FROM events WHERE call = ?1 ORDER BY place";
            let mut asked = file.prepare_cached(sql)?;
            let rows = asked.query_map([number], |row| Ok((row.get(0)?, row.get(1)?, text(row, 2)?)))?;
            rows.collect()
        })?;
        found.iter().map(|(place, at, event)| row::written(number, *place, *at, event)).collect()
    }
}

/// A text as it stands there: one that is damaged is told of where it is made sense of, with the call that it is of.
fn text(row: &rusqlite::Row<'_>, column: usize) -> Sql<String> {
    let found = row.get_ref(column)?;
    Ok(found
        .as_bytes_or_null()?
        .map_or_else(String::new, |bytes| String::from_utf8_lossy(bytes).into_owned()))
}

fn listed(row: &rusqlite::Row<'_>) -> Sql<Row> {
    Ok(Row {
        number: row.get(0)?,
        opening: text(row, 1)?,
        last: row.get(2)?,
        events: row.get(3)?,
        summary: Some(text(row, 4)?).filter(|text| !text.is_empty()),
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
        let held = self.held_by(number)?;
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
        match self.held_by(number)? {
            Some(holder) => Err(Fault::Held { number, holder }),
            None => self.hold(number, seat, at, take_over),
        }
    }

    fn append(&mut self, number: Number, place: u32, written: &Written, seat: &Seat) -> Result<(), Fault> {
        let event = row::json(&written.event, &self.guard.name())?;
        let at = written.at.millis();
        let taken = self.write(|file| {
            let sql = "UPDATE calls SET last = ?3, events = ?2 + 1, summary = NULL, is_open = TRUE
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
            let sql = "UPDATE calls SET summary = ?2, is_open = ?4, seat = NULL, token = NULL, since = NULL
                       WHERE number = ?1 AND token = ?3";
            file.execute(sql, params![number, text, seat.token, summary.is_open()])
        })?;
        if let_go == 1 { Ok(()) } else { Err(self.refused(number, seat)) }
    }

    fn sum_up(&mut self, number: Number, summary: &Summary) -> Result<(), Fault> {
        let text = row::json(summary, &self.guard.name())?;
        self.write(|file| {
            let sql = "UPDATE calls SET summary = ?2, is_open = ?4 WHERE number = ?1 AND events = ?3";
            file.execute(sql, params![number, text, summary.events, summary.is_open()]).map(drop)
        })
    }

    fn holder(&mut self, number: Number) -> Result<Option<Holder>, Fault> {
        self.held_by(number)
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
            self.held_by(number)?;
        }
        row::record(listed, events)
    }

    fn number_of(&mut self, id: &str) -> Result<Option<Number>, Fault> {
        self.ask(|file| {
            file.query_row("SELECT number FROM calls WHERE id = ?1", [id], |row| row.get(0)).optional()
        })
    }

    fn on_unit_like(&mut self, unit: &str) -> Result<Option<Number>, Fault> {
        let newest_on = self.ask(|file| {
            let sql = "SELECT unit, MAX(number) FROM calls WHERE unit IS NOT NULL GROUP BY unit";
            let mut asked = file.prepare(sql)?;
            let rows = asked.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
            rows.collect::<Sql<Vec<(String, Number)>>>()
        })?;
        Ok(newest_alike(unit, newest_on))
    }

    fn each(
        &mut self,
        wanted: &Wanted,
        ear: &mut dyn FnMut(Listed) -> Result<bool, Fault>,
    ) -> Result<Vec<Fault>, Fault> {
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
        if wanted.open {
            sql.push_str(" AND is_open");
        }
        sql.push_str(" ORDER BY number DESC");
        if let Some(most) = wanted.most {
            sql.push_str(" LIMIT ?");
            values.push(i64::from(most).into());
        }
        let mut asked = self.file.prepare(&sql).map_err(|error| self.guard.fault(&error))?;
        let mut rows = asked.query(params_from_iter(values)).map_err(|error| self.guard.fault(&error))?;
        let mut passed = Vec::new();
        loop {
            let row = rows.next().and_then(|row| row.map(listed).transpose());
            let Some(row) = row.map_err(|error| self.guard.fault(&error))? else {
                return Ok(passed);
            };
            if !row::tell(row, ear, &mut passed)? {
                return Ok(passed);
            }
        }
    }

    fn events_of(&mut self, number: Number) -> Result<Vec<Written>, Fault> {
        self.events(number)
    }

    fn import(&mut self, record: &Record) -> Result<Number, Fault> {
        self.take_in(record)
    }

    fn lengthen(&mut self, here: &Listed, record: &Record) -> Result<bool, Fault> {
        self.go_on(here, record)
    }

    fn is_forgotten(&mut self, id: &str) -> Result<bool, Fault> {
        let sql = "SELECT EXISTS (SELECT 1 FROM forgotten WHERE id = ?1)";
        self.ask(|file| file.query_row(sql, [id], |row| row.get(0)))
    }

    fn forget(&mut self, number: Number) -> Result<(), Fault> {
        self.erase(number)
    }
}
