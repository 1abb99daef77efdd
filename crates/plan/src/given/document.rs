//! Reads the build document: every value with its place, every error at once.
//!
//! What is wrong is left out of the build and said; nothing is filled in.

use std::ops::Range;

use sha2::{Digest, Sha256};
use toml::de::DeTable;

use super::build::{
    At, BatteryGiven, Block, BranchGiven, Build, Device, DutyGiven, EndGiven, FieldPointGiven,
    MotorGiven, PlateGiven, Port, Protection, Run, SectionGiven, Surroundings, SystemGiven,
    VehicleGiven, Workshop,
};
use super::connect;
use super::cycles::CYCLES;
use super::face;
use super::keys;
use super::nearest::nearest;
pub use super::read::{DocumentError, ERRORS_MAX, SIZE_MAX};
use super::read::{Fields, Reader, brief, listed};

/// What was read of a document, and what was wrong with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// All that could be read.
    pub build: Build,
    /// Errors in the order of the text; a build with any is not to be built from.
    pub errors: Vec<DocumentError>,
}

/// Reads a build document.
pub fn read(text: &str) -> Reading {
    let mut reader = Reader::new(text);
    let Some(root) = reader.parse() else {
        return Reading { build: Build::default(), errors: reader.finish() };
    };
    if text.trim().is_empty() {
        let hint = "`loomwright new DIR` writes a commented one to start from".to_owned();
        reader.error(0..0, "the document is empty".to_owned(), Some(hint));
        return Reading { build: Build::default(), errors: reader.finish() };
    }
    let mut build = top(&mut reader, &root);
    build.digest = digest(&[text]);
    connect::check(&mut reader, &build);
    Reading { build, errors: reader.finish() }
}

/// SHA-256 of texts one after the other, the same for both kinds of line end.
pub fn digest(texts: &[&str]) -> String {
    let mut hash = Sha256::new();
    for text in texts {
        for (i, part) in text.split("\r\n").enumerate() {
            if i > 0 {
                hash.update(b"\n");
            }
            hash.update(part.as_bytes());
        }
        // No text has this byte, so that texts cannot run into each other.
        hash.update([0xff]);
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

fn top<'t>(reader: &mut Reader<'t>, root: &DeTable<'t>) -> Build {
    let mut f = Fields::new(reader, &keys::TOP, "", root);
    f.need("title", 0..0);
    let mut build = Build {
        title: f.text("title"),
        made_by: f.text("made-by"),
        date: f.day("date"),
        units: f.choice("units", keys::UNITS),
        currency: f.text("currency"),
        ..Build::default()
    };
    let system = f.table("system");
    let surroundings = f.table("surroundings");
    let workshop = f.table("workshop");
    let vehicle = f.table("vehicle");
    let motor = f.table("motor");
    let battery = f.table("battery");
    let duty = f.table("duty");
    let protection = f.table("protection");
    let field = f.table("field");
    let prices = f.table("prices");
    let devices = f.tables("device");
    let runs = f.tables("run");
    let reader = f.reader;
    if let Some((span, table)) = system {
        build.system = read_system(reader, span, table);
    }
    if let Some((_, table)) = surroundings {
        build.surroundings = read_surroundings(reader, table);
    }
    if let Some((_, table)) = workshop {
        build.workshop = read_workshop(reader, table);
    }
    build.vehicle = vehicle.map(|(span, t)| read_vehicle(reader, span, t));
    build.motor = motor.map(|(span, t)| read_motor(reader, span, t));
    build.battery = battery.map(|(span, t)| read_battery(reader, span, t));
    build.duty = duty.map(|(span, t)| read_duty(reader, span, t));
    build.devices = devices.into_iter().map(|(id, t)| read_device(reader, id, t)).collect();
    build.runs = runs.into_iter().map(|(id, t)| read_run(reader, id, t)).collect();
    build.protection = protection.map(|(span, t)| read_protection(reader, span, t));
    if let Some((_, table)) = field {
        build.field_points = read_field(reader, table);
    }
    if let Some((_, table)) = prices {
        build.prices = Fields::new(reader, &keys::PRICES, "prices", table).numbers_by_name();
    }
    build
}

fn read_system<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> SystemGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::SYSTEM, "system", table);
    SystemGiven {
        at,
        voltage_v: f.quantity("voltage"),
        voltage_v_max: f.quantity("voltage-max"),
        overvoltage_category: f.small("overvoltage-category"),
    }
}

