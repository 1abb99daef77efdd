//! Looking things up on the shelf: one row by its id, all cables of a family, anything by a few words.

use physics::units::System;

use super::nearest::nearest;
use super::shelf::*;
pub use super::shelf_kinds::Part;

/// A name that leads nowhere, with the nearest right one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotOnShelf {
    /// What was looked for: "lug".
    pub kind: &'static str,
    /// The name as given.
    pub id: String,
    /// The nearest name there is.
    pub near: Option<String>,
}

impl NotOnShelf {
    /// What is wrong.
    pub fn message(&self) -> String {
        format!("there is no {} `{}` on the shelf", self.kind, self.id)
    }

    /// What to do.
    pub fn hint(&self) -> String {
        match &self.near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("`loomwright shelf {}` lists them", self.kind),
        }
    }
}

impl Shelf {
    /// The row of kind `P` with this id.
    pub fn find<P: Part>(&self, id: &str) -> Result<&P, NotOnShelf> {
        let rows = P::of(self);
        rows.iter().find(|p| p.row().id == id).ok_or_else(|| NotOnShelf {
            kind: P::KIND,
            id: id.to_owned(),
            near: nearest(id, rows.iter().map(|p| p.row().id.as_str())).map(str::to_owned),
        })
    }

    /// The cables of a family, smallest conductor first; of equal areas, as they lie on the shelf.
    pub fn family(&self, name: &str) -> Result<Vec<&Cable>, NotOnShelf> {
        let mut cables: Vec<&Cable> = self.cables.iter().filter(|c| c.family == name).collect();
        cables.sort_by(|a, b| a.size.area_mm2().total_cmp(&b.size.area_mm2()));
        if cables.is_empty() {
            let families = self.cables.iter().map(|c| c.family.as_str());
            return Err(NotOnShelf {
                kind: "cable family",
                id: name.to_owned(),
                near: nearest(name, families).map(str::to_owned),
            });
        }
        Ok(cables)
    }

    /// What a source key stands for.
    pub fn source(&self, key: &str) -> Option<&Source> {
        self.sources.iter().find(|s| s.key == key)
    }
}

/// One row that was looked for.
#[derive(Clone, Debug, PartialEq)]
pub struct ShelfHit {
    /// What it is: "lug".
    pub kind: &'static str,
    /// The key a build names it by.
    pub id: String,
    /// What a person calls it.
    pub name: String,
    /// Its values in one line.
    pub text: String,
    /// How far they may be trusted.
    pub standing: Standing,
    /// Key of their source.
    pub source: String,
    /// A remark.
    pub note: Option<String>,
    /// Price, if the shop stated one.
    pub price: Option<f64>,
}

/// The rows in which every word occurs, case aside; no words give all rows.
///
/// A word occurs where some word of the row begins with it, so "70" finds "70 mm2" and not "0.70".
/// Rows that have every word in kind, id or name come before those that have one only in their values;
/// otherwise in the order of the shelf.
pub fn looked_for(shelf: &Shelf, words: &str, system: System) -> Vec<ShelfHit> {
    let words: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
    let mut search = Search { shelf, words, system, named: Vec::new(), other: Vec::new() };
    search.kind::<KeptPlate>();
    search.kind::<Cable>();
    search.kind::<Lug>();
    search.kind::<Crimp>();
    search.kind::<Sleeve>();
    search.kind::<Grip>();
    search.kind::<Bolt>();
    search.kind::<Nut>();
    search.kind::<Washer>();
    search.kind::<ThreadHoles>();
    search.kind::<BoltClass>();
    search.kind::<Oring>();
    search.kind::<Fuse>();
    search.kind::<Contactor>();
    search.kind::<Material>();
    search.kind::<Insulation>();
    search.kind::<Conductor>();
    let Search { mut named, mut other, .. } = search;
    named.append(&mut other);
    named
}

struct Search<'s> {
    shelf: &'s Shelf,
    words: Vec<String>,
    system: System,
    named: Vec<ShelfHit>,
    other: Vec<ShelfHit>,
}

impl Search<'_> {
    fn kind<P: Part>(&mut self) {
        for part in P::of(self.shelf) {
            let row = part.row();
            let head = format!("{} {} {}", P::KIND, row.id, row.name).to_lowercase();
            let text = part.line(self.system);
            let in_head = self.words.iter().all(|w| has_word(&head, w));
            if !in_head {
                let rest = format!(
                    "{text} {} {} {}",
                    row.source,
                    row.standing.word(),
                    row.note.as_deref().unwrap_or_default()
                )
                .to_lowercase();
                if !self.words.iter().all(|w| has_word(&head, w) || has_word(&rest, w)) {
                    continue;
                }
            }
            let hits = if in_head { &mut self.named } else { &mut self.other };
            hits.push(ShelfHit {
                kind: P::KIND,
                id: row.id.clone(),
                name: row.name.clone(),
                text,
                standing: row.standing,
                source: row.source.clone(),
                note: row.note.clone(),
                price: row.price,
            });
        }
    }
}

/// Whether a word of `text` begins with `word`. Both are in lower case.
fn has_word(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        before.is_none_or(|c| !c.is_alphanumeric() && c != '.')
    })
}
