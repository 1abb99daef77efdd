//! A build as the maker wrote it: every value with its place, nothing filled in, nothing looked up.
//!
//! Read by `document`. A part is still only a name here; `parts` looks it up. An absent value is `None`
//! and stays so until a stage needs it and either assumes it aloud or calls it unknown.

use physics::laws::conductor::ConductorSize;
use physics::units::System;
use space::drawing::Drawing;

use crate::finding::Place;

/// A value and where it stands in the document.
#[derive(Clone, Debug, PartialEq)]
pub struct At<T> {
    /// The value, quantities in kept units.
    pub value: T,
    /// Where it stands.
    pub at: Place,
}

/// A value that may be absent.
pub type Maybe<T> = Option<At<T>>;

/// One vehicle's cabling job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Build {
    /// What the job is called.
    pub title: Maybe<String>,
    /// Who made the document.
    pub made_by: Maybe<String>,
    /// The day it speaks of, "2026-11-25"; printed, never computed with.
    pub date: Maybe<String>,
    /// Which system of units comes first.
    pub units: Maybe<System>,
    /// Currency of all prices.
    pub currency: Maybe<String>,
    /// The electrical system.
    pub system: SystemGiven,
    /// Air and dirt around all runs.
    pub surroundings: Surroundings,
    /// How this shop works.
    pub workshop: Workshop,
    /// The vehicle that is driven.
    pub vehicle: Option<VehicleGiven>,
    /// Its motor.
    pub motor: Option<MotorGiven>,
    /// Its battery.
    pub battery: Option<BatteryGiven>,
    /// How it is driven.
    pub duty: Option<DutyGiven>,
    /// Devices in the order written.
    pub devices: Vec<Device>,
    /// Runs in the order written.
    pub runs: Vec<Run>,
    /// Protection of the DC side.
    pub protection: Option<Protection>,
    /// Points whose magnetic field is asked for, in the order written.
    pub field_points: Vec<FieldPointGiven>,
    /// Prices by the part's name in the kit, over those of the shelf.
    pub prices: Vec<(At<String>, f64)>,
    /// Digest of the text the build was read from; set by the reader.
    pub digest: String,
}

/// `[system]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemGiven {
    /// Where the table stands.
    pub at: Place,
    /// `voltage`: nominal DC voltage, V.
    pub voltage_v: Maybe<f64>,
    /// `voltage-max`: highest DC working voltage, V.
    pub voltage_v_max: Maybe<f64>,
    /// `overvoltage-category`: 1 to 4.
    pub overvoltage_category: Maybe<u8>,
}

/// `[surroundings]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Surroundings {
    /// `air`: hottest air where no run says otherwise, degC.
    pub air_c: Maybe<f64>,
    /// `cold`: coldest air the joints meet, degC.
    pub cold_c: Maybe<f64>,
    /// `altitude`, mm (a length).
    pub altitude_mm: Maybe<f64>,
    /// `pollution-degree`: 1 to 3.
    pub pollution_degree: Maybe<u8>,
}

/// `[workshop]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Workshop {
    /// `cut-step`: cut lengths are rounded up to a multiple of this, mm.
    pub cut_step_mm: Maybe<f64>,
    /// `trim`: extra at each end for trimming square, mm.
    pub trim_mm: Maybe<f64>,
    /// `reel`: length of cable on a new reel, mm.
    pub reel_mm: Maybe<f64>,
    /// `spares`: share of small parts (bolts, washers, sleeves, O-rings) packed extra.
    pub spares: Maybe<f64>,
    /// `dies`: die codes the shop owns.
    pub dies: Maybe<Vec<At<String>>>,
    /// `friction`: friction of thread and head as fitted (dry, oiled ...).
    pub friction: Maybe<f64>,
    /// `lug-family`: which lugs are chosen from.
    pub lug_family: Maybe<&'static str>,
}

/// What a device is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeviceKind {
    /// A traction motor.
    Motor,
    /// An inverter.
    Inverter,
    /// A traction battery.
    Battery,
    /// A junction or fuse box.
    JunctionBox,
    /// A charger or converter.
    Converter,
}

/// `[device.ID]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Device {
    /// Its key.
    pub id: At<String>,
    /// `kind`.
    pub kind: Maybe<DeviceKind>,
    /// `name`: what people call it.
    pub name: Maybe<String>,
    /// Its ports in the order written.
    pub ports: Vec<Port>,
}

