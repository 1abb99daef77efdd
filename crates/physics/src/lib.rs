//! Pure numbers in, pure numbers out: the published relations the rest stands on.
//!
//! A law takes and gives `f64` with the unit in the name, knows no build and touches nothing outside
//! itself. Quantities as people write them are read and shown by [`units`]. Bugs are asserts; a value
//! outside a law's stated range is the caller's to report.

pub mod units;
pub mod complex;
pub mod laws;
pub mod duty;
pub mod heat;
pub mod network;
