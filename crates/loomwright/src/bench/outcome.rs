//! What a version of a build came to: a plan, or where its texts cannot be read, and what is new in it.

use std::any::Any;
use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use anyhow::Result;
use plan::Plan;
use plan::finding::{Finding, Quantity};

use super::history::Texts;
use crate::builds::{Planned, Read};
use crate::disk::Sheet;
use crate::wire::{
    self, AtWire, ChangeWire, CountsWire, GoneWire, MistakeWire, NoticeWire, PlannedWire,
    VerdictWire,
};

/// Reads and plans texts; a parameter, so that a test can plan badly.
pub(crate) type Planning = fn(&Path, &Texts) -> Result<Read>;

/// A version, planned.
pub(crate) struct Outcome {
    /// Which.
    pub(crate) version: u64,
    /// The version the plan is of; an older one while the newest cannot be read.
    pub(crate) of: Option<u64>,
    /// The plan.
    pub(crate) planned: Option<Arc<Planned>>,
    /// Every file that was read, by its name beside the document.
    pub(crate) files: Vec<(String, String)>,
    /// Where the newest version cannot be read.
    pub(crate) errors: Vec<MistakeWire>,
    /// A fault met while planning.
    pub(crate) fault: Option<String>,
    /// Findings and what became of them.
    pub(crate) notices: Vec<NoticeWire>,
    /// Findings that are no more.
    pub(crate) gone: Vec<GoneWire>,
    /// How long it took.
    pub(crate) took: Duration,
}

impl Outcome {
    /// The plan, if there is one.
    pub(crate) fn plan(&self) -> Option<&Plan> {
        self.planned.as_deref().map(|planned| &planned.plan)
    }

    /// How its findings came out.
    pub(crate) fn counts(&self) -> CountsWire {
        let mut counts = CountsWire::default();
        for notice in &self.notices {
            *match notice.finding.verdict {
                VerdictWire::Fails => &mut counts.fails,
                VerdictWire::Unknown => &mut counts.unknown,
                VerdictWire::Close => &mut counts.close,
                VerdictWire::Holds => &mut counts.holds,
            } += 1;
        }
        counts
    }

    /// The worst verdict.
    pub(crate) fn verdict(&self) -> Option<VerdictWire> {
        self.plan().map(|plan| wire::verdict(plan.verdict()))
    }

    /// Whether the book of this very version may be built to: what an older one was says nothing.
    pub(crate) fn for_building(&self) -> bool {
        self.of == Some(self.version) && self.plan().is_some_and(Plan::for_building)
    }

    /// As it is told.
    pub(crate) fn wire(&self, id: &str) -> PlannedWire {
        PlannedWire {
            id: id.to_owned(),
            version: self.version,
            of: self.of,
            stale: self.of != Some(self.version),
            title: self.plan().map(|plan| plan.heading.title.clone()).unwrap_or_default(),
            verdict: self.verdict(),
            for_building: self.for_building(),
            counts: self.counts(),
            findings: self.notices.clone(),
            gone: self.gone.clone(),
            errors: self.errors.clone(),
            fault: self.fault.clone(),
            took_ms: milliseconds(self.took),
        }
    }
}

/// Milliseconds with a thousandth.
pub(crate) fn milliseconds(took: Duration) -> f64 {
    (took.as_secs_f64() * 1e6).round() / 1e3
}

/// Plans texts whatever they are. `before` is what findings are compared with, `last` what stays shown while
/// the texts cannot be read.
pub(crate) fn outcome(
    planning: Planning,
    document: &Path,
    texts: &Texts,
    version: u64,
    before: &[NoticeWire],
    last: Option<&Outcome>,
) -> Outcome {
    let start = Instant::now();
    let read = catch_unwind(AssertUnwindSafe(|| planning(document, texts)));
    let mut new = Outcome {
        version,
        of: last.and_then(|last| last.of),
        planned: last.and_then(|last| last.planned.clone()),
        files: Vec::new(),
        errors: Vec::new(),
        fault: None,
        notices: Vec::new(),
        gone: Vec::new(),
        took: Duration::ZERO,
    };
    match read {
        Ok(Ok(Read::Planned(planned, sheets))) => {
            new.files = sheets.iter().map(|sheet| named(document, sheet)).collect();
            new.planned = Some(Arc::from(planned));
            new.of = Some(version);
        }
        Ok(Ok(Read::Wrong(sheets))) => {
            for (sheet, errors) in &sheets {
                let (name, text) = named(document, sheet);
                new.errors.extend(errors.iter().map(|error| wire::mistake(error, &name)));
                new.files.push((name, text));
            }
        }
        Ok(Err(error)) => new.errors.push(whole(document, &format!("{error:#}"))),
        Err(panic) => new.fault = Some(said(&*panic)),
    }
    if let Some(planned) = &new.planned {
        let (notices, gone) = compared(&planned.plan, &planned.file, before);
        (new.notices, new.gone) = (notices, gone);
    }
    new.took = start.elapsed();
    new
}

