//! What we are told: the build as written, the shelf, and the two looked up together.

pub mod nearest;
pub mod shelf;
pub mod build;
pub mod parts;
