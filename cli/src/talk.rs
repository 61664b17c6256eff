//! The conversation.