/// How a lug lands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Landing {
    /// A bolt goes into a tapped hole.
    Tapped,
    /// A stud stands out; a nut goes on.
    Stud,
}

/// `[device.ID.port.ID]`: where cables enter a device.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Port {
    /// Its key and where it stands.
    pub id: String,
    /// Where the table's key stands.
    pub at: Place,
    /// `terminals`: labels in the order they lie.
    pub terminals: Vec<At<String>>,
    /// `landing`.
    pub landing: Maybe<Landing>,
    /// `thread`: "M8".
    pub thread: Maybe<String>,
    /// `thread-depth`: depth of full thread, from where the thread starts, mm; or length of a stud.
    pub thread_depth_mm: Maybe<f64>,
    /// `thread-start`: how far below the landing face the thread begins (a plate or bush in between), mm.
    pub thread_start_mm: Maybe<f64>,
    /// `thread-material`: shelf id of what the thread is cut in.
    pub thread_material: Maybe<String>,
    /// `pad-material`: shelf id of what the lug's palm lies on.
    pub pad_material: Maybe<String>,
    /// `pad-roughness`: mean depth Rz of that face.
    pub pad_roughness_mm: Maybe<f64>,
    /// `pad-width`: room for a palm, mm.
    pub pad_width_mm: Maybe<f64>,
    /// `pitch`: centre distance of neighbouring terminals, mm.
    pub pitch_mm: Maybe<f64>,
    /// `wall`: from the centre of an outer terminal to the nearest wall or earthed metal of the box, mm.
    pub wall_mm: Maybe<f64>,
    /// `room-above`: from the landing face straight up to the cover, or to the plate the cables come through, mm.
    pub room_above_mm: Maybe<f64>,
    /// `creepage`: shortest way along the insulation between neighbouring terminals, mm.
    pub creepage_mm: Maybe<f64>,
    /// `insulator`: shelf id of the material between terminals.
    pub insulator: Maybe<String>,
    /// `torque`: what the terminal's maker allows, N m.
    pub torque_nm: Maybe<f64>,
    /// `inside-length`: along the cable from the sealing face to the terminal's centre, mm.
    pub inside_length_mm: Maybe<f64>,
    /// `terminal-temperature`: of the terminals when the device works hard, degC.
    pub terminal_c: Maybe<f64>,
    /// `[....block]`: the insulating block the lugs land on.
    pub block: Option<Block>,
    /// `[....plate]`: the entry plate.
    pub plate: Option<PlateGiven>,
    /// `[....face]`: the survey of the sealing face.
    pub face: Option<Face>,
}

/// `[device.ID.port.ID.face]`, or a face file: what was measured on a sealing face.
///
/// The face is seen from outside, x to the right and y up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Face {
    /// Where it stands.
    pub at: Place,
    /// `file`: a face file with the same keys, beside the build.
    pub file: Maybe<String>,
    /// `dxf`: a drawing of the face, beside the build.
    pub dxf: Maybe<String>,
    /// `svg`: the same as SVG.
    pub svg: Maybe<String>,
    /// `origin`: the point that lies at 0, 0.
    pub origin: Maybe<String>,
    /// `x-axis`: the point that lies on +x from it.
    pub x_axis: Maybe<String>,
    /// `title`: what the face is called.
    pub title: Maybe<String>,
    /// What stands in that drawing, once it is read.
    pub drawn: Option<Drawing>,
    /// `[hole.ID]`: bolt holes in the order written.
    pub holes: Vec<FacePoint>,
    /// `[terminal.ID]`.
    pub terminals: Vec<FacePoint>,
    /// `[corner.ID]`: other points, such as corners of the opening.
    pub corners: Vec<FacePoint>,
    /// `[edge.ID]`: straight edges of the face.
    pub edges: Vec<FaceEdge>,
    /// `[[reading]]`.
    pub readings: Vec<FaceReading>,
    /// `[opening]`: the hole in the housing behind the plate.
    pub opening: Option<FaceOutline>,
    /// `[outline]`: the outer edge of the sealing land.
    pub outline: Option<FaceOutline>,
    /// `[photo]`.
    pub photo: Option<FacePhoto>,
}

