//! Findings on a screen: the place and the title stand out, and the marks are in the colour of how much it matters.

use anstyle::{AnsiColor, Style};
use engine::finding::{Finding, Piece, Severity};
use std::io::{Result, Write};

/// Writes a finding with its source lines, and a blank line behind it.
pub(crate) fn write(out: &mut impl Write, finding: &Finding) -> Result<()> {
    let colour = match finding.code().severity() {
        Severity::Error => AnsiColor::Red,
        Severity::Warning => AnsiColor::Yellow,
        Severity::Note => AnsiColor::Cyan,
    };
    let matters = Style::new().fg_color(Some(colour.into())).bold();
    for (piece, text) in finding.pieces() {
        let style = match piece {
            Piece::Place | Piece::Title => Style::new().bold(),
            Piece::Severity | Piece::Marks => matters,
            Piece::Plain => Style::new(),
        };
        write!(out, "{style}{text}{style:#}")?;
    }
    writeln!(out)
}

/// Where more is said of what was found.
pub(crate) const MORE: &str = "more on a finding: motorwright explain CODE";
