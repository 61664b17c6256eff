//! The one loop that every face of the program goes through.

use super::Call;
use super::event::Event;
use super::prompt::{Ended, Next, Prompt};
use super::reply::{Refusal, Reply};

/// Whoever answers: a person at a prompt, a case file, a simulated unit.
pub trait Answerer {
    /// Answers a prompt.
    ///
    /// # Errors
    /// [`Halt`] when no more answers can be had: the call stands as it is.
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt>;

    /// Told that the last reply meant nothing; the prompt comes again.
    fn refused(&mut self, refusal: Refusal);

    /// Told of each event before it is taken in: the place to keep a log.
    ///
    /// # Errors
    /// [`Halt`] when it could not be kept; the event is not taken in then.
    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        let _ = (call, event);
        Ok(())
    }

    /// Asked at the end whether it is to stand; a reply takes the call up again.
    ///
    /// # Errors
    /// [`Halt`] when no more answers can be had.
    fn ended(&mut self, call: &Call, ended: &Ended) -> Result<Option<Reply>, Halt> {
        let _ = (call, ended);
        Ok(None)
    }
}

/// No more answers can be had.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("{0}")]
pub struct Halt(pub String);

/// Prompts after which whoever answers by itself gives a call up: far more than any call may have.
const MOST_PROMPTS: u32 = 2_000;

/// What an answerer that never tires gives a call up by, where its rules lead it round.
#[derive(Clone, Copy, Debug, Default)]
pub struct Patience(u32);

impl Patience {
    /// Counts one more prompt.
    ///
    /// # Errors
    /// [`Halt`] once there were more than 2 000, which no call comes near.
    pub fn wear(&mut self) -> Result<(), Halt> {
        self.0 += 1;
        if self.0 <= MOST_PROMPTS {
            return Ok(());
        }
        Err(Halt(format!(
            "the call goes on after {MOST_PROMPTS} questions and steps: the rules lead it round"
        )))
    }
}

/// Leads a call to its end.
///
/// # Errors
/// [`Halt`] from the answerer; the call stands at its last event.
pub fn drive(call: &mut Call, answerer: &mut dyn Answerer) -> Result<Ended, Halt> {
    loop {
        let heard = match call.next() {
            Next::Prompt(prompt) => {
                let reply = answerer.reply(call, &prompt)?;
                call.hear(Some(&prompt), reply)
            }
            Next::Ended(ended) => match answerer.ended(call, &ended)? {
                None => return Ok(ended),
                Some(reply) => call.hear(None, reply),
            },
        };
        match heard {
            Ok(events) => {
                for event in events {
                    answerer.happens(call, &event)?;
                    call.apply(event);
                }
            }
            Err(refusal) => answerer.refused(refusal),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{MOST_PROMPTS, Patience};

    #[test]
    fn patience_ends() {
        let mut patience = Patience::default();
        assert!((0..MOST_PROMPTS).all(|_| patience.wear().is_ok()));
        assert!(patience.wear().is_err());
    }
}