/// A point of a face.
#[derive(Clone, Debug, PartialEq)]
pub struct FacePoint {
    /// Its key.
    pub id: At<String>,
    /// `diameter`: a reading of it, mm.
    pub diameter_mm: Maybe<f64>,
    /// `at`: where a drawing says it lies, mm.
    pub stated_mm: Maybe<[f64; 2]>,
    /// `near`: where it lies roughly, mm; chooses between two places that fit alike.
    pub near_mm: Maybe<[f64; 2]>,
    /// `tool` the diameter was read with.
    pub tool: Maybe<Tool>,
}

/// On which side of all points an edge lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards +y.
    Above,
    /// Towards -y.
    Below,
    /// Towards -x.
    Left,
    /// Towards +x.
    Right,
}

/// `[edge.ID]`.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceEdge {
    /// Its key.
    pub id: At<String>,
    /// `side`.
    pub side: Maybe<Side>,
}

/// What a reading was taken with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tool {
    /// A calliper.
    Calliper,
    /// A steel rule.
    Rule,
    /// A tape.
    Tape,
}

/// Which key of a reading carries its value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// `centres`: from centre to centre.
    Centres,
    /// `outside`: over the far sides of two holes.
    Outside,
    /// `inside`: between the near sides of two holes.
    Inside,
    /// `centre`: from a centre to an edge or line.
    Centre,
    /// `near-side`: from the side of a hole nearest to the edge.
    NearSide,
    /// `far-side`: from the side of a hole farthest from the edge.
    FarSide,
    /// `diameter`: across a hole.
    Diameter,
}

/// `[[reading]]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FaceReading {
    /// Where it stands.
    pub at: Place,
    /// `between`: two points.
    pub between: Maybe<Vec<At<String>>>,
    /// `from`: one point.
    pub from: Maybe<String>,
    /// `edge`, to which it was read from that point.
    pub edge: Maybe<String>,
    /// `line` through two points, to which it was read square.
    pub line: Maybe<Vec<At<String>>>,
    /// `across`: the hole whose diameter was read again.
    pub across: Maybe<String>,
    /// What the tool showed, mm; one of them.
    pub values_mm: Vec<(Measure, At<f64>)>,
    /// `tool`.
    pub tool: Maybe<Tool>,
    /// `deviation`: standard deviation, mm; by the tool where absent.
    pub deviation_mm: Maybe<f64>,
}

/// A corner of an outline as given.
#[derive(Clone, Debug, PartialEq)]
pub enum OutlinePoint {
    /// A point of the face by its name.
    Named(String),
    /// A position, mm.
    Position([f64; 2]),
}

/// `[opening]` and `[outline]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FaceOutline {
    /// Where it stands.
    pub at: Place,
    /// `points` in order; with each whether the way only passes through it on an arc.
    pub points: Vec<(At<OutlinePoint>, Passing)>,
    /// `radius`: by which its corners are rounded, mm.
    pub radius_mm: Maybe<f64>,
    /// `centre` of a circle.
    pub centre: Maybe<OutlinePoint>,
    /// `diameter` of that circle, mm.
    pub diameter_mm: Maybe<f64>,
}

/// How an outline meets a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passing {
    /// It has a corner there.
    Corner,
    /// It passes through on an arc between its neighbours.
    Through,
}

/// `[photo]`: points clicked in a photograph of the face.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FacePhoto {
    /// Where it stands.
    pub at: Place,
    /// `size`: width and height of the picture, pixels.
    pub size_px: Maybe<[f64; 2]>,
    /// `distortion`: how many terms of lens distortion are fitted, 0 to 2.
    pub distortion: Maybe<u32>,
    /// `click`: standard deviation of a click, pixels.
    pub click_px: Maybe<f64>,
    /// `[photo.point.ID]`.
    pub points: Vec<PhotoPoint>,
}

/// `[photo.point.ID]`: known where it has a place, or a point of the face where it has none.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoPoint {
    /// Its key.
    pub id: At<String>,
    /// `at`: where it lies on the face, mm.
    pub at_mm: Maybe<[f64; 2]>,
    /// `pixel`.
    pub pixel: Maybe<[f64; 2]>,
}