fn read_surroundings<'t>(reader: &mut Reader<'t>, table: &DeTable<'t>) -> Surroundings {
    let mut f = Fields::new(reader, &keys::SURROUNDINGS, "surroundings", table);
    Surroundings {
        air_c: f.quantity("air"),
        cold_c: f.quantity("cold"),
        altitude_mm: f.quantity("altitude"),
        pollution_degree: f.small("pollution-degree"),
    }
}

fn read_workshop<'t>(reader: &mut Reader<'t>, table: &DeTable<'t>) -> Workshop {
    let mut f = Fields::new(reader, &keys::WORKSHOP, "workshop", table);
    Workshop {
        cut_step_mm: f.quantity("cut-step"),
        trim_mm: f.quantity("trim"),
        reel_mm: f.quantity("reel"),
        spares: f.quantity("spares"),
        dies: f.texts("dies"),
        friction: f.number("friction"),
        lug_family: f.choice("lug-family", keys::LUG_FAMILIES),
    }
}

fn read_vehicle<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> VehicleGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::VEHICLE, "vehicle", table);
    VehicleGiven {
        at,
        mass_kg: f.quantity("mass"),
        rotating_kg: f.quantity("rotating-mass"),
        road_a_n: f.quantity("road-load-a"),
        road_b_n_per_m_s: f.quantity("road-load-b"),
        road_c_n_per_m_s2: f.quantity("road-load-c"),
        drag_area_mm2: f.quantity("drag-area"),
        rolling: f.quantity("rolling"),
        air_kg_m3: f.quantity("air-density"),
        trailer_kg: f.quantity("trailer-mass"),
        trailer_drag_area_mm2: f.quantity("trailer-drag-area"),
        wheel_radius_mm: f.quantity("wheel-radius"),
        gear: f.number("gear"),
        gear_efficiency: f.quantity("gear-efficiency"),
        regeneration: f.quantity("regeneration"),
    }
}

fn read_motor<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> MotorGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::MOTOR, "motor", table);
    f.need("kind", span.clone());
    MotorGiven {
        at,
        kind: f.choice("kind", keys::MOTOR_KINDS),
        pole_pairs: f.count("pole-pairs"),
        current_a_rms_max: f.quantity("current-max"),
        speed_rpm_max: f.quantity("speed-max"),
        carrier_hz: f.quantity("carrier"),
        inverter_efficiency: f.quantity("inverter-efficiency"),
        resistance_ohm: f.quantity("resistance"),
        ld_h: f.quantity("ld"),
        lq_h: f.quantity("lq"),
        flux_wb: f.quantity("flux"),
        rotor_ohm: f.quantity("rotor-resistance"),
        magnetising_h: f.quantity("magnetising-inductance"),
        stator_leakage_h: f.quantity("stator-leakage"),
        rotor_leakage_h: f.quantity("rotor-leakage"),
        magnetising_a_rms_max: f.quantity("magnetising-current"),
        torque_nm_max: f.quantity("torque-max"),
        power_w_max: f.quantity("power-max"),
        efficiency: f.quantity("efficiency"),
    }
}

fn read_battery<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> BatteryGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::BATTERY, "battery", table);
    BatteryGiven {
        at,
        open_v: f.quantity("voltage"),
        resistance_ohm: f.quantity("resistance"),
        voltage_v_min: f.quantity("voltage-min"),
        auxiliary_w: f.quantity("auxiliary"),
    }
}

fn read_duty<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> DutyGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::DUTY, "duty", table);
    let duty = DutyGiven {
        at,
        cycle: f.choice("cycle", CYCLES),
        file: f.text("file"),
        dbc: f.text("dbc"),
        columns: f.texts_by_name("columns"),
        units: f.texts_by_name("units"),
        inverted: f.texts("inverted"),
        gap_s: f.quantity("gap"),
        hard: f.choices("hard", keys::HARD),
        grade: f.quantity("grade"),
        climb_m_s: f.quantity("climb-speed"),
        climb_s: f.quantity("climb-time"),
        kerb_mm: f.quantity("kerb-height"),
        kerb_s: f.quantity("kerb-time"),
        launches: f.count("launches"),
        launch_m_s: f.quantity("launch-speed"),
        launch_s: f.quantity("launch-time"),
        top_m_s: f.quantity("top-speed"),
        top_s: f.quantity("top-time"),
        log: None,
    };
    if let (Some(_), Some(file)) = (&duty.cycle, &duty.file) {
        let hint = "keep one of them: they would give two different drives".to_owned();
        f.reader.error_at(file.at, "`file` and `cycle` are both given".to_owned(), Some(hint));
    }
    let named = duty.columns.iter().chain(&duty.units).map(|(name, _)| name);
    for name in named.chain(duty.inverted.iter().flat_map(|list| &list.value)) {
        let known = || keys::LOGGED.iter().map(|(n, _)| *n);
        if known().any(|n| n == name.value) {
            continue;
        }
        let all: Vec<&str> = known().collect();
        let message =
            format!("a log is not asked for `{}`: use {}", brief(&name.value), listed(&all));
        let hint = nearest(&name.value, known()).map(|near| format!("did you mean `{near}`?"));
        f.reader.error_at(name.at, message, hint);
    }
    if let (Some(file), true) = (&duty.file, duty.columns.is_empty()) {
        let hint =
            r#"add columns = { time = "Time [s]", speed = "Velocity [km/h]" }"#.to_owned();
        let message = "[duty] has no `columns`, which say what is what in the log".to_owned();
        f.reader.error_at(file.at, message, Some(hint));
    }
    duty
}

