//! What the bench answers and tells: builds, versions, findings with what is new in them, sliders, sheets.

use plan::finding::Place;
use plan::given::document::DocumentError;
use schemars::JsonSchema;
use serde::Serialize;

use super::survey::FaceWire;
use super::{AnswerWire, AtWire, FindingWire, PlanWire, VerdictWire};

/// Any answer that is no success.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ErrorWire {
    /// What is wrong.
    pub(crate) error: String,
    /// What to do.
    pub(crate) hint: Option<String>,
    /// Of a change made from a version that is no longer the newest: the newest.
    pub(crate) version: Option<u64>,
}

/// The program and the folder it has open.
#[derive(Serialize, JsonSchema)]
pub(crate) struct AboutBenchWire {
    pub(crate) program: &'static str,
    pub(crate) version: &'static str,
    pub(crate) folder: String,
    /// The id to open at once, where the folder is itself a build.
    pub(crate) only: Option<String>,
    /// Units a document may say comes first: "metric", "us".
    pub(crate) units: Vec<&'static str>,
    /// How many rows the shelf has.
    pub(crate) shelf_rows: usize,
}

/// The builds of the folder and what a new one may start from.
#[derive(Serialize, JsonSchema)]
pub(crate) struct BuildsWire {
    pub(crate) folder: String,
    pub(crate) builds: Vec<CardWire>,
    pub(crate) examples: Vec<ExampleWire>,
}

/// A build as a card on the first page.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct CardWire {
    pub(crate) id: String,
    pub(crate) title: String,
    /// Absent while the document cannot be read.
    pub(crate) verdict: Option<VerdictWire>,
    pub(crate) for_building: bool,
    pub(crate) counts: CountsWire,
    /// Milliseconds since 1970.
    pub(crate) changed_ms: Option<u64>,
    /// Where its picture is; absent while the document cannot be read.
    pub(crate) picture: Option<String>,
    /// Why it cannot be read.
    pub(crate) error: Option<String>,
}

/// How many findings came out how.
#[derive(Clone, Copy, Default, Serialize, JsonSchema)]
pub(crate) struct CountsWire {
    pub(crate) fails: usize,
    pub(crate) unknown: usize,
    pub(crate) close: usize,
    pub(crate) holds: usize,
}

/// A build to start from.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ExampleWire {
    pub(crate) name: &'static str,
    pub(crate) title: String,
    /// Its opening remark.
    pub(crate) what: String,
}

/// A build that was made.
#[derive(Serialize, JsonSchema)]
pub(crate) struct MadeWire {
    pub(crate) id: String,
}

/// A build with its texts.
#[derive(Serialize, JsonSchema)]
pub(crate) struct DeskWire {
    pub(crate) id: String,
    pub(crate) version: u64,
    /// The document first, then the shop's parts, then the face files.
    pub(crate) files: Vec<FileWire>,
    /// What an undo would take back.
    pub(crate) undo: Option<String>,
    /// What a redo would do again.
    pub(crate) redo: Option<String>,
    /// Why the last change is not on the disk.
    pub(crate) unsaved: Option<String>,
    pub(crate) conflict: Option<ConflictWire>,
}

/// A text of a build.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct FileWire {
    pub(crate) name: String,
    pub(crate) role: RoleWire,
    pub(crate) text: String,
    /// Whether there is such a file on the disk; the shop's parts are offered before there are any.
    pub(crate) exists: bool,
}

/// What a file is to its build.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum RoleWire {
    Document,
    Shop,
    /// A face file, or a drawing one names.
    Face,
}

/// Two versions of the files, and someone has to choose.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct ConflictWire {
    /// The files as they are on the disk.
    pub(crate) theirs: Vec<FileWire>,
}

/// A change that has been made and saved.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct ChangedWire {
    pub(crate) id: String,
    pub(crate) version: u64,
    /// Who changed it, as it called itself.
    pub(crate) asker: Option<String>,
    /// What was done, as the history calls it.
    pub(crate) label: String,
    /// The files whose text changed.
    pub(crate) files: Vec<FileWire>,
    pub(crate) undo: Option<String>,
    pub(crate) redo: Option<String>,
}

