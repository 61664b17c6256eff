//! Somebody who knows one house, reads nothing but the window, and types as people do.

use super::pty::{Terminal, flat};
use crate::house::BOOK;

/// What is so in the house: the motor's link is for 230 volts, the supply gives 115, and the blower does not run.
const HOUSE: [(&str, &str); 32] = [
    ("danger_seen", "none"),
    ("complaint", "No run"),
    ("unit_kind", "furnace"),
    ("heat_source", "gas"),
    ("unit_rated_supply", "115"),
    ("supply_sources", "1"),
    ("motor_model", "tarnhow-a"),
    ("motor_history", "new from box"),
    ("live_work_allowed", "y"),
    ("breaker_position", "on"),
    ("disconnect_position", "1"),
    ("access_panel_switch", "made"),
    ("thermostat_calling", "fan"),
    ("motor_popped", "no"),
    ("motor_runs", "n"),
    ("line_voltage_before_panel_switch", "119"),
    ("line_voltage_at_unit", "118.9 v"),
    ("transformer_primary_voltage", "118.9"),
    ("line_voltage_at_motor", "0.1186 kV"),
    ("control_voltage", "25.8V"),
    ("call_voltage", "25.6"),
    ("rating_lead_voltage", "118.5"),
    ("connectors_condition", "sound"),
    ("harness_condition", "sound"),
    ("speed_lead_position", "on call terminal"),
    ("rating_leads_position", "as needed"),
    ("rating_selected", "1/3 hp"),
    ("link_fitted", "link-230"),
    ("control_fuse", "good"),
    ("line_lead_continuity", ".2"),
    ("shaft_turn", "free"),
    ("power_cycled", "yes"),
];

/// What is so once the right link is in.
const MENDED: [(&str, &str); 3] =
    [("motor_runs", "yes"), ("link_fitted", "link-115"), ("complaint_gone", "yes")];

/// The repair, as it is called.
pub(crate) const REPAIR: &str = "fit the link marked 115 volts";
/// Begins a call that comes to the repair, with the unit locked out before this conversation ever puts power on.
pub(crate) const WRONG_LINK: [&str; 3] =
    ["none", "wrong link", "tell line voltage before the panel switch 119"];
/// What is shown when nothing is left to be asked.
pub(crate) const END: &str = "Enter, to close";

/// Answers whatever is asked, until a text is shown with the question; gives back all that was read till then.
pub(crate) fn lead(terminal: &mut Terminal, until: &str) -> String {
    terminal.asked();
    let mut read = String::new();
    loop {
        let fresh = terminal.fresh();
        read.extend([&fresh, "\n"]);
        assert!(!terminal.breaks_a_line(), "a line is too wide:\n{}", terminal.screen());
        if fresh.contains(until) {
            return read;
        }
        assert!(!fresh.contains(END) && read.len() < 100_000, "`{until}` does not come:\n{read}");
        assert!(terminal.is_in_the_window(), "a question begins above the window:\n{}", terminal.screen());
        terminal.line(answer(&fresh, read.contains(&format!("{REPAIR}: done"))));
    }
}

/// What is typed at what was read.
fn answer(fresh: &str, is_mended: bool) -> &'static str {
    let asked = BOOK.facts().iter().filter_map(|fact| Some((fact, flat(&fact.asking.as_ref()?.say))));
    let asked = asked.filter(|(_, say)| fresh.contains(say)).max_by_key(|(_, say)| say.len());
    let Some((fact, _)) = asked else {
        let test = fresh.contains("dead, if everything reads dead");
        return if fresh.contains("all the same") {
            "yes"
        } else if fresh.contains("Do it now") {
            "now"
        } else if test {
            "dead"
        } else if fresh.contains("it was off and locked before this") {
            // It was off for long before anybody called, which a mere done does not say.
            "90 minutes"
        } else {
            "done"
        };
    };
    let now = if is_mended { &MENDED[..] } else { &[] };
    let known = now.iter().chain(&HOUSE).find(|(id, _)| *id == fact.id);
    known.map_or_else(|| panic!("nobody told what `{}` is, at:\n{fresh}", fact.id), |(_, typed)| typed)
}