/// What a panic said.
pub(crate) fn said(panic: &(dyn Any + Send)) -> String {
    let words = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied())
        .unwrap_or("no words");
    format!("a fault of this program, not of the document: {words}")
}

fn named(document: &Path, sheet: &Sheet) -> (String, String) {
    let folder = document.parent().unwrap_or(Path::new(""));
    let name = Path::new(&sheet.name);
    let name = name.strip_prefix(folder).unwrap_or(name);
    (name.display().to_string(), sheet.text.clone())
}

/// A mistake of the document as a whole.
fn whole(document: &Path, message: &str) -> MistakeWire {
    let file = document.file_name().unwrap_or_default().to_string_lossy().into_owned();
    MistakeWire {
        at: AtWire { file, line: 1, column: 1, width: 1 },
        message: message.to_owned(),
        hint: None,
    }
}

/// Findings with their ids and what became of each since `before`.
pub(crate) fn compared(
    plan: &Plan,
    file: &str,
    before: &[NoticeWire],
) -> (Vec<NoticeWire>, Vec<GoneWire>) {
    let old: BTreeMap<&str, &NoticeWire> = before.iter().map(|n| (n.id.as_str(), n)).collect();
    let mut notices: Vec<NoticeWire> = Vec::new();
    let mut alike: BTreeMap<String, usize> = BTreeMap::new();
    for finding in &plan.findings {
        let stem = stem(finding);
        let count = alike.entry(stem.clone()).or_default();
        *count += 1;
        let id = if *count == 1 { stem } else { format!("{stem}#{count}") };
        let text = |q: Option<Quantity>| q.map(|q| q.text(plan.heading.units));
        let mut notice = NoticeWire {
            change: ChangeWire::New,
            value_text: text(finding.value),
            limit_text: text(finding.limit),
            workings: workings(plan, finding),
            source_text: source_text(plan, finding.source),
            finding: wire::finding(finding, file),
            id,
        };
        if let Some(old) = old.get(notice.id.as_str()) {
            notice.change = changed(old, &notice);
        } else if before.is_empty() {
            notice.change = ChangeWire::Same;
        }
        notices.push(notice);
    }
    let new: BTreeSet<&str> = notices.iter().map(|n| n.id.as_str()).collect();
    let gone = before
        .iter()
        .filter(|old| !new.contains(old.id.as_str()))
        .map(|old| GoneWire {
            id: old.id.clone(),
            verdict: old.finding.verdict,
            message: old.finding.message.clone(),
        })
        .collect();
    (notices, gone)
}

fn changed(old: &NoticeWire, new: &NoticeWire) -> ChangeWire {
    match new.finding.verdict.cmp(&old.finding.verdict) {
        std::cmp::Ordering::Less => ChangeWire::Worse,
        std::cmp::Ordering::Greater => ChangeWire::Better,
        std::cmp::Ordering::Equal if old.finding.message == new.finding.message => {
            ChangeWire::Same
        }
        std::cmp::Ordering::Equal => ChangeWire::Moved,
    }
}

/// What stays the same for the same finding: its code and what it is about.
fn stem(finding: &Finding) -> String {
    let about = &finding.about;
    let parts = [&about.run, &about.cable, &about.port];
    let mut stem = finding.code.to_owned();
    for part in parts.into_iter().flatten() {
        stem.push('/');
        stem.push_str(part);
    }
    stem
}

/// Which workings led to the value or the limit of a finding: those about the same thing that gave it.
fn workings(plan: &Plan, finding: &Finding) -> Vec<usize> {
    let judged = [finding.value, finding.limit];
    let gave = |value: &Quantity| {
        judged.iter().flatten().any(|q| {
            q.dimension == value.dimension
                && (q.value - value.value).abs() <= 1e-9 * q.value.abs().max(1e-9)
        })
    };
    let near = |worked: &plan::finding::About| {
        let meets =
            |a: &Option<String>, b: &Option<String>| a.is_none() || b.is_none() || a == b;
        let about = &finding.about;
        meets(&worked.run, &about.run)
            && meets(&worked.cable, &about.cable)
            && meets(&worked.port, &about.port)
    };
    let all = plan.worked.iter().enumerate();
    all.filter(|(_, w)| near(&w.about) && gave(&w.value)).map(|(i, _)| i).collect()
}

fn source_text(plan: &Plan, key: &str) -> String {
    let source = plan.sources.iter().find(|s| s.key == key);
    source.map_or_else(|| key.replace('-', " "), |s| s.title.clone())
}
