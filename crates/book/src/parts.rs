//! The parts of the book that can be asked for alone.

/// A part of the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The verdict, what the build is, what is inside.
    Cover,
    /// The short answer.
    Summary,
    /// The single-line diagram.
    Diagram,
    /// All findings, worst first.
    Findings,
    /// How the vehicle is driven, and what flows.
    Duty,
    /// Runs: paths, heat, how the size came about.
    Runs,
    /// A page for each kind of end.
    Ends,
    /// The faces as measured.
    Survey,
    /// A page for each entry plate.
    Plates,
    /// Fuse, fault, pre-charge, discharge.
    Protection,
    /// Magnetic field at named points.
    Field,
    /// What is bought, made and packed.
    Kit,
    /// What is cut from which reel.
    Cuts,
    /// What the assembler does.
    Steps,
    /// How it is proved.
    Trials,
    /// How the numbers came about.
    Workings,
    /// What was assumed.
    Assumptions,
    /// The usual cautions.
    Cautions,
    /// Where the numbers come from.
    Sources,
}

impl Part {
    /// All parts in page order.
    pub const ALL: [Part; 19] = [
        Part::Cover,
        Part::Summary,
        Part::Diagram,
        Part::Findings,
        Part::Duty,
        Part::Runs,
        Part::Ends,
        Part::Survey,
        Part::Plates,
        Part::Protection,
        Part::Field,
        Part::Kit,
        Part::Cuts,
        Part::Steps,
        Part::Trials,
        Part::Workings,
        Part::Assumptions,
        Part::Cautions,
        Part::Sources,
    ];

    /// The word that asks for it.
    pub fn word(self) -> &'static str {
        match self {
            Part::Cover => "cover",
            Part::Summary => "summary",
            Part::Diagram => "diagram",
            Part::Findings => "findings",
            Part::Duty => "duty",
            Part::Runs => "runs",
            Part::Ends => "ends",
            Part::Survey => "survey",
            Part::Plates => "plates",
            Part::Protection => "protection",
            Part::Field => "field",
            Part::Kit => "kit",
            Part::Cuts => "cuts",
            Part::Steps => "steps",
            Part::Trials => "trials",
            Part::Workings => "workings",
            Part::Assumptions => "assumptions",
            Part::Cautions => "cautions",
            Part::Sources => "sources",
        }
    }

    /// The part a word asks for.
    pub fn named(word: &str) -> Option<Part> {
        Part::ALL.into_iter().find(|part| part.word() == word)
    }

    /// Its heading; none for the cover.
    pub fn title(self) -> &'static str {
        match self {
            Part::Cover => "",
            Part::Summary => "Summary",
            Part::Diagram => "Single-line diagram",
            Part::Findings => "Findings",
            Part::Duty => "Duty",
            Part::Runs => "Runs",
            Part::Ends => "Ends",
            Part::Survey => "Surveyed faces",
            Part::Plates => "Entry plates",
            Part::Protection => "Protection of the DC side",
            Part::Field => "Magnetic field",
            Part::Kit => "Kit and packing list",
            Part::Cuts => "Cut list",
            Part::Steps => "Steps",
            Part::Trials => "Trials",
            Part::Workings => "Workings",
            Part::Assumptions => "Assumptions",
            Part::Cautions => "Cautions",
            Part::Sources => "Sources",
        }
    }
}

/// Which parts to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chapters(Vec<Part>);

impl Chapters {
    /// The whole book.
    pub fn all() -> Chapters {
        Chapters(Part::ALL.to_vec())
    }

    /// Only these, in page order.
    pub fn only(parts: &[Part]) -> Chapters {
        Chapters(Part::ALL.into_iter().filter(|part| parts.contains(part)).collect())
    }

    /// The parts in page order.
    pub fn parts(&self) -> &[Part] {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_can_be_asked_for_by_its_word() {
        for (i, part) in Part::ALL.into_iter().enumerate() {
            assert_eq!(Part::named(part.word()), Some(part));
            assert_eq!(part as usize, i, "page order is the order of the enumeration");
        }
        assert_eq!(Part::named("appendix"), None);
    }

    #[test]
    fn parts_come_in_page_order() {
        let chapters = Chapters::only(&[Part::Trials, Part::Kit]);
        assert_eq!(chapters.parts(), [Part::Kit, Part::Trials]);
    }
}
