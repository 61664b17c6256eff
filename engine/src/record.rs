//! What is kept of a call: its events in words that outlive a process, a machine and a change of the rules.
//!
//! An [`Entry`] says one [`Event`](crate::call::Event) with the names of the rulebook in place of its dense ids.
//! [`Names`] turns one into the other. A [`Fingerprint`] tells whether the rules are still those the call went by, and
//! a [`Summary`] holds what a list of calls shows of one. [`Carried`] is what earlier calls on a unit leave to the
//! next.
//!
//! ```
//! use engine::record::Entry;
//! let entry = Entry::Note { text: "the caller drops the phone".to_owned() };
//! assert_eq!(entry.clone(), entry);
//! ```

mod carried;
mod entry;
mod fingerprint;
mod names;
mod standing;
mod summary;

pub use carried::Carried;
pub use entry::{Entry, Said, Step};
pub use fingerprint::Fingerprint;
pub use names::{Names, Unknown};
pub use standing::{PanelThen, PowerThen, Standing};
pub use summary::{End, Stands, Summary, outcome_word};