/// The first event of a stream.
#[derive(Serialize, JsonSchema)]
pub(crate) struct HelloWire {
    pub(crate) version: &'static str,
    /// Another number after a restart: what a page holds may be old.
    pub(crate) start: u64,
}

/// A file was changed outside and taken in.
#[derive(Serialize, JsonSchema)]
pub(crate) struct OutsideWire {
    pub(crate) id: String,
    pub(crate) version: u64,
    pub(crate) files: Vec<String>,
}

/// A conflict began, or is settled.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ConflictEventWire {
    pub(crate) id: String,
    pub(crate) conflict: Option<ConflictWire>,
}

/// A change could not be written.
#[derive(Serialize, JsonSchema)]
pub(crate) struct UnsavedWire {
    pub(crate) id: String,
    pub(crate) version: u64,
    pub(crate) why: String,
}

/// What a version came to.
#[derive(Serialize, JsonSchema)]
pub(crate) struct PlannedWire {
    pub(crate) id: String,
    pub(crate) version: u64,
    /// The version the findings are of; an older one while the newest cannot be read.
    pub(crate) of: Option<u64>,
    /// Whether `of` is not `version`.
    pub(crate) stale: bool,
    pub(crate) title: String,
    pub(crate) verdict: Option<VerdictWire>,
    pub(crate) for_building: bool,
    pub(crate) counts: CountsWire,
    /// Worst first.
    pub(crate) findings: Vec<NoticeWire>,
    /// Findings of the version before that are no more.
    pub(crate) gone: Vec<GoneWire>,
    /// Why the newest version cannot be read.
    pub(crate) errors: Vec<MistakeWire>,
    /// A fault of the program met while planning.
    pub(crate) fault: Option<String>,
    /// Time spent planning.
    pub(crate) took_ms: f64,
}

/// A finding, which one it is, and what became of it since the version before.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct NoticeWire {
    /// The same for the same finding in the next version.
    pub(crate) id: String,
    pub(crate) change: ChangeWire,
    /// Value and limit as a person reads them.
    pub(crate) value_text: Option<String>,
    pub(crate) limit_text: Option<String>,
    /// How the numbers came about: indices into the plan's `worked`.
    pub(crate) workings: Vec<usize>,
    /// What its source is, in words.
    pub(crate) source_text: String,
    #[serde(flatten)]
    pub(crate) finding: FindingWire,
}

/// What became of a finding since the version before.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ChangeWire {
    Same,
    New,
    /// Its verdict is worse.
    Worse,
    /// Its verdict is better.
    Better,
    /// Its words or value changed, and not its verdict.
    Moved,
}

/// A finding that is no more.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct GoneWire {
    pub(crate) id: String,
    pub(crate) verdict: VerdictWire,
    pub(crate) message: String,
}

/// Where a document cannot be read.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct MistakeWire {
    pub(crate) at: AtWire,
    pub(crate) message: String,
    pub(crate) hint: Option<String>,
}

/// A mistake in a text as the pages read it.
pub(crate) fn mistake(error: &DocumentError, file: &str) -> MistakeWire {
    let Place { line, column, width } = error.at;
    MistakeWire {
        at: AtWire { file: file.to_owned(), line, column, width },
        message: error.message.clone(),
        hint: error.hint.clone(),
    }
}

/// The whole plan of a version.
#[derive(Serialize, JsonSchema)]
pub(crate) struct PlanSheetWire {
    pub(crate) version: u64,
    /// The version the plan is of.
    pub(crate) of: Option<u64>,
    pub(crate) plan: Option<PlanWire>,
}