/// `[device.ID.port.ID.block]`: spacer block.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Block {
    /// Where it stands.
    pub at: Place,
    /// `material`: shelf id.
    pub material: Maybe<String>,
    /// `bolt`: bolts that hold the block: "M5x20".
    pub bolt: Maybe<String>,
    /// `bolt-count`.
    pub bolt_count: Maybe<u32>,
    /// `head` of those bolts.
    pub head: Maybe<String>,
    /// `torque` of those bolts, N m.
    pub torque_nm: Maybe<f64>,
    /// `thickness`, mm.
    pub thickness_mm: Maybe<f64>,
    /// `bolt-at`: where its bolts go, by their names, mm on the face.
    pub bolt_at: Vec<(At<String>, At<[f64; 2]>)>,
}

/// How a cable's screen ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screen {
    /// In the contact of its grip, all round.
    GripContact,
    /// Gathered to a pigtail with a small lug on the housing.
    Pigtail,
    /// Cut back and insulated.
    None,
}

/// How a grip is held in the plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GripHole {
    /// The plate is tapped.
    Tapped,
    /// A clear hole and a locknut.
    Clear,
}

/// `[device.ID.port.ID.plate]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlateGiven {
    /// Where it stands.
    pub at: Place,
    /// `use`: a plate kept on the shop's shelf, by its id.
    pub kept: Maybe<String>,
    /// `material`: shelf id.
    pub material: Maybe<String>,
    /// `thickness`, mm.
    pub thickness_mm: Maybe<f64>,
    /// `grip-hole`.
    pub grip_hole: Maybe<GripHole>,
    /// `grip-thread`: entry thread the plate is cut for, "M32x1.5"; the grip's own where absent.
    pub grip_thread: Maybe<String>,
    /// `grip-pitch`: centre distance of neighbouring grips, mm.
    pub grip_pitch_mm: Maybe<f64>,
    /// `bolt`: "M6x20".
    pub bolt: Maybe<String>,
    /// `bolt-count`.
    pub bolt_count: Maybe<u32>,
    /// `bolt-class`.
    pub bolt_class: Maybe<String>,
    /// `head`: head form of the plate bolts.
    pub head: Maybe<String>,
    /// `washer`: washer form, or "none".
    pub washer: Maybe<String>,
    /// `thread-depth`: depth of full thread in the housing, mm.
    pub thread_depth_mm: Maybe<f64>,
    /// `thread-material`: what the housing's holes are cut in.
    pub thread_material: Maybe<String>,
    /// `torque` of the plate bolts as stated by the housing's maker, N m.
    pub torque_nm: Maybe<f64>,
    /// `o-ring`: dash number.
    pub oring: Maybe<String>,
    /// `groove-depth`, mm.
    pub groove_depth_mm: Maybe<f64>,
    /// `groove-width`, mm.
    pub groove_width_mm: Maybe<f64>,
    /// `groove-inside`: inside diameter of a round groove, or the diameter of the same length for another closed path, mm.
    pub groove_inside_mm: Maybe<f64>,
    /// `groove-tolerance`: plus or minus on the depth, mm.
    pub groove_tolerance_mm: Maybe<f64>,
    /// `hardness` of the ring, Shore A.
    pub hardness_shore_a: Maybe<f64>,
    /// `margin`: from bolt heads and groove to the plate's edge, where it is laid out on a surveyed face, mm.
    pub margin_mm: Maybe<f64>,
    /// `counterbore`: heads are sunk.
    pub counterbore: Maybe<bool>,
    /// `grip-at`: where grips go, by terminal, mm on the face; at their terminals, or near them, where absent.
    pub grip_at: Vec<(At<String>, At<[f64; 2]>)>,
}

/// What a run carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carries {
    /// Three phases.
    Phases,
    /// A DC pair.
    Dc,
}

/// How the cables of a run lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// Each by itself, a diameter or more apart, side by side.
    Spaced,
    /// Side by side, touching.
    Flat,
    /// Three touching in a triangle.
    Trefoil,
    /// One above the other, a diameter apart.
    Vertical,
}

