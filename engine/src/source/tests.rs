#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::{MOST_BYTES, Source};

fn refused(bytes: impl AsRef<[u8]>) -> String {
    Source::new("a.yaml", bytes).unwrap_err().to_string()
}

#[test]
fn columns_count_characters_from_one() {
    let source = Source::new("a.yaml", "erste: Kühler\nΩ: 1 µF ok\n").unwrap();
    assert_eq!(source.line_column(0), (1, 1));
    let after_u = source.text().find("hler").unwrap();
    assert_eq!(source.line_column(after_u), (1, 10));
    let ok = source.text().find("ok").unwrap();
    assert_eq!(source.line_column(ok), (2, 9));
    assert_eq!(source.offset(2, 9), ok);
    assert_eq!(source.line_text(2), "Ω: 1 µF ok");
}

#[test]
fn an_offset_inside_a_character_or_past_the_end_is_moved_back() {
    let source = Source::new("a.yaml", "Ω").unwrap();
    assert_eq!(source.line_column(1), (1, 1));
    assert_eq!(source.line_column(999), (1, 2));
    assert_eq!(source.line_text(9), "");
    assert_eq!(source.line_text(0), "");
}

#[test]
fn every_kind_of_line_break_ends_a_line() {
    let source = Source::new("a.yaml", "a\r\nb\rc\nd").unwrap();
    let lines: Vec<_> = (1..=4).map(|line| source.line_text(line)).collect();
    assert_eq!(lines, ["a", "b", "c", "d"]);
}

#[test]
fn a_byte_order_mark_is_left_out_and_no_fault() {
    let source = Source::new("a.yaml", "\u{feff}a: 1\nb: 2\n").unwrap();
    assert_eq!(source.text(), "a: 1\nb: 2\n");
    assert_eq!(source.line_column(0), (1, 1));
}

#[test]
fn bytes_that_are_not_text_are_told_at_their_place() {
    let told = refused(b"a: caf\xe9\n");
    assert_eq!(
        told,
        "a.yaml:1:7: error: not-text: byte 0xE9 is not UTF-8 text\n  help: save the file as UTF-8"
    );
    assert!(refused(b"\xff\xfea\0").contains("found UTF-16"));
    let marked = refused(b"\xef\xbb\xbfa: \xe9\n");
    assert!(marked.starts_with("a.yaml:1:4: error: not-text"), "{marked}");
}

#[test]
fn characters_that_cannot_be_seen_are_refused() {
    assert!(
        refused("a: b\n  c\0d")
            .starts_with("a.yaml:2:4: error: not-text: a character that cannot be seen, U+0000")
    );
    for unseen in ['\u{1b}', '\u{7f}', '\u{85}', '\u{202e}', '\u{2028}', '\u{feff}'] {
        assert!(refused(format!("a: {unseen}")).starts_with("a.yaml:1:4: error: not-text"));
    }
    assert_eq!(refused("\u{7}".repeat(5000)).matches("not-text").count(), 20);
}

#[test]
fn a_file_or_a_line_that_is_too_large_is_refused() {
    let told = refused(format!("a: {}", "x".repeat(5_000_000)));
    assert!(told.starts_with("a.yaml:1:1: error: too-large: a file of 5000003 bytes"), "{told}");
    let line = refused(format!("a: 1\nb: {}", "x".repeat(MOST_BYTES - 10)));
    assert!(line.starts_with("a.yaml:2:1: error: too-large: a line of"), "{line}");
}
