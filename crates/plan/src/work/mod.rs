//! What the maker does.

pub mod keys;
pub mod cutting;
pub mod kit;
pub mod steps;
pub mod trials;
#[cfg(test)]
mod tests;
