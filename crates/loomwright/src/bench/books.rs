//! Books that are set while the maker goes on working.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

use book::{Chapters, Part};

use super::events::Events;
use super::outcome::{Outcome, milliseconds};
use super::refusal::Refusal;
use crate::wire::{BookEventWire, BookJobWire, BookStateWire};

/// Finished books kept; a book is quickly set again.
const KEPT: usize = 4;

/// All books of this start.
#[derive(Default)]
pub(crate) struct Books {
    shelf: Mutex<Shelf>,
    /// One at a time: a second would only make both slower.
    press: Mutex<()>,
}

#[derive(Default)]
struct Shelf {
    last: u64,
    done: BTreeMap<u64, (String, Arc<Vec<u8>>)>,
}

impl Books {
    fn shelf(&self) -> std::sync::MutexGuard<'_, Shelf> {
        self.shelf.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A finished book.
    pub(crate) fn get(&self, id: &str, job: u64) -> Option<Arc<Vec<u8>>> {
        self.shelf().done.get(&job).filter(|(of, _)| of == id).map(|(_, pdf)| Arc::clone(pdf))
    }
}

/// Chapters by their words; all for none.
///
/// # Errors
/// Which word is none.
pub(crate) fn chapters(words: &[String]) -> Result<Chapters, Refusal> {
    if words.is_empty() {
        return Ok(Chapters::all());
    }
    let mut parts = Vec::new();
    for word in words {
        parts.push(Part::named(word).ok_or_else(|| {
            let known: Vec<&str> = Part::ALL.iter().map(|p| p.word()).collect();
            let short: String = word.chars().take(40).collect();
            Refusal::bad(format!("the book has no part `{short}`")).hint(known.join(", "))
        })?);
    }
    Ok(Chapters::only(&parts))
}

/// Begins to set a book; `book` events tell the rest.
pub(crate) fn begin(
    books: &Arc<Books>,
    events: &Events,
    id: &str,
    outcome: Arc<Outcome>,
    chapters: Chapters,
) -> BookJobWire {
    let job = {
        let mut shelf = books.shelf();
        shelf.last += 1;
        shelf.last
    };
    let url = format!("/api/builds/{id}/book/{job}.pdf");
    let (books, events) = (Arc::clone(books), events.clone());
    let order = Order { id: id.to_owned(), job, url: url.clone() };
    tokio::task::spawn_blocking(move || press(&books, &events, &order, &outcome, &chapters));
    BookJobWire { job, url }
}

/// Which book, of which build, and where it will be.
struct Order {
    id: String,
    job: u64,
    url: String,
}

fn press(
    books: &Books,
    events: &Events,
    order: &Order,
    outcome: &Outcome,
    chapters: &Chapters,
) {
    let start = Instant::now();
    let tell = |state, url: Option<&str>, error: Option<String>| {
        let event = BookEventWire {
            id: order.id.clone(),
            job: order.job,
            state,
            url: url.map(str::to_owned),
            error,
            took_ms: milliseconds(start.elapsed()),
            version: outcome.of.unwrap_or(outcome.version),
        };
        events.tell("book", &event);
    };
    tell(BookStateWire::Setting, None, None);
    let _press = books.press.lock().unwrap_or_else(PoisonError::into_inner);
    let Some(plan) = outcome.plan() else {
        return tell(
            BookStateWire::Failed,
            None,
            Some("the document cannot be read".to_owned()),
        );
    };
    let set =
        std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| book::book(plan, chapters)));
    match set {
        Ok(Ok(pdf)) => {
            {
                let mut shelf = books.shelf();
                shelf.done.insert(order.job, (order.id.clone(), Arc::new(pdf)));
                while shelf.done.len() > KEPT {
                    shelf.done.pop_first();
                }
            }
            tell(BookStateWire::Ready, Some(&order.url), None);
        }
        Ok(Err(error)) => tell(BookStateWire::Failed, None, Some(error.to_string())),
        Err(panic) => {
            tell(BookStateWire::Failed, None, Some(super::outcome::said(&*panic)));
        }
    }
}
