//! A fault tree as it is written.

use crate::gate::yaml::{OneOrMany, Word};
use indexmap::IndexMap;
use serde::Deserialize;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct TreeDoc {
    pub(crate) tree: String,
    pub(crate) name: String,
    pub(crate) complaint: Option<Word>,
    pub(crate) start: String,
    pub(crate) steps: IndexMap<String, StepDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct StepDoc {
    pub(crate) ask: Option<String>,
    #[serde(rename = "if known")]
    pub(crate) if_known: Option<String>,
    pub(crate) because: Option<String>,
    pub(crate) answers: Option<Vec<AnswerLine>>,
    pub(crate) bands: Option<Vec<BandLine>>,
    pub(crate) cannot: Option<WayLine>,
    #[serde(rename = "not known")]
    pub(crate) not_known: Option<WayLine>,
    #[serde(rename = "too close")]
    pub(crate) too_close: Option<WayLine>,
}

impl StepDoc {
    /// The ways out of all its lines.
    pub(crate) fn ways(&self) -> impl Iterator<Item = WayKeys<'_>> {
        let answers = self.answers.iter().flatten().map(AnswerLine::way);
        let others = [&self.cannot, &self.not_known, &self.too_close].into_iter().flatten();
        answers.chain(self.bands.iter().flatten().map(BandLine::way)).chain(others.map(WayLine::way))
    }
}

/// The four ways out, as they are written on a line; exactly one may be.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WayKeys<'d> {
    pub(crate) go: Option<&'d str>,
    pub(crate) end: Option<&'d str>,
    pub(crate) continue_in: Option<&'d str>,
    pub(crate) visit: Option<&'d str>,
    pub(crate) then: Option<&'d str>,
}

// serde's `flatten` would lose the places of mistakes, so every kind of line lists the ways out itself.
macro_rules! line_with_ways {
    ($(#[$doc:meta])* $name:ident { $($(#[$attr:meta])* $field:ident: $type:ty),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Deserialize, Debug)]
        #[serde(deny_unknown_fields)]
        pub(crate) struct $name {
            $($(#[$attr])* pub(crate) $field: $type,)*
            pub(crate) go: Option<String>,
            pub(crate) end: Option<String>,
            #[serde(rename = "continue in")]
            pub(crate) continue_in: Option<String>,
            pub(crate) visit: Option<String>,
            pub(crate) then: Option<String>,
        }

        impl $name {
            pub(crate) fn way(&self) -> WayKeys<'_> {
                WayKeys {
                    go: self.go.as_deref(),
                    end: self.end.as_deref(),
                    continue_in: self.continue_in.as_deref(),
                    visit: self.visit.as_deref(),
                    then: self.then.as_deref(),
                }
            }
        }
    };
}

line_with_ways!(
    /// A line that answers for one or more choices.
    AnswerLine {
        is: OneOrMany<Word>,
        means: String,
    }
);

line_with_ways!(
    /// A line that answers for a band of values.
    BandLine {
        below: Option<Word>,
        #[serde(rename = "up to")]
        up_to: Option<Word>,
        above: Option<Word>,
        means: String,
        from: Option<String>,
    }
);

line_with_ways!(
    /// A line that answers for what could not be had.
    WayLine {}
);
