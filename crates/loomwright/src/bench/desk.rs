//! One open build: its texts, their history, what is on the disk, and what the newest version came to.
//!
//! A change is put into the history and given to the planner at once, then saved, then acknowledged. Saving
//! writes whatever is newest, so that changes that come faster than the disk are written together.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::time::{Duration, Instant, SystemTime};

use anyhow::Result;

use super::events::Events;
use super::history::{Called, History, Texts, touched};
use super::outcome::{Outcome, Planning, outcome};
use super::refusal::Refusal;
use crate::disk;
use crate::wire::{
    ChangedWire, ConflictEventWire, ConflictWire, DeskWire, FileWire, KeepAsked, NoticeWire,
    OutsideWire, RoleWire, UnsavedWire,
};

/// When a file was written and how long it is: what is looked at before it is read again.
type Stamp = Option<(SystemTime, u64)>;

/// An open build.
pub(crate) struct Desk {
    /// Its name in the folder.
    pub(crate) id: String,
    /// Its document.
    pub(crate) document: PathBuf,
    events: Events,
    held: Mutex<Held>,
    planned: Condvar,
    /// Held while the disk is written, so that two writers never meet.
    saving: Mutex<()>,
}

struct Held {
    history: History,
    /// Files as they were last read or written.
    disk: Texts,
    stamps: BTreeMap<String, Stamp>,
    version: u64,
    saved: u64,
    unsaved: Option<String>,
    conflict: Option<Texts>,
    latest: Option<Arc<Outcome>>,
    /// The findings a version is compared with: those before the step it belongs to.
    before: Vec<NoticeWire>,
}

impl Desk {
    /// Opens a build: its document and, if there is one, the shop's parts.
    ///
    /// # Errors
    /// When the document is no text that can be read.
    pub(crate) fn open(id: &str, document: &Path, events: Events) -> Result<Desk> {
        let mut texts = Texts::new();
        texts.insert(name_of(document), disk::read(document)?.text);
        if let Some(shop) = disk::read_if_there(&document.with_file_name(disk::SHOP))? {
            texts.insert(disk::SHOP.to_owned(), shop.text);
        }
        let stamps = texts.keys().map(|name| (name.clone(), stamp(document, name))).collect();
        Ok(Desk {
            id: id.to_owned(),
            document: document.to_owned(),
            events,
            held: Mutex::new(Held {
                disk: texts.clone(),
                history: History::new(texts),
                stamps,
                version: 1,
                saved: 1,
                unsaved: None,
                conflict: None,
                latest: None,
                before: Vec::new(),
            }),
            planned: Condvar::new(),
            saving: Mutex::new(()),
        })
    }

    fn held(&self) -> MutexGuard<'_, Held> {
        // Nothing is left half done where the lock is held, so a panic elsewhere does no harm here.
        self.held.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    /// The newest texts and their version.
    pub(crate) fn texts(&self) -> (Texts, u64) {
        let held = self.held();
        (held.history.texts().clone(), held.version)
    }

    /// When the document was last written.
    pub(crate) fn written(&self) -> Option<SystemTime> {
        stamp(&self.document, &name_of(&self.document)).map(|(time, _)| time)
    }

    /// The build with its texts.
    pub(crate) fn wire(&self) -> DeskWire {
        let held = self.held();
        DeskWire {
            id: self.id.clone(),
            version: held.version,
            files: self.files(held.history.texts()),
            undo: held.history.undo_label(),
            redo: held.history.redo_label(),
            unsaved: held.unsaved.clone(),
            conflict: held.conflict.as_ref().map(|theirs| self.conflict(theirs)),
        }
    }

    fn files(&self, texts: &Texts) -> Vec<FileWire> {
        let document = name_of(&self.document);
        let file = |name: &str| FileWire {
            name: name.to_owned(),
            role: if name == document {
                RoleWire::Document
            } else if name == disk::SHOP {
                RoleWire::Shop
            } else {
                RoleWire::Face
            },
            text: texts.get(name).cloned().unwrap_or_default(),
            exists: texts.contains_key(name),
        };
        let mut all = vec![file(&document), file(disk::SHOP)];
        let others = texts.keys().filter(|name| **name != document && *name != disk::SHOP);
        all.extend(others.map(|name| file(name)));
        all
    }

    fn conflict(&self, theirs: &Texts) -> ConflictWire {
        ConflictWire { theirs: self.files(theirs) }
    }

