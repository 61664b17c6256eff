//! What is shown beside the questions: pages, units, the plain layout, the manual.

use super::{TO_THE_BREAKER, after, echoed, last, rows, spread, typed};
use crate::house::BOOK;

#[test]
fn correct_goes_by_the_numbers_of_the_list_shown_last() {
    let (shown, _) = after(&TO_THE_BREAKER, &["on", "so far", "correct 5 off", "correct 99 on", "correct 5"]);
    assert_eq!(last(&shown, "BACK"), "taken back: breaker position: on");
    assert_eq!(last(&shown, "NOTED"), "breaker position: off");
    assert_eq!(
        rows(&shown, "AGAIN"),
        [
            "the list shown last ends at 5",
            "breaker position: say behind the name which it is, on, off, tripped"
        ]
    );
    let (shown, _) = after(&TO_THE_BREAKER, &["correct 1 none"]);
    assert_eq!(last(&shown, "AGAIN"), "type so far first: the numbers stand there");
}

#[test]
fn why_says_where_each_answer_leads() {
    let (shown, _) = after(&TO_THE_BREAKER, &["why"]);
    let ways = rows(&shown, "IF").join(" ");
    let off = "off: somebody switched the supply off. Next: switched off for its trips.";
    assert!(ways.contains(off), "{ways}");
    assert!(ways.contains("on: the breaker is not what stops it. Next: disconnect position."), "{ways}");
    assert!(ways.contains("cannot. Next: disconnect position."), "{ways}");
    let (shown, _) = after(&TO_THE_BREAKER, &["off", "why"]);
    let ways = rows(&shown, "IF").join(" ");
    let no = "no: nothing tripped, so it only wants switching on. Work: switch the supply on.";
    assert!(ways.contains(no), "{ways}");
}

#[test]
fn plan_says_what_a_lock_out_would_let_us_read() {
    let (shown, _) = after(&TO_THE_BREAKER, &["plan"]);
    assert!(last(&shown, "PLAN").starts_with("one lock-out now would let us read, about "), "{shown}");
    assert!(shown.contains("condition of the plugs"), "{shown}");
    assert!(rows(&shown, "LIVE").iter().any(|row| row.starts_with("the motor's plugs, about ")), "{shown}");
}

#[test]
fn where_says_what_the_answers_meant_so_far() {
    let (shown, _) = after(&TO_THE_BREAKER, &["on", "on", "where"]);
    let complaint = BOOK.fact(BOOK.roles().complaint);
    let means = complaint.choices().iter().find(|choice| choice.id == "no_run").unwrap().means.as_str();
    assert_eq!(last(&shown, "WHERE"), means);
    assert_eq!(
        last(&shown, "LEARNED"),
        "the breaker is not what stops it the disconnect is not what stops it"
    );
}

#[test]
fn a_wait_runs_until_the_next_line_and_changes_nothing() {
    let (shown, _) = after(&TO_THE_BREAKER, &["my turn: they walk to the panel", "on"]);
    assert!(last(&shown, "WAITING").contains("they walk to the panel"), "{shown}");
    assert_eq!(last(&shown, "CLOCK"), "less than a minute passed for this: they walk to the panel");
    assert_eq!(last(&shown, "NOTED"), "breaker position: on");
}

#[test]
fn a_call_is_the_same_call_in_si_and_in_us_units() {
    let told = |units: &str, values: [&str; 2]| {
        let [air, duct] = values;
        let lines =
            format!("none\nno run\ntell return air temperature {air}\ntell return static pressure {duct}\n");
        let (shown, _) = typed(&lines, &["--units", units]);
        rows(&shown, "NOTED")[2..].to_vec()
    };
    assert_eq!(
        told("si", ["68 F", "-0.5 in wc"]),
        [
            "68 °F = 20 °C, return air temperature (told unasked)",
            "-0.5 in. w.c. = -124.5 Pa, return static pressure (told unasked)"
        ]
    );
    assert_eq!(
        told("si", ["20", "-124.5"]),
        ["20 °C, return air temperature (told unasked)", "-124.5 Pa, return static pressure (told unasked)"]
    );
    assert_eq!(
        told("us", ["20 C", "-0.5"]),
        [
            "20 °C = 68 °F, return air temperature (told unasked)",
            "-0.5 in. w.c., return static pressure (told unasked)"
        ]
    );
    for case in spread().into_iter().take(4) {
        let case = case.to_str().unwrap().to_owned();
        let played = |units: &str| typed("", &["--answers", &case, "--units", units]);
        let ((si, si_code), (us, us_code)) = (played("si"), played("us"));
        assert_eq!((echoed(&si), rows(&si, "END"), si_code), (echoed(&us), rows(&us, "END"), us_code));
    }
}

#[test]
fn plainly_every_line_begins_with_a_word_and_a_colon() {
    for case in spread() {
        let (shown, code) = typed("", &["--plain", "--answers", case.to_str().unwrap()]);
        assert_eq!(code, Some(0), "{}", case.display());
        for line in shown.lines() {
            let word = line.split_once(": ").map_or("", |(word, _)| word);
            let known = word.chars().all(|sign| sign.is_ascii_uppercase() || " -".contains(sign));
            assert!(!word.is_empty() && (known || word.parse::<u8>().is_ok()), "{line}");
        }
    }
}

#[test]
fn the_man_page_has_examples_and_exit_codes_and_so_has_each_command() {
    let man = |arguments: &[&str]| {
        let output = crate::house::program().arg("man").args(arguments).output().unwrap();
        (String::from_utf8(output.stdout).unwrap(), output.status.code())
    };
    for of in [&[][..], &["call"], &["replay"]] {
        let (page, code) = man(of);
        assert_eq!(code, Some(0));
        for section in [".SH EXAMPLES", ".SH \"EXIT STATUS\"", ".SH OPTIONS"] {
            assert!(page.contains(section), "{of:?}: {section}\n{page}");
        }
    }
    assert_eq!(man(&["no-such"]).1, Some(2));
}