/// `[run.ID]`: the cables between two ports.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its key.
    pub id: At<String>,
    /// `from`: "device.port".
    pub from: Maybe<String>,
    /// `to`: "device.port".
    pub to: Maybe<String>,
    /// `carries`.
    pub carries: Maybe<Carries>,
    /// `cables`: from-terminal to to-terminal, in the order written; by equal labels where absent.
    pub cables: Vec<(At<String>, At<String>)>,
    /// `length`: measured path from sealing face to sealing face, mm.
    pub length_mm: Maybe<f64>,
    /// `lengths`: the same measured for single cables, by from-terminal, mm.
    pub lengths_mm: Vec<(At<String>, At<f64>)>,
    /// `legs`: straight distances from corner to corner, mm; an alternative to `length`.
    pub legs_mm: Maybe<Vec<At<f64>>>,
    /// `corners`: angle turned at each corner between legs, deg.
    pub corners_deg: Maybe<Vec<At<f64>>>,
    /// `bend-radius`: tightest bend as laid, to the cable's axis, mm.
    pub bend_radius_mm: Maybe<f64>,
    /// `moves`: the run flexes in use (a rubber-mounted motor).
    pub moves: Maybe<bool>,
    /// `clip-spacing`: largest distance between clips, mm.
    pub clip_spacing_mm: Maybe<f64>,
    /// `first-clip`: distance of the first clip from the grip, mm.
    pub first_clip_mm: Maybe<f64>,
    /// `current`: continuous rms (or DC), A.
    pub current_a_rms: Maybe<f64>,
    /// `peak`, A.
    pub peak_a_rms: Maybe<f64>,
    /// `peak-time`: how long the peak lasts, s.
    pub peak_s: Maybe<f64>,
    /// `frequency`: highest electrical frequency at the stated current, Hz.
    pub frequency_hz: Maybe<f64>,
    /// `air`: hottest air along the run, degC.
    pub air_c: Maybe<f64>,
    /// `air-speed`, m/s; still air where absent.
    pub air_speed_m_per_s: Maybe<f64>,
    /// `lie`.
    pub lie: Maybe<Lie>,
    /// `cable`: family on the shelf.
    pub cable: Maybe<String>,
    /// `conductor`: a fixed size; the program sizes where absent.
    pub conductor: Maybe<ConductorSize>,
    /// `sizes`: "awg" or "metric": which series to size from.
    pub sizes: Maybe<Series>,
    /// `limit`: highest conductor temperature allowed, degC, where lower than the cable's.
    pub limit_c: Maybe<f64>,
    /// `drop-max`: largest voltage drop as a part of the system voltage.
    pub drop_max: Maybe<f64>,
    /// `ageing-hours`: how long the insulation lasts at its limit.
    pub ageing_hours: Maybe<f64>,
    /// `ageing-kelvin`: by how much hotter it lasts half as long.
    pub ageing_kelvin: Maybe<f64>,
    /// `service-hours`: how long the run is to be in service at its duty.
    pub service_hours: Maybe<f64>,
    /// `[[run.ID.section]]`, in order from the from-port.
    pub sections: Vec<SectionGiven>,
    /// `[run.ID.from-end]`.
    pub from_end: EndGiven,
    /// `[run.ID.to-end]`.
    pub to_end: EndGiven,
}

/// `[[run.ID.section]]`: a part of the run with surroundings of its own; what is left out is as for the run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionGiven {
    /// Where the table stands.
    pub at: Place,
    /// `length`, mm.
    pub length_mm: Maybe<f64>,
    /// `air`, degC.
    pub air_c: Maybe<f64>,
    /// `air-speed`, m/s.
    pub air_speed_m_per_s: Maybe<f64>,
    /// `lie`.
    pub lie: Maybe<Lie>,
    /// `in`.
    pub within: Maybe<Inside>,
    /// `panel-temperature`, degC; the air's where absent.
    pub panel_c: Maybe<f64>,
    /// `tube-inside`: diameter, mm.
    pub tube_inner_mm: Maybe<f64>,
    /// `tube-outside`: diameter, mm.
    pub tube_outer_mm: Maybe<f64>,
    /// `sun`: whether the sun shines on it.
    pub sun: Maybe<bool>,
}

/// What the cables of a section lie in or on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inside {
    /// Free air.
    Open,
    /// A plastic conduit.
    Conduit,
    /// A metal conduit.
    MetalConduit,
    /// Clipped along a panel.
    OnPanel,
    /// A round jacket filled with plastic.
    Jacket,
}

/// A series of conductor sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// AWG.
    Awg,
    /// IEC 60228.
    Metric,
}

/// How the palm of a lug is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Palm {
    /// As made.
    Straight,
    /// Bent at a right angle.
    Bent,
}

