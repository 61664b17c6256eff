//! Power, panel and routines in words.

use super::screen::{Label, Screen};
use engine::call::{Call, Panel, Power, PowerState, PowerStep, Routine, Sources, Target, Towards};
use engine::rulebook::{PowerStepKind, Rulebook, Signal};
use std::io;

/// The state of power and panel, as it is shown whenever it has changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Status {
    power: String,
    leads: Option<String>,
    defeated: bool,
}

impl Status {
    pub(crate) fn of(book: &Rulebook, power: &Power) -> Self {
        let state = match power.state() {
            PowerState::Unknown => "not known, so it counts as live",
            PowerState::LockingOut { .. } => {
                "being locked out, and it counts as live until the tests are done"
            }
            PowerState::Dead { .. } => "locked out and proved dead",
            PowerState::Restoring { left } if left.first().is_some_and(is_closing_up) => {
                "switched off but not proved dead, so it counts as live"
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

fn is_closing_up(step: &PowerStep) -> bool {
    step.routine == Routine::CloseUp
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
        let plural = if (wait - 1.0).abs() < f64::EPSILON { "minute" } else { "minutes" };
        say = say
            .replace("{minutes} minutes", &format!("{} {plural}", number(wait)))
            .replace("{minutes}", &number(wait));
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

/// A number without a useless decimal.
pub(crate) fn number(number: f64) -> String {
    let tenths = format!("{number:.1}");
    tenths.strip_suffix(".0").map_or(tenths.clone(), str::to_owned)
}

/// The readings that leads are for: a few by name, many by number.
fn readings(book: &Rulebook, step: &PowerStep) -> String {
    let facts = step.leads.iter().flat_map(|leads| &leads.facts);
    let names: Vec<&str> = facts.map(|fact| book.fact(*fact).name.as_str()).collect();
    match names[..] {
        [] => "the reading".to_owned(),
        [one] => format!("the {one}"),
        [one, two] => format!("the {one} and the {two}"),
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
        Routine::LockOut => ("LOCK-OUT", "the unit is locked out and proved dead"),
        Routine::Staging if step.kind == PowerStepKind::TakeLeadsOff => {
            ("LEADS", "the test leads come off, dead")
        }
        Routine::Staging => ("LEADS", "read from outside with the panel on, on leads fitted dead"),
        Routine::Restore(Target::Outside) => ("RESTORE", "power comes back with the panel on"),
        Routine::Restore(Target::Inside) => {
            ("RESTORE", "power comes back with the panel off, for live readings")
        }
        Routine::Restore(Target::Entry) => {
            ("RESTORE", "power comes back with the panel off; its switch keeps the motor off")
        }
        Routine::CloseUp => ("CLOSE UP", "the unit is left as it must be left"),
    };
    let text = match (step.routine, call.power().state()) {
        (Routine::Staging, _) => first.to_owned(),
        (_, PowerState::LockingOut { left, .. } | PowerState::Restoring { left })
            if left.first() == Some(step) =>
        {
            match left.len() {
                1 => "the last step".to_owned(),
                more => format!("{more} steps to go"),
            }
        }
        (Routine::CloseUp, _) => first.to_owned(),
        _ => format!("{first}. For: {}", goal(call.book(), towards)),
    };
    screen.row(Label::quiet(label), &text)
}

/// The readings that leads are for, where they are too many for the order itself.
pub(crate) fn list_readings(book: &Rulebook, step: &PowerStep, screen: &mut Screen<'_>) -> io::Result<()> {
    let facts = step.leads.iter().flat_map(|leads| &leads.facts);
    let names: Vec<&str> = facts.map(|fact| book.fact(*fact).name.as_str()).collect();
    if step.kind == PowerStepKind::FitLeads && names.len() > 2 {
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
    use super::number;

    #[test]
    fn a_number_has_no_useless_decimal() {
        assert_eq!((number(5.0), number(0.5)), ("5".to_owned(), "0.5".to_owned()));
    }
}