fn read_field<'t>(reader: &mut Reader<'t>, table: &DeTable<'t>) -> Vec<FieldPointGiven> {
    let mut f = Fields::new(reader, &keys::FIELD, "field", table);
    let points = f.tables("point");
    let reader = f.reader;
    let one = |(id, table): (At<String>, &DeTable<'t>)| {
        let called = format!("field.point.{}", id.value);
        let mut f = Fields::new(reader, &keys::FIELD_POINT, &called, table);
        FieldPointGiven {
            id,
            name: f.text("name"),
            distances_mm: f.quantities_by_name("distances"),
            spacings_mm: f.quantities_by_name("spacings"),
        }
    };
    points.into_iter().map(one).collect()
}

fn read_device<'t>(reader: &mut Reader<'t>, id: At<String>, table: &DeTable<'t>) -> Device {
    let called = format!("device.{}", id.value);
    let mut f = Fields::new(reader, &keys::DEVICE, &called, table);
    let kind = f.choice("kind", keys::DEVICE_KINDS);
    let name = f.text("name");
    let ports = f.tables("port");
    let reader = f.reader;
    let ports = ports
        .into_iter()
        .map(|(port, t)| read_port(reader, port, &format!("{called}.port"), t))
        .collect();
    Device { id, kind, name, ports }
}

fn read_port<'t>(
    reader: &mut Reader<'t>,
    id: At<String>,
    called: &str,
    table: &DeTable<'t>,
) -> Port {
    let called = format!("{called}.{}", id.value);
    let mut f = Fields::new(reader, &keys::PORT, &called, table);
    let mut port = Port {
        terminals: f.texts("terminals").map(|t| t.value).unwrap_or_default(),
        landing: f.choice("landing", keys::LANDINGS),
        thread: f.text("thread"),
        thread_depth_mm: f.quantity("thread-depth"),
        thread_start_mm: f.quantity("thread-start"),
        thread_material: f.text("thread-material"),
        pad_material: f.text("pad-material"),
        pad_roughness_mm: f.quantity("pad-roughness"),
        pad_width_mm: f.quantity("pad-width"),
        pitch_mm: f.quantity("pitch"),
        wall_mm: f.quantity("wall"),
        room_above_mm: f.quantity("room-above"),
        creepage_mm: f.quantity("creepage"),
        insulator: f.text("insulator"),
        torque_nm: f.quantity("torque"),
        inside_length_mm: f.quantity("inside-length"),
        terminal_c: f.quantity("terminal-temperature"),
        block: None,
        plate: None,
        face: None,
        id: id.value,
        at: id.at,
    };
    let block = f.table("block");
    let plate = f.table("plate");
    let face = f.table("face");
    let reader = f.reader;
    port.block = block.map(|(span, t)| read_block(reader, span, &called, t));
    port.plate = plate.map(|(span, t)| read_plate(reader, span, &called, t));
    port.face =
        face.map(|(span, t)| face::read_table(reader, &span, &format!("{called}.face"), t));
    port
}

fn read_block<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    port: &str,
    table: &DeTable<'t>,
) -> Block {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::BLOCK, &format!("{port}.block"), table);
    Block {
        at,
        material: f.text("material"),
        bolt: f.text("bolt"),
        bolt_count: f.count("bolt-count"),
        head: f.text("head"),
        torque_nm: f.quantity("torque"),
        thickness_mm: f.quantity("thickness"),
        bolt_at: f.places_by_name("bolt-at"),
    }
}

