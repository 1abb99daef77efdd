//! The shelf: every part and material the program knows, by standard, and what the shop added.
//!
//! Types only. Rows are read from TOML by `shelf_read`, looked for by [`Shelf`]'s own verbs, and never
//! changed by a plan. Every row says where it comes from and how far that may be trusted.

use physics::laws::conductor::ConductorSize;
use space::part::{Face, FlatPart, Groove, Hole, Mark};
use space::path::Path;

/// How far a value may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Read in the named source.
    Read,
    /// Follows from a formula of the named source.
    Computed,
    /// Remembered, not confirmed by reading.
    Memory,
    /// What makers usually do; the part's own sheet decides.
    Typical,
    /// What the trade does, with no published source.
    CommonPractice,
    /// Stated by the shop in its own `parts.toml` or in the build.
    Shop,
}

impl Standing {
    /// Every standing there is.
    pub const ALL: [Standing; 6] = [
        Standing::Read,
        Standing::Computed,
        Standing::Memory,
        Standing::Typical,
        Standing::CommonPractice,
        Standing::Shop,
    ];

    /// The word for it in files and on pages.
    pub fn word(self) -> &'static str {
        match self {
            Standing::Read => "read",
            Standing::Computed => "computed",
            Standing::Memory => "memory",
            Standing::Typical => "typical",
            Standing::CommonPractice => "common-practice",
            Standing::Shop => "shop",
        }
    }
}

/// What every row has.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The key a build names it by; unique within its kind.
    pub id: String,
    /// What a person calls it.
    pub name: String,
    /// Where the values come from: a key of `sources.toml`.
    pub source: String,
    /// How far the values may be trusted.
    pub standing: Standing,
    /// A remark for the reader.
    pub note: Option<String>,
    /// Price of one piece, or of one metre for cable and sleeve, in the build's currency.
    pub price: Option<f64>,
    /// Mass of one piece.
    pub mass_g: Option<f64>,
}

/// What a source key stands for.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// The key rows and laws name.
    pub key: String,
    /// Title, edition, table.
    pub title: String,
    /// How it was seen: "read in a reprint", "from memory" ...
    pub seen: String,
}

/// A conductor by size and class (ASTM B258, IEC 60228).
#[derive(Clone, Debug, PartialEq)]
pub struct Conductor {
    /// Identity and standing.
    pub row: Row,
    /// Its size.
    pub size: ConductorSize,
    /// IEC 60228 class, or "AWG" for a flexible conductor by ASTM.
    pub class: String,
    /// Largest resistance at 20 degC, plain copper.
    pub resistance_ohm_per_km: f64,
    /// Diameter over the strands.
    pub diameter_mm: f64,
    /// Mass of the metal.
    pub mass_kg_per_km: f64,
}

/// A made cable: one conductor of one family.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// Identity and standing; the id is "<family> <size>".
    pub row: Row,
    /// The family a build names: "flex-125", "flex-150-screened" ...
    pub family: String,
    /// Conductor size.
    pub size: ConductorSize,
    /// Conductor class, a key of the conductor rows.
    pub class: String,
    /// Diameter over the strands.
    pub conductor_diameter_mm: f64,
    /// Resistance at 20 degC.
    pub resistance_ohm_per_km: f64,
    /// Smallest diameter over everything.
    pub diameter_mm_min: f64,
    /// Largest diameter over everything.
    pub diameter_mm_max: f64,
    /// Diameter over the insulation of the core, under screen and sheath; same as the outside where there is none.
    pub core_diameter_mm: f64,
    /// Whether it has a screen.
    pub screened: bool,
    /// Temperature class letter of ISO 6722-1 / ISO 19642 (A to H).
    pub temperature_class: String,
    /// Conductor temperature limit of that class.
    pub limit_c: f64,
    /// Rated voltage, DC.
    pub voltage_v_dc: f64,
    /// Insulation material: id of an [`Insulation`].
    pub insulation: String,
    /// Colour of the outside.
    pub colour: String,
    /// Mass.
    pub mass_kg_per_km: f64,
}

impl Cable {
    /// The diameter used where one number must do: the middle of the range.
    pub fn diameter_mm(&self) -> f64 {
        (self.diameter_mm_min + self.diameter_mm_max) / 2.0
    }
}

