//! The book: from a plan to a PDF that a customer, an inspector or the next mechanic can trust.
//!
//! Chapters make typed pages from the plan, the typesetter lays them out. Nothing is worked out here; every
//! number comes from the plan and is only written down.

mod parts;
pub mod model;
mod words;
mod chapters;
mod pdf;

pub use chapters::pages;
pub use parts::{Chapters, Part};
pub use pdf::BookError;

use plan::Plan;

/// Prints a plan: the whole book, or the parts asked for.
///
/// The same plan gives the same bytes. While something fails or a value that can hurt is unknown, every page is
/// stamped "not for building".
///
/// # Errors
/// Only a fault of this program keeps a plan from being printed.
pub fn book(plan: &Plan, chapters: &Chapters) -> Result<Vec<u8>, BookError> {
    pdf::set(&pages(plan, chapters))
}

/// Prints drawings by themselves, each on a page of its own size: what is drawn at full size is printed so.
///
/// The same drawings give the same bytes; `ident` marks the file with what it was made from.
///
/// # Errors
/// Only a fault of this program keeps drawings from being printed.
pub fn sheets(drawings: &[draw::Drawing], ident: &str) -> Result<Vec<u8>, BookError> {
    pdf::sheets(drawings, ident)
}
