//! A page that the program writes, read as XML: shared by all that write one.

use roxmltree::{Document, Node};

/// The same as XML: HTML's own void element is closed first, and nothing else is mended.
pub(crate) fn closed(page: &str) -> String {
    let page = page.strip_prefix("<!DOCTYPE html>").unwrap();
    let mut parts = page.split("<meta");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |text, part| format!("{text}<meta{}", part.replacen('>', "/>", 1)))
}

/// All elements of that name.
pub(crate) fn named<'d>(document: &'d Document<'_>, name: &str) -> Vec<Node<'d, 'd>> {
    document.descendants().filter(|node| node.tag_name().name() == name).collect()
}

/// What a reader sees of it.
pub(crate) fn text(node: Node<'_, '_>) -> String {
    node.descendants().filter_map(|node| node.text().filter(|_| node.is_text())).collect()
}

/// Holds that nothing is fetched for the page and nothing in it is run.
pub(crate) fn stands_alone(page: &str) {
    let page = closed(page);
    let document = Document::parse(&page).unwrap();
    for node in document.descendants().filter(Node::is_element) {
        let name = node.tag_name().name();
        assert!(!["script", "link", "img", "iframe", "object", "embed", "base"].contains(&name), "{name}");
        for attribute in node.attributes() {
            let name = attribute.name();
            assert!(!name.starts_with("on") && !["src", "href", "action", "style"].contains(&name), "{name}");
        }
    }
    // The one address is the name of the drawing's language, which nobody fetches.
    let style = text(named(&document, "style")[0]);
    assert!(!style.contains("url(") && !style.contains("@import"));
    assert_eq!(page.replace("http://www.w3.org/2000/svg", "").matches("//").count(), 0);
    assert!(page.contains("default-src 'none'"));
}