/// An insulation material.
#[derive(Clone, Debug, PartialEq)]
pub struct Insulation {
    /// Identity and standing.
    pub row: Row,
    /// Thermal resistivity.
    pub resistivity_km_per_w: f64,
    /// Volumetric heat.
    pub heat_j_per_m3k: f64,
    /// Emissivity of the surface.
    pub emissivity: f64,
    /// Conductor temperature allowed for at most five seconds in a short circuit.
    pub short_circuit_c: f64,
}

/// A ring-tongue lug.
#[derive(Clone, Debug, PartialEq)]
pub struct Lug {
    /// Identity and standing.
    pub row: Row,
    /// How it is made and joined: "tube", "din-46235", "solderless".
    pub family: String,
    /// Conductor it is made for.
    pub size: ConductorSize,
    /// Stud it is made for, as a metric thread: "M8" (5/16 in counts as M8, 3/8 in as M10).
    pub stud: String,
    /// Hole in the palm.
    pub hole_mm: f64,
    /// Barrel, inside and outside.
    pub barrel_inside_mm: f64,
    /// Barrel outside.
    pub barrel_outside_mm: f64,
    /// Depth of the barrel: what the conductor fills.
    pub barrel_depth_mm: f64,
    /// Width of the palm.
    pub palm_width_mm: f64,
    /// Thickness of the palm.
    pub palm_thickness_mm: f64,
    /// From the end of the barrel's mouth to the tip.
    pub length_mm: f64,
    /// From the hole's centre to the tip.
    pub hole_to_tip_mm: f64,
    /// The tongue may be bent at a right angle.
    pub bendable: bool,
    /// Crimp bases whose dies fit: ids of [`Crimp`] rows.
    pub crimps: Vec<String>,
    /// Material: id of a [`Material`].
    pub material: String,
}

/// A crimp basis: which die presses which lug.
#[derive(Clone, Debug, PartialEq)]
pub struct Crimp {
    /// Identity and standing.
    pub row: Row,
    /// Conductor it presses.
    pub size: ConductorSize,
    /// The code stamped on the die. A code, not a size.
    pub die: String,
    /// "hydraulic hexagon", "indent" ...
    pub form: String,
    /// How many presses along the barrel.
    pub presses: u32,
    /// Pull-out basis: "iec-61238-1" or "ul-486a".
    pub pull_basis: String,
}

/// An adhesive-lined heat-shrink sleeve.
#[derive(Clone, Debug, PartialEq)]
pub struct Sleeve {
    /// Identity and standing.
    pub row: Row,
    /// Least inside diameter as supplied.
    pub supplied_mm: f64,
    /// Largest inside diameter when free to shrink fully.
    pub recovered_mm: f64,
    /// Wall when fully shrunk.
    pub wall_mm: f64,
    /// Shrinkage in length, as a part of the length.
    pub length_loss: f64,
    /// Highest continuous temperature.
    pub limit_c: f64,
    /// Lined with adhesive.
    pub adhesive: bool,
    /// Colour.
    pub colour: String,
}

/// A cord grip.
#[derive(Clone, Debug, PartialEq)]
pub struct Grip {
    /// Identity and standing.
    pub row: Row,
    /// Entry thread: "M32x1.5".
    pub thread: String,
    /// Smallest cable it clamps.
    pub clamp_mm_min: f64,
    /// Largest cable it clamps.
    pub clamp_mm_max: f64,
    /// Across flats of the body and nut.
    pub flats_mm: f64,
    /// Across corners.
    pub corners_mm: f64,
    /// Length of the entry thread.
    pub thread_length_mm: f64,
    /// How far it stands out of the plate when tight.
    pub protrusion_mm: f64,
    /// Torque of the body in the plate and of the nut.
    pub torque_nm: f64,
    /// Takes the screen of a screened cable.
    pub screen_contact: bool,
    /// Material: "brass", "polyamide".
    pub material: String,
    /// Highest continuous temperature of its seal.
    pub limit_c: f64,
}

/// An O-ring (AS568, ISO 3601-1).
#[derive(Clone, Debug, PartialEq)]
pub struct Oring {
    /// Identity and standing; the id is the dash number, "258".
    pub row: Row,
    /// Inside diameter.
    pub inside_mm: f64,
    /// Its tolerance, plus or minus.
    pub inside_tol_mm: f64,
    /// Cross-section.
    pub section_mm: f64,
    /// Its tolerance, plus or minus.
    pub section_tol_mm: f64,
}

