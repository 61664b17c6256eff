//! The page: it stands alone, and what people typed stays text.

use super::desk::{self, DESK};
use crate::house::program;
use crate::page::{closed, named, stands_alone, text};
use roxmltree::Document;
use serde_json::Value;

/// The page over these calls, with these words behind, as text.
fn page(calls: &[Value], words: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let (log, page) = (folder.path().join("calls.db"), folder.path().join("page.html"));
    desk::import(&log, calls);
    let mut command = program();
    command.arg("report").args(words).arg("--log-to").arg(log).arg("--html").arg(&page).env("TZ", "UTC");
    let output = command.output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    std::fs::read_to_string(page).unwrap()
}

#[test]
fn every_element_is_closed_and_every_chart_has_a_title_and_a_table_beside_it() {
    let page = closed(&page(&DESK, &[]));
    let document = Document::parse(&page).unwrap();
    let charts = named(&document, "svg");
    assert!(charts.len() >= 5, "one of complaints, one of all endings, and one each: {}", charts.len());
    for chart in charts {
        let ids = chart.attribute("aria-labelledby").unwrap();
        for id in ids.split(' ') {
            let named: Vec<_> =
                document.descendants().filter(|node| node.attribute("id") == Some(id)).collect();
            assert!(named.len() == 1 && !text(named[0]).is_empty(), "{id} names the chart once");
        }
        let pair = chart.ancestors().find(|node| node.attribute("class") == Some("pair")).unwrap();
        let table = pair.descendants().find(|node| node.has_tag_name("table")).unwrap();
        let rows = table.descendants().filter(|node| node.attribute("scope") == Some("row")).count();
        let bars = chart.descendants().filter(|node| node.has_tag_name("rect")).count();
        assert!(bars >= 1 && bars <= rows, "the table has all that the chart has: {bars}, {rows}");
    }
}

#[test]
fn nothing_is_fetched_and_nothing_is_run() {
    stands_alone(&page(&DESK, &[]));
}

#[test]
fn what_people_typed_stays_text() {
    let unit = "<script>alert(1)</script> & \"job\" \u{202e}8";
    let mut calls = DESK.clone();
    for call in &mut calls {
        call["opening"]["unit"] = unit.into();
    }
    let page = page(&calls, &["--unit", unit]);
    assert!(
        !page.contains("<script") && page.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp;"),
        "{page}"
    );
    let page = closed(&page);
    let document = Document::parse(&page).unwrap();
    let header = text(named(&document, "header")[0]);
    assert!(header.contains("on the unit <script>alert(1)</script> & \"job\" \u{fffd}8."), "{header}");
}

/// Names come from the calls too, and a log may be taken in from anywhere.
#[test]
fn names_that_no_rules_know_stay_text() {
    let folder = tempfile::tempdir().unwrap();
    let [log, lines, page] = ["calls.db", "lines", "page.html"].map(|name| folder.path().join(name));
    let mut line = DESK[0].clone();
    let summary = &mut line["summary"];
    summary["complaint"] = "<b>complaint</b>".into();
    summary["ends"][0]["ending"] = "<b>ending</b>".into();
    summary["not_taken"] = serde_json::json!(["<b>reading</b>"]);
    std::fs::write(&lines, format!("{line}\n")).unwrap();
    let mut import = program();
    assert!(import.arg("import").arg(&lines).arg("--log-to").arg(&log).output().unwrap().status.success());
    let mut report = program();
    assert!(
        report
            .arg("report")
            .arg("--log-to")
            .arg(&log)
            .arg("--html")
            .arg(&page)
            .output()
            .unwrap()
            .status
            .success()
    );
    let page = std::fs::read_to_string(page).unwrap();
    assert!(!page.contains("<b>"), "{page}");
    for name in ["complaint", "ending", "reading"] {
        assert!(page.contains(&format!("&lt;b&gt;{name}&lt;/b&gt;")), "{name}: {page}");
    }
    Document::parse(&closed(&page)).unwrap();
}

#[test]
fn without_calls_it_is_a_page_that_says_so() {
    let page = closed(&page(&[], &[]));
    let document = Document::parse(&page).unwrap();
    assert!(text(named(&document, "body")[0]).contains("No call is kept yet."), "{page}");
    assert!(named(&document, "svg").is_empty());
}
