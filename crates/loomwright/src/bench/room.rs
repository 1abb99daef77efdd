//! The folder of builds: what is in it, what is open, and what happens to it outside.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use anyhow::Result;

use super::books::Books;
use super::desk::Desk;
use super::events::Events;
use super::outcome::{Outcome, Planning};
use super::planner::Planner;
use super::refusal::Refusal;
use crate::disk;
use crate::examples::{self, Example};
use crate::wire::{BuildsWire, CardWire, CountsWire, ExampleWire};

/// The id of the folder itself, where it is a build.
pub(crate) const HERE: &str = "here";

/// How long the first page waits for verdicts; those that take longer follow.
const PATIENCE: Duration = Duration::from_millis(700);
/// How long anything else waits for a plan.
const PLAN_PATIENCE: Duration = Duration::from_secs(60);
/// How often files are looked at.
const LOOK: Duration = Duration::from_millis(400);
/// Characters of a build's name.
const NAME_MAX: usize = 60;

/// The bench as all requests share it.
pub(crate) struct Room {
    /// The folder that was opened.
    pub(crate) folder: PathBuf,
    /// What all tabs are told.
    pub(crate) events: Events,
    /// Books that were asked for.
    pub(crate) books: Arc<Books>,
    /// Newest turn of each asker of what-ifs.
    pub(crate) turns: Mutex<BTreeMap<String, u64>>,
    /// Another number after each start.
    pub(crate) start: u64,
    desks: Mutex<BTreeMap<String, Arc<Desk>>>,
    planner: Planner,
    planning: Planning,
}

impl Room {
    /// Opens a folder and begins to look after it.
    ///
    /// # Errors
    /// When the folder cannot be listed or no thread can be started.
    pub(crate) fn open(folder: &Path, planning: Planning) -> Result<Arc<Room>> {
        disk::folders(folder)?;
        let start = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
        let room = Arc::new(Room {
            folder: folder.to_owned(),
            events: Events::new(),
            books: Arc::default(),
            turns: Mutex::new(BTreeMap::new()),
            start: u64::try_from(start.as_millis()).unwrap_or_default(),
            desks: Mutex::new(BTreeMap::new()),
            planner: Planner::start(planning)?,
            planning,
        });
        let watched = Arc::clone(&room);
        std::thread::Builder::new().name("watcher".to_owned()).spawn(move || {
            let mut seen = watched.ids();
            loop {
                std::thread::sleep(LOOK);
                watched.look();
                let now = watched.ids();
                if now != seen {
                    watched.events.tell("folder", &BTreeMap::<String, String>::new());
                    seen = now;
                }
            }
        })?;
        Ok(room)
    }

    /// Whether the folder is itself a build.
    pub(crate) fn is_build(&self) -> bool {
        self.folder.join(disk::DOCUMENT).is_file()
    }

    /// Names of the builds.
    pub(crate) fn ids(&self) -> Vec<String> {
        if self.is_build() {
            return vec![HERE.to_owned()];
        }
        // A folder that cannot be listed for a moment has no builds for a moment.
        let names = disk::folders(&self.folder).unwrap_or_default();
        names
            .into_iter()
            .filter(|n| self.folder.join(n).join(disk::DOCUMENT).is_file())
            .collect()
    }

    /// An open build; opens it if it is there. Only names from the listing lead anywhere, so no path does.
    pub(crate) fn desk(&self, id: &str) -> Result<Arc<Desk>, Refusal> {
        if let Some(desk) = self.desks().get(id) {
            return Ok(Arc::clone(desk));
        }
        if !self.ids().iter().any(|known| known == id) {
            return Err(Refusal::absent("there is no such build in the folder")
                .hint("the first page lists those there are"));
        }
        let folder = if id == HERE && self.is_build() {
            self.folder.clone()
        } else {
            self.folder.join(id)
        };
        let desk = Desk::open(id, &folder.join(disk::DOCUMENT), self.events.clone())
            .map_err(|error| Refusal::fault(format!("{error:#}")))?;
        let mut desks = self.desks();
        let desk = desks.entry(id.to_owned()).or_insert_with(|| Arc::new(desk));
        let desk = Arc::clone(desk);
        drop(desks);
        self.planner.plan(&desk);
        Ok(desk)
    }

    fn desks(&self) -> std::sync::MutexGuard<'_, BTreeMap<String, Arc<Desk>>> {
        self.desks.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Plans a build's newest version soon.
    pub(crate) fn plan(&self, desk: &Arc<Desk>) {
        self.planner.plan(desk);
    }

