//! A page that needs nothing else: no script, no font, no network.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Nothing is fetched, and nothing is run, whatever stands in the text.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// A page with this title; `style` comes behind what all pages share.
pub(super) fn framed(title: &str, style: &str, header: &Markup, main: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(include_str!("page/page.css"))) (PreEscaped(style)) }
            }
            body {
                header {
                    h1 { (title) }
                    (header)
                }
                main { (main) }
            }
        }
    };
    page.into_string()
}

/// A table that can be moved to the side where the screen is narrow.
pub(super) fn table(caption: &str, columns: &[&str], rows: &Markup) -> Markup {
    html! {
        div {
            p.caption {
                (caption) "."
                @if columns.len() > 3 { span.narrow { " The table goes on to the right." } }
            }
            div.wide role="region" tabindex="0" aria-label=(caption) {
                table aria-label=(caption) {
                    thead { tr { @for column in columns { th scope="col" { (column) } } } }
                    tbody { (rows) }
                }
            }
        }
    }
}
