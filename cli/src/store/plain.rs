//! Why a text is none of ours, for people who never heard of the library that reads it.

use serde_json::error::Category;

/// Why a line or an entry cannot be read, in plain words.
pub(crate) fn plainly(error: &serde_json::Error) -> String {
    match error.classify() {
        Category::Eof => "it ends in the middle".to_owned(),
        Category::Syntax => {
            format!("it is not as the program writes it from its character {} on", error.column())
        }
        Category::Io => error.to_string(),
        Category::Data => of_data(&error.to_string()),
    }
}

/// The library's words for what is missing, unknown or of another kind.
fn of_data(said: &str) -> String {
    let said = said.rsplit_once(" at line ").map_or(said, |(said, _)| said);
    let named = |rest: &str| rest.split('`').nth(1).map(|name| format!("`{name}`"));
    if let Some(name) = said.strip_prefix("missing field ").and_then(named) {
        format!("{name} is missing in it")
    } else if let Some(name) = said.strip_prefix("duplicate field ").and_then(named) {
        format!("{name} stands in it twice")
    } else if let Some(name) = said
        .strip_prefix("unknown ")
        .filter(|rest| rest.starts_with("field") || rest.starts_with("variant"))
        .and_then(named)
    {
        format!("this version knows no {name}, which stands in it")
    } else if let Some((found, wanted)) =
        said.strip_prefix("invalid type: ").and_then(|rest| rest.split_once(", expected "))
    {
        format!("it has {found} where {wanted} should stand")
    } else {
        said.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::plainly;
    use crate::store::Written;

    #[test]
    fn no_word_of_the_library_comes_through() {
        for (text, plain) in [
            ("{\"at\":", "it ends in the middle"),
            ("{\"at\" 3}", "it is not as the program writes it from its character 7 on"),
            ("{}", "`at` is missing in it"),
            (
                "{\"at\":\"2026-11-29T12:00:00Z\",\"event\":{\"sung\":{}}}",
                "this version knows no `sung`, which stands in it",
            ),
            ("{\"sung\":1}", "this version knows no `sung`, which stands in it"),
            ("{\"at\":\"2026-11-29T12:00:00Z\",\"at\":\"2026-11-29T12:00:00Z\"}", "`at` stands in it twice"),
        ] {
            let told = serde_json::from_str::<Written>(text).map_err(|error| plainly(&error));
            assert_eq!(told.err().as_deref(), Some(plain), "{text}");
        }
    }
}
