//! What is said of trials, on a terminal and on a page.

use super::figures::{Cell, Figures, Spread};
use super::put_in::{How, Plan};
use crate::args::TrialArguments;
use crate::command::share::Share;
use crate::command::spread::half;
use crate::harmless::harmless;
use bench::trial::{Trial, Verdict};
use bench::{COMPLAINTS, Care, Fault};
use engine::rulebook::{Choice, EndingId, Rulebook};
use std::path::Path;

/// So many of what was missed are named.
const MOST_MISTAKEN: usize = 5;

/// What was tried, on how many, under which seed.
pub(super) fn scope(plan: &Plan, figures: &Figures) -> String {
    let (calls, faults) = (count(figures.all.found.of, "call"), plan.faults.len());
    let put_in = match plan.how {
        How::None => "nothing wrong".to_owned(),
        How::One if faults == 1 => "one fault each".to_owned(),
        How::One => format!("one fault each, out of {faults}"),
        How::Two => format!("two faults each, out of {faults}"),
        How::Drawn => format!("none, one or two faults drawn, out of {faults}"),
    };
    let technician = match plan.care {
        Care::Perfect => "takes every reading and never slips",
        Care::Careful => "cannot take some readings and never slips",
        Care::Human => "cannot take some readings and now and then slips",
    };
    format!("{calls} on simulated units with {put_in}; seed {}; the technician {technician}.", plan.seed)
}

/// The share that reached the right ending; with faults put in, also those that were named and those that are mended.
pub(super) fn headline(plan: &Plan, figures: &Figures) -> String {
    let [right, ..] = figures.all.verdicts;
    let text = format!(
        "Right ending reached: {}. And nothing else done: {}.",
        in_full(figures.all.found),
        in_full(Share::new(right, figures.all.found.of))
    );
    let every = match plan.how {
        How::None => return text,
        How::One => "The fault",
        How::Two => "Both faults",
        How::Drawn => "Every fault",
    };
    let (named, mended) = (in_full(figures.named), in_full(figures.mended));
    format!("{text} {every} named: {named}; out of the unit at the end, and the house right: {mended}.")
}

/// `96.2 % (94.8–97.2 %)`: to a tenth, with its 95 % interval whatever its width.
pub(super) fn in_full(share: Share) -> String {
    let (Some(value), Some([low, high])) = (share.value, share.interval) else {
        return "none".to_owned();
    };
    let [value, low, high] = [value, low, high].map(|part| part * 100.0);
    // Outwards, so that it never looks surer than it is.
    let (low, high) = ((low * 10.0).floor() / 10.0, (high * 10.0).ceil() / 10.0);
    format!("{value:.1} % ({low:.1}–{high:.1} %)")
}

/// What a verdict means.
pub(super) const fn means(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Right => "everything that was put in was named or mended, and nothing else was done",
        Verdict::Detour => "everything was named or mended, and something else was done as well",
        Verdict::Half => "of two faults one was named or mended",
        Verdict::GaveUp => "nothing was named: too little could be read, or the same came round again",
        Verdict::Wrong => "something else was named, or nothing wrong was found",
    }
}

/// The rows of what calls took.
pub(super) fn costs(figures: &Figures) -> [(&'static str, Spread); 4] {
    [
        ("visits", figures.visits),
        ("questions", figures.questions),
        ("lock-outs", figures.lockouts),
        ("minutes", figures.minutes),
    ]
}

/// The figures of such a row.
pub(super) fn spread(spread: Spread) -> [String; 3] {
    // Minutes are no truer than whole ones; a median of two counts may lie between them.
    let number = |number: f64| if number < 100.0 { half(number) } else { format!("{number:.0}") };
    [spread.median, spread.most_of, spread.most].map(number)
}

/// What a fault is called, or that there is none.
pub(super) fn fault(fault: Option<Fault>) -> &'static str {
    fault.map_or("nothing put in", Fault::name)
}

/// Several faults by their ids, as `--faults` takes them.
pub(super) fn faults(trial: &Trial) -> String {
    joined(trial, Fault::id)
}

/// Several faults by their names.
pub(super) fn names(trial: &Trial) -> String {
    joined(trial, Fault::name)
}

fn joined(trial: &Trial, what: fn(Fault) -> &'static str) -> String {
    let faults: Vec<&str> = trial.faults.iter().copied().map(what).collect();
    if faults.is_empty() { fault(None).to_owned() } else { faults.join(" + ") }
}