    /// How this bench plans.
    pub(crate) fn planning(&self) -> Planning {
        self.planning
    }

    /// What the newest version of a build came to.
    pub(crate) fn outcome(&self, desk: &Arc<Desk>) -> Result<Arc<Outcome>, Refusal> {
        match desk.outcome(Duration::ZERO) {
            Ok(outcome) => Ok(outcome),
            Err(_) => {
                self.planner.plan(desk);
                desk.outcome(PLAN_PATIENCE)
            }
        }
    }

    fn look(&self) {
        let open: Vec<Arc<Desk>> = self.desks().values().cloned().collect();
        for desk in open {
            if !desk.document.is_file() {
                continue;
            }
            desk.retry();
            if desk.look() {
                self.planner.plan(&desk);
            }
        }
    }

    /// The builds as cards; verdicts that are not there yet are left out, and told by `planned`.
    pub(crate) fn builds(&self) -> BuildsWire {
        let began = Instant::now();
        let open: Vec<(String, Result<Arc<Desk>, Refusal>)> =
            self.ids().into_iter().map(|id| (id.clone(), self.desk(&id))).collect();
        for desk in open.iter().filter_map(|(_, desk)| desk.as_ref().ok()) {
            self.planner.plan_later(desk);
        }
        let card = |(id, desk): &(String, Result<Arc<Desk>, Refusal>)| match desk {
            Ok(desk) => {
                let left = PATIENCE.saturating_sub(began.elapsed());
                card(desk, desk.outcome(left).ok().as_deref())
            }
            Err(refusal) => CardWire { error: Some(refusal.error.clone()), ..empty_card(id) },
        };
        BuildsWire {
            folder: self.folder.display().to_string(),
            builds: open.iter().map(card).collect(),
            examples: examples::ALL.iter().map(example).collect(),
        }
    }

    /// Makes a folder with these files and opens it.
    pub(crate) fn make(
        &self,
        name: &str,
        files: &[(String, String)],
    ) -> Result<String, Refusal> {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        if name.is_empty() || name.len() > NAME_MAX || !name.chars().all(plain) || name == HERE
        {
            return Err(Refusal::bad(format!(
                "`{}` cannot be the name of a build",
                brief(name)
            ))
            .hint("letters, digits, - and _, at most 60 of them"));
        }
        if self.is_build() {
            return Err(Refusal::bad("the folder that is open is itself a build")
                .hint("start the bench in the folder above to keep several builds"));
        }
        let folder = self.folder.join(name);
        if folder.exists() {
            return Err(Refusal::late(format!("there is already a folder `{name}`"), 0)
                .hint("choose another name"));
        }
        let made = disk::folder(&folder).and_then(|()| {
            files
                .iter()
                .try_for_each(|(file, text)| disk::write(&folder.join(file), text.as_bytes()))
        });
        made.map_err(|error| Refusal::fault(format!("{error:#}")))?;
        self.desk(name)?;
        Ok(name.to_owned())
    }
}

/// The beginning of a text that may be anything.
fn brief(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).take(40).collect()
}

fn empty_card(id: &str) -> CardWire {
    CardWire {
        id: id.to_owned(),
        title: id.to_owned(),
        verdict: None,
        for_building: false,
        counts: CountsWire::default(),
        changed_ms: None,
        picture: None,
        error: None,
    }
}

fn card(desk: &Desk, outcome: Option<&Outcome>) -> CardWire {
    let written = desk.written().and_then(|time| time.duration_since(UNIX_EPOCH).ok());
    let mut card = CardWire {
        changed_ms: written.and_then(|t| u64::try_from(t.as_millis()).ok()),
        ..empty_card(&desk.id)
    };
    let Some(outcome) = outcome else { return card };
    card.error = match (&outcome.fault, outcome.errors.first()) {
        (Some(fault), _) => Some(fault.clone()),
        (None, Some(mistake)) => Some(mistake.message.clone()),
        (None, None) => None,
    };
    if let Some(plan) = outcome.plan() {
        card.title.clone_from(&plan.heading.title);
        card.verdict = outcome.verdict();
        card.for_building = outcome.for_building();
        card.counts = outcome.counts();
        card.picture =
            Some(format!("/api/builds/{}/picture.svg?of={}", desk.id, outcome.version));
    }
    card
}

fn example(example: &Example) -> ExampleWire {
    let (title, what) = example.told();
    ExampleWire { name: example.name, title, what }
}