/// What a kept plate says itself.
const KEPT_OWN: [&str; 13] = [
    "material",
    "thickness",
    "grip-hole",
    "grip-thread",
    "grip-pitch",
    "o-ring",
    "groove-depth",
    "groove-width",
    "groove-inside",
    "groove-tolerance",
    "margin",
    "counterbore",
    "grip-at",
];

fn read_plate<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    port: &str,
    table: &DeTable<'t>,
) -> PlateGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::PLATE, &format!("{port}.plate"), table);
    let kept = f.text("use");
    let own = table.keys().find(|k| KEPT_OWN.contains(&k.get_ref().as_ref()));
    let kept = match own.filter(|_| kept.is_some()) {
        None => kept,
        Some(key) => {
            let message = format!("`{}` is the kept plate's own", key.get_ref());
            let hint = "leave it out, or leave `use` out and state the plate".to_owned();
            f.reader.error(key.span(), message, Some(hint));
            None
        }
    };
    PlateGiven {
        at,
        kept,
        material: f.text("material"),
        thickness_mm: f.quantity("thickness"),
        grip_hole: f.choice("grip-hole", keys::GRIP_HOLES),
        grip_thread: f.text("grip-thread"),
        grip_pitch_mm: f.quantity("grip-pitch"),
        bolt: f.text("bolt"),
        bolt_count: f.count("bolt-count"),
        bolt_class: f.text("bolt-class"),
        head: f.text("head"),
        washer: f.text("washer"),
        thread_depth_mm: f.quantity("thread-depth"),
        thread_material: f.text("thread-material"),
        torque_nm: f.quantity("torque"),
        oring: f.text("o-ring"),
        groove_depth_mm: f.quantity("groove-depth"),
        groove_width_mm: f.quantity("groove-width"),
        groove_inside_mm: f.quantity("groove-inside"),
        groove_tolerance_mm: f.quantity("groove-tolerance"),
        hardness_shore_a: f.number("hardness"),
        margin_mm: f.quantity("margin"),
        counterbore: f.truth("counterbore"),
        grip_at: f.places_by_name("grip-at"),
    }
}

fn read_run<'t>(reader: &mut Reader<'t>, id: At<String>, table: &DeTable<'t>) -> Run {
    let called = format!("run.{}", id.value);
    let mut f = Fields::new(reader, &keys::RUN, &called, table);
    let header = f.reader.span(id.at);
    f.need("from", header.clone());
    f.need("to", header);
    let mut run = Run {
        from: f.text("from"),
        to: f.text("to"),
        carries: f.choice("carries", keys::CARRIES),
        cables: f.texts_by_name("cables"),
        length_mm: f.quantity("length"),
        lengths_mm: f.quantities_by_name("lengths"),
        legs_mm: f.quantities("legs"),
        corners_deg: f.quantities("corners"),
        bend_radius_mm: f.quantity("bend-radius"),
        moves: f.truth("moves"),
        clip_spacing_mm: f.quantity("clip-spacing"),
        first_clip_mm: f.quantity("first-clip"),
        current_a_rms: f.quantity("current"),
        peak_a_rms: f.quantity("peak"),
        peak_s: f.quantity("peak-time"),
        frequency_hz: f.quantity("frequency"),
        air_c: f.quantity("air"),
        air_speed_m_per_s: f.quantity("air-speed"),
        lie: f.choice("lie", keys::LIES),
        cable: f.text("cable"),
        conductor: f.size("conductor"),
        sizes: f.choice("sizes", keys::SERIES),
        limit_c: f.quantity("limit"),
        drop_max: f.quantity("drop-max"),
        ageing_hours: f.number("ageing-hours"),
        ageing_kelvin: f.number("ageing-kelvin"),
        service_hours: f.number("service-hours"),
        sections: Vec::new(),
        from_end: EndGiven { at: id.at, ..EndGiven::default() },
        to_end: EndGiven { at: id.at, ..EndGiven::default() },
        id,
    };
    let (from_end, to_end) = (f.table("from-end"), f.table("to-end"));
    let sections = f.rows("section");
    let reader = f.reader;
    if let Some((span, _)) = sections.get(SECTIONS_MAX) {
        let message = format!("run `{}` has more than {SECTIONS_MAX} sections", run.id.value);
        reader.error(span.clone(), message, Some("what follows is not read".to_owned()));
    }
    run.sections = sections
        .into_iter()
        .take(SECTIONS_MAX)
        .map(|(span, t)| read_section(reader, span, &format!("{called}.section"), t))
        .collect();
    if let Some((span, t)) = from_end {
        run.from_end = read_end(reader, span, &format!("{called}.from-end"), t);
    }
    if let Some((span, t)) = to_end {
        run.to_end = read_end(reader, span, &format!("{called}.to-end"), t);
    }
    run
}