/// `[run.ID.from-end]` and `[run.ID.to-end]`: what all ends of the run at one port have in common.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EndGiven {
    /// Where the table stands; the run's place where there is none.
    pub at: Place,
    /// `lug`: shelf id; chosen where absent.
    pub lug: Maybe<String>,
    /// `palm`.
    pub palm: Maybe<Palm>,
    /// `die`: die code or crimp row; chosen where absent.
    pub die: Maybe<String>,
    /// `strip`: strip length, mm; from the barrel where absent.
    pub strip_mm: Maybe<f64>,
    /// `sleeve`: shelf id; chosen where absent.
    pub sleeve: Maybe<String>,
    /// `sleeve-length`: as cut, mm; computed where absent.
    pub sleeve_length_mm: Maybe<f64>,
    /// `grip`: shelf id; chosen where absent and the port has a plate.
    pub grip: Maybe<String>,
    /// `bolt`: "M8x16"; length chosen where absent.
    pub bolt: Maybe<String>,
    /// `joint-resistance`: from the terminal to the cable, crimp included, at 20 degC, ohm.
    pub joint_ohm: Maybe<f64>,
    /// `bolt-class`.
    pub bolt_class: Maybe<String>,
    /// `head`: head form.
    pub head: Maybe<String>,
    /// `washer`: washer form, or "none".
    pub washer: Maybe<String>,
    /// `torque`: a torque to use, N m; computed where absent.
    pub torque_nm: Maybe<f64>,
    /// `palm-radius`: radius to the inside of the tongue's bend, mm; chosen where absent.
    pub palm_radius_mm: Maybe<f64>,
    /// `socket`: outside diameter of the socket that turns the bolt, mm; from a table where absent.
    pub socket_mm: Maybe<f64>,
    /// `straight-after-grip`: straight cable outside the grip before its first bend, mm.
    pub straight_after_grip_mm: Maybe<f64>,
    /// `straight-after-lug`: straight cable behind the lug's barrel before its first bend, mm.
    pub straight_after_lug_mm: Maybe<f64>,
    /// `screen`: how the cable's screen ends here.
    pub screen: Maybe<Screen>,
    /// `screen-bolt`: thread the pigtail's lug lands on.
    pub screen_bolt: Maybe<String>,
}

/// `[protection]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Protection {
    /// Where it stands.
    pub at: Place,
    /// `run`: the DC run protected.
    pub run: Maybe<String>,
    /// `fuse`: shelf id; chosen where absent.
    pub fuse: Maybe<String>,
    /// `fuse-class`: class to choose from.
    pub fuse_class: Maybe<String>,
    /// `fuse-air`: air around the fuse, degC.
    pub fuse_air_c: Maybe<f64>,
    /// `source-resistance`: of the pack with its leads, ohm.
    pub source_resistance_ohm: Maybe<f64>,
    /// `source-inductance`, H.
    pub source_inductance_h: Maybe<f64>,
    /// `capacitance`: of all DC links behind the pre-charge, F.
    pub capacitance_f: Maybe<f64>,
    /// `precharge-resistance`, ohm.
    pub precharge_ohm: Maybe<f64>,
    /// `precharge-energy`: pulse energy the resistor is rated for, J.
    pub precharge_j: Maybe<f64>,
    /// `precharge-time`: after which the main contactor closes, s.
    pub precharge_s: Maybe<f64>,
    /// `discharge-resistance`: always across the link, ohm.
    pub discharge_ohm: Maybe<f64>,
    /// `discharge-time`: within which the link must be under 60 V, s.
    pub discharge_s: Maybe<f64>,
    /// `discharge-power`: rating of that resistor, W.
    pub discharge_w: Maybe<f64>,
    /// `y-capacitance`: in all, to the chassis, F.
    pub y_capacitance_f: Maybe<f64>,
    /// `contactor`: shelf id.
    pub contactor: Maybe<String>,
    /// `trip-current`: above it the battery's control opens the contactors, A.
    pub trip_a: Maybe<f64>,
    /// `trip-time`: until the contacts are open, s.
    pub trip_s: Maybe<f64>,
    /// `fuse-cycles`: how often the fuse bears the peaks.
    pub fuse_cycles: Maybe<u32>,
    /// `ac-protected`: whether the AC side may be held to the DC limit of isolation.
    pub ac_protected: Maybe<bool>,
    /// `isolation-alarm`: insulation at which the monitor warns, ohm.
    pub isolation_alarm_ohm: Maybe<f64>,
    /// `[[protection.branch]]`.
    pub branches: Vec<BranchGiven>,
}

