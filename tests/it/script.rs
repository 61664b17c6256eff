//! `motorwright call --script`: read as somebody who has only the paper, by its numbers alone.

mod doubt;
mod follow;
mod person;
mod sheet;
mod sum;

use crate::house::{BOOK, CASES};
use engine::case::Case;
use engine::rulebook::FactId;
use sheet::{Jump, Sheet, printed};
use std::collections::BTreeSet;

/// Every script that can be printed: for each tree, and from the start, on both papers.
fn scripts() -> impl Iterator<Item = (String, usize)> {
    let trees = BOOK.trees().iter().map(|tree| tree.id.as_str()).chain([""]).collect::<Vec<_>>();
    trees
        .into_iter()
        .flat_map(|tree| [("a4", 66), ("letter", 60)].map(|(paper, lines)| (printed(tree, paper), lines)))
}

#[test]
fn pages_fit_their_paper_and_hold_nothing_but_plain_text() {
    for (text, most) in scripts() {
        let pages: Vec<&str> = text.split('\u{c}').collect();
        for (at, page) in pages.iter().enumerate() {
            let head = page.lines().next().unwrap();
            assert!(head.ends_with(&format!("page {} of {}", at + 1, pages.len())), "{head}");
            assert!(page.lines().count() <= most, "{head}: {} lines", page.lines().count());
        }
        for line in text.split(['\n', '\u{c}']) {
            assert!(line.len() <= 76, "{line}");
            assert!(line.bytes().all(|byte| (b' '..=b'~').contains(&byte)), "{line:?}");
        }
    }
}

#[test]
fn every_step_is_printed_exactly_once() {
    for tree in BOOK.trees() {
        let sheet = Sheet::read(&printed(&tree.id, "letter"));
        let mut printed: Vec<(bool, String, usize)> = sheet
            .questions
            .values()
            .map(|question| (question.asks, question.name.clone(), question.answers.len()))
            .collect();
        let mut steps: Vec<(bool, String, usize)> = BOOK
            .graph()
            .ahead(tree.start)
            .map(|step| BOOK.step(step))
            .map(|step| (step.asks, BOOK.fact(step.fact).name.clone(), step.ways_out().count()))
            .collect();
        printed.sort();
        steps.sort();
        let missing: Vec<_> = steps.iter().filter(|step| !printed.contains(step)).collect();
        let added: Vec<_> = printed.iter().filter(|step| !steps.contains(step)).collect();
        assert!(missing.is_empty() && added.is_empty(), "{}: {missing:?} but {added:?}", tree.id);
        assert_eq!(printed.len(), steps.len(), "{}", tree.id);
        assert!(sheet.questions.keys().copied().eq(1..=steps.len()), "{}: a number is missing", tree.id);
    }
}

#[test]
fn every_jump_leads_to_a_number_that_is_there_and_lies_ahead() {
    for tree in BOOK.trees() {
        let sheet = Sheet::read(&printed(&tree.id, "letter"));
        for (number, question) in &sheet.questions {
            for answer in &question.answers {
                match &answer.jump {
                    Jump::Go(to) => {
                        assert!(to > number && sheet.questions.contains_key(to), "{}", answer.label);
                    }
                    Jump::Visit { to, back } => {
                        assert!(to > number && back > number, "{}", answer.label);
                        assert!(sheet.questions.contains_key(back), "{}", answer.label);
                    }
                    Jump::End(ending) => {
                        assert!(sheet.endings.contains_key(ending), "{}", answer.label);
                    }
                }
            }
        }
    }
}

/// Every number that the text sends anybody to, such as R1 or E5, heads something.
#[test]
fn every_number_that_is_named_stands_somewhere() {
    for tree in BOOK.trees() {
        let sheet = Sheet::read(&printed(&tree.id, "a4"));
        let heads: BTreeSet<&str> = sheet
            .lines
            .iter()
            .filter(|line| line.starts_with(' ') && !line.starts_with("  "))
            .filter_map(|line| line.split_whitespace().next())
            .collect();
        // Standards have such numbers too, and may stand over the end of a line.
        let words: Vec<&str> = sheet.lines.iter().flat_map(|line| line.split_whitespace()).collect();
        let text = words.join(" ").replace("ANSI C", "");
        for word in text.split(|letter: char| !letter.is_alphanumeric()) {
            let (letter, number) = word.split_at(word.len().min(1));
            let names = "LBVSRCHAEWPFK".contains(letter)
                && !number.is_empty()
                && number.bytes().all(|byte| byte.is_ascii_digit());
            assert!(!names || letter.is_empty() || heads.contains(word), "{}: {word} is nowhere", tree.id);
        }
    }
}

