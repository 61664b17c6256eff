//! The catalogue's facts: what can be asked, how it is taken, what it may be.

use super::ids::{FactId, StationId};
use super::value::{Answer, ChoiceSet, Condition, Value};
use crate::formula::Formula;
use crate::quantity::{Expected, Meter};

/// The power state in which something may be read or done.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum PowerNeed {
    /// Only with the unit energised.
    Live,
    /// Only with the unit locked out and proved dead.
    Dead,
    /// In any state, the unknown one included.
    Any,
}

/// Where the access panel must be.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum PanelNeed {
    /// In its place: running with it off falsifies the reading.
    On,
    /// Off: the place to read is behind it.
    Off,
    /// It does not matter.
    Any,
}

/// How long a fact stays true by itself.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Lasts {
    /// As long as the unit: what a plate says.
    Unit,
    /// Until somebody touches what it is about.
    UntilTouched,
    /// For this visit: stale when a call is taken up again.
    Now,
}

/// How badly a thing can end, in the words of ANSI Z535.4.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Signal {
    /// Not about injury.
    Notice,
    /// Could result in minor or moderate injury.
    Caution,
    /// Could result in death or serious injury.
    Warning,
    /// Will result in death or serious injury.
    Danger,
}

impl Signal {
    /// The signal word, in capitals as the standard shows it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Notice => "NOTICE",
            Self::Caution => "CAUTION",
            Self::Warning => "WARNING",
            Self::Danger => "DANGER",
        }
    }
}

/// One caution: a signal word and what it is about.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Caution {
    /// How badly it can end.
    pub signal: Signal,
    /// What can happen and how to avoid it.
    pub text: String,
}

/// One choice of a fact.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Choice {
    /// Its fixed id, as in cases.
    pub id: String,
    /// What it means, to be said aloud.
    pub means: String,
}

/// What kind of answer a fact takes.
#[derive(Clone, Debug)]
pub enum Kind {
    /// A quantity: what would be understood, and how sure an ordinary meter is of it.
    Quantity {
        /// Usual unit, plausible range, whether `OL` may be read.
        expected: Expected,
        /// The meter's statement.
        meter: Meter,
    },
    /// A choice out of a list.
    Choice {
        /// The list, in the order it is read aloud.
        choices: Vec<Choice>,
        /// Whether several may hold at once.
        several: bool,
    },
}

/// A value that comes with other facts: off a motor's profile, or with a choice.
#[derive(Clone, PartialEq, Debug)]
pub struct Given {
    /// The facts it depends on and what they must be.
    pub when: Vec<(FactId, Value)>,
    /// What the fact then is.
    pub is: Value,
}

/// The time that an answer takes.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Time {
    /// The choices that cannot be told sooner; `None` for any value.
    pub is: Option<ChoiceSet>,
    /// The minutes that pass at least before it can be told.
    pub minutes: f64,
}

/// How a fact is asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Asking {
    /// The question, to be said aloud.
    pub say: String,
    /// How to take the reading.
    pub how: String,
}

/// One fact of the catalogue.
#[derive(Clone, Debug)]
pub struct Fact {
    /// Its fixed id, as in cases.
    pub id: String,
    /// A short noun phrase, shown back with the value.
    pub name: String,
    /// The question; `None` for a fact that only comes with others.
    pub asking: Option<Asking>,
    /// Which answers it takes.
    pub kind: Kind,
    /// Power state in which it may be read.
    pub power: PowerNeed,
    /// Where the panel must be.
    pub panel: PanelNeed,
    /// Where inside the unit it is read, for a reading that can be led out.
    pub station: Option<StationId>,
    /// Whether it is read ahead of the panel's interlock, so that nothing behind it needs power.
    pub ahead_of_interlock: bool,
    /// Whether it is read on open live parts elsewhere than behind the panel, so that only live work gets it.
    pub live_work: bool,
    /// How long it stays true.
    pub lasts: Lasts,
    /// Minutes that taking it costs.
    pub minutes: f64,
    /// The answers that take their time: which cannot be told sooner, and after how many minutes.
    pub waits: Vec<Time>,
    /// The choices that show the unit to have been live until they were told.
    pub live_until_told: ChoiceSet,
    /// The choice that a plain yes stands for; a plain no is then the other of the two.
    pub yes_means: Option<ChoiceSet>,
    /// What is needed to take it.
    pub tools: Vec<String>,
    /// What can hurt while taking it.
    pub cautions: Vec<Caution>,
    /// What must not be known to be otherwise for the cautions to be shown; empty where they always are.
    pub cautions_when: Vec<(FactId, Condition)>,
    /// The choice that stands for "cannot tell".
    pub cannot_means: Option<Value>,
    /// Whether a part may be replaced though this could not be read.
    pub may_be_missing: bool,
    /// The choice at which this switch or breaker lets the supply through.
    pub feeds: Option<ChoiceSet>,
    /// Values that come with other facts, first match first.
    pub given: Vec<Given>,
    /// How it is worked out: always, for a fact that is never asked; else when it cannot be told itself.
    pub working: Option<Working>,
}