    /// Changes texts: `made` gets the newest and gives what they shall be. Saved when this returns.
    ///
    /// # Errors
    /// What `made` refuses, a base that is no longer the newest, a disk that cannot be written.
    pub(crate) fn change(
        self: &Arc<Self>,
        base: Option<u64>,
        called: &Called,
        asker: Option<String>,
        made: impl FnOnce(&Texts) -> Result<Texts, Refusal>,
        plan: impl FnOnce(),
    ) -> Result<ChangedWire, Refusal> {
        let (version, files) = {
            let mut held = self.held();
            if base.is_some_and(|base| base != held.version) {
                return Err(Refusal::late(
                    "the build has changed since the text was taken from it",
                    held.version,
                )
                .hint("take the newest text and make the change again"));
            }
            let after = made(held.history.texts())?;
            let now = Instant::now();
            if !held.history.joins(called, now) {
                held.remember();
            }
            let files = held.history.change(after, called, now);
            if !files.is_empty() {
                held.version += 1;
            }
            (held.version, files)
        };
        plan();
        self.save(version)?;
        Ok(self.tell_changed(asker, &called.label, &files))
    }

    /// A step back or forth. Saved when this returns.
    ///
    /// # Errors
    /// When there is none, or the disk cannot be written.
    pub(crate) fn step(
        self: &Arc<Self>,
        forth: bool,
        asker: Option<String>,
        plan: impl FnOnce(),
    ) -> Result<ChangedWire, Refusal> {
        let (version, label, files) = {
            let mut held = self.held();
            held.remember();
            let done = if forth { held.history.redo() } else { held.history.undo() };
            let Some((label, files)) = done else {
                let word = if forth { "redo" } else { "undo" };
                return Err(Refusal::late(format!("there is nothing to {word}"), held.version));
            };
            held.version += 1;
            (held.version, label, files)
        };
        plan();
        self.save(version)?;
        Ok(self.tell_changed(asker, &label, &files))
    }

    fn tell_changed(
        &self,
        asker: Option<String>,
        label: &str,
        files: &[String],
    ) -> ChangedWire {
        let changed = {
            let held = self.held();
            let all = self.files(held.history.texts());
            ChangedWire {
                id: self.id.clone(),
                version: held.version,
                asker,
                label: label.to_owned(),
                files: all.into_iter().filter(|f| files.contains(&f.name)).collect(),
                undo: held.history.undo_label(),
                redo: held.history.redo_label(),
            }
        };
        self.events.tell("changed", &changed);
        changed
    }

    /// Sees to it that `version`, or a newer one, is on the disk.
    fn save(&self, version: u64) -> Result<(), Refusal> {
        let _writing = self.saving.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let (texts, newest, on_disk) = {
            let held = self.held();
            if held.saved >= version {
                return Ok(());
            }
            if held.conflict.is_some() {
                return Err(Refusal::late(CONFLICT, held.version).hint(CHOOSE));
            }
            (held.history.texts().clone(), held.version, held.disk.clone())
        };
        let names = touched(&on_disk, &texts);
        if let Some(theirs) = self.changed_outside(&on_disk, &names) {
            return Err(self.begin_conflict(theirs));
        }
        let written = self.write(&names, &texts);
        let mut held = self.held();
        match written {
            Ok(()) => {
                for name in &names {
                    let now = stamp(&self.document, name);
                    held.stamps.insert(name.clone(), now);
                }
                held.disk = texts;
                held.saved = newest;
                held.unsaved = None;
                Ok(())
            }
            Err(error) => {
                let why = format!("{error:#}");
                held.unsaved = Some(why.clone());
                let unsaved = UnsavedWire {
                    id: self.id.clone(),
                    version: held.version,
                    why: why.clone(),
                };
                drop(held);
                self.events.tell("unsaved", &unsaved);
                Err(Refusal::fault(format!("the change is not on the disk: {why}"))
                    .hint("it is kept here and tried again; make room or allow writing"))
            }
        }
    }

    fn write(&self, names: &[String], texts: &Texts) -> Result<()> {
        for name in names {
            let path = self.document.with_file_name(name);
            match texts.get(name) {
                Some(text) => disk::write(&path, text.as_bytes())?,
                None => disk::remove(&path)?,
            }
        }
        Ok(())
    }

    /// All files as they are on the disk, if one of `names` is no longer as it was read or written.
    fn changed_outside(&self, known: &Texts, names: &[String]) -> Option<Texts> {
        let now = |name: &String| {
            disk::read_if_there(&self.document.with_file_name(name)).ok().flatten()
        };
        let differs = |name: &String| now(name).map(|s| s.text).as_ref() != known.get(name);
        names.iter().any(differs).then(|| {
            let all: std::collections::BTreeSet<&String> = known.keys().chain(names).collect();
            all.into_iter().filter_map(|n| Some((n.clone(), now(n)?.text))).collect()
        })
    }

