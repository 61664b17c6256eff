//! Calls that come from elsewhere, and calls that go for good.

use super::{Postgres, Sql};
use crate::store::fault::Fault;
use crate::store::row::Words;
use crate::store::{Listed, Number, Record, unit_key};
use postgres::types::ToSql;
use postgres::{Client, Transaction};

impl Postgres {
    pub(super) fn take_in(&mut self, record: &Record) -> Result<Number, Fault> {
        let words = Words::of(record, self.guard.name())?;
        let (of, last) = (&record.listed.opening, record.listed.last.millis());
        let unit = of.unit.as_deref().map(unit_key);
        self.write(|server| {
            let sql = "INSERT INTO calls (id, opening, unit, opened, last, events, summary, is_open)
                       VALUES ($1, $2, $3, $4, $5, $6, $7, $8) RETURNING number";
            let values: [&(dyn ToSql + Sync); 8] = [
                &of.id,
                &words.opening,
                &unit,
                &of.at.millis(),
                &last,
                &words.count(),
                &words.summary,
                &words.is_open,
            ];
            let number: Number = server.query_one(sql, &values)?.get(0);
            server.execute("DELETE FROM forgotten WHERE id = $1", &[&of.id])?;
            insert(server, number, &words, 0)?;
            Ok(number)
        })
    }

    pub(super) fn go_on(&mut self, here: &Listed, record: &Record) -> Result<bool, Fault> {
        let words = Words::of(record, self.guard.name())?;
        let token = here.holder.as_ref().map(|holder| &holder.seat.token);
        let (last, from) = (record.listed.last.millis(), i64::from(here.events));
        self.write(|server| {
            let sql = "UPDATE calls SET last = $2, events = $3, summary = $4, is_open = $5,
                              seat = NULL, token = NULL, since = NULL
                       WHERE number = $1 AND events = $6 AND token IS NOT DISTINCT FROM $7";
            let values: [&(dyn ToSql + Sync); 7] =
                [&here.number, &last, &words.count(), &words.summary, &words.is_open, &from, &token];
            let longer = server.execute(sql, &values)?;
            if longer == 1 {
                insert(server, here.number, &words, from)?;
            }
            Ok(longer == 1)
        })
    }

    pub(super) fn erase(&mut self, number: Number) -> Result<(), Fault> {
        let gone = self.write(|server| {
            let sql = "INSERT INTO forgotten SELECT id FROM calls WHERE number = $1 ON CONFLICT DO NOTHING";
            server.execute(sql, &[&number])?;
            server.execute("DELETE FROM calls WHERE number = $1", &[&number])
        })?;
        if gone == 0 {
            return Err(Fault::NoCall(number));
        }
        // Written anew without it; the old files are removed. Where that is not for this user to do, the server only
        // warns; so it is looked at whether the files are others now.
        let before = self.ask(files)?;
        self.ask(|server| {
            // Each by itself: a vacuum goes into no transaction.
            server.batch_execute("VACUUM (FULL) events")?;
            server.batch_execute("VACUUM (FULL) calls")
        })?;
        let after = self.ask(files)?;
        if before.iter().any(|file| after.contains(file)) {
            return Err(Fault::CopiesRemain { place: self.guard.name().to_owned(), number });
        }
        Ok(())
    }
}

/// The files that what was said stands in.
fn files(server: &mut Client) -> Sql<Vec<u32>> {
    let sql = "SELECT relfilenode FROM pg_class WHERE oid IN ('events'::regclass, 'calls'::regclass)";
    Ok(server.query(sql, &[])?.iter().map(|row| row.get(0)).collect())
}

/// Writes down the events of a call from this place on.
fn insert(server: &mut Transaction<'_>, number: Number, words: &Words, from: i64) -> Sql<()> {
    let sql = "INSERT INTO events (call, place, at, event)
               SELECT $1, place - 1, at, event
               FROM UNNEST($2::bigint[], $3::text[]) WITH ORDINALITY AS written (at, event, place)
               WHERE place > $4";
    server.execute(sql, &[&number, &words.ats, &words.events, &from]).map(drop)
}
