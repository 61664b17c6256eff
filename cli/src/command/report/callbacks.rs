//! Which calls were followed by another on the same unit.

use crate::store::{CALLBACK_DAYS, Listed, When, unit_key};

/// When calls were begun, by what they have to do with earlier ones.
#[derive(Default)]
pub(super) struct Begun {
    /// By the unit's name.
    on: Vec<(Box<str>, When)>,
    /// By the id of the call that they start from.
    again_of: Vec<(Box<str>, When)>,
}

/// The same, to be looked up in.
pub(super) struct Later {
    begun: Begun,
    now: When,
}

/// What came after a call.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct After {
    /// Another call on the unit was begun in time.
    pub(super) callback: bool,
    /// The time is over, and the unit has a name by which another call would be known.
    pub(super) followed: bool,
}

impl Begun {
    pub(super) fn note(&mut self, listed: &Listed) {
        let opening = &listed.opening;
        if let Some(unit) = &opening.unit {
            self.on.push((unit_key(unit).into(), opening.at));
        }
        if let Some(earlier) = &opening.again_of {
            self.again_of.push((earlier.as_str().into(), opening.at));
        }
    }

    /// All are noted; callbacks until now are known.
    pub(super) fn until(mut self, now: When) -> Later {
        self.on.sort_unstable();
        self.again_of.sort_unstable();
        Later { begun: self, now }
    }
}

impl Later {
    /// What came after this call.
    pub(super) fn after(&self, listed: &Listed) -> After {
        let opening = &listed.opening;
        // A clock that went backwards makes no call its own callback.
        let over = listed.last.max(opening.at);
        let by_unit =
            opening.unit.as_ref().is_some_and(|unit| any_within(&self.begun.on, &unit_key(unit), over));
        After {
            callback: by_unit || any_within(&self.begun.again_of, &opening.id, over),
            followed: opening.unit.is_some() && over <= self.now.days_before(CALLBACK_DAYS),
        }
    }
}

/// Whether one of these was begun after this moment, and no later than counts.
fn any_within(begun: &[(Box<str>, When)], name: &str, over: When) -> bool {
    let next = begun.partition_point(|(other, at)| (other.as_ref(), *at) <= (name, over));
    begun.get(next).is_some_and(|(other, at)| other.as_ref() == name && at.days_before(CALLBACK_DAYS) <= over)
}

#[cfg(test)]
mod tests {
    use super::{After, Begun};
    use crate::store::{Listed, Opening, RulesUsed, When};

    const DAY: i64 = 86_400_000;

    /// A call that was begun on one day, and had its last word on another.
    fn call(id: &str, unit: Option<&str>, again_of: Option<&str>, days: [i64; 2]) -> Listed {
        let [at, last] = days.map(|day| When::from_millis(day * DAY));
        let text = |text: &str| text.to_owned();
        let (decide, prose, program) = (String::new(), String::new(), String::new());
        let rules = RulesUsed { folder: None, decide, prose, program };
        let (unit, again_of) = (unit.map(text), again_of.map(text));
        let opening = Opening { id: text(id), at, unit, again_of, rules, meter: None };
        Listed { number: 1, opening, last, events: 0, summary: None, holder: None }
    }

    /// What came after each of these calls, on a day.
    fn after(calls: &[Listed], today: i64) -> Vec<(bool, bool)> {
        let mut begun = Begun::default();
        for call in calls {
            begun.note(call);
        }
        let later = begun.until(When::from_millis(today * DAY));
        let both = |After { callback, followed }| (callback, followed);
        calls.iter().map(|call| both(later.after(call))).collect()
    }

    #[test]
    fn a_call_on_the_same_unit_within_thirty_days_of_the_last_word_is_a_callback() {
        let unit = Some("job 1");
        // It was left on day 0 and came to its end on day 20.
        let calls = [call("a", unit, None, [0, 20]), call("b", unit, None, [50, 50])];
        assert_eq!(after(&calls, 100), [(true, true), (false, true)]);
        let calls = [call("a", unit, None, [0, 20]), call("b", unit, None, [51, 51])];
        assert_eq!(after(&calls, 100), [(false, true), (false, true)]);
        let calls = [call("a", unit, None, [0, 20]), call("b", Some("job 2"), None, [21, 21])];
        assert_eq!(after(&calls, 100), [(false, true), (false, true)]);
    }

    #[test]
    fn a_call_without_a_unit_is_known_by_the_call_that_starts_from_it() {
        let calls = [call("b", None, Some("a"), [3, 3]), call("a", None, None, [1, 1])];
        assert_eq!(after(&calls, 100), [(false, false), (true, false)]);
    }

    #[test]
    fn a_call_that_is_not_over_for_thirty_days_is_not_followed_yet() {
        let calls = [call("a", Some("job 1"), None, [0, 10])];
        assert_eq!(after(&calls, 39), [(false, false)]);
        assert_eq!(after(&calls, 40), [(false, true)]);
    }

    #[test]
    fn no_call_is_its_own_callback() {
        let calls = [call("a", Some("job 1"), None, [5, 4]), call("b", Some("job 1"), Some("a"), [5, 5])];
        assert_eq!(after(&calls, 100), [(false, true), (false, true)]);
    }
}
