//! `motorwright figure`: the formulas, listed, shown and worked.

mod given;
mod refused;
mod sheet;
mod worked;

use crate::failure::{Failure, OK, UNREADABLE};
use clap::Args;
use engine::finding::near;
use engine::formula::{FORMULAS, Formula};
use given::Given;
use refused::Refused;
use std::io::Write;
use worked::Worked;

pub(crate) const EXAMPLES: &str = "\
Examples:
  motorwright figure                               list the formulas
  motorwright figure sensible-airflow
      show one: its inputs, ranges and source
  motorwright figure sensible-airflow heat=64000Btu/h rise=50F elevation=600ft return=70F
  motorwright figure airflow-target \"3 tons\"       inputs in their order
  motorwright figure line-drop-solid 14 50ft 9.8A
      fifty feet of 14 gauge, there and back
  motorwright figure difference first=0.22inwc second=-0.31inwc
  motorwright figure sensible-airflow heat=80000 rise=\"55F +-2F\" elevation=0 return=70 --json

A number without a unit is in the usual one. A value with `+-` is known to so
much either way, or to so many percent; the result then says how sure it is. A
value below zero goes by its name. Where a standard is the source, its current
edition and the local code decide.

Exit codes: 0 all well, 2 something could not be read or has no value.";

/// What `figure` takes.
#[derive(Args, Debug)]
pub(crate) struct FigureArguments {
    /// Which formula; without it, all are listed
    #[arg(value_name = "NAME")]
    name: Option<String>,
    /// What goes in, by name (`rise=50F`) or in order; without any, the formula is shown
    #[arg(value_name = "INPUT")]
    inputs: Vec<String>,
    /// One JSON object a line instead of text
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &FigureArguments) -> Result<u8, Failure> {
    let shown = match answer(arguments) {
        Ok(shown) => shown,
        Err(refused) => {
            anstream::eprintln!("motorwright: {refused}");
            return Ok(UNREADABLE);
        }
    };
    let mut out = anstream::stdout().lock();
    for line in shown {
        writeln!(out, "{line}")?;
    }
    Ok(OK)
}

/// The lines to show.
fn answer(arguments: &FigureArguments) -> Result<Vec<String>, Refused> {
    let Some(name) = &arguments.name else {
        return Ok(if arguments.json { sheet::json(&FORMULAS)? } else { sheet::list(&FORMULAS) });
    };
    let formula = Formula::by_name(name).ok_or_else(|| Refused::NoFormula {
        name: refused::short(name),
        near: near(name, FORMULAS.iter().map(|formula| formula.name())),
    })?;
    if arguments.inputs.is_empty() {
        return Ok(if arguments.json { sheet::json(&[formula])? } else { sheet::page(formula) });
    }
    let given = Given::read(formula, &arguments.inputs)?;
    let worked = Worked::of(formula, &given)?;
    Ok(if arguments.json { vec![worked.json()?] } else { worked.page() })
}