/// `[[protection.branch]]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BranchGiven {
    /// Where it stands.
    pub at: Place,
    /// `name`: what it feeds.
    pub name: Maybe<String>,
    /// `cable`: family.
    pub cable: Maybe<String>,
    /// `conductor`: size.
    pub conductor: Maybe<ConductorSize>,
    /// `length`, one way, mm.
    pub length_mm: Maybe<f64>,
    /// `air`, degC.
    pub air_c: Maybe<f64>,
    /// `rating`: what the cable carries for ever, A.
    pub rating_a: Maybe<f64>,
    /// `current`, A.
    pub current_a: Maybe<f64>,
    /// `peak`, A.
    pub peak_a: Maybe<f64>,
    /// `peak-time`, s.
    pub peak_s: Maybe<f64>,
    /// `fuse`: shelf id; chosen where absent.
    pub fuse: Maybe<String>,
    /// `fuse-class`: class to choose from.
    pub fuse_class: Maybe<String>,
    /// `fuse-air`: air around the fuse, degC.
    pub fuse_air_c: Maybe<f64>,
}

/// `[vehicle]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct VehicleGiven {
    /// Where the table stands.
    pub at: Place,
    /// `mass` as driven, load and driver included, kg.
    pub mass_kg: Maybe<f64>,
    /// `rotating-mass`: what turning parts add when the speed changes, kg.
    pub rotating_kg: Maybe<f64>,
    /// `road-load-a`, N.
    pub road_a_n: Maybe<f64>,
    /// `road-load-b`, N/(m/s).
    pub road_b_n_per_m_s: Maybe<f64>,
    /// `road-load-c`, N/(m/s)2.
    pub road_c_n_per_m_s2: Maybe<f64>,
    /// `drag-area`, mm2.
    pub drag_area_mm2: Maybe<f64>,
    /// `rolling`.
    pub rolling: Maybe<f64>,
    /// `air-density`, kg/m3.
    pub air_kg_m3: Maybe<f64>,
    /// `trailer-mass`, kg.
    pub trailer_kg: Maybe<f64>,
    /// `trailer-drag-area`, mm2.
    pub trailer_drag_area_mm2: Maybe<f64>,
    /// `wheel-radius`, rolling, mm.
    pub wheel_radius_mm: Maybe<f64>,
    /// `gear`: turns of the motor for one of the wheel.
    pub gear: Maybe<f64>,
    /// `gear-efficiency`.
    pub gear_efficiency: Maybe<f64>,
    /// `regeneration`: share of the braking that the motor does.
    pub regeneration: Maybe<f64>,
}

/// What is known of the motor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MotorKind {
    /// Permanent magnets, by its parameters.
    Pm,
    /// Induction, by its parameters.
    Induction,
    /// The nameplate only.
    Nameplate,
}

/// `[motor]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MotorGiven {
    /// Where the table stands.
    pub at: Place,
    /// `kind`.
    pub kind: Maybe<MotorKind>,
    /// `pole-pairs`.
    pub pole_pairs: Maybe<u32>,
    /// `current-max`: phase current that motor and inverter allow, A rms.
    pub current_a_rms_max: Maybe<f64>,
    /// `speed-max`, rev/min.
    pub speed_rpm_max: Maybe<f64>,
    /// `carrier`, Hz.
    pub carrier_hz: Maybe<f64>,
    /// `inverter-efficiency`: of inverter, iron and windage together.
    pub inverter_efficiency: Maybe<f64>,
    /// `resistance` of a phase, ohm.
    pub resistance_ohm: Maybe<f64>,
    /// `ld`, H.
    pub ld_h: Maybe<f64>,
    /// `lq`, H.
    pub lq_h: Maybe<f64>,
    /// `flux`, peak, Wb.
    pub flux_wb: Maybe<f64>,
    /// `rotor-resistance`, ohm.
    pub rotor_ohm: Maybe<f64>,
    /// `magnetising-inductance`, H.
    pub magnetising_h: Maybe<f64>,
    /// `stator-leakage`, H.
    pub stator_leakage_h: Maybe<f64>,
    /// `rotor-leakage`, H.
    pub rotor_leakage_h: Maybe<f64>,
    /// `magnetising-current`, A rms.
    pub magnetising_a_rms_max: Maybe<f64>,
    /// `torque-max`, N m.
    pub torque_nm_max: Maybe<f64>,
    /// `power-max`, W.
    pub power_w_max: Maybe<f64>,
    /// `efficiency` of the motor alone.
    pub efficiency: Maybe<f64>,
}