    fn begin_conflict(&self, theirs: Texts) -> Refusal {
        let (event, version) = {
            let mut held = self.held();
            let event = ConflictEventWire {
                id: self.id.clone(),
                conflict: Some(self.conflict(&theirs)),
            };
            held.conflict = Some(theirs);
            (event, held.version)
        };
        self.events.tell("conflict", &event);
        Refusal::late(CONFLICT, version).hint(CHOOSE)
    }

    /// Ends a conflict: both texts stay in the history, and the one that is kept is written.
    ///
    /// # Errors
    /// When there is none, or the disk cannot be written.
    pub(crate) fn settle(
        self: &Arc<Self>,
        keep: KeepAsked,
        asker: Option<String>,
        plan: impl FnOnce(),
    ) -> Result<ChangedWire, Refusal> {
        let (version, files) = {
            let mut held = self.held();
            let Some(theirs) = held.conflict.take() else {
                return Err(Refusal::late("there is nothing to choose between", held.version));
            };
            held.remember();
            let ours = held.history.texts().clone();
            let now = Instant::now();
            let called = |label: &str| Called { label: label.to_owned(), gather: None };
            let files = touched(&ours, &theirs);
            held.history.change(theirs.clone(), &called("changed outside"), now);
            held.disk = theirs;
            if keep == KeepAsked::Ours {
                held.history.change(ours, &called("kept what was here"), now);
            }
            held.version += 1;
            if keep == KeepAsked::Theirs {
                held.saved = held.version;
            }
            (held.version, files)
        };
        self.save(version)?;
        plan();
        let settled = ConflictEventWire { id: self.id.clone(), conflict: None };
        self.events.tell("conflict", &settled);
        Ok(self.tell_changed(asker, "a choice between two versions", &files))
    }

    /// Looks whether a file was changed outside, and takes it in or asks. Whether there is something new to plan.
    pub(crate) fn look(&self) -> bool {
        let _writing = self.saving.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let (known, stamps) = {
            let held = self.held();
            if held.conflict.is_some() {
                return false;
            }
            (held.disk.clone(), held.stamps.clone())
        };
        let mut names: Vec<String> = known.keys().cloned().collect();
        if !names.iter().any(|name| name == disk::SHOP) {
            names.push(disk::SHOP.to_owned());
        }
        let mut fresh = Vec::new();
        for name in names {
            let now = stamp(&self.document, &name);
            if stamps.get(&name).copied().flatten() != now {
                fresh.push((name, now));
            }
        }
        if fresh.is_empty() {
            return false;
        }
        let names: Vec<String> = fresh.iter().map(|(name, _)| name.clone()).collect();
        let theirs = self.changed_outside(&known, &names);
        {
            let mut held = self.held();
            held.stamps.extend(fresh);
        }
        match theirs {
            None => false,
            // The document is away for a moment while others write it, or for good: nothing to take in.
            Some(theirs) if !theirs.contains_key(&name_of(&self.document)) => false,
            Some(theirs) => self.take_in(theirs),
        }
    }

    fn take_in(&self, theirs: Texts) -> bool {
        let event = {
            let mut held = self.held();
            if held.saved < held.version {
                drop(held);
                self.begin_conflict(theirs);
                return false;
            }
            held.remember();
            let called = Called { label: "changed outside".to_owned(), gather: None };
            let files = held.history.change(theirs.clone(), &called, Instant::now());
            held.disk = theirs;
            held.version += 1;
            held.saved = held.version;
            OutsideWire { id: self.id.clone(), version: held.version, files }
        };
        self.tell_changed(None, "changed outside", &event.files);
        self.events.tell("outside", &event);
        true
    }

    /// Tries again to write what could not be written.
    pub(crate) fn retry(&self) {
        let due = {
            let held = self.held();
            (held.unsaved.is_some() && held.conflict.is_none()).then_some(held.version)
        };
        if let Some(version) = due
            && self.save(version).is_ok()
        {
            self.tell_changed(None, "saved after all", &[]);
        }
    }

    /// Plans the newest version, if it is not planned yet, and tells.
    pub(crate) fn plan_newest(&self, planning: Planning) {
        let (texts, version, before, last) = {
            let held = self.held();
            if held.latest.as_ref().is_some_and(|latest| latest.version == held.version) {
                return;
            }
            let texts = held.history.texts().clone();
            (texts, held.version, held.before.clone(), held.latest.clone())
        };
        let new = outcome(planning, &self.document, &texts, version, &before, last.as_deref());
        let new = Arc::new(new);
        {
            let mut held = self.held();
            for (name, text) in &new.files {
                held.adopt(&self.document, name, text);
            }
            held.latest = Some(Arc::clone(&new));
        }
        self.planned.notify_all();
        self.events.tell("planned", &new.wire(&self.id));
    }