/// More sections than anyone measures.
const SECTIONS_MAX: usize = 40;

fn read_section<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    called: &str,
    table: &DeTable<'t>,
) -> SectionGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::SECTION, called, table);
    f.need("length", span);
    SectionGiven {
        at,
        length_mm: f.quantity("length"),
        air_c: f.quantity("air"),
        air_speed_m_per_s: f.quantity("air-speed"),
        lie: f.choice("lie", keys::LIES),
        within: f.choice("in", keys::INSIDES),
        panel_c: f.quantity("panel-temperature"),
        tube_inner_mm: f.quantity("tube-inside"),
        tube_outer_mm: f.quantity("tube-outside"),
        sun: f.truth("sun"),
    }
}

fn read_end<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    called: &str,
    table: &DeTable<'t>,
) -> EndGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::END, called, table);
    EndGiven {
        at,
        lug: f.text("lug"),
        palm: f.choice("palm", keys::PALMS),
        die: f.text("die"),
        strip_mm: f.quantity("strip"),
        sleeve: f.text("sleeve"),
        sleeve_length_mm: f.quantity("sleeve-length"),
        grip: f.text("grip"),
        bolt: f.text("bolt"),
        joint_ohm: f.quantity("joint-resistance"),
        bolt_class: f.text("bolt-class"),
        head: f.text("head"),
        washer: f.text("washer"),
        torque_nm: f.quantity("torque"),
        palm_radius_mm: f.quantity("palm-radius"),
        socket_mm: f.quantity("socket"),
        straight_after_grip_mm: f.quantity("straight-after-grip"),
        straight_after_lug_mm: f.quantity("straight-after-lug"),
        screen: f.choice("screen", keys::SCREENS),
        screen_bolt: f.text("screen-bolt"),
    }
}

fn read_protection<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> Protection {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::PROTECTION, "protection", table);
    let mut protection = Protection {
        at,
        run: f.text("run"),
        fuse: f.text("fuse"),
        fuse_class: f.text("fuse-class"),
        fuse_air_c: f.quantity("fuse-air"),
        contactor: f.text("contactor"),
        trip_a: f.quantity("trip-current"),
        trip_s: f.quantity("trip-time"),
        fuse_cycles: f.count("fuse-cycles"),
        source_resistance_ohm: f.quantity("source-resistance"),
        source_inductance_h: f.quantity("source-inductance"),
        capacitance_f: f.quantity("capacitance"),
        precharge_ohm: f.quantity("precharge-resistance"),
        precharge_j: f.quantity("precharge-energy"),
        precharge_s: f.quantity("precharge-time"),
        discharge_ohm: f.quantity("discharge-resistance"),
        discharge_s: f.quantity("discharge-time"),
        discharge_w: f.quantity("discharge-power"),
        y_capacitance_f: f.quantity("y-capacitance"),
        ac_protected: f.truth("ac-protected"),
        isolation_alarm_ohm: f.quantity("isolation-alarm"),
        branches: Vec::new(),
    };
    let branches = f.rows("branch");
    let reader = f.reader;
    if let Some((span, _)) = branches.get(BRANCHES_MAX) {
        let message = format!("there are more than {BRANCHES_MAX} branches");
        reader.error(span.clone(), message, Some("what follows is not read".to_owned()));
    }
    let branches = branches.into_iter().take(BRANCHES_MAX);
    protection.branches = branches.map(|(span, t)| read_branch(reader, span, t)).collect();
    protection
}

/// More branches than any vehicle has.
const BRANCHES_MAX: usize = 20;

fn read_branch<'t>(
    reader: &mut Reader<'t>,
    span: Range<usize>,
    table: &DeTable<'t>,
) -> BranchGiven {
    let at = reader.place(&span);
    let mut f = Fields::new(reader, &keys::BRANCH, "protection.branch", table);
    f.need("name", span);
    BranchGiven {
        at,
        name: f.text("name"),
        cable: f.text("cable"),
        conductor: f.size("conductor"),
        length_mm: f.quantity("length"),
        air_c: f.quantity("air"),
        rating_a: f.quantity("rating"),
        current_a: f.quantity("current"),
        peak_a: f.quantity("peak"),
        peak_s: f.quantity("peak-time"),
        fuse: f.text("fuse"),
        fuse_class: f.text("fuse-class"),
        fuse_air_c: f.quantity("fuse-air"),
    }
}
