use super::gated;
use crate::finding::On;
use crate::places::{Places, escaped, join};

const TEXT: &str = "\
# Kühlung
tree: no-run
stufen: # Ω
  größe:
    ask: \"Ω µ\"
    answers:
      - is: on
        end: x
      - {is: [off, 'a b'], end: y}
  text: >-
    two
    lines

a/b~c.d e: {x/y: 1}
last: end
";

#[track_caller]
fn value(pointer: &str, expected: &str) {
    let (gated, on) = (gated(TEXT), On::Value);
    assert_eq!(&gated.source().text()[gated.place(pointer, on).span()], expected, "{pointer}");
}

#[test]
fn a_value_is_found_by_its_pointer() {
    value("/tree", "no-run");
    value("/stufen/größe/ask", "\"Ω µ\"");
    value("/stufen/größe/answers/0", "is: on\n        end: x");
    value("/stufen/größe/answers/1", "{is: [off, 'a b'], end: y}");
    value("/stufen/größe/answers/1/is", "[off, 'a b']");
    value("/stufen/größe/answers/1/is/1", "'a b'");
    value("/a~1b~0c.d e/x~1y", "1");
}

#[test]
fn a_block_reaches_from_its_first_key_or_dash_to_its_last_value() {
    value("/stufen/größe/answers", "- is: on\n        end: x\n      - {is: [off, 'a b'], end: y}");
    value("/stufen/text", "two\n    lines");
    let whole = gated(TEXT).place("", On::Value).span();
    assert_eq!(&TEXT[whole.clone()][..12], "tree: no-run");
    assert!(TEXT[whole].ends_with("last: end"));
}

#[test]
fn a_key_is_found_and_an_item_has_its_value_for_a_key() {
    let gated = gated(TEXT);
    let text = |pointer: &str| &TEXT[gated.place(pointer, On::Key).span()];
    assert_eq!(text("/stufen/größe/ask"), "ask");
    assert_eq!(text("/a~1b~0c.d e"), "a/b~c.d e");
    assert_eq!(text("/stufen/größe/answers/1/is/0"), "off");
    assert_eq!((text("/stufen/größe/answers/1"), text("")), ("is", "tree"));
}

#[test]
fn columns_are_characters_where_bytes_differ() {
    let gated = gated(TEXT);
    let at = |pointer: &str, on| {
        let place = gated.place(pointer, on);
        (place.line(), place.column())
    };
    assert_eq!(at("/stufen/größe", On::Key), (4, 3));
    assert_eq!(at("/stufen/größe/ask", On::Value), (5, 10));
    assert_eq!(at("/stufen/größe/answers/1/is/1", On::Value), (9, 20));
}

#[test]
fn a_pointer_that_leads_nowhere_falls_back_to_what_is_around() {
    let places = Places::of(&gated(TEXT));
    assert_eq!(places.get("/tree/none/0"), places.get("/tree"));
    assert_eq!(places.get("/stufen/größe/answers/7/is"), places.get("/stufen/größe/answers"));
    assert_eq!(places.get("/none"), places.get(""));
}

#[test]
fn a_pointer_s_segments_are_escaped_as_rfc_6901_has_it() {
    assert_eq!(escaped("a/b~c.d e"), "a~1b~0c.d e");
    assert_eq!(join(&join("", "~1"), 0), "/~01/0");
}