/// A bolt head form in one thread (ISO 4014/4017, 4762, 4162, EN 1665).
#[derive(Clone, Debug, PartialEq)]
pub struct Bolt {
    /// Identity and standing; the id is "<form> <thread>": "hex M8", "hex-flange M8", "socket M6".
    pub row: Row,
    /// Head form: "hex", "hex-old", "hex-small", "hex-flange", "hex-flange-heavy", "socket".
    pub form: String,
    /// Thread: "M8".
    pub thread: String,
    /// Across flats (or key size for a socket head).
    pub flats_mm: f64,
    /// Head height.
    pub head_height_mm: f64,
    /// Head or flange diameter.
    pub head_diameter_mm: f64,
    /// Bearing diameter under the head, at least.
    pub bearing_mm: f64,
    /// Preferred lengths.
    pub lengths_mm: Vec<f64>,
}

/// A nut (ISO 4032, ISO 4161).
#[derive(Clone, Debug, PartialEq)]
pub struct Nut {
    /// Identity and standing; the id is "nut M8", "flange-nut M8".
    pub row: Row,
    /// "hex", "hex-flange".
    pub form: String,
    /// Thread: "M8".
    pub thread: String,
    /// Across flats.
    pub flats_mm: f64,
    /// Height, at most.
    pub height_mm: f64,
    /// Bearing diameter, at least.
    pub bearing_mm: f64,
}

/// A washer (ISO 7089, 7093, DIN 6796).
#[derive(Clone, Debug, PartialEq)]
pub struct Washer {
    /// Identity and standing; the id is "<form> <thread>": "plain M8", "wide M8", "disc M8".
    pub row: Row,
    /// "plain", "wide", "disc".
    pub form: String,
    /// Thread it is for.
    pub thread: String,
    /// Hole.
    pub inside_mm: f64,
    /// Outside.
    pub outside_mm: f64,
    /// Thickness (flattened, for a disc washer).
    pub thickness_mm: f64,
    /// Least height when free, for a disc washer.
    pub height_mm: Option<f64>,
}

/// A thread's holes: clearance (ISO 273) and tapping.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadHoles {
    /// Identity and standing; the id is the thread: "M8".
    pub row: Row,
    /// Medium clearance hole.
    pub clearance_mm: f64,
    /// Tap drill.
    pub tap_mm: f64,
}

/// A material a thread is cut in, a pad or a plate is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// Identity and standing: "copper", "aluminium-6082-t6", "brass", "steel", "stainless", "pa66-gf30" ...
    pub row: Row,
    /// Tensile strength.
    pub tensile_mpa: f64,
    /// Shear strength used for thread stripping.
    pub shear_mpa: f64,
    /// Pressure allowed under a head.
    pub bearing_mpa: f64,
    /// Elastic modulus.
    pub modulus_mpa: f64,
    /// Linear expansion, 1e-6/K.
    pub expansion_um_per_mk: f64,
    /// Least engagement of an 8.8 bolt, as a multiple of the diameter.
    pub engagement_d: f64,
    /// Comparative tracking index, for insulators.
    pub tracking_index: Option<f64>,
    /// Highest continuous temperature, for plastics.
    pub limit_c: Option<f64>,
}

/// A bolt's property class (ISO 898-1, ISO 3506-1).
#[derive(Clone, Debug, PartialEq)]
pub struct BoltClass {
    /// Identity and standing; the id is the class: "8.8", "A2-70".
    pub row: Row,
    /// Tensile strength.
    pub tensile_mpa: f64,
    /// Yield or 0.2 % proof strength.
    pub yield_mpa: f64,
    /// Proof stress.
    pub proof_mpa: f64,
}

/// A fuse link.
#[derive(Clone, Debug, PartialEq)]
pub struct Fuse {
    /// Identity and standing; the id is "<class> <rating> A": "aR 250 A".
    pub row: Row,
    /// Utilisation class or family: "aR", "gR", "gPV", "bolt-in-450".
    pub class: String,
    /// Rated current.
    pub rated_a: f64,
    /// Rated voltage, DC.
    pub voltage_v_dc: f64,
    /// Breaking capacity.
    pub breaking_a: f64,
    /// Least current it breaks by itself.
    pub breaking_a_min: f64,
    /// Melting integral.
    pub melting_a2s: f64,
    /// Clearing integral at rated voltage.
    pub clearing_a2s: f64,
    /// Points of the mean melting curve: seconds and amperes, longest time first.
    pub melting_curve: Vec<(f64, f64)>,
    /// Stud thread of its tags, if bolted.
    pub stud: Option<String>,
}