/// What would come of a changed copy.
#[derive(Serialize, JsonSchema)]
pub(crate) struct WhatIfWire {
    /// The version it was changed from.
    pub(crate) version: u64,
    pub(crate) verdict: Option<VerdictWire>,
    pub(crate) counts: CountsWire,
    /// Against the version it was changed from.
    pub(crate) findings: Vec<NoticeWire>,
    pub(crate) gone: Vec<GoneWire>,
    /// Why the changed copy cannot be read.
    pub(crate) errors: Vec<MistakeWire>,
    pub(crate) plan: Option<PlanWire>,
    pub(crate) strips: Option<super::StripsWire>,
    pub(crate) took_ms: f64,
}

/// What can be moved by a slider.
#[derive(Serialize, JsonSchema)]
pub(crate) struct KnobsWire {
    pub(crate) version: u64,
    pub(crate) knobs: Vec<KnobWire>,
}

/// A value of the document that can be moved by a slider.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct KnobWire {
    /// Stays the same over versions.
    pub(crate) id: String,
    /// "air along the run"
    pub(crate) what: String,
    /// Where a change goes: the file, the document where absent, and the key.
    pub(crate) file: Option<String>,
    pub(crate) path: Vec<String>,
    pub(crate) run: Option<String>,
    /// Now, in `unit`; absent where the document says nothing and nothing was assumed.
    pub(crate) value: Option<f64>,
    /// The value as a person reads it.
    pub(crate) text: Option<String>,
    /// The unit to send with a new value; absent for a plain number.
    pub(crate) unit: Option<&'static str>,
    /// Ends of the slider, in `unit`.
    pub(crate) least: f64,
    pub(crate) most: f64,
    pub(crate) step: f64,
    /// Whether the document says it; else it was assumed.
    pub(crate) stated: bool,
    /// Why it was assumed so.
    pub(crate) why: Option<String>,
}

/// Plates and blocks.
#[derive(Serialize, JsonSchema)]
pub(crate) struct PlatesWire {
    pub(crate) version: u64,
    pub(crate) plates: Vec<PlateSheetWire>,
}

/// The plate of a port.
#[derive(Serialize, JsonSchema)]
pub(crate) struct PlateSheetWire {
    /// "device.port".
    pub(crate) port: String,
    /// Why it is not laid out.
    pub(crate) absent: Option<String>,
    /// What is broken, so that it is not for cutting.
    pub(crate) refused: bool,
    pub(crate) thickness_mm: Option<f64>,
    /// Its edge, seen from outside.
    pub(crate) outline: Vec<CornerWire>,
    pub(crate) holes: Vec<HoleWire>,
    pub(crate) groove: Option<GrooveWire>,
    pub(crate) grips: Vec<GripPlaceWire>,
    /// Every distance that matters, tightest first.
    pub(crate) proofs: Vec<ProofWire>,
    /// The face under it.
    pub(crate) face: Option<FaceWire>,
    /// Files for the machinist: the plate's, then its block's.
    pub(crate) files: Vec<FileLinkWire>,
}

/// A corner of a closed outline and the segment that leaves it.
#[derive(Serialize, JsonSchema)]
pub(crate) struct CornerWire {
    pub(crate) x_mm: f64,
    pub(crate) y_mm: f64,
    /// Tangent of a quarter of the leaving arc's angle, positive to the left; zero for a line.
    pub(crate) bulge: f64,
}

/// A round hole in a plate.
#[derive(Serialize, JsonSchema)]
pub(crate) struct HoleWire {
    pub(crate) name: String,
    pub(crate) x_mm: f64,
    pub(crate) y_mm: f64,
    pub(crate) diameter_mm: f64,
}

/// A groove by its middle line.
#[derive(Serialize, JsonSchema)]
pub(crate) struct GrooveWire {
    pub(crate) middle: Vec<CornerWire>,
    pub(crate) width_mm: f64,
    pub(crate) depth_mm: f64,
}

