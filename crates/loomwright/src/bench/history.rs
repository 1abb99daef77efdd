//! The texts of a build and every step that led to them, back and forth.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

/// Names of files and what stands in them. A file without an entry does not exist.
pub(crate) type Texts = BTreeMap<String, String>;

/// Changes of one name are gathered while no more time passes between them.
const GATHERED: Duration = Duration::from_secs(3);

/// Steps kept; the oldest are forgotten first.
const STEPS_MAX: usize = 500;
/// Bytes of text kept in steps, together.
const BYTES_MAX: usize = 64 << 20;

/// The files a step touched, before or after it.
type Touched = Vec<(String, Option<String>)>;

/// One step.
struct Step {
    label: String,
    before: Touched,
    after: Touched,
}

impl Step {
    fn bytes(&self) -> usize {
        let of = |t: &Touched| {
            t.iter().filter_map(|(_, text)| text.as_ref()).map(String::len).sum::<usize>()
        };
        of(&self.before) + of(&self.after)
    }
}

/// What a change is called.
#[derive(Clone, Debug, Default)]
pub(crate) struct Called {
    /// In the history.
    pub(crate) label: String,
    /// Changes of the same name in a row are one step.
    pub(crate) gather: Option<String>,
}

/// Texts with their steps.
pub(crate) struct History {
    texts: Texts,
    done: Vec<Step>,
    undone: Vec<Step>,
    gathering: Option<(String, Instant)>,
}

impl History {
    /// No steps yet.
    pub(crate) fn new(texts: Texts) -> History {
        History { texts, done: Vec::new(), undone: Vec::new(), gathering: None }
    }

    /// The texts as they are now.
    pub(crate) fn texts(&self) -> &Texts {
        &self.texts
    }

    /// A file that was always there and is only now known.
    pub(crate) fn adopt(&mut self, name: &str, text: &str) {
        self.texts.insert(name.to_owned(), text.to_owned());
    }

    /// Whether this change would join the step before it.
    pub(crate) fn joins(&self, called: &Called, now: Instant) -> bool {
        joined(&self.gathering, called, now)
    }

    /// Makes `after` the texts. Names of files that changed; none changed, no step.
    pub(crate) fn change(
        &mut self,
        after: Texts,
        called: &Called,
        now: Instant,
    ) -> Vec<String> {
        let touched = touched(&self.texts, &after);
        if touched.is_empty() {
            return touched;
        }
        let of = |texts: &Texts| -> Touched {
            touched.iter().map(|name| (name.clone(), texts.get(name).cloned())).collect()
        };
        let (before, later) = (of(&self.texts), of(&after));
        self.undone.clear();
        match self.done.last_mut().filter(|_| self.gathering.is_some()) {
            Some(step) if joined(&self.gathering, called, now) => {
                join(step, before, later);
            }
            _ => self.done.push(Step { label: called.label.clone(), before, after: later }),
        }
        self.gathering = called.gather.clone().map(|name| (name, now));
        self.texts = after;
        self.forget();
        touched
    }

    /// One step back: what it was called and the files it touched.
    pub(crate) fn undo(&mut self) -> Option<(String, Vec<String>)> {
        let step = self.done.pop()?;
        let done = self.put(&step.before, &step.label);
        self.undone.push(step);
        Some(done)
    }

    /// One step forth.
    pub(crate) fn redo(&mut self) -> Option<(String, Vec<String>)> {
        let step = self.undone.pop()?;
        let done = self.put(&step.after, &step.label);
        self.done.push(step);
        Some(done)
    }

    fn put(&mut self, touched: &Touched, label: &str) -> (String, Vec<String>) {
        self.gathering = None;
        for (name, text) in touched {
            match text {
                Some(text) => self.texts.insert(name.clone(), text.clone()),
                None => self.texts.remove(name),
            };
        }
        (label.to_owned(), touched.iter().map(|(name, _)| name.clone()).collect())
    }

    /// What an undo would take back.
    pub(crate) fn undo_label(&self) -> Option<String> {
        self.done.last().map(|step| step.label.clone())
    }

