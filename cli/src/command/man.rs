//! `motorwright man`: the manual page, in the form that `man` reads.

use crate::args::Arguments;
use crate::failure::{Failure, OK};
use clap::CommandFactory;
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};
use std::io::Write;

pub(crate) fn run(command: Option<&str>) -> Result<u8, Failure> {
    let mut page = Vec::new();
    write(command, &mut page)?;
    anstream::stdout().write_all(&page)?;
    Ok(OK)
}

fn write(of: Option<&str>, page: &mut Vec<u8>) -> Result<(), Failure> {
    let mut all = Arguments::command();
    all.build();
    let command = match of {
        None => all,
        Some(name) => {
            let found = all.find_subcommand(name).cloned();
            let found = found.ok_or_else(|| Failure::NoCommand(name.to_owned()))?;
            // A page is found by `man motorwright-call`, and shows `motorwright call`.
            found.display_name(format!("motorwright-{name}"))
        }
    };
    let words = command.get_after_help().map(ToString::to_string).unwrap_or_default();
    let man = Man::new(command.clone());
    man.render_title(page)?;
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    man.render_options_section(page)?;
    if command.has_subcommands() {
        man.render_subcommands_section(page)?;
    }
    closing(&words, page)?;
    Ok(())
}

/// The worked examples and the exit codes, which the help shows too.
fn closing(words: &str, page: &mut Vec<u8>) -> std::io::Result<()> {
    let mut roff = Roff::new();
    for paragraph in words.split("\n\n") {
        let (heading, text) = paragraph.split_once(':').unwrap_or(("Notes", paragraph));
        if heading == "Exit codes" {
            exit_codes(text, &mut roff);
            continue;
        }
        roff.control("SH", [heading.to_uppercase().as_str()]);
        roff.control("nf", []);
        for line in text.lines().filter(|line| !line.trim().is_empty()) {
            roff.text([roman(line.trim())]);
        }
        roff.control("fi", []);
    }
    roff.to_writer(page)
}

fn exit_codes(text: &str, roff: &mut Roff) {
    roff.control("SH", ["EXIT STATUS"]);
    for code in text.trim().trim_end_matches('.').split(", ") {
        let (number, meaning) = code.split_once(' ').unwrap_or((code, ""));
        roff.control("TP", []);
        roff.text([bold(number)]);
        roff.text([roman(meaning)]);
    }
}