#[test]
fn every_question_says_the_power_it_needs_and_every_caution_is_there() {
    let sheet = Sheet::read(&printed("", "letter"));
    let named = |name: &str| BOOK.fact_ids().find(|fact| BOOK.fact(*fact).name == name).unwrap();
    for question in sheet.questions.values().filter(|question| question.asks) {
        let id = named(&question.name);
        if let Some(figure) = &question.figure {
            assert_eq!(sheet.figure_of[figure], question.written);
            is_asked_in_parts(&sheet, id, &question.text);
        } else {
            is_asked(id, &question.text);
        }
    }
}

/// The state of power that a reading needs, as the sheet says it in short.
fn power(fact: &engine::rulebook::Fact) -> &'static str {
    if fact.is_led_out() {
        return "LIVE, panel on, led out";
    }
    match (fact.power, fact.is_inside_live()) {
        (engine::rulebook::PowerNeed::Dead, _) => "LOCKED OUT AND PROVED DEAD",
        (engine::rulebook::PowerNeed::Live, true) => "LIVE, behind the panel",
        (engine::rulebook::PowerNeed::Live, false) => "LIVE, panel on",
        (engine::rulebook::PowerNeed::Any, _) => "any",
    }
}

/// A text has all that is needed to ask for a reading.
fn is_asked(id: FactId, text: &str) {
    let fact = BOOK.fact(id);
    let wanted =
        if fact.is_led_out() { "LIVE, panel on, with what it is read on led out" } else { power(fact) };
    assert!(text.contains(&format!("Power {wanted}")), "{text}");
    for caution in &fact.cautions {
        let words: Vec<&str> = caution.text.split_whitespace().collect();
        let caution = format!("{}: {}", caution.signal.word(), words.join(" "));
        assert!(text.contains(&caution), "{caution}\n{text}");
    }
    let say = &fact.asking.as_ref().unwrap().say;
    assert!(text.contains(&format!("Say \"{say}\"")), "{text}");
}

/// A question names every reading that a figure takes, with its power; the figure asks for each in full.
fn is_asked_in_parts(sheet: &Sheet, id: FactId, text: &str) {
    for part in BOOK.made_of(id) {
        let rule = BOOK.fact(part);
        if rule.asking.is_some() {
            assert!(text.contains(&format!("{}: power {}", rule.name, power(rule))), "{}\n{text}", rule.name);
        }
        for of in rule.working.iter().flat_map(|working| &working.of) {
            let place = |fact: FactId| {
                let name = &BOOK.fact(fact).name;
                sheet.record.iter().find(|(_, other)| *other == name).map(|(place, _)| place).unwrap()
            };
            let figure = &sheet.figures[place(part)].text;
            if BOOK.fact(*of).asking.is_some() {
                is_asked(*of, figure);
            } else {
                let by = sheet.figure_of.iter().find(|(_, written)| *written == place(*of)).unwrap().0;
                assert!(figure.contains(&format!("Work it out by {by}.")), "{figure}");
            }
        }
    }
}

#[test]
fn every_case_comes_to_the_same_first_ending_on_paper() {
    let sheet = Sheet::read(&printed("", "letter"));
    let (mut walked, mut plain, mut differ) = (0, 0, Vec::new());
    // A lock-out that fails ends a call before the questions do: that is the routine's page, not theirs.
    let proved_dead = BOOK.power().proved_dead;
    // What no question asks for is told unasked, and a sheet of questions has no place for it.
    let unasked = |fact: FactId| fact != proved_dead && BOOK.fact(fact).asking.is_none();
    let by_questions = |case: &&Case| {
        case.answers.reading(proved_dead, 0).is_none() && !case.answers.facts().any(|(fact, _)| unasked(fact))
    };
    for case in CASES.iter().filter(by_questions) {
        let expected = &BOOK.ending(case.ends[0]).name;
        let reached = follow::follow(&sheet, case);
        if !reached.eq_ignore_ascii_case(expected) {
            differ.push(format!("{}: {reached}, not {expected}", case.name));
        }
        walked += 1;
        plain += usize::from(case.after.is_empty());
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
    assert!(walked > 900, "only {walked} cases");
    assert!(plain >= 20, "only {plain} of {walked} cases go through in one round");
}

#[test]
fn printed_twice_it_is_the_same() {
    assert_eq!(sheet::print("", "a4"), sheet::print("", "a4"));
}

#[test]
fn a_tree_that_is_not_there_is_said_so() {
    let output = sheet::run("no-such-tree", "a4");
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("there is no tree `no-such-tree`; there are: "), "{said}");
    assert!(BOOK.trees().iter().all(|tree| said.contains(&tree.id)), "{said}");
}

#[test]
fn the_first_two_pages() {
    let text = printed("", "letter");
    let pages: Vec<&str> = text.split('\u{c}').collect();
    // How many pages there are hangs on every rule.
    let shown = |at: usize| pages[at].replace(&format!(" of {}", pages.len()), " of all");
    let mut settings = insta::Settings::clone_current();
    settings.set_prepend_module_to_snapshot(false);
    settings.bind(|| {
        insta::assert_snapshot!("script_page_1", shown(0));
        insta::assert_snapshot!("script_page_2", shown(1));
    });
}
