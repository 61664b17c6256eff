//! `motorwright trial --show`: one simulated call as a conversation, or as a case.

use super::put_in::{Plan, was_made};
use super::wording;
use crate::args::TrialArguments;
use crate::command::call::{layout, units};
use crate::failure::{DISAGREES, Failure, OK};
use crate::talk::{Stopped, Talk, Voice};
use bench::trial::{Trial, Visit, watched};
use engine::call::{Answerer, Call, Halt, Prompt, Refusal, Reply, drive};
use engine::case::Case;
use engine::rulebook::Rulebook;
use std::collections::VecDeque;
use std::io::Write as _;
use std::sync::Arc;

pub(super) fn run(
    book: &Arc<Rulebook>,
    plan: &Plan,
    number: u64,
    arguments: &TrialArguments,
) -> Result<u8, Failure> {
    let (setup, _) = plan.make(book, number);
    let mut replies = VecDeque::new();
    let trial = watched(book, &setup, number, &mut |_, _, reply| replies.push_back(reply.clone()));
    if !was_made(&trial) {
        return Err(Failure::NoUnit { call: number, faults: wording::faults(&trial) });
    }
    let last = trial.visits.len();
    for (visit, count) in trial.visits.iter().zip(1..) {
        let mut call = Call::new(Arc::clone(book));
        visit.opening.iter().cloned().for_each(|event| call.apply(event));
        let mut replies = Replies(replies.drain(..visit.replies.min(replies.len())).collect());
        if arguments.as_case {
            // A call that came to no end is a case all the same: it says so.
            if let Err(halt) = drive(&mut call, &mut replies) {
                tracing::debug!(%halt, "a simulated call came to no end");
            }
            print_case(&call, plan, (number, count, last), &trial)?;
            continue;
        }
        let voice = Voice::Played(Box::new(replies));
        let (units, layout) = (units(&arguments.talk), layout(&arguments.talk));
        let mut talk = Talk::new(Box::new(anstream::stdout()), voice, units, layout);
        talk.greet(&title(plan, number, count))?;
        if count > 1 {
            talk.recall(&call, &[], &[])?;
        }
        let ended = drive(&mut call, &mut talk);
        let rows = if count == last { behind(&trial) } else { between(book, visit) };
        talk.tell_behind(&rows)?;
        if let Err(Stopped::Broken(error)) = talk.closed(ended) {
            return Err(Failure::Terminal(error));
        }
        if count < last {
            writeln!(anstream::stdout().lock())?;
        }
    }
    let sound = trial.unsafe_prompts.is_empty() && trial.halted.is_none();
    Ok(if sound { OK } else { DISAGREES })
}

fn title(plan: &Plan, number: u64, visit: usize) -> String {
    let visit = if visit == 1 { String::new() } else { format!(", visit {visit}") };
    format!("A call on a simulated unit, number {number} under seed {}{visit}.", plan.seed)
}

/// One call as a case file; of several, each is a document of its own.
fn print_case(
    call: &Call,
    plan: &Plan,
    (number, visit, visits): (u64, usize, usize),
    trial: &Trial,
) -> Result<(), Failure> {
    let (of, at) = if visits > 1 {
        (format!(" Visit {visit} of {visits}."), format!("-{visit}"))
    } else {
        (String::new(), String::new())
    };
    let about = format!("Simulated: seed {}, {} put in.{of}", plan.seed, wording::faults(trial));
    let name = format!("trial-{number}{at}");
    let case = Case::of_call(call, &name, Some(&about));
    let mut out = anstream::stdout().lock();
    if visit > 1 {
        writeln!(out, "---")?;
    }
    write!(out, "{}", case.to_yaml(call.book()))?;
    Ok(())
}

/// What was done before the next visit, and what people say then.
fn between(book: &Rulebook, visit: &Visit) -> Vec<(&'static str, String)> {
    let since = visit.since.map_or_else(
        || "What was left for later is brought, and the technician comes again.".to_owned(),
        |ending| {
            format!("Others did their work: {}. The house is still not right.", book.ending(ending).name)
        },
    );
    vec![("SINCE", since)]
}

/// What only the model knows, told when the call is over.
fn behind(trial: &Trial) -> Vec<(&'static str, String)> {
    let mut rows = Vec::new();
    for fault in &trial.faults {
        let right: Vec<String> =
            fault.right().map(|(ending, because)| format!("{ending} ({because})")).collect();
        rows.push(("PUT IN", format!("{}. It ends right in {}.", fault.id(), right.join(" or in "))));
    }
    if trial.faults.is_empty() {
        rows.push(("PUT IN", "Nothing. It ends right with the unit in order.".to_owned()));
    }
    rows.push(("JUDGED", format!("{}: {}.", trial.verdict.word(), wording::means(trial.verdict))));
    let left = if trial.cured {
        "Nothing that would be noticed in the house."
    } else {
        "Something that would be noticed in the house."
    };
    rows.push(("REMAINS", left.to_owned()));
    if trial.slips > 0 {
        let slips = format!("{}: said something else than was found.", wording::count(trial.slips, "time"));
        rows.push(("SLIPS", slips));
    }
    rows.extend(trial.unsafe_prompts.iter().map(|what| ("UNSAFE", what.clone())));
    rows.extend(trial.halted.iter().map(|why| ("NO END", why.clone())));
    rows
}

/// The replies of a call that was made already, in their order.
struct Replies(VecDeque<Reply>);

impl Answerer for Replies {
    fn reply(&mut self, _: &Call, _: &Prompt) -> Result<Reply, Halt> {
        self.0.pop_front().ok_or_else(|| Halt("the simulated technician said no more".to_owned()))
    }

    fn refused(&mut self, _: Refusal) {}
}
