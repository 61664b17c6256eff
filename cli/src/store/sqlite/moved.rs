//! Calls that come from elsewhere, and calls that go for good.

use super::{Sql, Sqlite};
use crate::store::fault::Fault;
use crate::store::row::Words;
use crate::store::{Listed, Number, Record, unit_key};
use rusqlite::{Connection, params};

impl Sqlite {
    pub(super) fn take_in(&mut self, record: &Record) -> Result<Number, Fault> {
        let words = Words::of(record, &self.guard.name())?;
        let (of, last) = (&record.listed.opening, record.listed.last);
        self.write(|file| {
            let sql = "INSERT INTO calls (id, opening, unit, opened, last, events, summary, is_open)
                       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)";
            file.prepare_cached(sql)?.execute(params![
                of.id,
                words.opening,
                of.unit.as_deref().map(unit_key),
                of.at.millis(),
                last.millis(),
                words.count(),
                words.summary,
                words.is_open
            ])?;
            let number = file.last_insert_rowid();
            file.prepare_cached("DELETE FROM forgotten WHERE id = ?1")?.execute([&of.id])?;
            insert(file, number, &words, 0)?;
            Ok(number)
        })
    }

    pub(super) fn go_on(&mut self, here: &Listed, record: &Record) -> Result<bool, Fault> {
        let words = Words::of(record, &self.guard.name())?;
        let token = here.holder.as_ref().map(|holder| &holder.seat.token);
        self.write(|file| {
            let sql = "UPDATE calls SET last = ?2, events = ?3, summary = ?4, is_open = ?5,
                              seat = NULL, token = NULL, since = NULL
                       WHERE number = ?1 AND events = ?6 AND token IS ?7";
            let longer = file.execute(
                sql,
                params![
                    here.number,
                    record.listed.last.millis(),
                    words.count(),
                    words.summary,
                    words.is_open,
                    here.events,
                    token
                ],
            )?;
            if longer == 1 {
                insert(file, here.number, &words, usize::try_from(here.events).unwrap_or(usize::MAX))?;
            }
            Ok(longer == 1)
        })
    }

    pub(super) fn erase(&mut self, number: Number) -> Result<(), Fault> {
        let gone = self.write(|file| {
            file.execute("INSERT OR IGNORE INTO forgotten SELECT id FROM calls WHERE number = ?1", [number])?;
            file.execute("DELETE FROM calls WHERE number = ?1", [number])
        })?;
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

/// Writes down the events of a call from this place on.
fn insert(file: &Connection, number: Number, words: &Words, from: usize) -> Sql<()> {
    let sql = "INSERT INTO events (call, place, at, event) VALUES (?1, ?2, ?3, ?4)";
    let mut insert = file.prepare_cached(sql)?;
    for (place, (at, event)) in (0_i64..).zip(words.ats.iter().zip(&words.events)).skip(from) {
        insert.execute(params![number, place, at, event])?;
    }
    Ok(())
}
