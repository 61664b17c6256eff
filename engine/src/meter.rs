//! A caller's own meter: how sure it is of each quantity, by range.
//!
//! ```
//! use engine::meter::OwnMeter;
//! use engine::source::Source;
//! let text = "meter: bench meter\naccuracy:\n  voltage:\n    - {up to: 60 V, is: 0.5 % + 2 counts of 0.01 V}\n";
//! let meter = OwnMeter::read(Source::new("my-meter.yaml", text).unwrap()).unwrap();
//! assert_eq!(meter.name(), "bench meter");
//! assert!(OwnMeter::read(Source::new("my-meter.yaml", "meter: x\naccuracy: {colour: []}\n").unwrap()).is_err());
//! ```

use crate::finding::{Code, Findings, Reported};
use crate::gate::Gated;
use crate::quantity::{Dimension, Meter, Quantity};
use crate::resolve::At;
use crate::source::Source;
use indexmap::IndexMap;
use serde::Deserialize;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct MeterDoc {
    meter: String,
    accuracy: IndexMap<String, Vec<RangeDoc>>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct RangeDoc {
    #[serde(rename = "up to")]
    up_to: String,
    is: String,
}

/// One range of a meter.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Range {
    dimension: Dimension,
    /// The largest size that it shows, in the base unit.
    up_to: f64,
    meter: Meter,
}

/// A meter with its statement for each quantity and range.
#[derive(Clone, PartialEq, Debug)]
pub struct OwnMeter {
    name: String,
    ranges: Vec<Range>,
}

impl OwnMeter {
    /// Reads a meter file.
    ///
    /// # Errors
    /// Everything in it that is no quantity, no range and no accuracy.
    pub fn read(source: Source) -> Result<Self, Reported> {
        let gated = Gated::check(source)?;
        let doc: MeterDoc = gated.read()?;
        let mut findings = Findings::new();
        let mut ranges = Vec::new();
        let top = At::top(&gated);
        let list = top.key("accuracy");
        for (word, lines) in &doc.accuracy {
            let at = list.key(word);
            let Some(dimension) = Dimension::from_word(word) else {
                let words: Vec<&str> = Dimension::ALL.iter().map(|dimension| dimension.word()).collect();
                let draft = at.draft_key(Code::WrongQuantity, format!("unknown quantity `{word}`"));
                findings.push(draft.help(format!("expected one of: {}", words.join(", "))));
                continue;
            };
            for (index, line) in lines.iter().enumerate() {
                ranges.extend(range(dimension, line, &at.index(index), &mut findings));
            }
        }
        findings.finish()?;
        // A reading belongs to the smallest range that shows it, in whatever order they were written.
        ranges.sort_by(|left: &Range, right: &Range| left.up_to.total_cmp(&right.up_to));
        Ok(Self { name: doc.meter, ranges })
    }

    /// What it is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The statement for a reading; `None` for a quantity or a size that the meter does not name.
    #[must_use]
    pub fn statement(&self, reading: Quantity) -> Option<Meter> {
        let size = reading.base().abs();
        self.ranges
            .iter()
            .find(|range| range.dimension == reading.dimension() && size <= range.up_to)
            .map(|range| range.meter)
    }
}

fn range(dimension: Dimension, line: &RangeDoc, at: &At<'_>, findings: &mut Findings) -> Option<Range> {
    let up_to = Quantity::parse_as(&line.up_to, dimension).map_err(|misread| {
        let draft = at.key("up to").draft(Code::WrongQuantity, format!("cannot read this range: {misread}"));
        findings.push(draft.help("write the largest value that it shows, such as `60 V`"));
    });
    let meter = Meter::parse(&line.is, dimension).map_err(|misread| {
        let draft = at.key("is").draft(Code::BadValue, format!("cannot read this accuracy: {misread}"));
        findings.push(draft.help("write it like `0.5 % + 2 counts of 0.1 V`"));
    });
    Some(Range { dimension, up_to: up_to.ok()?.base().abs(), meter: meter.ok()? })
}
