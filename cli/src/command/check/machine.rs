//! Findings for another program: one JSON object a line.

use super::file_of;
use crate::failure::Failure;
use engine::finding::{Finding, Place};
use serde::Serialize;
use std::io::Write;

/// A finding, as `--json` shows it.
#[derive(Serialize)]
struct Row<'f> {
    code: &'f str,
    severity: &'f str,
    #[serde(flatten)]
    at: Spot<'f>,
    title: &'f str,
    help: Option<&'f str>,
    more: Vec<Other<'f>>,
}

/// Where it is: lines and columns from 1, columns in characters, the end just behind the last one.
#[derive(Serialize)]
struct Spot<'f> {
    file: &'f str,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

/// Another place that has a part in it.
#[derive(Serialize)]
struct Other<'f> {
    #[serde(flatten)]
    at: Spot<'f>,
    text: &'f str,
}

pub(super) fn show(out: &mut impl Write, findings: &[Finding]) -> Result<(), Failure> {
    for finding in findings {
        let row = Row {
            code: finding.code().as_str(),
            severity: finding.code().severity().word(),
            at: spot(finding.place()),
            title: finding.title(),
            help: finding.help(),
            more: finding
                .more()
                .iter()
                .map(|(place, text)| Other { at: spot(place), text: text.as_str() })
                .collect(),
        };
        serde_json::to_writer(&mut *out, &row).map_err(std::io::Error::from)?;
        writeln!(out)?;
    }
    Ok(())
}

fn spot(place: &Place) -> Spot<'_> {
    let (end_line, end_column) = place.source().line_column(place.span().end);
    Spot { file: file_of(place.source()), line: place.line(), column: place.column(), end_line, end_column }
}
