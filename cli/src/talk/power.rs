//! Power, panel and routines in words.

use super::super::standing;
use super::note::READ_LIVE;
use super::screen::{Label, Screen};
use engine::call::{
    Call, DeedResult, Ended, Event, Outcome, Panel, Power, PowerState, PowerStep, Routine, Sources,
    StepResult, Target, Towards,
};
use engine::record::Standing;
use engine::rulebook::{Answer, PowerStepKind, Rulebook, Signal, Value};
use std::io;

/// The state of power and panel, as it is shown whenever it has changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Status {
    power: String,
    leads: Option<String>,
    defeated: bool,
}

impl Status {
    pub(crate) fn of(call: &Call) -> Self {
        let (book, power) = (call.book(), call.power());
        let state = match power.state() {
            PowerState::Unknown if power.is_left_unproved() => {
                "not proved dead in an earlier call: it counts as live, and is proved dead before power comes back"
            }
            PowerState::Unknown if power.locked() => "locked off, not proved dead, so it counts as live",
            PowerState::Unknown => "not known, so it counts as live",
            PowerState::LockingOut { .. } => {
                "being locked out, and it counts as live until the tests are done"
            }
            PowerState::Dead { .. } => "locked out and proved dead",
            PowerState::Restoring { left }
                if left.first().is_some_and(|step| is_closing_up(step) || is_switched_off(call, step)) =>
            {
                "supply switched off, not proved dead, so it counts as live"
            }
            PowerState::Restoring { .. } => "between off and on, so it counts as live",
            PowerState::Live => "ON, the unit is live",
        };
        let panel = match power.panel() {
            Panel::Unknown => "not known",
            Panel::On => "on",
            Panel::Off => "off",
        };
        Self {
            power: format!("{state}. Panel: {panel}."),
            leads: power
                .leads()
                .map(|leads| format!("Test leads are fitted at {}.", station(book, leads.station.index()))),
            defeated: power.interlock_defeated(),
        }
    }

    /// Shows it; of leads that were there before, nothing is said again.
    pub(crate) fn show(&self, screen: &mut Screen<'_>, before: Option<&Self>) -> io::Result<()> {
        screen.row(Label::quiet("POWER"), &self.power)?;
        match (&self.leads, before.and_then(|before| before.leads.as_ref())) {
            (Some(leads), before) if before != Some(leads) => screen.row(Label::NONE, leads)?,
            (None, Some(_)) => screen.row(Label::NONE, "The test leads are off.")?,
            _ => {}
        }
        if self.defeated {
            screen
                .row(Label::signal(Signal::Warning), "The panel interlock is defeated for live readings.")?;
        }
        Ok(())
    }
}

/// Whether the routine of this step has begun with switching off, and has not switched on again.
fn is_switched_off(call: &Call, step: &PowerStep) -> bool {
    let done = call.events().iter().rev().filter_map(|event| match event {
        Event::Power { step, result } => Some((step, *result)),
        _ => None,
    });
    done.take_while(|(done, result)| {
        let on = done.kind == PowerStepKind::RestorePower;
        done.routine == step.routine && *result == StepResult::Done && !on
    })
    .any(|(done, _)| done.kind == PowerStepKind::SwitchOff)
}

/// Whether the unit may have been live until this happened, by a record alone: nobody can say that it was off before it.
pub(crate) fn puts_on(book: &Rulebook, event: &Event) -> bool {
    let is_on_the_way =
        matches!(event, Event::Power { step, .. } if matches!(step.routine, Routine::Restore(_)));
    lets_through(book, event) || tells_live(book, event) || switches_off(event) || is_on_the_way
}

/// Whether this switches a supply off that may have been on until then.
pub(crate) const fn switches_off(event: &Event) -> bool {
    matches!(event, Event::Power { step, .. }
        if matches!(step.kind, PowerStepKind::SwitchOffAndLock | PowerStepKind::SwitchOff))
}

/// Whether this tells what only a live unit shows.
pub(crate) fn tells_live(book: &Rulebook, event: &Event) -> bool {
    match event {
        Event::Told { fact, answer, .. } | Event::Again { fact, answer } => {
            book.fact(*fact).shows_live(answer)
        }
        Event::Danger { what } => what.meets(book.roles().undoes_dead),
        _ => false,
    }
}

/// Whether this lets the supply through, or shows at a test that it is on.
pub(crate) fn lets_through(book: &Rulebook, event: &Event) -> bool {
    match event {
        Event::Power { step, result: StepResult::Done } => {
            matches!(step.kind, PowerStepKind::RestorePower | PowerStepKind::ResetTrippedDevice)
        }
        Event::Deed { deed, result: DeedResult::Done, .. } => book.deed(*deed).energises,
        Event::Note(text) => text.starts_with(READ_LIVE),
        _ => false,
    }
}

/// Whether the unit has power and its panel is off.
pub(crate) fn is_live_and_open(power: &Power) -> bool {
    power.state() == &PowerState::Live && power.panel() == Panel::Off
}

fn is_closing_up(step: &PowerStep) -> bool {
    step.routine == Routine::CloseUp
}

