//! What follows from what we are told.

pub mod together;
pub mod length;
pub mod drive;
pub mod duty;
pub mod along;
pub mod heating;
pub mod profile;
pub mod settle;
pub mod joint;
pub mod preload;
pub mod ends;
pub mod cuts;
pub mod survey;
pub mod layout;
pub mod plates;
pub mod fuse;
pub mod coordinate;
pub mod contactor;
pub mod circuits;
pub mod branch;
pub mod protect;
pub mod field;
