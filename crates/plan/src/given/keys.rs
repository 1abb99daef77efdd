//! Every key of the build document, declared once: its kind, its range, what it is.
//!
//! The declarations feed the reader, its messages, the reference and the starter build. Ranges are those
//! of sense, not of rules: outside them a value is a slip of the hand, and the reader says so.

use physics::units::{Dimension, System, show};

use super::build::{
    Carries, DeviceKind, GripHole, Inside, Landing, Lie, Palm, Screen, Series, Side, Tool,
};

/// What may stand after a key.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A quantity with its unit, from the first to the second number in kept units.
    Quantity(Dimension, f64, f64),
    /// A list of quantities.
    Quantities(Dimension, f64, f64),
    /// Quantities by name, as an inline table.
    QuantityByName(Dimension, f64, f64),
    /// A plain whole number.
    Count(u32, u32),
    /// A plain number.
    Number(f64, f64),
    /// A list of plain numbers.
    Numbers(f64, f64),
    /// Plain numbers by name.
    NumberByName(f64, f64),
    /// Words.
    Text,
    /// A list of no more than so many words.
    Texts(usize),
    /// Words by name, as an inline table.
    TextByName,
    /// Places on a face by name, as an inline table.
    PlaceByName,
    /// A day, "2026-11-25".
    Day,
    /// One of a few words.
    Choice(fn() -> Vec<&'static str>),
    /// A conductor size.
    Size,
    /// A metric thread, "M8" or "M32x1.5".
    Thread,
    /// A bolt with its length, "M8x16".
    Bolt,
    /// A port of a device, "motor.phases".
    Port,
    /// true or false.
    Truth,
}

/// One key.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// As written.
    pub name: &'static str,
    /// What may stand after it.
    pub kind: Kind,
    /// An example, as written in TOML.
    pub example: &'static str,
    /// What it is, without full stop.
    pub what: &'static str,
}

/// One table.
#[derive(Clone, Copy, Debug)]
pub struct Table {
    /// Its header, ids in capitals: "device.ID.port.ID"; empty for the top of the document.
    pub path: &'static str,
    /// What it holds.
    pub what: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
    /// Names of the tables that may stand in it.
    pub inner: &'static [&'static str],
}

/// The words of a choice and what they stand for.
pub type Words<T> = &'static [(&'static str, T)];

/// The words of a choice.
pub fn words<T>(choice: Words<T>) -> Vec<&'static str> {
    choice.iter().map(|(word, _)| *word).collect()
}

/// `units`.
pub const UNITS: Words<System> = &[("metric", System::Metric), ("us", System::Us)];
/// `device.ID.kind`.
pub const DEVICE_KINDS: Words<DeviceKind> = &[
    ("motor", DeviceKind::Motor),
    ("inverter", DeviceKind::Inverter),
    ("battery", DeviceKind::Battery),
    ("junction-box", DeviceKind::JunctionBox),
    ("converter", DeviceKind::Converter),
];
/// `landing`.
pub const LANDINGS: Words<Landing> = &[("tapped", Landing::Tapped), ("stud", Landing::Stud)];
/// `grip-hole`.
pub const GRIP_HOLES: Words<GripHole> =
    &[("tapped", GripHole::Tapped), ("clear", GripHole::Clear)];
/// `carries`.
pub const CARRIES: Words<Carries> = &[("phases", Carries::Phases), ("dc", Carries::Dc)];
/// `lie`.
pub const LIES: Words<Lie> = &[
    ("spaced", Lie::Spaced),
    ("flat", Lie::Flat),
    ("trefoil", Lie::Trefoil),
    ("vertical", Lie::Vertical),
];
/// `sizes`.
pub const SERIES: Words<Series> = &[("awg", Series::Awg), ("metric", Series::Metric)];
/// `palm`.
pub const PALMS: Words<Palm> = &[("straight", Palm::Straight), ("bent", Palm::Bent)];
/// `edge.ID.side` of a face.
pub const SIDES: Words<Side> = &[
    ("above", Side::Above),
    ("below", Side::Below),
    ("left", Side::Left),
    ("right", Side::Right),
];
/// `tool` of a reading.
pub const TOOLS: Words<Tool> =
    &[("calliper", Tool::Calliper), ("rule", Tool::Rule), ("tape", Tool::Tape)];