    /// What a redo would do again.
    pub(crate) fn redo_label(&self) -> Option<String> {
        self.undone.last().map(|step| step.label.clone())
    }

    fn forget(&mut self) {
        let mut bytes: usize = self.done.iter().map(Step::bytes).sum();
        let mut over = self.done.len().saturating_sub(STEPS_MAX);
        let mut forgotten = 0;
        while (over > 0 || bytes > BYTES_MAX) && forgotten + 1 < self.done.len() {
            bytes -= self.done[forgotten].bytes();
            forgotten += 1;
            over = over.saturating_sub(1);
        }
        self.done.drain(..forgotten);
    }
}

fn joined(gathering: &Option<(String, Instant)>, called: &Called, now: Instant) -> bool {
    gathering.as_ref().is_some_and(|(name, last)| {
        called.gather.as_ref() == Some(name) && now.duration_since(*last) <= GATHERED
    })
}

/// The step then leads from where it began to where the change ends.
fn join(step: &mut Step, before: Touched, after: Touched) {
    for (name, text) in before {
        if !step.before.iter().any(|(n, _)| *n == name) {
            step.before.push((name, text));
        }
    }
    for (name, text) in after {
        match step.after.iter_mut().find(|(n, _)| *n == name) {
            Some(entry) => entry.1 = text,
            None => step.after.push((name, text)),
        }
    }
}

/// Names of the files that differ.
pub(crate) fn touched(before: &Texts, after: &Texts) -> Vec<String> {
    let mut names: Vec<String> = before
        .iter()
        .filter(|(name, text)| after.get(*name) != Some(*text))
        .map(|(name, _)| name.clone())
        .collect();
    names.extend(after.keys().filter(|name| !before.contains_key(*name)).cloned());
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(of: &[(&str, &str)]) -> Texts {
        of.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned())).collect()
    }

    fn called(label: &str, gather: Option<&str>) -> Called {
        Called { label: label.to_owned(), gather: gather.map(str::to_owned) }
    }

    #[test]
    fn back_and_forth_over_several_files() {
        let now = Instant::now();
        let mut history = History::new(texts(&[("a", "1")]));
        history.change(texts(&[("a", "2")]), &called("one", None), now);
        history.change(texts(&[("a", "2"), ("b", "x")]), &called("two", None), now);
        assert_eq!(history.undo().unwrap().1, ["b"]);
        assert_eq!(history.texts(), &texts(&[("a", "2")]));
        assert_eq!(history.undo().unwrap().0, "one");
        assert_eq!(history.texts(), &texts(&[("a", "1")]));
        assert!(history.undo().is_none());
        history.redo();
        history.redo();
        assert_eq!(history.texts(), &texts(&[("a", "2"), ("b", "x")]));
        history.undo();
        history.change(texts(&[("a", "3")]), &called("three", None), now);
        assert!(history.redo().is_none(), "a new change ends what could be done again");
    }

    #[test]
    fn a_drag_is_one_step_and_a_pause_ends_it() {
        let start = Instant::now();
        let mut history = History::new(texts(&[("a", "0")]));
        for i in 1..=9_u64 {
            let now = start + Duration::from_millis(10 * i);
            history.change(texts(&[("a", &i.to_string())]), &called("drag", Some("knob")), now);
        }
        let late = start + Duration::from_secs(10);
        history.change(texts(&[("a", "20")]), &called("drag", Some("knob")), late);
        history.undo();
        assert_eq!(history.texts()["a"], "9");
        history.undo();
        assert_eq!(history.texts()["a"], "0");
    }

    #[test]
    fn the_oldest_steps_are_forgotten_and_the_last_never_is() {
        let now = Instant::now();
        let mut history = History::new(texts(&[("a", "0")]));
        for i in 1..=STEPS_MAX + 20 {
            history.change(texts(&[("a", &i.to_string())]), &called("step", None), now);
        }
        assert_eq!(history.done.len(), STEPS_MAX);
        let huge = "x".repeat(BYTES_MAX);
        history.change(texts(&[("a", &huge)]), &called("huge", None), now);
        assert_eq!(history.done.len(), 1);
        assert!(history.undo().is_some());
    }
}
