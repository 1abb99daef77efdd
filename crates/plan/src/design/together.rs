//! Independent work, done at the same time.
//!
//! Runs are heated and plates fitted without a look at each other, so each may have a core of its own. The answers
//! come back in the order of the items: how many cores there are changes the time, never the plan.

use std::panic::resume_unwind;
use std::thread::{Builder, scope};

/// Does the same for every item, each on a thread of its own where the system gives one.
pub fn together<T: Sync, R: Send>(items: &[T], of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let Some((first, others)) = items.split_first() else { return Vec::new() };
    let of = &of;
    scope(|scope| {
        let started: Vec<_> = others
            .iter()
            .map(|item| Builder::new().spawn_scoped(scope, move || of(item)))
            .collect();
        let mut all = vec![of(first)];
        for (item, thread) in others.iter().zip(started) {
            all.push(match thread {
                Ok(thread) => thread.join().unwrap_or_else(|panic| resume_unwind(panic)),
                Err(_) => of(item),
            });
        }
        all
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_keep_the_order_of_the_items() {
        let items: Vec<u64> = (0..20).collect();
        let answers = together(&items, |k| (0..(20 - k) * 1000).fold(*k, |sum, x| sum ^ x ^ x));
        assert_eq!(answers, items);
        assert!(together(&[0u8; 0], |x| *x).is_empty());
    }

    #[test]
    #[should_panic(expected = "the third")]
    fn a_bug_in_one_is_not_hidden() {
        together(&[1, 2, 3], |k| assert!(*k < 3, "the third"));
    }
}