    /// What the newest version came to; waits for it, but not for ever.
    ///
    /// # Errors
    /// When planning takes longer than anyone would wait.
    pub(crate) fn outcome(&self, patience: Duration) -> Result<Arc<Outcome>, Refusal> {
        let start = Instant::now();
        let mut held = self.held();
        let wanted = held.version;
        loop {
            if let Some(latest) = held.latest.as_ref().filter(|l| l.version >= wanted) {
                return Ok(Arc::clone(latest));
            }
            let left = patience.saturating_sub(start.elapsed());
            if left.is_zero() {
                return Err(Refusal::fault("the plan takes too long")
                    .hint("ask again; the event `planned` tells when it is there"));
            }
            let waited = self.planned.wait_timeout(held, left);
            held = waited.unwrap_or_else(std::sync::PoisonError::into_inner).0;
        }
    }
}

const CONFLICT: &str = "the files were changed outside while changes here were not written yet";
const CHOOSE: &str = "choose which to keep; the other stays in the history";

impl Held {
    /// The findings of now are what the next step is compared with.
    fn remember(&mut self) {
        if let Some(latest) = &self.latest {
            self.before.clone_from(&latest.notices);
        }
    }

    /// A file the document names is watched and offered from now on; this is no change.
    fn adopt(&mut self, document: &Path, name: &str, text: &str) {
        if self.history.texts().contains_key(name) || self.disk.contains_key(name) {
            return;
        }
        self.history.adopt(name, text);
        self.disk.insert(name.to_owned(), text.to_owned());
        self.stamps.insert(name.to_owned(), stamp(document, name));
    }
}

fn name_of(document: &Path) -> String {
    document.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

fn stamp(document: &Path, name: &str) -> Stamp {
    disk::stamp(&document.with_file_name(name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::builds::{self, Read};

    fn desk(name: &str) -> Arc<Desk> {
        let folder =
            std::env::temp_dir().join(format!("bench-desk-{}-{name}", std::process::id()));
        disk::folder(&folder).unwrap();
        let document = folder.join(disk::DOCUMENT);
        let example = crate::examples::ALL[0].files[0].1;
        disk::write(&document, example.as_bytes()).unwrap();
        Arc::new(Desk::open(name, &document, Events::new()).unwrap())
    }

    fn breaks(_: &Path, _: &Texts) -> Result<Read> {
        panic!("a stage met what it asserts cannot be");
    }

    #[test]
    fn a_plan_that_panics_is_an_answer_and_the_last_good_one_stays() {
        let desk = desk("panics");
        desk.plan_newest(builds::read);
        let called = Called { label: "more".to_owned(), gather: None };
        let more = |texts: &Texts| {
            let mut texts = texts.clone();
            let text = texts[disk::DOCUMENT].replace("120 A", "121 A");
            texts.insert(disk::DOCUMENT.to_owned(), text);
            Ok(texts)
        };
        let changed = desk.change(None, &called, None, more, || {}).unwrap();
        desk.plan_newest(breaks);
        let outcome = desk.outcome(Duration::ZERO).unwrap();
        assert_eq!(outcome.version, changed.version);
        assert_eq!(outcome.of, Some(1), "what was known stays shown");
        assert!(!outcome.notices.is_empty());
        let told = outcome.wire("x");
        assert!(told.stale && !told.for_building);
        assert!(told.fault.unwrap().contains("cannot be"));
        // The next change is planned as if nothing had been.
        desk.step(false, None, || {}).unwrap();
        desk.plan_newest(builds::read);
        assert!(desk.outcome(Duration::ZERO).unwrap().fault.is_none());
    }

    #[test]
    fn what_cannot_be_written_is_said_kept_and_written_later() {
        let desk = desk("unwritable");
        let folder = desk.document.parent().unwrap().to_owned();
        let away = folder.with_extension("away");
        let _ = std::fs::remove_dir_all(&away);
        std::fs::rename(&folder, &away).unwrap();
        // A file where the folder was: nothing can be written into it, not even by root.
        disk::write(&folder, b"in the way").unwrap();
        let called = Called { label: "more".to_owned(), gather: None };
        let more = |texts: &Texts| {
            let mut texts = texts.clone();
            texts.insert(disk::SHOP.to_owned(), "# ours\n".to_owned());
            Ok(texts)
        };
        let refused = desk.change(None, &called, None, more, || {}).err().unwrap();
        assert!(refused.status.is_server_error(), "{refused:?}");
        assert!(desk.wire().unsaved.is_some());
        disk::remove(&folder).unwrap();
        std::fs::rename(&away, &folder).unwrap();
        desk.retry();
        assert!(desk.wire().unsaved.is_none());
        assert_eq!(std::fs::read_to_string(folder.join(disk::SHOP)).unwrap(), "# ours\n");
    }
}
