//! The call log on a `PostgreSQL` server, for a desk of several machines.

mod address;
mod encrypted;
mod guard;
mod moved;
mod unproved;

use super::fault::Fault;
use super::row::{self, COLUMNS, Row};
use super::schema;
use super::{
    Holder, Listed, Number, Opening, Record, Seat, Store, Summary, Wanted, When, Written, newest_alike,
    unit_key,
};
use address::{Address, Link};
use guard::Guard;
use postgres::config::SslMode;
use postgres::fallible_iterator::FallibleIterator as _;
use postgres::types::ToSql;
use postgres::{Client, NoTls, Statement, Transaction};

/// A log on a server.
pub(crate) struct Postgres {
    address: Address,
    server: Client,
    append: Option<Statement>,
    guard: Guard,
}

type Sql<T> = Result<T, postgres::Error>;

/// What only one seat at a time may do: bring the tables up to date.
const MIGRATING: i64 = schema::APPLICATION;

impl Postgres {
    /// Opens a log, and makes its tables where there are none.
    pub(crate) fn open(url: &str) -> Result<Self, Fault> {
        let address = Address::read(url)?;
        let guard = Guard::of(&address.config);
        let server = connected(address.clone(), &guard)?;
        let mut log = Self { address, server, append: None, guard };
        log.set_up()?;
        Ok(log)
    }

    fn set_up(&mut self) -> Result<(), Fault> {
        let found = self.ask(|server| found(&mut server.build_transaction().read_only(true).start()?))?;
        let place = self.guard.name().to_owned();
        let (version, program) = found.unwrap_or_default();
        let steps = schema::steps(&schema::POSTGRES, version, || program, &place)?;
        if steps.is_empty() { Ok(()) } else { self.write(migrate) }
    }

    fn ask<T>(&mut self, question: impl FnOnce(&mut Client) -> Sql<T>) -> Result<T, Fault> {
        self.called()?;
        question(&mut self.server).map_err(|error| self.guard.fault(&error))
    }

    /// A server that was started anew has to be called anew.
    fn called(&mut self) -> Result<(), Fault> {
        if self.server.is_closed() {
            self.append = None;
            self.server = connected(self.address.clone(), &self.guard)?;
        }
        Ok(())
    }