/// How a fact is worked out of others.
#[derive(Clone, Debug)]
pub struct Working {
    /// The formula.
    pub formula: &'static Formula,
    /// Its inputs, in the formula's order.
    pub of: Vec<FactId>,
}

impl Fact {
    /// What would be understood as an answer; `None` for a fact with choices.
    #[must_use]
    pub const fn expected(&self) -> Option<&Expected> {
        match &self.kind {
            Kind::Quantity { expected, .. } => Some(expected),
            Kind::Choice { .. } => None,
        }
    }

    /// The list of choices; empty for a quantity.
    #[must_use]
    pub fn choices(&self) -> &[Choice] {
        match &self.kind {
            Kind::Choice { choices, .. } => choices,
            Kind::Quantity { .. } => &[],
        }
    }

    /// All choices together; empty for a quantity.
    #[must_use]
    pub fn every_choice(&self) -> ChoiceSet {
        (0..self.choices().len())
            .fold(ChoiceSet::default(), |set, position| set.with(ChoiceSet::only(position)))
    }

    /// The choice with this id.
    #[must_use]
    pub fn choice(&self, id: &str) -> Option<ChoiceSet> {
        self.choices().iter().position(|choice| choice.id == id).map(ChoiceSet::only)
    }

    /// Whether several choices may hold at once.
    #[must_use]
    pub const fn allows_several(&self) -> bool {
        matches!(self.kind, Kind::Choice { several: true, .. })
    }

    /// The choice that a plain yes or no stands for, where the question is one of yes and no.
    #[must_use]
    pub fn said_plainly(&self, yes: bool) -> Option<ChoiceSet> {
        let means = self.yes_means.or_else(|| self.choice("yes"))?;
        if yes {
            return Some(means);
        }
        Some(self.every_choice().without(means)).filter(|other| other.len() == 1)
    }

    /// The minutes that pass at least before this can be told; `None` where it can be told at once.
    #[must_use]
    pub fn wait(&self, answer: &Answer) -> Option<f64> {
        let Answer::Value(value) = answer else { return None };
        let takes = |time: &&Time| match (time.is, value) {
            (None, _) => true,
            (Some(is), Value::Choices(set)) => set.meets(is),
            (Some(_), Value::Quantity(_)) => false,
        };
        self.waits.iter().filter(takes).map(|time| time.minutes).reduce(f64::max)
    }

    /// Whether this shows the unit to have been live when it was told: whatever is read live, and the choices that say so.
    #[must_use]
    pub fn shows_live(&self, answer: &Answer) -> bool {
        match answer {
            Answer::Value(_) if self.power == PowerNeed::Live => true,
            Answer::Value(Value::Choices(set)) => set.meets(self.live_until_told),
            Answer::Cannot | Answer::Value(Value::Quantity(_)) => false,
        }
    }

    /// Whether it is read behind the panel with the unit energised, so that it is either live work or staged.
    #[must_use]
    pub fn is_inside_live(&self) -> bool {
        self.power == PowerNeed::Live && self.panel == PanelNeed::Off
    }

    /// Whether it is read on something that is fitted inside and led out, panel on: always staged, live work or not.
    #[must_use]
    pub fn is_led_out(&self) -> bool {
        self.can_be_led_out() && self.panel == PanelNeed::On
    }

    /// Whether what it is read with can be fitted inside, locked out, and led out.
    #[must_use]
    pub fn can_be_led_out(&self) -> bool {
        self.power == PowerNeed::Live && self.station.is_some()
    }

    /// The value as text that can be typed again: choice ids joined by `+`, or number and unit.
    #[must_use]
    pub fn show(&self, value: &Value) -> String {
        match value {
            Value::Quantity(quantity) => quantity.to_string(),
            Value::Choices(set) => set
                .positions()
                .filter_map(|position| self.choices().get(position))
                .map(|choice| choice.id.as_str())
                .collect::<Vec<_>>()
                .join(" + "),
        }
    }
}
