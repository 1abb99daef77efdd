//! One thread that plans. Builds wait in a queue, each at most once, and only their newest version is planned:
//! a change that comes while another is planned overtakes all before it.

use std::collections::VecDeque;
use std::sync::{Arc, Condvar, Mutex, PoisonError};

use super::desk::Desk;
use super::outcome::Planning;

/// The queue of builds to plan.
#[derive(Clone)]
pub(crate) struct Planner(Arc<Queue>);

struct Queue {
    waiting: Mutex<VecDeque<Arc<Desk>>>,
    more: Condvar,
}

impl Planner {
    /// Starts the thread; it runs as long as the program.
    pub(crate) fn start(planning: Planning) -> std::io::Result<Planner> {
        let queue =
            Arc::new(Queue { waiting: Mutex::new(VecDeque::new()), more: Condvar::new() });
        let planner = Planner(Arc::clone(&queue));
        std::thread::Builder::new().name("planner".to_owned()).spawn(move || {
            loop {
                queue.next().plan_newest(planning);
            }
        })?;
        Ok(planner)
    }

    /// Plans the newest version of a build, before builds that nobody has just changed.
    pub(crate) fn plan(&self, desk: &Arc<Desk>) {
        let mut waiting = self.0.waiting.lock().unwrap_or_else(PoisonError::into_inner);
        waiting.retain(|other| !Arc::ptr_eq(other, desk));
        waiting.push_front(Arc::clone(desk));
        drop(waiting);
        self.0.more.notify_one();
    }

    /// The same when there is nothing else to do.
    pub(crate) fn plan_later(&self, desk: &Arc<Desk>) {
        let mut waiting = self.0.waiting.lock().unwrap_or_else(PoisonError::into_inner);
        if !waiting.iter().any(|other| Arc::ptr_eq(other, desk)) {
            waiting.push_back(Arc::clone(desk));
        }
        drop(waiting);
        self.0.more.notify_one();
    }
}

impl Queue {
    fn next(&self) -> Arc<Desk> {
        let mut waiting = self.waiting.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if let Some(desk) = waiting.pop_front() {
                return desk;
            }
            waiting = self.more.wait(waiting).unwrap_or_else(PoisonError::into_inner);
        }
    }
}
