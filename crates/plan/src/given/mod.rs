//! What we are told: the build as written, the shelf, and the two looked up together.

pub mod nearest;
pub mod shelf;
mod shelf_draft;
mod shelf_kinds;
pub mod shelf_plate;
pub mod shelf_read;
pub mod shelf_look;
pub mod cycles;
pub mod build;
pub mod keys;
pub mod read;
mod connect;
pub mod face;
pub mod document;
pub mod reference;
pub mod kept;
pub mod parts;
