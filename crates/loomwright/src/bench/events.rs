//! What all open tabs are told.

use tokio::sync::broadcast;

use crate::wire;

/// How many events a slow tab may be behind before it has to begin again.
const KEPT: usize = 256;

/// One event: its name and its JSON.
#[derive(Clone, Debug)]
pub(crate) struct Event {
    /// As the stream calls it.
    pub(crate) name: &'static str,
    /// One JSON object on one line.
    pub(crate) data: String,
}

/// The sender all parts of the bench share.
#[derive(Clone)]
pub(crate) struct Events(broadcast::Sender<Event>);

impl Events {
    /// A stream nobody listens to yet.
    pub(crate) fn new() -> Events {
        Events(broadcast::channel(KEPT).0)
    }

    /// Tells all tabs.
    pub(crate) fn tell<T: wire::Told>(&self, name: &'static str, what: &T) {
        // Nobody listening is no error: a tab that opens later asks for what it shows.
        let _ = self.0.send(Event { name, data: wire::line(what) });
    }

    /// From now on.
    pub(crate) fn listen(&self) -> broadcast::Receiver<Event> {
        self.0.subscribe()
    }
}