/// `[battery]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BatteryGiven {
    /// Where the table stands.
    pub at: Place,
    /// `voltage` at no current, V.
    pub open_v: Maybe<f64>,
    /// `resistance`, ohm.
    pub resistance_ohm: Maybe<f64>,
    /// `voltage-min` under load, V.
    pub voltage_v_min: Maybe<f64>,
    /// `auxiliary`: steady load beside the motor, W.
    pub auxiliary_w: Maybe<f64>,
}

/// A case harder than a drive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hard {
    /// Stall against a kerb.
    Kerb,
    /// A long climb.
    Climb,
    /// Launch after launch.
    Launch,
    /// The greatest speed.
    TopSpeed,
}

/// `[duty]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DutyGiven {
    /// Where the table stands.
    pub at: Place,
    /// `cycle`.
    pub cycle: Maybe<super::cycles::Cycle>,
    /// `file`: a log beside the build.
    pub file: Maybe<String>,
    /// `dbc`: what the frames of a candump mean.
    pub dbc: Maybe<String>,
    /// `columns`: which column or signal is what.
    pub columns: Vec<(At<String>, At<String>)>,
    /// `units`: of columns whose names do not tell.
    pub units: Vec<(At<String>, At<String>)>,
    /// `inverted`: what is logged with the other sign.
    pub inverted: Maybe<Vec<At<String>>>,
    /// `gap`: longest pause between two rows that is bridged, s.
    pub gap_s: Maybe<f64>,
    /// `hard`.
    pub hard: Vec<At<Hard>>,
    /// `grade` of the climb.
    pub grade: Maybe<f64>,
    /// `climb-speed`, m/s.
    pub climb_m_s: Maybe<f64>,
    /// `climb-time`, s.
    pub climb_s: Maybe<f64>,
    /// `kerb-height`, mm.
    pub kerb_mm: Maybe<f64>,
    /// `kerb-time`, s.
    pub kerb_s: Maybe<f64>,
    /// `launches`.
    pub launches: Maybe<u32>,
    /// `launch-speed`, m/s.
    pub launch_m_s: Maybe<f64>,
    /// `launch-time`, s.
    pub launch_s: Maybe<f64>,
    /// `top-speed`, m/s.
    pub top_m_s: Maybe<f64>,
    /// `top-time`, s.
    pub top_s: Maybe<f64>,
    /// What was read of `file`; set by whoever reads files.
    pub log: Option<Logged>,
}

/// What a log holds of what a duty needs: one value a row in each series that is there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Logged {
    /// Time from the first row; it grows.
    pub time_s: Vec<f64>,
    /// Speed of the vehicle, m/s; empty if not logged, as all below.
    pub speed_m_s: Vec<f64>,
    /// Rise over run of the road.
    pub grade: Vec<f64>,
    /// Torque of the motor.
    pub torque_nm: Vec<f64>,
    /// Speed of the motor.
    pub speed_rpm: Vec<f64>,
    /// Phase current.
    pub phase_a_rms: Vec<f64>,
    /// Electrical frequency.
    pub frequency_hz: Vec<f64>,
    /// DC current, positive while driving.
    pub dc_a: Vec<f64>,
    /// DC voltage.
    pub dc_v: Vec<f64>,
    /// Pauses longer than is bridged: when, how long.
    pub gaps: Vec<(f64, f64)>,
    /// Rows that could not be read.
    pub rows_bad: usize,
}

/// `[field.point.ID]`.
#[derive(Clone, Debug, PartialEq)]
pub struct FieldPointGiven {
    /// Its id, and where it stands.
    pub id: At<String>,
    /// `name`.
    pub name: Maybe<String>,
    /// `distances`: from the middle of each run's cables where they pass nearest, mm.
    pub distances_mm: Vec<(At<String>, At<f64>)>,
    /// `spacings`: between neighbouring axes where a run passes, mm.
    pub spacings_mm: Vec<(At<String>, At<f64>)>,
}
