use super::*;

#[test]
fn nothing_that_steers_a_printer_gets_onto_paper() {
    let text = plain("a\u{1b}[31mb\u{c}c\r\nd\te\u{9b}f\u{202e}g\u{7f}h");
    assert_eq!(text, "a [31mb c  d e f?g h");
}

#[test]
fn letters_that_a_printer_may_not_have_are_written_out() {
    assert_eq!(
        plain("5 µA – 90 °F, “1 MΩ” ±2 ≤ 3 × 4 … naïve"),
        "5 uA - 90 deg F, \"1 Mohm\" +/-2 <= 3 x 4 ... na?ve"
    );
}

#[test]
fn a_jump_stands_at_the_right_edge_or_on_a_line_of_its_own() {
    let mut block = Block::new();
    block.jump("12a", "below 10 V", "go to 13");
    block.jump("12b", &"long ".repeat(14), "go to 14, come back to 20");
    block.jump("12c", &"x".repeat(200), "ends in E5");
    for line in &block.lines {
        assert!(line.len() <= WIDTH, "{line}");
    }
    let ends: Vec<bool> =
        block.lines.iter().map(|line| line.len() == WIDTH && line.contains(" ..")).collect();
    assert_eq!(ends.iter().filter(|end| **end).count(), 3, "{:#?}", block.lines);
}