/// The endings of a call, in order.
pub(super) fn reached(book: &Rulebook, trial: &Trial) -> String {
    let ids: Vec<&str> = trial.reached.iter().map(|(ending, _)| book.ending(*ending).id.as_str()).collect();
    if ids.is_empty() { "no end".to_owned() } else { harmless(&ids.join(", then ")) }
}

/// How the table of faults and endings is read.
pub(super) const HOW_READ: &str = "\
The share is of the calls with that fault in which everything that was put in was named or mended. Beside it stands every ending \
that some of them came to, and in how many: one call may come to several. Needless is an ending that answers nothing that \
was put in. Missed says in how many calls an ending was the last word while not everything had been named or mended.";

/// What was missed most often, as in `wheel dirty in airflow-in-range 11`.
pub(super) fn mistaken(book: &Rulebook, figures: &Figures) -> Option<String> {
    let one = |(put_in, cell): &(Option<Fault>, Cell)| {
        harmless(&format!("{} in {} {}", fault(*put_in), book.ending(cell.ending).id, cell.missed))
    };
    let most: Vec<String> = figures.mistaken().iter().take(MOST_MISTAKEN).map(one).collect();
    (!most.is_empty()).then(|| format!("Missed most often, and the last word instead: {}.", most.join(", ")))
}

/// What else has to be said: faults without an ending in these rules, facts that the model lacks, calls not made.
pub(super) fn notes(book: &Rulebook, plan: &Plan, figures: &Figures) -> Vec<String> {
    let mut notes = Vec::new();
    let lost = |fault: &&Fault| !fault.right().any(|(ending, _)| book.ending_named(ending).is_some());
    let lost: Vec<&str> = plan.faults.iter().filter(lost).map(|fault| fault.id()).collect();
    if !lost.is_empty() && plan.how != How::None {
        notes.push(format!("These rules have no ending that is right for: {}.", lost.join(", ")));
    }
    if !figures.unknown.is_empty() {
        let facts = figures.unknown.iter().map(|(fact, calls)| format!("{fact} ({})", count(*calls, "call")));
        let facts: Vec<String> = facts.collect();
        notes.push(harmless(&format!(
            "The model knows nothing of these facts; it was answered that they cannot be taken: {}.",
            facts.join(", ")
        )));
    }
    let complaint = book.fact(book.roles().complaint);
    let unsaid = |choice: &&Choice| !COMPLAINTS.contains(&choice.id.as_str());
    let unsaid: Vec<&str> =
        complaint.choices().iter().filter(unsaid).map(|choice| choice.id.as_str()).collect();
    if !unsaid.is_empty() {
        notes.push(harmless(&format!(
            "No caller of a simulated unit says this, since no fault of it shows so; what the rules do then was not \
             tried: {}.",
            unsaid.join(", ")
        )));
    }
    if figures.not_made > 0 {
        notes.push(format!(
            "Not made, and not counted: {}. No unit can have what was to be put in.",
            count(figures.not_made, "call")
        ));
    }
    if figures.slips > 0 {
        notes.push(format!("Answers that were something else than was found: {}.", figures.slips));
    }
    notes
}

/// Whether every prompt was safe.
pub(super) fn safety(figures: &Figures) -> String {
    if figures.unsafe_prompts.is_empty() {
        "No prompt was unsafe as the unit truly stood.".to_owned()
    } else {
        format!(
            "UNSAFE PROMPTS: {}. They must be mended before these rules are used:",
            figures.unsafe_prompts.len()
        )
    }
}

/// An ending and how often, as in `change-filter 12`.
pub(super) fn times(book: &Rulebook, (ending, calls): (EndingId, u32)) -> String {
    harmless(&format!("{} {calls}", book.ending(ending).id))
}

/// The command that shows a call, but for its number.
pub(super) fn again(arguments: &TrialArguments, rules: Option<&Path>) -> String {
    let given = &arguments.put_in;
    let flags = [
        (given.pairs, "--pairs"),
        (given.healthy, "--healthy"),
        (given.drawn, "--drawn"),
        (arguments.technician.slips, "--slips"),
        (arguments.technician.every_reading, "--every-reading"),
    ];
    let mut words = vec![format!("motorwright trial --seed {}", arguments.seed)];
    words.extend(flags.into_iter().filter(|(given, _)| *given).map(|(_, flag)| flag.to_owned()));
    if !given.faults.is_empty() {
        words.push(format!("--faults {}", harmless(&given.faults.join(","))));
    }
    words.extend(rules.map(|rules| format!("--rules {}", harmless(&rules.display().to_string()))));
    words.join(" ")
}

/// `1 call`, `2 calls`.
pub(super) fn count(count: u32, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}