    /// Writes to the server, all or nothing.
    fn write<T>(&mut self, change: impl FnOnce(&mut Transaction<'_>) -> Sql<T>) -> Result<T, Fault> {
        self.ask(|server| {
            let mut transaction = server.transaction()?;
            let done = change(&mut transaction)?;
            transaction.commit()?;
            Ok(done)
        })
    }

    fn held_by(&mut self, number: Number) -> Result<Option<Holder>, Fault> {
        let sql = "SELECT seat, token, since FROM calls WHERE number = $1";
        let found = self.ask(|server| server.query_opt(sql, &[&number]))?;
        let found = found.ok_or(Fault::NoCall(number))?;
        Ok(row::holder(found.get(0), found.get(1), found.get(2)))
    }

    /// Why a word of a seat was not taken.
    fn refused(&mut self, number: Number, seat: &Seat) -> Fault {
        match self.held_by(number) {
            Err(fault) => fault,
            Ok(Some(holder)) if holder.seat.token != seat.token => Fault::TakenOver { number, holder },
            Ok(_) => Fault::NotHeld(number),
        }
    }
}

/// The connection that an address asks for. What is acknowledged on it is on the server's disk, whatever the server's own
/// settings say.
fn connected(address: Address, guard: &Guard) -> Result<Client, Fault> {
    let mut server = answering(address, guard)?;
    server.batch_execute("SET synchronous_commit = on").map_err(|error| guard.fault(&error))?;
    Ok(server)
}

fn answering(Address { mut config, link }: Address, guard: &Guard) -> Result<Client, Fault> {
    if link == Link::Plain {
        return config.connect(NoTls).map_err(|error| guard.fault(&error));
    }
    match config.connect(encrypted::maker(&link)?).map_err(|error| guard.fault(&error)) {
        // Nothing was asked for, so that what can be had is good enough.
        Err(Fault::Unproved { .. }) if link == Link::EncryptedIfItCan => {
            config.ssl_mode(SslMode::Disable).connect(NoTls).map_err(|error| guard.fault(&error))
        }
        connected => connected,
    }
}

/// The schema that is there, and the program that made it.
fn found(server: &mut Transaction<'_>) -> Sql<Option<(i64, String)>> {
    // Out of the catalogue itself: what `to_regclass` says may be from before another seat made the table.
    let sql = "SELECT EXISTS (SELECT FROM pg_class WHERE relname = 'about' AND pg_table_is_visible(oid))";
    let there = server.query_one(sql, &[])?;
    if !there.get::<_, bool>(0) {
        return Ok(None);
    }
    let about = server.query_opt("SELECT schema, program FROM about", &[])?;
    Ok(about.map(|about| (about.get(0), about.get(1))))
}

/// Brings the tables up to this program's schema. Another seat may have been faster.
fn migrate(server: &mut Transaction<'_>) -> Sql<()> {
    server.execute("SELECT pg_advisory_xact_lock($1)", &[&MIGRATING])?;
    let found = found(server)?.map_or(0, |(version, _)| version);
    let done = usize::try_from(found).unwrap_or(usize::MAX);
    for step in schema::POSTGRES.get(done..).unwrap_or_default() {
        server.batch_execute(step)?;
    }
    server.execute("UPDATE about SET schema = $1, program = $2", &[&schema::NOW, &schema::PROGRAM]).map(drop)
}

fn listed(row: &postgres::Row) -> Row {
    Row {
        number: row.get(0),
        opening: row.get(1),
        last: row.get(2),
        events: row.get(3),
        summary: row.get(4),
        seat: row.get(5),
        token: row.get(6),
        since: row.get(7),
    }
}

impl Store for Postgres {
    fn open(&mut self, opening: &Opening, seat: &Seat) -> Result<Number, Fault> {
        let text = row::json(opening, self.guard.name())?;
        let at = opening.at.millis();
        let unit = opening.unit.as_deref().map(unit_key);
        let sql = "INSERT INTO calls (id, opening, unit, opened, last, seat, token, since)
                   VALUES ($1, $2, $3, $4, $4, $5, $6, $4) RETURNING number";
        let row = self.ask(|server| {
            server.query_one(sql, &[&opening.id, &text, &unit, &at, &seat.name, &seat.token])
        })?;
        Ok(row.get(0))
    }

    fn hold(&mut self, number: Number, seat: &Seat, at: When, take_over: bool) -> Result<(), Fault> {
        let held = self.held_by(number)?;
        if let Some(holder) = held.clone().filter(|holder| !take_over && !holder.seat.is_gone()) {
            return Err(Fault::Held { number, holder });
        }
        let before = held.map(|holder| holder.seat.token);
        let sql = "UPDATE calls SET seat = $2, token = $3, since = $4
                   WHERE number = $1 AND token IS NOT DISTINCT FROM $5";
        let taken = self
            .ask(|server| server.execute(sql, &[&number, &seat.name, &seat.token, &at.millis(), &before]))?;
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
        let event = row::json(&written.event, self.guard.name())?;
        // One statement, one way to the server and back.
        let sql = "WITH held AS (
                       UPDATE calls SET last = $3, events = $2 + 1, summary = NULL, is_open = TRUE
                       WHERE number = $1 AND token = $4 AND events = $2 RETURNING number)
                   INSERT INTO events (call, place, at, event) SELECT number, $2, $3, $5 FROM held";
        let place = i64::from(place);
        self.called()?;
        // Prepared once a call: each time would be one more way to the server and back.
        let statement = match self.append.take() {
            Some(statement) => statement,
            None => self.ask(|server| server.prepare(sql))?,
        };
        let taken = self.ask(|server| {
            server.execute(&statement, &[&number, &place, &written.at.millis(), &seat.token, &event])
        })?;
        self.append = Some(statement);
        if taken == 1 { Ok(()) } else { Err(self.refused(number, seat)) }
    }

    fn release(&mut self, number: Number, summary: &Summary, seat: &Seat) -> Result<(), Fault> {
        let text = row::json(summary, self.guard.name())?;
        let sql = "UPDATE calls SET summary = $2, is_open = $4, seat = NULL, token = NULL, since = NULL
                   WHERE number = $1 AND token = $3";
        let values: [&(dyn ToSql + Sync); 4] = [&number, &text, &seat.token, &summary.is_open()];
        let let_go = self.ask(|server| server.execute(sql, &values))?;
        if let_go == 1 { Ok(()) } else { Err(self.refused(number, seat)) }
    }

