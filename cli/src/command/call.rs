//! `motorwright call`: a call at the prompt, or a case shown as one.

use crate::args::CallArguments;
use crate::failure::{Failure, OK};
use engine::rulebook::Rulebook;
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &CallArguments) -> Result<u8, Failure> {
    let _ = (book, arguments);
    Ok(OK)
}
