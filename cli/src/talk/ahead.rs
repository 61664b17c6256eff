//! Where the call is, and what lies ahead: `where`, `plan`, and the ways on that `why` shows.

use super::answer::word;
use super::desk::Desk;
use super::power::{many, number, station};
use super::screen::{Label, Screen};
use engine::call::{Ahead, Band, Call, EdgeNow, Next, Outcome, Passed, PowerState, Purpose, Reached, Stop};
use engine::rulebook::{EndingId, Fact, FactId, PowerNeed, Value};
use std::collections::BTreeMap;
use std::io;

/// The most findings that are shown of the way so far.
const NEWEST: usize = 5;

/// Where the call is: the complaint, and what the newest answers meant.
pub(crate) fn place(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    let book = call.book();
    let complaint = book.fact(book.roles().complaint);
    let told = call.ledger().current(book.roles().complaint).map(|version| version.answer);
    let position = match told {
        Some(engine::rulebook::Answer::Value(Value::Choices(set))) => set.positions().next(),
        _ => None,
    };
    let about = position.and_then(|position| complaint.choices().get(position));
    let about = about.map_or("the complaint is not told yet", |choice| choice.means.as_str());
    let round = match call.repairs_before().last() {
        Some(Reached { ending, outcome: Outcome::Proved }) => {
            format!("; mended on the way: {}", book.ending(*ending).name)
        }
        Some(reached) => format!("; not mended by: {}", book.ending(reached.ending).name),
        None => String::new(),
    };
    screen.row(Label::quiet("WHERE"), &format!("{about}{round}"))?;
    screen.list(Label::quiet("LEARNED"), &learned(call))
}

/// What the newest answers meant, oldest first; the questions that every call begins with are left out.
fn learned(call: &Call) -> Vec<String> {
    let book = call.book();
    let start = book.roles().start;
    let means = |passed: &Passed| {
        let step = book.step(passed.step);
        let counts = step.asks && step.tree != start;
        step.means(passed.line).filter(|_| counts).map(str::to_owned)
    };
    // What proves a repair is read of a unit that was mended since: it says nothing of the fault.
    let mended = call.being_proved().is_some()
        || matches!(call.next(), Next::Ended(ended)
            if matches!(ended.last.outcome, Outcome::Proved | Outcome::NotProved));
    let proves = |passed: &&Passed| {
        let version = call.ledger().current(book.step(passed.step).fact);
        mended && version.is_some_and(|version| version.purpose == Some(Purpose::Proof))
    };
    let trail = call.walk().trail;
    let mut means: Vec<String> =
        trail.iter().take_while(|passed| !proves(passed)).filter_map(means).collect();
    means.split_off(means.len().saturating_sub(NEWEST))
}

/// Each way on from here: what it means and where it leads.
pub(crate) fn ways(screen: &mut Screen<'_>, desk: Desk<'_>) -> io::Result<()> {
    let Stop::Need { step, fact, .. } = desk.call.walk().stop else {
        return Ok(());
    };
    let wanted = desk.book().fact(desk.book().step(step).fact);
    if fact != desk.book().step(step).fact {
        screen.row(Label::NONE, &format!("It is needed to judge the {}.", wanted.name))?;
    }
    let rows: Vec<String> = desk.call.ways_ahead().iter().map(|way| row(desk, wanted, way)).collect();
    screen.list(Label::quiet("IF"), &rows)
}

fn row(desk: Desk<'_>, fact: &Fact, way: &Ahead<'_>) -> String {
    let when = match (way.band, way.means) {
        (Some(band), _) => values(desk, band),
        (None, Some(_)) => word(&fact.show(&Value::Choices(way.choices))).replace(" + ", ", "),
        (None, None) => "cannot".to_owned(),
    };
    let means = way.means.map_or(String::new(), |means| format!(": {means}"));
    let to = match way.to {
        Some(Stop::Need { fact, .. }) => format!("Next: {}", desk.book().fact(fact).name),
        Some(Stop::End(ending)) => comes_to(desk.call, ending),
        None => "What comes next hangs on more than this".to_owned(),
    };
    format!("{when}{means}. {to}.")
}

fn comes_to(call: &Call, ending: EndingId) -> String {
    let ending = call.book().ending(ending);
    let what = if ending.is_repair() { "Work" } else { "End" };
    format!("{what}: {}", ending.name)
}

/// The values of a band, its edges in the units shown.
fn values(desk: Desk<'_>, band: Band) -> String {
    let edge = |edge: EdgeNow| match edge {
        EdgeNow::Known(quantity) => desk.units.shown(quantity).to_string(),
        EdgeNow::Share { of, share } => {
            let name = &desk.book().fact(of).name;
            if (share - 1.0).abs() < f64::EPSILON {
                format!("the {name}")
            } else {
                format!("{} percent of the {name}", number(share * 100.0))
            }
        }
    };
    match (band.from.map(edge), band.to.map(edge)) {
        (None, Some(high)) => format!("below {high}"),
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (Some(low), None) => format!("above {low}"),
        (None, None) => "any".to_owned(),
    }
}

/// What could be read at one go from here: all that needs a lock-out, and what is read live, by place.
pub(crate) fn plan(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    if !matches!(call.walk().stop, Stop::Need { .. }) {
        return screen.row(Label::quiet("PLAN"), "no more readings lie ahead");
    }
    let facts = call.facts_ahead();
    let needing =
        |need: PowerNeed| facts.iter().copied().filter(move |fact| call.book().fact(*fact).power == need);
    let dead: Vec<FactId> = needing(PowerNeed::Dead).collect();
    let heading = match (dead.is_empty(), call.power().state()) {
        (true, _) => "no reading that needs a lock-out lies ahead".to_owned(),
        (false, PowerState::Dead { .. }) => {
            format!("in this lock-out we could read, {}:", minutes(call, &dead))
        }
        (false, _) => format!("one lock-out now would let us read, {}:", minutes(call, &dead)),
    };
    screen.row(Label::quiet("PLAN"), &heading)?;
    names(screen, call, &dead)?;
    let mut by_place: BTreeMap<&str, Vec<FactId>> = BTreeMap::new();
    for fact in needing(PowerNeed::Live) {
        let rule = call.book().fact(fact);
        let inside = rule.station.filter(|_| rule.can_be_led_out());
        let place = inside.map_or("outside the unit, panel on", |place| station(call.book(), place.index()));
        by_place.entry(place).or_default().push(fact);
    }
    for (place, facts) in by_place {
        screen.row(Label::quiet("LIVE"), &format!("{place}, {}:", minutes(call, &facts)))?;
        names(screen, call, &facts)?;
    }
    screen.row(Label::NONE, "Only what the answers make needed will be asked.")
}

fn names(screen: &mut Screen<'_>, call: &Call, facts: &[FactId]) -> io::Result<()> {
    let names: Vec<&str> = facts.iter().map(|fact| call.book().fact(*fact).name.as_str()).collect();
    screen.numbered(&names)
}

fn minutes(call: &Call, facts: &[FactId]) -> String {
    let minutes: f64 = facts.iter().map(|fact| call.book().fact(*fact).minutes).sum();
    format!("about {}", many(minutes.round(), "minute"))
}
