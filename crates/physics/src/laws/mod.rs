//! One file a law, each with its equation, range, source and a published case.
pub mod conductor;