/// `lug-family`.
pub const LUG_FAMILIES: Words<&'static str> =
    &[("tube", "tube"), ("din-46235", "din-46235"), ("solderless", "solderless")];
/// `in` of a section.
pub const INSIDES: Words<Inside> = &[
    ("open", Inside::Open),
    ("conduit", Inside::Conduit),
    ("metal-conduit", Inside::MetalConduit),
    ("on-panel", Inside::OnPanel),
    ("jacket", Inside::Jacket),
];
/// `screen`.
pub const SCREENS: Words<Screen> = &[
    ("grip-contact", Screen::GripContact),
    ("pigtail", Screen::Pigtail),
    ("none", Screen::None),
];

mod driving;
mod face;
mod field;
mod protection;

pub use driving::{BATTERY, DUTY, HARD, LOGGED, MOTOR, MOTOR_KINDS, VEHICLE};
pub use face::{
    FACE, FACE_EDGE, FACE_OUTLINE, FACE_PHOTO, FACE_PHOTO_POINT, FACE_POINT, FACE_READING,
};
pub use field::{FIELD, FIELD_POINT};
pub use protection::{BRANCH, PROTECTION};

const fn key(name: &'static str, kind: Kind, example: &'static str, what: &'static str) -> Key {
    Key { name, kind, example, what }
}

const fn length(least_mm: f64, most_mm: f64) -> Kind {
    Kind::Quantity(Dimension::Length, least_mm, most_mm)
}

const fn celsius(least_c: f64, most_c: f64) -> Kind {
    Kind::Quantity(Dimension::Temperature, least_c, most_c)
}

const TORQUE: Kind = Kind::Quantity(Dimension::Torque, 0.05, 500.0);
const M: f64 = 1000.0;