/// A grip and where it can be moved.
#[derive(Serialize, JsonSchema)]
pub(crate) struct GripPlaceWire {
    pub(crate) terminal: String,
    pub(crate) x_mm: f64,
    pub(crate) y_mm: f64,
    /// Across corners of its hexagon.
    pub(crate) corners_mm: Option<f64>,
    pub(crate) thread_mm: Option<f64>,
    /// Whether the document says where; else it went to its terminal.
    pub(crate) stated: bool,
    /// The key to set to "x mm, y mm".
    pub(crate) path: Vec<String>,
}

/// A distance measured on the finished part.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ProofWire {
    pub(crate) rule: &'static str,
    pub(crate) what: String,
    pub(crate) value_mm: f64,
    pub(crate) least_mm: f64,
    pub(crate) holds: bool,
}

/// A file to fetch.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct FileLinkWire {
    pub(crate) name: String,
    pub(crate) url: String,
    /// What it is: "drawing", "DXF for cutting".
    pub(crate) what: String,
}

/// Surveyed faces.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FacesWire {
    pub(crate) version: u64,
    pub(crate) faces: Vec<FaceSheetWire>,
}

/// A surveyed face and where its readings are written.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FaceSheetWire {
    pub(crate) face: FaceWire,
    /// The file its readings stand in.
    pub(crate) file: String,
    /// The table of the face in that file.
    pub(crate) path: Vec<String>,
    /// Its drawing.
    pub(crate) drawing: Option<String>,
    pub(crate) photo: PhotoPlaceWire,
    /// Readings as written, in the order of `face.readings`.
    pub(crate) readings: Vec<ReadingPlaceWire>,
}

/// The photograph of a face.
#[derive(Serialize, JsonSchema)]
pub(crate) struct PhotoPlaceWire {
    /// Where it can be seen, if there is one.
    pub(crate) url: Option<String>,
    /// The name to give one, before ".jpg" or ".png".
    pub(crate) name: String,
    /// The table its points are written in: PATH.point.NAME.pixel = [x, y], PATH.size = [width, height].
    pub(crate) path: Vec<String>,
    pub(crate) size_px: Option<[f64; 2]>,
    pub(crate) points: Vec<PhotoClickWire>,
}

/// A point clicked in a photograph.
#[derive(Serialize, JsonSchema)]
pub(crate) struct PhotoClickWire {
    pub(crate) name: String,
    pub(crate) x_px: f64,
    pub(crate) y_px: f64,
    /// Where it lies on the face, if that is stated.
    pub(crate) known_mm: Option<[f64; 2]>,
}

/// Where a reading is written.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ReadingPlaceWire {
    pub(crate) at: Option<AtWire>,
    /// The key of its value, in the file of the face.
    pub(crate) path: Vec<String>,
    pub(crate) text: String,
}

/// A part the shop wants to add, judged.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ShopWire {
    /// Whether it was added.
    pub(crate) added: bool,
    /// What is wrong with it.
    pub(crate) errors: Vec<MistakeWire>,
    /// The text that was added, or would be.
    pub(crate) text: String,
    pub(crate) version: u64,
}

/// A chapter a book can be asked for.
#[derive(Serialize, JsonSchema)]
pub(crate) struct BookPartWire {
    pub(crate) part: &'static str,
    pub(crate) title: String,
}

/// A book that was begun.
#[derive(Serialize, JsonSchema)]
pub(crate) struct BookJobWire {
    pub(crate) job: u64,
    pub(crate) url: String,
}

/// How far a book has come.
#[derive(Serialize, JsonSchema)]
pub(crate) struct BookEventWire {
    pub(crate) id: String,
    pub(crate) job: u64,
    pub(crate) state: BookStateWire,
    pub(crate) url: Option<String>,
    /// Why it failed.
    pub(crate) error: Option<String>,
    pub(crate) took_ms: f64,
    /// The version it is of.
    pub(crate) version: u64,
}

/// The stages of a book.
#[derive(Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum BookStateWire {
    Setting,
    Ready,
    Failed,
}

/// An answer of a figure, or why there is none.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FigureAnswerWire {
    pub(crate) answer: Option<AnswerWire>,
    pub(crate) errors: Vec<FigureErrorWire>,
}

