//! So many of so many, and how sure that is.

use serde::Serialize;

/// The 97.5 % point of the standard normal distribution.
const Z: f64 = 1.959_963_985;

/// An interval that is wider than this is shown beside its share.
const WIDE: f64 = 0.02;

/// A count and what it is a count of.
#[derive(Clone, Copy, PartialEq, Debug, Serialize)]
pub(super) struct Share {
    pub(super) count: u32,
    pub(super) of: u32,
    /// From 0 to 1; none of nothing.
    #[serde(rename = "share")]
    pub(super) value: Option<f64>,
    /// The 95 % interval by Wilson (1927), Journal of the American Statistical Association 22:209, from memory.
    pub(super) interval: Option<[f64; 2]>,
}

impl Share {
    pub(super) fn new(count: u32, of: u32) -> Self {
        let some = of > 0;
        Self {
            count,
            of,
            value: some.then(|| f64::from(count) / f64::from(of)),
            interval: some.then(|| wilson(f64::from(count), f64::from(of))),
        }
    }

    /// The interval where the count is so small that it matters.
    pub(super) fn in_doubt(&self) -> Option<[f64; 2]> {
        self.interval.filter(|[low, high]| high - low > WIDE)
    }
}

/// `33 % (23–46 %)`; no figure of nothing.
impl std::fmt::Display for Share {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Some(share) = self.value else {
            return out.write_str("–");
        };
        write!(out, "{}", percent(share))?;
        // Outwards, so that it never looks surer than it is.
        self.in_doubt().map_or(Ok(()), |[low, high]| {
            write!(out, " ({:.0}–{:.0} %)", (low * 100.0).floor(), (high * 100.0).ceil())
        })
    }
}

/// In whole percent; neither nothing nor all where it is not.
pub(super) fn percent(share: f64) -> String {
    let whole = (share * 100.0).round();
    if share > 0.0 && whole < 1.0 {
        "<1 %".to_owned()
    } else if share < 1.0 && whole > 99.0 {
        ">99 %".to_owned()
    } else {
        format!("{whole:.0} %")
    }
}

/// The score interval of a share: all true shares that lie within 1.96 of their own standard deviations of it.
fn wilson(count: f64, of: f64) -> [f64; 2] {
    let square = Z * Z;
    let middle = (count + square / 2.0) / (of + square);
    let half = Z / (of + square) * (count * (of - count) / of + square / 4.0).sqrt();
    // Exact at the ends, where rounding would leave a little.
    let low = if count > 0.0 { (middle - half).max(0.0) } else { 0.0 };
    let high = if count < of { (middle + half).min(1.0) } else { 1.0 };
    [low, high]
}

#[cfg(test)]
mod tests {
    use super::{Share, wilson};

    /// Each end is a true share from which the one that was seen lies 1.96 standard deviations away: how it is defined.
    #[test]
    fn each_end_lies_as_far_from_the_share_as_chance_would_take_it() {
        for (count, of) in [(1.0, 10.0), (5.0, 10.0), (81.0, 263.0), (15.0, 148.0), (99.0, 100.0)] {
            for end in wilson(count, of) {
                let away = (count / of - end).abs() / (end * (1.0 - end) / of).sqrt();
                assert!((away - 1.96).abs() < 1e-4, "{count} of {of}: {end} is {away} away");
            }
        }
    }

    /// Newcombe (1998), Statistics in Medicine 17:857, table I, method 3, from memory.
    #[test]
    fn it_agrees_with_published_intervals() {
        for (count, of, low, high) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ] {
            let [found_low, found_high] = Share::new(count, of).interval.unwrap_or_default();
            assert!((found_low - low).abs() < 6e-5 && (found_high - high).abs() < 6e-5, "{count} of {of}");
        }
    }

    #[test]
    fn it_is_shown_where_the_count_is_small() {
        assert_eq!(Share::new(2, 6).to_string(), "33 % (9–71 %)");
        assert_eq!(Share::new(0, 20).to_string(), "0 % (0–17 %)");
        assert_eq!(Share::new(50_000, 100_000).to_string(), "50 %");
        assert_eq!(Share::new(1, 100_000).to_string(), "<1 %");
        assert_eq!(Share::new(99_999, 100_000).to_string(), ">99 %");
        assert_eq!(Share::new(0, 0).to_string(), "–");
    }
}
