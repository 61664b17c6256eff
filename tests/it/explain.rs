//! The pages on the finding codes: each says the truth about its code, and `motorwright explain` shows it.

mod example;
mod shown;

use engine::finding::Code;
use example::{Example, fenced};

/// The headings of every page below its first, in order; the last may be missing.
const HEADINGS: [&str; 3] = ["Wrong", "Mended", "See also"];

/// A page's parts by their headings, the first by the code's.
fn parts(code: Code) -> Vec<(&'static str, &'static str)> {
    let page = code.page().strip_prefix("# ").unwrap();
    page.split("\n## ").map(|part| part.split_once("\n\n").unwrap()).collect()
}

fn part(code: Code, heading: &str) -> Option<&'static str> {
    parts(code).into_iter().find(|(other, _)| *other == heading).map(|(_, text)| text)
}

fn example(code: Code, heading: &str) -> Example {
    Example::of(code, part(code, heading).unwrap())
}

#[test]
fn the_wrong_example_is_told_of_at_its_marks_and_nowhere_else() {
    let other: Vec<_> = Code::ALL
        .iter()
        .filter_map(|&code| {
            let wrong = example(code, "Wrong");
            let (marked, told) = (wrong.marked(), wrong.told());
            assert!(marked.iter().any(|(_, _, mark)| mark == code.as_str()), "{code} is not marked");
            (marked != told).then(|| format!("{code}\nmarked {marked:?}\ntold   {told:?}\n{}", wrong.said()))
        })
        .collect();
    assert!(other.is_empty(), "{}", other.join("\n"));
}

#[test]
fn nothing_is_said_of_the_mended_example() {
    for &code in Code::ALL {
        let mended = example(code, "Mended");
        assert!(mended.marked().is_empty(), "{code}");
        assert!(mended.told().is_empty(), "{code}\n{}", mended.said());
        assert!(mended.agrees(), "the case on the page of {code} does not end where it says");
    }
}

#[test]
fn every_page_has_the_same_parts_in_the_same_order() {
    for &code in Code::ALL {
        let parts = parts(code);
        let headings: Vec<_> = parts.iter().map(|(heading, _)| *heading).collect();
        assert_eq!(headings[0], code.as_str());
        assert!(headings.len() >= 3 && HEADINGS.starts_with(&headings[1..]), "{code}: {headings:?}");
        let head: Vec<_> = parts[0].1.trim_end().split("\n\n").collect();
        assert_eq!(head.len(), 2, "{code}: a sentence and a paragraph stand above the examples");
        assert_eq!(head[0], code.sentence());
        for heading in ["Wrong", "Mended"] {
            let text = part(code, heading).unwrap();
            assert!(!fenced(text).is_empty(), "{code}: no example under {heading}");
        }
    }
}

#[test]
fn no_page_is_of_a_code_that_there_is_not() {
    let pages = crate::house::files("engine/explain", "md");
    assert_eq!(pages.len(), Code::ALL.len());
    for page in pages {
        let name = page.file_stem().unwrap().to_str().unwrap();
        assert!(Code::from_word(name).is_some(), "{name}");
    }
}

#[test]
fn what_a_page_points_to_is_there() {
    for &code in Code::ALL {
        let Some(others) = part(code, "See also") else { continue };
        for other in others.trim_end().split(", ") {
            let name = other.strip_prefix('`').and_then(|name| name.strip_suffix('`'));
            let other = name.and_then(Code::from_word);
            assert!(other.is_some_and(|other| other != code), "{code}: {others}");
        }
    }
}

/// On a narrow screen, on paper, read aloud.
#[test]
fn every_page_can_be_read_anywhere() {
    for &code in Code::ALL {
        let page = code.page();
        assert!(page.ends_with('\n') && !page.ends_with("\n\n"), "{code}");
        assert_eq!(page.matches('`').count() % 2, 0, "{code}: a backtick is left open");
        for line in page.lines() {
            assert!(line.chars().count() <= 100, "{code}: {line}");
            assert!(!line.chars().any(char::is_control), "{code}: {line:?}");
            assert_eq!(line.trim_end(), line, "{code}");
        }
        let sentence = code.sentence();
        assert!(sentence.ends_with('.') && !sentence.trim_end_matches('.').contains(". "), "{sentence}");
        assert!(sentence.starts_with(char::is_uppercase), "{sentence}");
    }
}