/// How the unit is left where a call ends with it open or locked out, and not mended or in order.
pub(crate) fn left_like(call: &Call, ended: Option<&Ended>) -> Option<&'static str> {
    if ended.is_some_and(|ended| matches!(ended.last.outcome, Outcome::Proved | Outcome::InOrder)) {
        return None;
    }
    let power = call.power();
    let locked = power.locked() || matches!(power.state(), PowerState::LockingOut { .. });
    if power.lockout_failed() {
        return Some("Locks and tags stay on. Nobody reaches in, and nobody uses the unit.");
    }
    if locked {
        return Some("Locks and tags stay on. Nobody uses the unit before the work is done.");
    }
    (power.panel() == Panel::Off).then_some(
        "The panel is off. Have the supply switched off; the panel is closed before anybody uses the unit.",
    )
}

/// How the unit stands in a few words, for whoever comes next.
pub(crate) fn in_short(call: &Call) -> String {
    standing::in_short(&Standing::of(call))
}

/// Work that was begun and not finished, a line each: what was loosened in it is loose.
pub(crate) fn work_left(call: &Call) -> Vec<String> {
    let told = call.work_left().into_iter().map(|(deed, done)| {
        let rule = call.book().deed(deed);
        let last = done.checked_sub(1).and_then(|last| rule.steps.get(last));
        let last = last.map_or(String::new(), |step| format!(", the last: {step}"));
        format!("{}, {done} of {} steps{last}", rule.name, rule.steps.len())
    });
    told.collect()
}

/// A power step in a few words.
pub(crate) fn named(step: &PowerStep) -> String {
    let source = step.source.map_or("the supply".to_owned(), source_words);
    match step.kind {
        PowerStepKind::SwitchOffAndLock => format!("switching off and locking {source}"),
        PowerStepKind::WaitOutCharge => "waiting out the stored charge".to_owned(),
        PowerStepKind::TakePanelOff => "taking the panel off".to_owned(),
        PowerStepKind::ProveTester => "proving the tester".to_owned(),
        PowerStepKind::TestDead => format!("the test for dead of {source}"),
        PowerStepKind::ProveTesterAgain => "proving the tester again".to_owned(),
        PowerStepKind::FitLeads => "fitting test leads".to_owned(),
        PowerStepKind::TakeLeadsOff => "taking the test leads off".to_owned(),
        PowerStepKind::ToolsClear => "clearing tools".to_owned(),
        PowerStepKind::PutPanelOn => "putting the panel on".to_owned(),
        PowerStepKind::DefeatInterlock => "defeating the interlock".to_owned(),
        PowerStepKind::RestoreInterlock => "restoring the interlock".to_owned(),
        PowerStepKind::WarnPeople => "warning people".to_owned(),
        PowerStepKind::ResetTrippedDevice => "the one reset".to_owned(),
        PowerStepKind::RestorePower => "power coming back".to_owned(),
        PowerStepKind::SwitchOff => "switching off".to_owned(),
    }
}

/// What the unit must not be left with, shown loudly where a call ends with it.
pub(crate) fn left_behind(book: &Rulebook, power: &Power, screen: &mut Screen<'_>) -> io::Result<()> {
    let warning = Label::signal(Signal::Warning);
    left(book, power).iter().try_for_each(|text| screen.row(warning, text))
}

/// The same in words.
pub(crate) fn left(book: &Rulebook, power: &Power) -> Vec<String> {
    let defeated = power.interlock_defeated().then(|| {
        "The panel interlock is STILL DEFEATED. Nobody may use the unit before a qualified person restores it."
            .to_owned()
    });
    let leads = power.leads().map(|leads| {
        let station = station(book, leads.station.index());
        format!("Test leads are STILL FITTED at {station}. They come off only locked out and proved dead.")
    });
    defeated.into_iter().chain(leads).collect()
}

/// Where a station is, in plain words.
pub(crate) fn station(book: &Rulebook, index: usize) -> &str {
    book.power().stations.get(index).map_or("", |station| station.name.as_str())
}

/// The order of a power step, its places filled in.
pub(crate) fn order(book: &Rulebook, step: &PowerStep) -> String {
    let mut say = book.power().words(step.kind).say.clone();
    if let Some(source) = step.source {
        say = say.replace("{source}", &source_words(source));
    }
    if let Some(wait) = step.wait {
        say = say.replace("{minutes} minutes", &many(wait, "minute")).replace("{minutes}", &number(wait));
    }
    if let Some(leads) = &step.leads {
        say = say.replace("{station}", station(book, leads.station.index()));
        if say.contains("{readings}") {
            say = say.replace("{readings}", &readings(book, step));
        }
    }
    say
}

fn source_words((source, sources): (u32, Sources)) -> String {
    match sources {
        Sources::Counted(1) => "the unit's supply".to_owned(),
        Sources::Counted(count) => format!("supply {source} of {count}"),
        Sources::Unknown => "every supply that could feed the unit".to_owned(),
    }
}

/// The minutes that stand now for the motor's stored charge: by its label, else the longest that any motor needs.
pub(crate) fn charge_wait(call: &Call) -> f64 {
    let rules = call.book().power();
    call.known(rules.stored_charge).as_ref().and_then(in_minutes).unwrap_or(rules.longest_wait)
}

