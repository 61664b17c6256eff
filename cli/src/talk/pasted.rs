//! Lines that were not typed for the power step on the screen: typed ahead of it, or pasted.

use super::screen::Label;
use super::{Stopped, Talk, Voice, alarm};
use engine::call::{Call, Wants};
use std::io;
use std::time::Duration;

/// Nobody reads an order and answers it sooner: what comes before that was sent off before the order stood there.
const READ_IN: Duration = Duration::from_millis(100);

const BEFORE: &str = "what was typed before this stood here is not taken: type it for this";
const SEVERAL: &str = "several lines at once are not taken here: type one, for this step";

impl Talk<'_> {
    /// Whether a power step is asked for.
    fn at_a_power_step(&self) -> bool {
        let power = |wants: &Wants| matches!(wants, Wants::Power { .. });
        self.ended.is_none() && self.asked.as_ref().is_some_and(|(asked, _)| power(asked.wants()))
    }

    /// What was typed before a power step was asked for says nothing of it, and is told to be not taken. Words of danger
    /// in it are returned: they come at any time.
    pub(super) fn forget_ahead(&mut self, call: &Call) -> io::Result<Option<String>> {
        if !self.at_a_power_step() {
            return Ok(None);
        }
        let Voice::Typed(lines) = &mut self.voice else { return Ok(None) };
        let ahead = lines.forget_ahead()?;
        if ahead.is_empty() || alarm::heard(call.book(), &ahead).is_said {
            return Ok(Some(ahead).filter(|ahead| !ahead.is_empty()));
        }
        self.screen.row(Label::AGAIN, BEFORE)?;
        Ok(None)
    }

    /// Whether a line that came so soon after a power step was asked for was typed for it. What was not is told to be not
    /// taken; words of danger count however they come.
    pub(super) fn is_typed_for_it(
        &mut self,
        call: &Call,
        line: &str,
        after: Duration,
    ) -> Result<bool, Stopped> {
        if !self.has_a_clock() || !self.at_a_power_step() || alarm::heard(call.book(), line).is_said {
            return Ok(true);
        }
        let why = if line.trim().contains(['\n', '\r']) {
            SEVERAL
        } else if after < READ_IN {
            BEFORE
        } else {
            return Ok(true);
        };
        self.screen.row(Label::AGAIN, why)?;
        Ok(false)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use crate::rules;
    use crate::talk::hint::Typing;
    use crate::talk::lines::{Heard, Lines, Shows};
    use crate::talk::{Layout, Talk, Units, Voice};
    use engine::call::{Call, Next};
    use std::cell::RefCell;
    use std::collections::VecDeque;
    use std::io::{self, Write};
    use std::rc::Rc;
    use std::thread;
    use std::time::Duration;

    /// Lines that come so many milliseconds after they are asked for, on a terminal.
    struct Timed(VecDeque<(&'static str, u64)>);

    impl Lines for Timed {
        fn shows(&self) -> Shows {
            Shows::Line
        }

        fn next(&mut self, _: Typing) -> io::Result<Heard> {
            Ok(self.0.pop_front().map_or(Heard::Ended, |(line, after)| {
                thread::sleep(Duration::from_millis(after));
                Heard::Line(line.to_owned())
            }))
        }

        fn forget_ahead(&mut self) -> io::Result<String> {
            Ok(String::new())
        }

        fn columns(&mut self) -> Option<usize> {
            None
        }
    }

    /// What is written to it.
    #[derive(Clone, Default)]
    struct Paper(Rc<RefCell<Vec<u8>>>);

    impl Write for Paper {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.borrow_mut().write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    /// What is shown of a call with these lines at its first lock-out step.
    fn shown(at_the_step: &[(&'static str, u64)]) -> String {
        let to_the_step = ["none", "no run", "115", "other", "tripped", "1", "5"].map(|line| (line, 0));
        let lines = Timed(to_the_step.iter().chain(at_the_step).copied().collect());
        let paper = Paper::default();
        let voice = Voice::Typed(Box::new(lines));
        let mut talk = Talk::new(Box::new(paper.clone()), voice, Units::AsInRules, Layout::Plain);
        let mut call = Call::new(rules::load(None).unwrap());
        while let Next::Prompt(prompt) = call.next() {
            let Ok(reply) = talk.ask(&call, &prompt) else { break };
            for event in call.hear(Some(&prompt), reply).unwrap() {
                call.apply(event);
            }
        }
        drop(talk);
        String::from_utf8(paper.0.borrow().clone()).unwrap()
    }

    #[test]
    fn of_a_paste_only_the_first_line_answers_a_power_step() {
        // Somebody has read the first order; what came with the answer to it is no answer to the second.
        let all = shown(&[("done", 200), ("90 minutes", 0), ("yes", 0), ("done", 0)]);
        assert!(all.contains("Wait 5 minutes") && !all.contains("Take the blower panel off"), "{all}");
        assert_eq!(all.matches("AGAIN").count(), 3, "{all}");
        assert!(!shown(&[("done", 0)]).contains("Wait 5 minutes"));
    }

    #[test]
    fn several_lines_in_one_answer_no_power_step_and_danger_counts_however_it_comes() {
        let all = shown(&[("done\ndone", 200)]);
        assert!(all.contains("several lines at once") && !all.contains("Wait 5 minutes"), "{all}");
        for line in ["smoke", "done\nsmoke"] {
            assert!(shown(&[(line, 0)]).contains("HEARD"), "{line}");
        }
    }
}