    fn sum_up(&mut self, number: Number, summary: &Summary) -> Result<(), Fault> {
        let text = row::json(summary, self.guard.name())?;
        let sql = "UPDATE calls SET summary = $2, is_open = $4 WHERE number = $1 AND events = $3";
        let values: [&(dyn ToSql + Sync); 4] =
            [&number, &text, &i64::from(summary.events), &summary.is_open()];
        self.ask(|server| server.execute(sql, &values)).map(drop)
    }

    fn holder(&mut self, number: Number) -> Result<Option<Holder>, Fault> {
        self.held_by(number)
    }

    fn call(&mut self, number: Number) -> Result<Record, Fault> {
        let sql = format!("SELECT {COLUMNS} FROM calls WHERE number = $1");
        let found = self.ask(|server| server.query_opt(&sql, &[&number]))?;
        let listed = listed(&found.ok_or(Fault::NoCall(number))?).listed()?;
        let events = self.events_of(number)?;
        if events.is_empty() {
            // Erased between the two, it is not damaged.
            self.held_by(number)?;
        }
        row::record(listed, events)
    }

    fn number_of(&mut self, id: &str) -> Result<Option<Number>, Fault> {
        let found = self.ask(|server| server.query_opt("SELECT number FROM calls WHERE id = $1", &[&id]))?;
        Ok(found.map(|row| row.get(0)))
    }

    fn on_unit_like(&mut self, unit: &str) -> Result<Option<Number>, Fault> {
        let sql = "SELECT unit, MAX(number) FROM calls WHERE unit IS NOT NULL GROUP BY unit";
        let newest_on = self.ask(|server| server.query(sql, &[]))?;
        Ok(newest_alike(unit, newest_on.iter().map(|row| (row.get(0), row.get(1)))))
    }

    fn each(
        &mut self,
        wanted: &Wanted,
        ear: &mut dyn FnMut(Listed) -> Result<bool, Fault>,
    ) -> Result<Vec<Fault>, Fault> {
        let sql = format!(
            "SELECT {COLUMNS} FROM calls
             WHERE ($1::text IS NULL OR unit = $1) AND ($2::bigint IS NULL OR opened >= $2)
               AND ($3::bigint IS NULL OR opened < $3) {}
             ORDER BY number DESC LIMIT $4",
            if wanted.open { "AND is_open" } else { "" }
        );
        let (since, before) = (wanted.since.map(When::millis), wanted.before.map(When::millis));
        let most = wanted.most.map(i64::from);
        let unit = wanted.unit.as_deref().map(unit_key);
        let values: [&(dyn ToSql + Sync); 4] = [&unit, &since, &before, &most];
        let guard = &self.guard;
        // Row by row: a desk's years need not fit in memory.
        let mut rows = self.server.query_raw(&sql, values).map_err(|error| guard.fault(&error))?;
        let mut passed = Vec::new();
        while let Some(row) = rows.next().map_err(|error| guard.fault(&error))? {
            if !row::tell(listed(&row), ear, &mut passed)? {
                break;
            }
        }
        Ok(passed)
    }

    fn events_of(&mut self, number: Number) -> Result<Vec<Written>, Fault> {
        let sql = "SELECT place, at, event FROM events WHERE call = $1 ORDER BY place";
        let found = self.ask(|server| {
            let statement = server.prepare(sql)?;
            server.query(&statement, &[&number])
        })?;
        found.iter().map(|row| row::written(number, row.get(0), row.get(1), row.get(2))).collect()
    }

    fn import(&mut self, record: &Record) -> Result<Number, Fault> {
        self.take_in(record)
    }

    fn lengthen(&mut self, here: &Listed, record: &Record) -> Result<bool, Fault> {
        self.go_on(here, record)
    }

    fn is_forgotten(&mut self, id: &str) -> Result<bool, Fault> {
        let sql = "SELECT EXISTS (SELECT FROM forgotten WHERE id = $1)";
        Ok(self.ask(|server| server.query_one(sql, &[&id]))?.get(0))
    }

    fn forget(&mut self, number: Number) -> Result<(), Fault> {
        self.erase(number)
    }
}
