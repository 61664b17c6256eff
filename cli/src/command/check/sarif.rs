//! Findings as SARIF 2.1.0 (OASIS, 2020), which code hosts and editors read.

use super::file_of;
use crate::failure::Failure;
use engine::finding::{Code, Finding, Place, Severity};
use percent_encoding::{AsciiSet, CONTROLS, utf8_percent_encode};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::io::Write;

/// What may not stand in the path of a URI (RFC 3986, 3.3) as it is.
const NOT_IN_A_PATH: &AsciiSet = &CONTROLS
    .add(b' ')
    .add(b'"')
    .add(b'#')
    .add(b'%')
    .add(b':')
    .add(b'<')
    .add(b'>')
    .add(b'?')
    .add(b'[')
    .add(b'\\')
    .add(b']')
    .add(b'^')
    .add(b'`')
    .add(b'{')
    .add(b'|')
    .add(b'}');

pub(super) fn show(out: &mut impl Write, findings: &[Finding]) -> Result<(), Failure> {
    let codes: BTreeSet<Code> = findings.iter().map(Finding::code).collect();
    let rules: Vec<Value> = codes.iter().map(|code| rule(*code)).collect();
    let log = json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": {"driver": {
                "name": "motorwright",
                "version": env!("CARGO_PKG_VERSION"),
                "rules": rules,
            }},
            "columnKind": "unicodeCodePoints",
            "results": findings.iter().map(result).collect::<Vec<_>>(),
        }],
    });
    serde_json::to_writer_pretty(&mut *out, &log).map_err(std::io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// What a code is, with its page.
fn rule(code: Code) -> Value {
    json!({
        "id": code.as_str(),
        "shortDescription": {"text": code.sentence()},
        "help": {"text": code.page(), "markdown": code.page()},
        "defaultConfiguration": {"level": level(code)},
    })
}

const fn level(code: Code) -> &'static str {
    match code.severity() {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

fn result(finding: &Finding) -> Value {
    let help = finding.help().map(|help| format!("; {help}")).unwrap_or_default();
    let related: Vec<Value> = finding
        .more()
        .iter()
        .map(|(place, text)| {
            let mut location = location(place);
            location["message"] = json!({"text": text});
            location
        })
        .collect();
    json!({
        "ruleId": finding.code().as_str(),
        "level": level(finding.code()),
        "message": {"text": format!("{}{help}", finding.title())},
        "locations": [location(finding.place())],
        "relatedLocations": related,
    })
}

fn location(place: &Place) -> Value {
    let (end_line, end_column) = place.source().line_column(place.span().end);
    let file = file_of(place.source());
    let scheme = if file.starts_with('/') { "file://" } else { "" };
    let uri = format!("{scheme}{}", utf8_percent_encode(file, NOT_IN_A_PATH));
    json!({"physicalLocation": {
        "artifactLocation": {"uri": uri},
        "region": {
            "startLine": place.line(),
            "startColumn": place.column(),
            "endLine": end_line,
            "endColumn": end_column,
        },
    }})
}
