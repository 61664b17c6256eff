//! One line of JSON as a call.

use crate::command::export::{FORM, Line};
use crate::store::{Listed, Record, plainly};
use serde_json::Value;

/// The longest line: a call has some hundreds of events of some hundred bytes.
pub(super) const LONGEST: u64 = 16 << 20;

/// How a line is mended that cannot be.
const MEND: &str = "Export the call anew, and import that";

/// The call that a line tells of, or why it tells of none and what to do.
pub(super) fn record(bytes: &[u8]) -> Result<Record, String> {
    if bytes.len() as u64 == LONGEST {
        return Err(format!("it is longer than {LONGEST} bytes, which no call is. {MEND}"));
    }
    let bytes = bytes.trim_ascii_end();
    let line: Line = serde_json::from_slice(bytes).map_err(|error| why(bytes, &error))?;
    if line.form != FORM {
        return Err(of_another_form(&line.form));
    }
    if line.opening.unit.as_ref().is_some_and(|unit| unit.contains(char::is_control)) {
        return Err(
            "the name of its unit has characters that cannot be seen. Take them out of `unit` in that line"
                .to_owned(),
        );
    }
    let events = u32::try_from(line.events.len()).map_err(|error| error.to_string())?;
    let last = line.events.last().map_or(line.opening.at, |written| written.at);
    let listed =
        Listed { number: 0, opening: line.opening, last, events, summary: line.summary, holder: None };
    Ok(Record { listed, events: line.events })
}

fn of_another_form(form: &str) -> String {
    format!(
        "it has the form `{form}`, and this version of the program reads `{FORM}`. Use the version that wrote it"
    )
}

/// Why a line is no call, in plain words, and how to mend it.
fn why(bytes: &[u8], error: &serde_json::Error) -> String {
    match serde_json::from_slice::<Value>(bytes) {
        Err(_) if std::str::from_utf8(bytes).is_err() => {
            format!("it is no text in UTF-8: the file was damaged or changed on its way. {MEND}")
        }
        Err(broken) if broken.is_eof() => {
            format!("{}, as of a file that was cut short. {MEND}", plainly(&broken))
        }
        Err(broken) => format!("{}: it was changed, or is another kind of file. {MEND}", plainly(&broken)),
        Ok(value) => match value.get("form").and_then(Value::as_str) {
            Some(FORM) => format!(
                "{}: it was changed, or a newer version of the program wrote it. {MEND}, or use that version",
                plainly(error)
            ),
            Some(form) => of_another_form(form),
            None => "it is nothing that `motorwright export` writes. Name a file that it wrote".to_owned(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::record;

    fn refused(line: &[u8]) -> String {
        record(line).err().unwrap_or_else(|| "it was taken".to_owned())
    }

    #[test]
    fn a_line_that_is_no_call_is_told_in_plain_words_and_how_to_mend_it() {
        let form = "{\"form\":\"motorwright-call-1\"";
        for (line, parts) in [
            (format!("{form},\"number\":1,\"openi"), ["ends in the middle", "Export the call anew"]),
            (format!("{form} \"number\":1}}"), ["from its character 30 on", "Export the call anew"]),
            (format!("{form},\"number\":1}}"), ["`opening` is missing", "Export the call anew"]),
            (format!("{form},\"sung\":1}}"), ["knows no `sung`", "newer version"]),
            ("{\"form\":\"motorwright-call-9\"}".to_owned(), ["`motorwright-call-9`", "Use the version"]),
            ("{\"a\":1}".to_owned(), ["nothing that `motorwright export` writes", "Name a file"]),
            ("[1]".to_owned(), ["nothing that `motorwright export` writes", "Name a file"]),
            ("hello".to_owned(), ["from its character 1 on", "Export the call anew"]),
        ] {
            let why = refused(line.as_bytes());
            for part in parts {
                assert!(why.contains(part), "{line}: {why}");
            }
            for jargon in ["EOF", "column", "expected", "parsing", "variant", "field", "struct"] {
                assert!(!why.contains(jargon), "{line}: {why}");
            }
        }
        assert!(refused(b"{\"form\":\"\xff\"}").contains("UTF-8"));
    }
}