/// A DC contactor.
#[derive(Clone, Debug, PartialEq)]
pub struct Contactor {
    /// Identity and standing; the id is "<family> <rating> A": "contactor-450 250 A".
    pub row: Row,
    /// Continuous current.
    pub rated_a: f64,
    /// Rated voltage, DC.
    pub voltage_v_dc: f64,
    /// Greatest current it opens at that voltage, a few times in its life.
    pub breaks_a: f64,
    /// Greatest current it closes on without welding.
    pub makes_a: f64,
    /// Points of what it carries closed: seconds and amperes, longest time first.
    pub carry_curve: Vec<(f64, f64)>,
    /// Stud thread of its terminals.
    pub stud: Option<String>,
}

/// A plate that was made and proven once, kept to be used again; its own coordinates, seen from outside.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptPlate {
    /// Identity and standing.
    pub row: Row,
    /// Shelf id of its material.
    pub material: String,
    /// Thickness.
    pub thickness_mm: f64,
    /// Outline.
    pub outline: Path,
    /// Holes: for bolts ("bolt M6") and for grips ("grip U").
    pub holes: Vec<Hole>,
    /// Middle of its groove, on the seal side.
    pub groove: Path,
    /// Depth of the groove.
    pub groove_depth_mm: f64,
    /// Width of the groove.
    pub groove_width_mm: f64,
    /// Tolerance of the depth.
    pub groove_tolerance_mm: f64,
    /// Shelf id of its ring; none where it is made of cord.
    pub oring: Option<String>,
    /// Section of the cord its ring is made of.
    pub cord_section_mm: Option<f64>,
    /// Engraved marks.
    pub marks: Vec<Mark>,
    /// Who kept it, when, from which build, and what was proven and measured.
    pub record: PlateRecord,
}

/// The record of a kept plate.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlateRecord {
    /// Who kept it.
    pub kept_by: String,
    /// On which day.
    pub kept_on: String,
    /// Build, port and digest it comes from.
    pub kept_from: String,
    /// The rules that held, each in its finding's words.
    pub checks: Vec<String>,
    /// What the check sheet says of the part as made.
    pub measured: Vec<PlateReading>,
}

/// A line of a filled check sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateReading {
    /// What was measured.
    pub what: String,
    /// The reading.
    pub read_mm: f64,
    /// The least that will do.
    pub least_mm: f64,
    /// The most that will do.
    pub most_mm: f64,
}

impl KeptPlate {
    /// The plate as a part.
    pub fn part(&self, name: &str) -> FlatPart {
        FlatPart {
            name: name.to_owned(),
            outline: self.outline.clone(),
            thickness_mm: self.thickness_mm,
            holes: self.holes.clone(),
            grooves: vec![Groove {
                middle: self.groove.clone(),
                width_mm: self.groove_width_mm,
                depth_mm: self.groove_depth_mm,
                face: Face::Seal,
            }],
            marks: self.marks.clone(),
            ..FlatPart::default()
        }
    }

    /// The holes whose purpose begins with a word.
    pub fn holes_for<'a>(&'a self, word: &'a str) -> impl Iterator<Item = &'a Hole> {
        self.holes.iter().filter(move |h| h.purpose.split(' ').next() == Some(word))
    }
}

/// Everything on the shelf.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shelf {
    /// Conductors.
    pub conductors: Vec<Conductor>,
    /// Cables.
    pub cables: Vec<Cable>,
    /// Insulation materials.
    pub insulations: Vec<Insulation>,
    /// Lugs.
    pub lugs: Vec<Lug>,
    /// Crimp bases.
    pub crimps: Vec<Crimp>,
    /// Sleeves.
    pub sleeves: Vec<Sleeve>,
    /// Grips.
    pub grips: Vec<Grip>,
    /// O-rings.
    pub orings: Vec<Oring>,
    /// Bolts.
    pub bolts: Vec<Bolt>,
    /// Nuts.
    pub nuts: Vec<Nut>,
    /// Washers.
    pub washers: Vec<Washer>,
    /// Thread holes.
    pub holes: Vec<ThreadHoles>,
    /// Materials.
    pub materials: Vec<Material>,
    /// Bolt classes.
    pub classes: Vec<BoltClass>,
    /// Fuses.
    pub fuses: Vec<Fuse>,
    /// Contactors.
    pub contactors: Vec<Contactor>,
    /// Plates the shop has kept.
    pub plates: Vec<KeptPlate>,
    /// Sources.
    pub sources: Vec<Source>,
}