/// The top of the document.
pub const TOP: Table = Table {
    path: "",
    what: "The build itself",
    inner: &[
        "system",
        "surroundings",
        "workshop",
        "vehicle",
        "motor",
        "battery",
        "duty",
        "device",
        "run",
        "protection",
        "field",
        "prices",
    ],
    keys: &[
        key(
            "title",
            Kind::Text,
            r#""Phase cables for a small van""#,
            "what the job is called; needed",
        ),
        key("made-by", Kind::Text, r#""Example workshop""#, "who made the document"),
        key(
            "date",
            Kind::Day,
            r#""2026-11-25""#,
            "the day it speaks of; printed, never computed with",
        ),
        key(
            "units",
            Kind::Choice(|| words(UNITS)),
            r#""metric""#,
            "which units are printed first",
        ),
        key("currency", Kind::Text, r#""EUR""#, "currency of all prices"),
    ],
};

/// `[system]`.
pub const SYSTEM: Table = Table {
    path: "system",
    what: "The electrical system",
    inner: &[],
    keys: &[
        key(
            "voltage",
            Kind::Quantity(Dimension::Voltage, 1.0, 1500.0),
            r#""350 V""#,
            "nominal DC voltage",
        ),
        key(
            "voltage-max",
            Kind::Quantity(Dimension::Voltage, 1.0, 1500.0),
            r#""410 V""#,
            "highest DC working voltage: what spacing and insulation are judged by",
        ),
        key(
            "overvoltage-category",
            Kind::Count(1, 4),
            "2",
            "overvoltage category of IEC 60664-1",
        ),
    ],
};

/// `[surroundings]`.
pub const SURROUNDINGS: Table = Table {
    path: "surroundings",
    what: "Air and dirt around all runs",
    inner: &[],
    keys: &[
        key(
            "air",
            celsius(-60.0, 150.0),
            r#""60 degC""#,
            "hottest air where no run says otherwise",
        ),
        key(
            "cold",
            celsius(-60.0, 60.0),
            r#""-20 degC""#,
            "coldest air the joints meet: what shrinks a bolted joint",
        ),
        key(
            "altitude",
            length(-500.0 * M, 9000.0 * M),
            r#""2000 m""#,
            "highest altitude driven at",
        ),
        key(
            "pollution-degree",
            Kind::Count(1, 3),
            "3",
            "pollution degree of IEC 60664-1 inside the boxes",
        ),
    ],
};

/// `[workshop]`.
pub const WORKSHOP: Table = Table {
    path: "workshop",
    what: "How this shop works",
    inner: &[],
    keys: &[
        key(
            "cut-step",
            length(0.1, M),
            r#""5 mm""#,
            "cut lengths are rounded up to a multiple of this",
        ),
        key("trim", length(0.0, 200.0), r#""3 mm""#, "extra at each end for trimming square"),
        key("reel", length(M, 5000.0 * M), r#""25 m""#, "length of cable on a new reel"),
        key(
            "spares",
            Kind::Quantity(Dimension::Ratio, 0.0, 1.0),
            r#""10 %""#,
            "share of small parts (bolts, washers, sleeves, O-rings) packed extra",
        ),
        key("dies", Kind::Texts(100), r#"["70", "95"]"#, "die codes the shop owns"),
        key(
            "friction",
            Kind::Number(0.02, 0.5),
            "0.14",
            "friction of thread and head as fitted (dry, oiled)",
        ),
        key(
            "lug-family",
            Kind::Choice(|| words(LUG_FAMILIES)),
            r#""tube""#,
            "which lugs are chosen from; any that fits where absent",
        ),
    ],
};

/// `[device.ID]`.
pub const DEVICE: Table = Table {
    path: "device.ID",
    what: "A device that cables go to",
    inner: &["port"],
    keys: &[
        key("kind", Kind::Choice(|| words(DEVICE_KINDS)), r#""motor""#, "what it is"),
        key("name", Kind::Text, r#""rear motor""#, "what people call it"),
    ],
};

/// `[device.ID.port.ID]`.
pub const PORT: Table = Table {
    path: "device.ID.port.ID",
    what: "Where cables enter a device: a sealing face, and terminals behind it",
    inner: &["block", "plate", "face"],
    keys: &[
        key(
            "terminals",
            Kind::Texts(24),
            r#"["U", "V", "W"]"#,
            "labels of the terminals in the order they lie",
        ),
        key(
            "landing",
            Kind::Choice(|| words(LANDINGS)),
            r#""tapped""#,
            "a bolt goes into a tapped hole, or a nut goes on a stud",
        ),
        key("thread", Kind::Thread, r#""M8""#, "thread of the terminals"),
        key(
            "thread-depth",
            length(0.5, 200.0),
            r#""14 mm""#,
            "depth of full thread from where it starts, or length of a stud",
        ),
        key(
            "thread-start",
            length(0.0, 200.0),
            r#""0 mm""#,
            "how far below the landing face the thread begins",
        ),
        key(
            "thread-material",
            Kind::Text,
            r#""brass""#,
            "what the thread is cut in: shelf id of a material",
        ),
        key(
            "pad-material",
            Kind::Text,
            r#""copper""#,
            "what the lug's palm lies on: shelf id of a material",
        ),
        key(
            "pad-roughness",
            length(0.0001, 0.04),
            r#""6.3 um""#,
            "mean depth Rz of the face the palm lies on: rough tips settle, and the bolt lets go a little",
        ),
        key("pad-width", length(2.0, 200.0), r#""24 mm""#, "room for a palm across the pad"),
        key("pitch", length(2.0, M), r#""32 mm""#, "centre distance of neighbouring terminals"),
        key(
            "wall",
            length(1.0, M),
            r#""28 mm""#,
            "from an outer terminal's centre to the nearest wall or earthed metal in the box",
        ),
        key(
            "room-above",
            length(2.0, M),
            r#""60 mm""#,
            "from the landing face straight up to the cover, or to the plate the cables come through",
        ),
        key(
            "creepage",
            length(0.1, M),
            r#""14 mm""#,
            "shortest way along the insulation between neighbouring terminals",
        ),
        key(
            "insulator",
            Kind::Text,
            r#""pa66-gf30""#,
            "material between the terminals: shelf id",
        ),
        key("torque", TORQUE, r#""9 N m""#, "torque the terminal's maker allows"),
        key(
            "inside-length",
            length(0.0, 3.0 * M),
            r#""70 mm""#,
            "along the cable from the sealing face to the terminal's centre",
        ),
        key(
            "terminal-temperature",
            celsius(-60.0, 250.0),
            r#""85 degC""#,
            "of the terminals when the device works hard; as warm as the cable where absent",
        ),
    ],
};

/// `[device.ID.port.ID.block]`.
pub const BLOCK: Table = Table {
    path: "device.ID.port.ID.block",
    what: "The insulating block the lugs land on",
    inner: &[],
    keys: &[
        key("material", Kind::Text, r#""pa66-gf30""#, "shelf id of a material"),
        key("bolt", Kind::Bolt, r#""M5x20""#, "bolts that hold the block"),
        key("bolt-count", Kind::Count(1, 24), "2", "how many"),
        key("head", Kind::Text, r#""socket""#, "head form of those bolts"),
        key("torque", TORQUE, r#""3 N m""#, "torque of those bolts"),
        key("thickness", length(2.0, 200.0), r#""20 mm""#, "thickness, to draw it as a part"),
        key(
            "bolt-at",
            Kind::PlaceByName,
            r#"{ F1 = "-66 mm, 0 mm", F2 = "66 mm, 0 mm" }"#,
            "where its bolts go on the surveyed face, to draw it as a part",
        ),
    ],
};

/// `[device.ID.port.ID.plate]`.
pub const PLATE: Table = Table {
    path: "device.ID.port.ID.plate",
    what: "The entry plate that carries the grips and seals the port",
    inner: &[],
    keys: &[
        key(
            "use",
            Kind::Text,
            r#""seven M6, three M25""#,
            "a plate the shop has kept (`loomwright plates --keep`), as it is; only its bolts and the housing's threads are stated beside it",
        ),
        key("material", Kind::Text, r#""aluminium-6082-t6""#, "shelf id of a material"),
        key("thickness", length(1.0, 60.0), r#""10 mm""#, "thickness where the grips sit"),
        key(
            "grip-hole",
            Kind::Choice(|| words(GRIP_HOLES)),
            r#""tapped""#,
            "the plate is tapped, or has a clear hole and a locknut",
        ),
        key(
            "grip-thread",
            Kind::Thread,
            r#""M32x1.5""#,
            "entry thread the plate is cut for; the grip's own where absent",
        ),
        key(
            "grip-pitch",
            length(5.0, 500.0),
            r#""45 mm""#,
            "centre distance of neighbouring grips",
        ),
        key("bolt", Kind::Bolt, r#""M6x20""#, "bolts that hold the plate"),
        key("bolt-count", Kind::Count(1, 64), "6", "how many"),
        key("bolt-class", Kind::Text, r#""8.8""#, "property class of those bolts"),
        key("head", Kind::Text, r#""socket""#, "head form of those bolts"),
        key("washer", Kind::Text, r#""plain""#, "washer form under those heads, or \"none\""),
        key(
            "thread-depth",
            length(0.5, 200.0),
            r#""16 mm""#,
            "depth of full thread in the housing",
        ),
        key(
            "thread-material",
            Kind::Text,
            r#""aluminium-cast""#,
            "what the housing's holes are cut in: shelf id of a material",
        ),
        key(
            "torque",
            TORQUE,
            r#""9 N m""#,
            "torque of the plate bolts as stated by the housing's maker",
        ),
        key("o-ring", Kind::Text, r#""258""#, "dash number of the O-ring (AS568)"),
        key("groove-depth", length(0.3, 15.0), r#""2.7 mm""#, "depth of the O-ring groove"),
        key("groove-width", length(0.5, 25.0), r#""4.8 mm""#, "width of the O-ring groove"),
        key(
            "groove-inside",
            length(1.0, M),
            r#""152 mm""#,
            "inside diameter of a round groove, or the diameter of the same length for another closed path",
        ),
        key(
            "groove-tolerance",
            length(0.0, 1.0),
            r#""0.05 mm""#,
            "plus or minus on the groove's depth",
        ),
        key("hardness", Kind::Number(30.0, 95.0), "70", "hardness of the ring, Shore A"),
        key(
            "margin",
            length(0.0, 100.0),
            r#""2 mm""#,
            "from bolt heads and groove to the plate's edge, on a surveyed face",
        ),
        key("counterbore", Kind::Truth, "true", "bolt heads are sunk, on a surveyed face"),
        key(
            "grip-at",
            Kind::PlaceByName,
            r#"{ U = "-45 mm, 4 mm" }"#,
            "where grips go on a surveyed face; near their terminals where absent",
        ),
    ],
};

/// `[run.ID]`.
pub const RUN: Table = Table {
    path: "run.ID",
    what: "The cables between two ports",
    inner: &["from-end", "to-end", "section"],
    keys: &[
        key("from", Kind::Port, r#""inverter.phases""#, "the port it starts at; needed"),
        key("to", Kind::Port, r#""motor.phases""#, "the port it ends at; needed"),
        key(
            "carries",
            Kind::Choice(|| words(CARRIES)),
            r#""phases""#,
            "three phases, or a DC pair",
        ),
        key(
            "cables",
            Kind::TextByName,
            r#"{ U = "U", V = "V", W = "W" }"#,
            "from-terminal to to-terminal; by equal labels where absent",
        ),
        key(
            "length",
            length(20.0, 50.0 * M),
            r#""1.42 m""#,
            "measured path from sealing face to sealing face",
        ),
        key(
            "lengths",
            Kind::QuantityByName(Dimension::Length, 20.0, 50.0 * M),
            r#"{ U = "1.40 m" }"#,
            "the same measured for single cables, by from-terminal",
        ),
        key(
            "legs",
            Kind::Quantities(Dimension::Length, 1.0, 50.0 * M),
            r#"["40 cm", "60 cm"]"#,
            "straight distances from corner to corner, instead of length",
        ),
        key(
            "corners",
            Kind::Quantities(Dimension::Angle, 0.0, 180.0),
            r#"["90 deg"]"#,
            "angle turned at each corner between the legs",
        ),
        key(
            "bend-radius",
            length(1.0, 2.0 * M),
            r#""120 mm""#,
            "tightest bend as laid, to the cable's axis",
        ),
        key(
            "moves",
            Kind::Truth,
            "true",
            "whether the run flexes in use (a rubber-mounted motor)",
        ),
        key(
            "clip-spacing",
            length(10.0, 5.0 * M),
            r#""300 mm""#,
            "largest distance between clips",
        ),
        key(
            "first-clip",
            length(0.0, 5.0 * M),
            r#""150 mm""#,
            "distance of the first clip from the grip",
        ),
        key(
            "current",
            Kind::Quantity(Dimension::Current, 0.1, 3000.0),
            r#""180 A""#,
            "continuous current, rms or DC",
        ),
        key(
            "peak",
            Kind::Quantity(Dimension::Current, 0.1, 10_000.0),
            r#""450 A""#,
            "peak current, rms or DC",
        ),
        key(
            "peak-time",
            Kind::Quantity(Dimension::Time, 0.01, 3600.0),
            r#""10 s""#,
            "how long the peak lasts",
        ),
        key(
            "frequency",
            Kind::Quantity(Dimension::Frequency, 0.1, 5000.0),
            r#""400 Hz""#,
            "highest electrical frequency at the stated current",
        ),
        key("air", celsius(-60.0, 200.0), r#""85 degC""#, "hottest air along this run"),
        key(
            "air-speed",
            Kind::Quantity(Dimension::Speed, 0.0, 50.0),
            r#""0 m/s""#,
            "air across the cables; still air where absent",
        ),
        key(
            "lie",
            Kind::Choice(|| words(LIES)),
            r#""spaced""#,
            "how the cables lie beside each other",
        ),
        key("cable", Kind::Text, r#""flex-125""#, "cable family on the shelf"),
        key(
            "conductor",
            Kind::Size,
            r#""70 mm2""#,
            "a fixed size; the program sizes where absent",
        ),
        key(
            "sizes",
            Kind::Choice(|| words(SERIES)),
            r#""metric""#,
            "which series to size from",
        ),
        key(
            "limit",
            celsius(40.0, 300.0),
            r#""105 degC""#,
            "highest conductor temperature allowed, where lower than the cable's",
        ),
        key(
            "drop-max",
            Kind::Quantity(Dimension::Ratio, 0.0005, 0.2),
            r#""1 %""#,
            "largest voltage drop as a part of the system voltage",
        ),
        key(
            "ageing-hours",
            Kind::Number(100.0, 1e6),
            "3000",
            "hours that the insulation lasts at its limit",
        ),
        key(
            "ageing-kelvin",
            Kind::Number(3.0, 30.0),
            "10",
            "kelvin by which hotter insulation lasts half as long",
        ),
        key(
            "service-hours",
            Kind::Number(1.0, 1e6),
            "8000",
            "hours that the run is to serve at its duty",
        ),
    ],
};

/// `[[run.ID.section]]`.
pub const SECTION: Table = Table {
    path: "run.ID.section",
    what: "A part of a run with surroundings of its own, in order from its first port; what is left out is as for the run, and so is what is left of its length",
    inner: &[],
    keys: &[
        key("length", length(1.0, 100.0 * M), r#""400 mm""#, "along the cable; needed"),
        key("air", celsius(-60.0, 150.0), r#""80 degC""#, "hottest air there"),
        key(
            "air-speed",
            Kind::Quantity(Dimension::Speed, 0.0, 60.0),
            r#""2 m/s""#,
            "speed of the air across the cables",
        ),
        key("lie", Kind::Choice(|| words(LIES)), r#""trefoil""#, "how the cables lie"),
        key(
            "in",
            Kind::Choice(|| words(INSIDES)),
            r#""conduit""#,
            "what they lie in or on; free air where absent",
        ),
        key(
            "panel-temperature",
            celsius(-60.0, 150.0),
            r#""75 degC""#,
            "of the panel they are clipped to; as warm as the air where absent",
        ),
        key(
            "tube-inside",
            length(5.0, 300.0),
            r#""50 mm""#,
            "diameter inside a conduit or jacket",
        ),
        key(
            "tube-outside",
            length(5.0, 320.0),
            r#""56 mm""#,
            "diameter over a conduit or jacket",
        ),
        key("sun", Kind::Truth, "true", "the sun shines on it"),
    ],
};

/// `[run.ID.from-end]` and `[run.ID.to-end]`.
pub const END: Table = Table {
    path: "run.ID.from-end",
    what: "What all ends of a run at one port have in common; `to-end` is alike",
    inner: &[],
    keys: &[
        key("lug", Kind::Text, r#""70 mm2 M8""#, "shelf id; chosen where absent"),
        key(
            "joint-resistance",
            Kind::Quantity(Dimension::Resistance, 1e-7, 0.1),
            r#""20 uohm""#,
            "from the terminal to the cable, crimp included",
        ),
        key(
            "palm",
            Kind::Choice(|| words(PALMS)),
            r#""straight""#,
            "the palm as made, or bent at a right angle",
        ),
        key("die", Kind::Text, r#""70""#, "die code or crimp row; chosen where absent"),
        key(
            "strip",
            length(3.0, 150.0),
            r#""28 mm""#,
            "strip length; from the barrel where absent",
        ),
        key("sleeve", Kind::Text, r#""3:1 24/8""#, "shelf id; chosen where absent"),
        key(
            "sleeve-length",
            length(5.0, 500.0),
            r#""55 mm""#,
            "length as cut; computed where absent",
        ),
        key(
            "grip",
            Kind::Text,
            r#""M32x1.5 brass 14-21""#,
            "shelf id; chosen where absent and the port has a plate",
        ),
        key("bolt", Kind::Bolt, r#""M8x16""#, "bolt of the lug; length chosen where absent"),
        key("bolt-class", Kind::Text, r#""8.8""#, "its property class"),
        key("head", Kind::Text, r#""hex-flange""#, "its head form"),
        key("washer", Kind::Text, r#""none""#, "washer form under the head, or \"none\""),
        key("torque", TORQUE, r#""9 N m""#, "a torque to use; computed where absent"),
        key(
            "palm-radius",
            length(0.1, 50.0),
            r#""3 mm""#,
            "radius to the inside of a bent palm; from the tongue's thickness where absent",
        ),
        key(
            "socket",
            length(5.0, 100.0),
            r#""18 mm""#,
            "outside diameter of the socket that turns the bolt; from a table where absent",
        ),
        key(
            "straight-after-grip",
            length(0.0, 2.0 * M),
            r#""35 mm""#,
            "straight cable outside the grip before its first bend",
        ),
        key(
            "straight-after-lug",
            length(0.0, 2.0 * M),
            r#""30 mm""#,
            "straight cable behind the lug's barrel before its first bend",
        ),
        key(
            "screen",
            Kind::Choice(|| words(SCREENS)),
            r#""grip-contact""#,
            "how the screen of a screened cable ends here",
        ),
        key(
            "screen-bolt",
            Kind::Thread,
            r#""M6""#,
            "thread on the housing that a screen's pigtail lands on",
        ),
    ],
};

/// `[prices]`: any name of the kit list.
pub const PRICES: Table = Table {
    path: "prices",
    what: "Prices by the part's name in the kit list, in the build's currency, over those of parts.toml: of one piece, or of one metre of cable and sleeve",
    inner: &[],
    keys: &[key(
        "NAME",
        Kind::NumberByName(0.0, 1e6),
        "4.20",
        "price of the part with this name: \"lug 2/0 M8\", \"bolt hex M8x16 8.8\", \"label high voltage\"",
    )],
};

/// Every table, in the order of a document.
pub const TABLES: &[Table] = &[
    TOP,
    SYSTEM,
    SURROUNDINGS,
    WORKSHOP,
    VEHICLE,
    MOTOR,
    BATTERY,
    DUTY,
    DEVICE,
    PORT,
    BLOCK,
    PLATE,
    FACE,
    FACE_POINT,
    FACE_EDGE,
    FACE_READING,
    FACE_OUTLINE,
    FACE_PHOTO,
    FACE_PHOTO_POINT,
    RUN,
    SECTION,
    END,
    PROTECTION,
    BRANCH,
    FIELD,
    FIELD_POINT,
    PRICES,
];

/// A bound as a person writes it, without zeros that say nothing.
pub(crate) fn bound(value: f64, dimension: Dimension) -> String {
    if dimension == Dimension::Length && value.abs() < 1000.0 {
        return format!("{value} mm");
    }
    let text = show(value, dimension, System::Metric);
    match text.split_once(' ') {
        Some((number, unit)) if number.contains('.') => {
            let number = number.trim_end_matches('0').trim_end_matches('.');
            // A bound too small for the usual decimals is shown as it is.
            if number == "0" && value != 0.0 {
                format!("{value:e} {unit}")
            } else {
                format!("{number} {unit}")
            }
        }
        _ => text,
    }
}
