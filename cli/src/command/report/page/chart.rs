//! Bars with their intervals, drawn by hand: a general charting library would not follow the page's light and dark.

use super::MOST;
use crate::command::share::{Share, percent};
use maud::{Markup, html};

/// One bar.
pub(super) struct Bar {
    pub(super) label: String,
    pub(super) share: Share,
}

/// Lengths in the drawing's own unit, about a pixel.
const WIDTH: f64 = 360.0;
/// As long as a bar can be; what is left holds its figure.
const LONGEST: f64 = 300.0;
const ROW: f64 = 36.0;
const THICK: f64 = 12.0;
/// Room for the figures of the axis.
const AXIS: f64 = 20.0;
/// So many letters of a label have room.
const ROOM: usize = 58;

/// A chart of the first few bars. The table beside it has them all.
pub(super) fn of(id: &str, title: &str, bars: &[Bar]) -> Markup {
    let more = bars.len().saturating_sub(MOST);
    let bars = &bars[..bars.len() - more];
    let end = end_of_axis(bars);
    let long = |share: f64| share / end * LONGEST;
    let foot = row(bars.len());
    let says: Vec<String> = bars.iter().map(|bar| format!("{}: {}", bar.label, bar.share)).collect();
    let (title_id, says_id) = (format!("{id}-title"), format!("{id}-says"));
    html! {
        figure {
            svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox={ "0 0 " (WIDTH) " " (foot + AXIS) }
                aria-labelledby={ (title_id) " " (says_id) } {
                title id=(title_id) { (title) }
                desc id=(says_id) { (says.join("; ")) }
                @for part in [0.0, 0.5, 1.0] {
                    @let x = length(LONGEST * part);
                    @for place in 0..bars.len() {
                        @let top = row(place) + 16.0;
                        line.grid x1=(x) y1=(top) x2=(x) y2=(top + THICK + 4.0) {}
                    }
                    text.tick x=(x) y=(foot + 14.0) text-anchor=(if part > 0.0 { "middle" } else { "start" }) {
                        (axis(end * part))
                    }
                }
                @for (place, bar) in bars.iter().enumerate() {
                    (one(row(place), bar, &long))
                }
            }
            figcaption {
                (title)
                @if bars.iter().any(|bar| bar.share.in_doubt().is_some()) {
                    "; the line across a bar's end is its 95 % interval"
                }
                "."
                @if more > 0 { " The table has " (more) " more." }
            }
        }
    }
}

/// A bar below its label, and its figure behind it.
fn one(top: f64, bar: &Bar, long: &impl Fn(f64) -> f64) -> Markup {
    let share = bar.share.value.unwrap_or_default();
    let (upper, middle) = (top + 18.0, top + 18.0 + THICK / 2.0);
    let whisker = bar.share.in_doubt().map(|ends| ends.map(long));
    let reach = whisker.map_or(long(share), |[_, high]| high);
    html! {
        text.label x="0" y=(top + 13.0) { (fitting(&bar.label)) }
        rect.bar x="0" y=(upper) width=(length(long(share))) height=(THICK) {}
        @if let Some([low, high]) = whisker {
            @let (low, high) = (length(low), length(high));
            path.whisker d={ "M" (low) " " (middle) "H" (high)
                "M" (low) " " (middle - 3.0) "v6M" (high) " " (middle - 3.0) "v6" } {}
        }
        text.figure x=(length(reach + 6.0)) y=(middle + 4.0) { (percent(share)) }
    }
}

/// Where a row begins.
fn row(place: usize) -> f64 {
    f64::from(u16::try_from(place).unwrap_or(u16::MAX)) * ROW
}

/// The end of the axis: the first round share that holds all bars and intervals.
fn end_of_axis(bars: &[Bar]) -> f64 {
    let reach =
        |bar: &Bar| bar.share.in_doubt().map_or(bar.share.value.unwrap_or_default(), |[_, high]| high);
    let most = bars.iter().map(reach).fold(0.0, f64::max);
    [0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8].into_iter().find(|end| most <= *end).unwrap_or(1.0)
}

/// A label as long as the drawing is wide.
fn fitting(label: &str) -> String {
    let signs = label.chars().count();
    if signs <= ROOM {
        return label.to_owned();
    }
    let kept: String = label.chars().take(ROOM - 1).collect();
    format!("{}…", kept.trim_end())
}

/// A length to a tenth: no eye sees more.
fn length(number: f64) -> String {
    format!("{number:.1}")
}

/// A figure of the axis.
fn axis(share: f64) -> String {
    let points = share * 100.0;
    if (points - points.round()).abs() < 1e-9 { format!("{points:.0} %") } else { format!("{points:.1} %") }
}
