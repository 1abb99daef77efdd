//! To be written.

pub mod figures;
