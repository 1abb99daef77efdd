//! Independent work, done at the same time.
//!
//! Runs are heated and plates fitted without a look at each other, so as many are at work as there are cores. The
//! answers come back in the order of the items: how many cores there are changes the time, never the plan.

use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{Builder, available_parallelism, scope};

/// Does the same for every item. Where the system gives no thread the others do its share.
pub fn together<T: Sync, R: Send>(items: &[T], of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = available_parallelism().map_or(1, NonZero::get).min(items.len());
    if cores <= 1 {
        return items.iter().map(of).collect();
    }
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(index) else { return done };
            done.push((index, of(item)));
        }
    };
    let mut all = scope(|scope| {
        let others: Vec<_> =
            (1..cores).map(|_| Builder::new().spawn_scoped(scope, work)).collect();
        let mut all = work();
        for thread in others.into_iter().flatten() {
            all.extend(thread.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        all
    });
    assert_eq!(all.len(), items.len(), "every item is done once");
    all.sort_by_key(|(index, _)| *index);
    all.into_iter().map(|(_, answer)| answer).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_keep_the_order_of_the_items() {
        let items: Vec<u64> = (0..200).collect();
        // The first take the longest.
        let answers = together(&items, |k| (0..(200 - k) * 100).fold(*k, |sum, x| sum ^ x ^ x));
        assert_eq!(answers, items);
        assert!(together(&[0u8; 0], |x| *x).is_empty());
        assert_eq!(together(&[7u8], |x| *x), [7]);
    }

    #[test]
    #[should_panic(expected = "the third")]
    fn a_bug_in_one_is_not_hidden() {
        together(&[1, 2, 3], |k| assert!(*k < 3, "the third"));
    }
}
