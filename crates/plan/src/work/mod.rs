//! What the maker does.

pub mod kit;
pub mod steps;
pub mod trials;