/// A time that was told, in minutes.
pub(crate) fn in_minutes(answer: &Answer) -> Option<f64> {
    match answer {
        Answer::Value(Value::Quantity(time)) => Some(time.base() / 60.0),
        _ => None,
    }
}

/// A number without a useless decimal.
pub(crate) fn number(number: f64) -> String {
    let tenths = format!("{number:.1}");
    tenths.strip_suffix(".0").map_or(tenths.clone(), str::to_owned)
}

/// So many of something: `1 minute`, `2 minutes`.
pub(crate) fn many(count: f64, what: &str) -> String {
    let plural = if (count - 1.0).abs() < f64::EPSILON { "" } else { "s" };
    format!("{} {what}{plural}", number(count))
}

/// The readings that leads are for: a few by name, many by number.
fn readings(book: &Rulebook, step: &PowerStep) -> String {
    let facts = step.leads.iter().flat_map(|leads| &leads.facts);
    let names: Vec<&str> = facts.map(|fact| book.fact(*fact).name.as_str()).collect();
    match names[..] {
        [] => "the reading".to_owned(),
        [one] => format!("the {one}"),
        _ => format!("these {} readings", names.len()),
    }
}

/// The step's heading: which routine it is, what for, and how far it has come.
pub(crate) fn heading(
    call: &Call,
    step: &PowerStep,
    towards: Towards,
    screen: &mut Screen<'_>,
) -> io::Result<()> {
    let (label, first) = match step.routine {
        Routine::LockOut => ("LOCK-OUT", "now the unit is made dead: locked out, then tested"),
        Routine::Staging if step.kind == PowerStepKind::TakeLeadsOff => {
            ("LEADS", "the test leads come off, dead")
        }
        Routine::Staging => ("LEADS", "read from outside with the panel on, on leads fitted dead"),
        Routine::Restore(Target::Outside) => ("RESTORE", "now power is brought back, with the panel on"),
        Routine::Restore(Target::Inside) => {
            ("RESTORE", "now power is brought back with the panel off, for live readings")
        }
        Routine::Restore(Target::Entry) => {
            ("RESTORE", "now power is brought back with the panel off; its switch keeps the motor off")
        }
        Routine::CloseUp => ("CLOSE UP", "the unit is left as it must be left"),
    };
    let (label, first) = match step.routine {
        Routine::Restore(target) if step.kind == PowerStepKind::SwitchOff => ("CHANGE", off_then_on(target)),
        Routine::Restore(_) if within(call, step).is_some() && is_switched_off(call, step) => {
            ("CHANGE", first)
        }
        _ => (label, first),
    };
    let text = match (step.routine, within(call, step)) {
        (Routine::Staging, _) | (Routine::CloseUp, None) => first.to_owned(),
        (_, Some(left)) => {
            let off = if label == "CHANGE" { "; supply switched off, not proved dead" } else { "" };
            match left {
                1 => format!("the last step{off}"),
                more => format!("{more} steps to go{off}"),
            }
        }
        (_, None) => format!("{first}. For: {}", goal(call.book(), towards)),
    };
    screen.row(Label::quiet(label), &text)
}

/// How many steps are left where the routine of this step is under way.
fn within(call: &Call, step: &PowerStep) -> Option<usize> {
    match call.power().state() {
        PowerState::LockingOut { left, .. } | PowerState::Restoring { left } => {
            (left.first() == Some(step)).then_some(left.len())
        }
        _ => None,
    }
}

/// What a change of the panel on a unit that may be live comes to.
const fn off_then_on(target: Target) -> &'static str {
    match target {
        Target::Outside => "off first, then on again with the panel on",
        Target::Inside => "off first, then on again with the panel off, for live readings",
        Target::Entry => "off first, then on again with the panel off; its switch keeps the motor off",
    }
}

/// The readings that leads are for, where they are too many for the order itself.
pub(crate) fn list_readings(book: &Rulebook, step: &PowerStep, screen: &mut Screen<'_>) -> io::Result<()> {
    let facts = step.leads.iter().flat_map(|leads| &leads.facts);
    let names: Vec<&str> = facts.map(|fact| book.fact(*fact).name.as_str()).collect();
    if step.kind == PowerStepKind::FitLeads && names.len() > 1 {
        return screen.numbered(&names);
    }
    Ok(())
}

/// What a routine is for: the reading, the work, or the end.
pub(crate) fn goal(book: &Rulebook, towards: Towards) -> String {
    match towards {
        Towards::Fact { fact, .. } => book.fact(fact).name.clone(),
        Towards::Deed { deed, .. } => book.deed(deed).name.clone(),
        Towards::CloseUp => "the end of the call".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{many, number};

    #[test]
    fn a_number_has_no_useless_decimal() {
        assert_eq!((number(5.0), number(0.5)), ("5".to_owned(), "0.5".to_owned()));
        assert_eq!(
            (many(1.0, "minute"), many(12.0, "minute")),
            ("1 minute".to_owned(), "12 minutes".to_owned())
        );
    }
}
