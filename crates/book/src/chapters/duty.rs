//! How the vehicle is driven, and what flows.

use crate::model::Pages;
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    if words.plan.course.is_none() {
        pages.text("The build states no duty.");
    }
}