/// What is wrong with an input of a figure.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FigureErrorWire {
    pub(crate) input: String,
    pub(crate) message: String,
}

/// A figure's outputs over one input.
#[derive(Serialize, JsonSchema)]
pub(crate) struct SweepWire {
    pub(crate) input: String,
    pub(crate) unit: String,
    pub(crate) at: Vec<f64>,
    /// Outputs that are one number; null where there is no answer.
    pub(crate) outputs: Vec<SweptWire>,
    pub(crate) errors: Vec<FigureErrorWire>,
}

/// One output over one input.
#[derive(Serialize, JsonSchema)]
pub(crate) struct SweptWire {
    pub(crate) name: String,
    pub(crate) unit: String,
    pub(crate) values: Vec<Option<f64>>,
}

/// A kind of part the shop can add.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ShelfKindWire {
    pub(crate) kind: &'static str,
    pub(crate) fields: Vec<&'static str>,
}

/// A table of the document and its keys.
#[derive(Serialize, JsonSchema)]
pub(crate) struct TableWire {
    /// Its header, ids in capitals: "device.ID.port.ID"; empty for the top of the document.
    pub(crate) path: &'static str,
    pub(crate) what: &'static str,
    pub(crate) keys: Vec<KeyWire>,
    /// Names of the tables that may stand in it.
    pub(crate) inner: Vec<&'static str>,
}

/// A key of the document.
#[derive(Serialize, JsonSchema)]
pub(crate) struct KeyWire {
    pub(crate) name: &'static str,
    pub(crate) what: &'static str,
    /// As written in TOML.
    pub(crate) example: &'static str,
    /// What may stand after it, in words.
    pub(crate) accepts: String,
    /// The words it takes, if it takes only these.
    pub(crate) words: Vec<&'static str>,
    /// The units it takes, if it is a quantity.
    pub(crate) units: Vec<&'static str>,
    /// The kind of shelf row it names, if it does.
    pub(crate) shelf: Option<&'static str>,
}

/// How the numbers of a plan are shown.
#[derive(Serialize, JsonSchema)]
pub(crate) struct UnitWire {
    /// The unit the plan's numbers are kept in, as their keys and `unit` fields call it.
    pub(crate) kept: &'static str,
    /// "a length"
    pub(crate) called: &'static str,
    pub(crate) metric: ShownUnitWire,
    pub(crate) us: ShownUnitWire,
}

/// A unit for an axis: shown value = kept value x factor + offset.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ShownUnitWire {
    pub(crate) unit: &'static str,
    pub(crate) factor: f64,
    pub(crate) offset: f64,
    pub(crate) decimals: u32,
}

/// A question about a new build.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct QuestionWire {
    pub(crate) id: &'static str,
    pub(crate) ask: &'static str,
    /// What it settles.
    pub(crate) why: &'static str,
    pub(crate) kind: QuestionKindWire,
    /// For a choice: the words and what they mean.
    pub(crate) choices: Vec<ChoiceWire>,
    /// An answer to begin from.
    pub(crate) example: &'static str,
    /// Whether the document cannot be made without it.
    pub(crate) needed: bool,
    /// Asked only where that question has one of these answers.
    pub(crate) only_if: Option<OnlyIfWire>,
}

/// What kind of answer a question takes.
#[derive(Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum QuestionKindWire {
    Choice,
    Words,
    Quantity,
}

/// A choice.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct ChoiceWire {
    pub(crate) word: &'static str,
    pub(crate) means: &'static str,
}

/// When a question is asked.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct OnlyIfWire {
    pub(crate) question: &'static str,
    pub(crate) is: Vec<&'static str>,
}

/// The document that answers make.
#[derive(Serialize, JsonSchema)]
pub(crate) struct DraftWire {
    pub(crate) text: String,
    /// Questions without the answer they need.
    pub(crate) open: Vec<&'static str>,
    /// Answers that cannot be read.
    pub(crate) errors: Vec<FigureErrorWire>,
}
