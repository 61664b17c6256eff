//! The page: it stands alone, every figure of the drawing stands in the list too, and text stays text.

use super::{lines, texts, trial};
use crate::house::{files, root};
use crate::page::{closed, stands_alone, text};
use bench::Fault;
use roxmltree::{Document, Node};
use std::collections::BTreeMap;
use std::fs;

const WORDS: [&str; 4] = ["--count", "24", "--faults", "filter-dirty,link-missing-115,wheel-loose"];

fn page(words: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("trial.html");
    let (shown, aside, code) = trial(&[words, &["--html", file.to_str().unwrap()]].concat());
    assert_eq!((aside.as_str(), code), ("", Some(0)), "{shown}");
    assert!(shown.contains("Right ending reached: "), "{shown}");
    fs::read_to_string(file).unwrap()
}

#[test]
fn nothing_is_fetched_and_nothing_is_run() {
    stands_alone(&page(&WORDS));
}

/// Every square has its count as a figure, and what is right has an outline: neither hangs on a shade.
#[test]
fn the_squares_are_what_the_lines_say() {
    let mut counts: BTreeMap<(String, String), usize> = BTreeMap::new();
    for call in lines(&trial(&[&WORDS[..], &["--json"]].concat()).0) {
        let mut reached = texts(&call["reached"]);
        reached.sort_unstable();
        reached.dedup();
        for ending in reached {
            *counts.entry((texts(&call["faults"])[0].to_owned(), ending.to_owned())).or_default() += 1;
        }
    }
    let page = closed(&page(&WORDS));
    let document = Document::parse(&page).unwrap();
    let drawing = document.descendants().find(|node| node.attribute("class") == Some("matrix")).unwrap();
    let is_count =
        |node: &Node<'_, '_>| node.attribute("class").is_some_and(|class| class.starts_with("count"));
    let mut drawn: Vec<usize> =
        drawing.descendants().filter(is_count).map(|node| text(node).parse().unwrap()).collect();
    let mut wanted: Vec<usize> = counts.values().copied().collect();
    drawn.sort_unstable();
    wanted.sort_unstable();
    assert_eq!(drawn, wanted);
    let outlined = drawing.descendants().filter(|node| {
        node.attribute("class").is_some_and(|class| class.split(' ').any(|one| one == "right"))
    });
    assert!(outlined.count() >= 3, "one for each fault at least");
    // And in words.
    let list = text(document.descendants().rfind(|node| node.has_tag_name("table")).unwrap());
    let all: String = document.descendants().filter(|node| node.has_tag_name("table")).map(text).collect();
    for ((fault, ending), count) in counts {
        assert!(
            all.contains(Fault::named(&fault).unwrap().name()) && all.contains(&format!("{ending} {count}")),
            "{fault} {ending}: {list}"
        );
    }
}

/// Names come from rules that anybody may have written.
#[test]
fn names_of_rules_stay_text() {
    let folder = tempfile::tempdir().unwrap();
    for file in files("rules", "yaml") {
        let to = folder.path().join(file.strip_prefix(root().join("rules")).unwrap());
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        let rules = fs::read_to_string(file).unwrap();
        fs::write(to, rules.replace("name: change the filter", "name: <b>change & rinse</b>")).unwrap();
    }
    let page =
        page(&["--rules", folder.path().to_str().unwrap(), "--count", "1", "--faults", "filter-dirty"]);
    assert!(!page.contains("<b>"));
    assert!(page.contains("&lt;b&gt;change &amp; rinse&lt;/b&gt;"), "{page}");
    Document::parse(&closed(&page)).unwrap();
}
