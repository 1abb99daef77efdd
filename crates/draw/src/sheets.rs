//! From a plan to its drawings: what is known is drawn, what is not is left away.

use physics::units::{Dimension, System, show, show_both};
use plan::Plan;
use plan::design::ends::{End, Side};
use plan::given::build::{Carries, DeviceKind, Palm};

use crate::chart::{Chart, Panel};
use crate::letters::typeset;
use crate::single_line::{Device, Run};
use crate::stack::{
    Bolt, Cable, Grip, LONGEST_MM, Landing, LandingForm, Lug, Passage, Plate, Ring, Sleeve,
    Stack, Washer,
};
use crate::strip::Strip;
use crate::svg::Drawing;

/// What a device is called where it has no other name.
pub fn kind_word(kind: Option<DeviceKind>) -> &'static str {
    match kind {
        Some(DeviceKind::Motor) => "motor",
        Some(DeviceKind::Inverter) => "inverter",
        Some(DeviceKind::Battery) => "battery",
        Some(DeviceKind::JunctionBox) => "junction box",
        Some(DeviceKind::Converter) => "converter",
        None => "kind not stated",
    }
}

/// The single-line diagram of a plan.
pub fn single_line(plan: &Plan) -> Drawing {
    let devices: Vec<Device> = plan
        .devices
        .iter()
        .map(|d| Device {
            id: d.id.clone(),
            name: d.name.clone(),
            kind: kind_word(d.kind).to_owned(),
            source: d.kind == Some(DeviceKind::Battery),
        })
        .collect();
    let runs: Vec<Run> = plan.runs.iter().map(|run| line_of(plan, run)).collect();
    crate::single_line::single_line(&devices, &runs)
}

fn line_of(plan: &Plan, run: &plan::RunFacts) -> Run {
    let units = plan.heading.units;
    let split = |name: &str| match name.split_once('.') {
        Some((device, port)) => (device.to_owned(), port.to_owned()),
        None => (name.to_owned(), String::new()),
    };
    let carries = match run.carries {
        Carries::Phases => "three phases",
        Carries::Dc => "DC pair",
    };
    let mut words = vec![format!("Run {}, {carries}", run.id)];
    let cable = plan.sizes.iter().find(|s| s.run == run.id).and_then(|s| s.cable.as_ref());
    let count = run.cables.len();
    words.push(match cable {
        Some(cable) => format!("{count} x {}", cable.row.name),
        None => format!("{count} cables, size not settled"),
    });
    let cut = plan.cuts.iter().find(|c| c.run == run.id).and_then(|c| c.cut_mm);
    if let Some(cut) = cut {
        words.push(format!("cut {}", show_both(cut, Dimension::Length, units)));
    }
    if let Some(current) = run.current_a_rms {
        words.push(format!("{} continuous", show(current, Dimension::Current, units)));
    }
    let protected = plan.protection.as_ref().filter(|p| p.run == run.id);
    let fuse = protected.and_then(|p| p.fuse.as_ref());
    let precharge = protected.and_then(|p| p.precharge.as_ref());
    Run {
        ends: [split(&run.ports[0]), split(&run.ports[1])],
        count,
        words: words.iter().map(|w| signs(w)).collect(),
        fuse: fuse.map(|f| capital(&signs(&f.row.name))),
        precharge: precharge.map(|p| {
            signs(&format!(
                "Pre-charge {}",
                show(p.resistance_ohm, Dimension::Resistance, units)
            ))
        }),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// Units as a drawing letters them.
fn signs(text: &str) -> String {
    typeset(text)
}

/// The section through one end; none while its lug or cable is not settled.
pub fn end(plan: &Plan, end: &End) -> Option<Drawing> {
    stack_of(plan, end).filter(Stack::is_drawable).map(|stack| crate::section::section(&stack))
}

/// What [`end`] draws.
pub fn stack_of(plan: &Plan, end: &End) -> Option<Stack> {
    let units = plan.heading.units;
    let lug = end.lug.as_ref()?;
    let cable = plan.sizes.iter().find(|s| s.run == end.run)?.cable.as_ref()?;
    let held = end.stack.as_ref();
    let torque = |nm: f64| signs(&show_both(nm, Dimension::Torque, units));
    let bolt = held.and_then(|s| bolt_of(s, end.torque.as_ref().map(|t| torque(t.torque_nm))));
    let washers: Vec<Washer> = held
        .and_then(|s| s.washer.as_ref())
        .map(|w| Washer {
            name: signs(&w.row.name),
            outside_mm: w.outside_mm,
            thickness_mm: w.thickness_mm,
        })
        .into_iter()
        .collect();
    let sleeve = end.sleeve.as_ref().map(|fit| Sleeve {
        name: signs(&format!(
            "{}, cut {}",
            fit.sleeve.row.name,
            show(fit.length_mm, Dimension::Length, units)
        )),
        length_mm: fit.shrunk_mm,
        wall_mm: fit.sleeve.wall_mm,
    });
    Some(Stack {
        system: units,
        landing: held.map(|s| landing_of(s, lug.palm_width_mm)),
        bolt,
        washers,
        lug: Lug {
            name: signs(&lug.row.name),
            palm_mm: lug.palm_thickness_mm,
            length_mm: lug.length_mm,
            hole_to_tip_mm: lug.hole_to_tip_mm,
            hole_mm: lug.hole_mm,
            barrel_depth_mm: lug.barrel_depth_mm,
            barrel_inside_mm: lug.barrel_inside_mm,
            barrel_outside_mm: lug.barrel_outside_mm,
            bent: end.palm == Palm::Bent,
        },
        cable: Cable {
            name: signs(&cable.row.name),
            conductor_mm: cable.conductor_diameter_mm,
            outside_mm: cable.diameter_mm(),
        },
        strip_mm: end.strip_mm,
        sleeve,
        passage: passage_of(plan, end),
    })
}

fn bolt_of(stack: &plan::design::ends::Stack, torque: Option<String>) -> Option<Bolt> {
    let torque = torque.unwrap_or_default();
    if let Some(bolt) = &stack.bolt {
        return Some(Bolt {
            name: format!(
                "{} x {:.0} {}, {}",
                bolt.thread, stack.length_mm, bolt.form, stack.class.row.id
            ),
            length_mm: stack.length_mm,
            head_height_mm: bolt.head_height_mm,
            head_diameter_mm: bolt.head_diameter_mm.max(bolt.bearing_mm),
            torque,
        });
    }
    stack.nut.as_ref().map(|nut| Bolt {
        name: format!("{} {}", nut.thread, nut.form),
        length_mm: nut.height_mm,
        head_height_mm: nut.height_mm,
        head_diameter_mm: nut.flats_mm.max(nut.bearing_mm),
        torque,
    })
}

fn landing_of(stack: &plan::design::ends::Stack, palm_width_mm: f64) -> Landing {
    let thread = match (&stack.bolt, &stack.nut) {
        (Some(bolt), _) => bolt.thread.clone(),
        (None, Some(nut)) => nut.thread.clone(),
        (None, None) => String::new(),
    };
    let thread_mm = nominal_mm(&thread);
    let form = if stack.bolt.is_some() {
        LandingForm::Tapped {
            start_mm: stack.thread_start_mm.max(0.0),
            depth_mm: stack.thread_depth_mm,
        }
    } else {
        LandingForm::Stud { height_mm: stack.length_mm }
    };
    // The pad's own width is seldom known along the cable: as wide as the palm and a little.
    let pad_mm = palm_width_mm.max(2.0 * thread_mm) + 4.0;
    Landing { thread, thread_mm, form, pad_mm }
}

/// "M10x1.25" is 10 mm; anything else is drawn as M8.
fn nominal_mm(thread: &str) -> f64 {
    let digits = thread.trim_start_matches('M');
    let number = digits.split(['x', 'X', ' ']).next().unwrap_or_default();
    number.parse().ok().filter(|d: &f64| (1.0..=64.0).contains(d)).unwrap_or(8.0)
}

fn passage_of(plan: &Plan, end: &End) -> Passage {
    let units = plan.heading.units;
    let side = match end.side {
        Side::From => 0,
        Side::To => 1,
    };
    let inside_mm =
        plan.lengths.iter().find(|l| l.run == end.run).and_then(|l| l.inside_mm[side]);
    let grip = end.grip.as_ref().map(|grip| Grip {
        name: grip.thread.clone(),
        thread_mm: nominal_mm(&grip.thread),
        thread_length_mm: grip.thread_length_mm,
        flats_mm: grip.flats_mm,
        protrusion_mm: grip.protrusion_mm,
        torque: signs(&show_both(grip.torque_nm, Dimension::Torque, units)),
    });
    let plate = plan.plates.iter().find(|p| p.port == end.port).and_then(|plate| {
        let ring = plate.seal.as_ref().map(|seal| Ring {
            name: signs(&format!("{}, groove {}", seal.oring.row.id, groove(seal, units))),
            width_mm: seal.groove_width_mm,
            depth_mm: seal.groove_depth_mm,
            section_mm: seal.oring.section_mm,
        });
        Some(Plate {
            thickness_mm: plate.thickness_mm?,
            material: plate.material.as_ref().map(|m| m.row.name.clone()).unwrap_or_default(),
            ring,
        })
    });
    Passage { inside_mm, plate, grip }
}

/// The ring in its groove; none while the seal is not settled.
pub fn ring(plate: &plan::design::plates::Plate, units: System) -> Option<Drawing> {
    let seal = plate.seal.as_ref()?;
    let ring = Ring {
        name: signs(&seal.oring.row.name),
        width_mm: seal.groove_width_mm,
        depth_mm: seal.groove_depth_mm,
        section_mm: seal.oring.section_mm,
    };
    let thickness = plate.thickness_mm.unwrap_or(3.0 * ring.depth_mm);
    let lengths = [ring.width_mm, ring.depth_mm, ring.section_mm, thickness];
    let drawable = lengths.iter().all(|mm| (0.01..=LONGEST_MM).contains(mm));
    drawable.then(|| crate::groove::groove(&ring, thickness.max(ring.depth_mm), units))
}

fn groove(seal: &plan::design::plates::Seal, units: System) -> String {
    let size = |mm: f64| show(mm, Dimension::Length, units);
    format!("{} deep, {} wide", size(seal.groove_depth_mm), size(seal.groove_width_mm))
}

/// The strip of one run; none while its cut length is unknown.
pub fn strip(plan: &Plan, run: &str) -> Option<Drawing> {
    let facts = plan.runs.iter().find(|r| r.id == run)?;
    let cut = plan.cuts.iter().find(|c| c.run == run)?;
    let [Some(inside_from), Some(inside_to)] = cut.inside_mm else { return None };
    let of = Strip {
        system: plan.heading.units,
        ports: facts.ports.clone(),
        path_mm: cut.path_mm?,
        inside_mm: [inside_from, inside_to],
        lug_mm: cut.lug_mm.map(|l| l.unwrap_or(0.0)),
        cut_mm: cut.cut_mm?,
        gripped: [Side::From, Side::To].map(|side| {
            plan.ends.iter().any(|e| e.run == run && e.side == side && e.grip.is_some())
        }),
    };
    let [from, to] = of.inside_mm;
    let [lug_from, lug_to] = of.lug_mm;
    let lengths = [of.path_mm, of.cut_mm, from, to, lug_from, lug_to];
    let drawable = lengths.iter().all(|mm| mm.is_finite() && *mm >= 0.0);
    drawable.then(|| crate::strip::strip(&of))
}

/// Warming of the hottest cable of one run, and its peak, against the limit; none where it was not computed.
pub fn heat(plan: &Plan, run: &str) -> Option<Drawing> {
    let heat = plan.sizes.iter().find(|s| s.run == run)?.heat.as_ref()?;
    let units = plan.heading.units;
    let degrees = |c: f64| match units {
        System::Metric => c,
        System::Us => c * 1.8 + 32.0,
    };
    let unit = match units {
        System::Metric => "°C",
        System::Us => "°F",
    };
    let amps = |a: f64| show(a, Dimension::Current, units);
    let timed = |points: &[(f64, f64)], unit_s: f64| {
        points.iter().map(|p| (p.0 / unit_s, degrees(p.1))).collect::<Vec<_>>()
    };
    let mut panels = vec![Panel {
        name: format!("warming at {}", amps(heat.current_a_rms)),
        across: "minutes from cold".to_owned(),
        points: timed(&heat.warming, 60.0),
        share: 0.65,
        dashed: false,
    }];
    if let Some(peak) = &heat.peak {
        panels.push(Panel {
            name: format!("then {}", amps(peak.current_a_rms)),
            across: "seconds of the peak".to_owned(),
            points: timed(&peak.curve, 1.0),
            share: 0.35,
            dashed: true,
        });
    }
    let level = |name: &str, c: f64| {
        (signs(&format!("{name} {}", show(c, Dimension::Temperature, units))), degrees(c))
    };
    let chart = Chart {
        upright: format!("conductor of {}, {unit}", heat.cable),
        panels,
        levels: vec![level("limit", heat.limit_c), level("air", heat.air_c)],
    };
    crate::chart::chart(&chart)
}

/// The hottest conductor of one run over its duty: what repeats, then each hard case from warm; none where no duty
/// was driven.
pub fn driven(plan: &Plan, run: &str) -> Option<Drawing> {
    let heat = plan.sizes.iter().find(|s| s.run == run)?.heat.as_ref()?;
    let driven = heat.driven.as_ref()?;
    let units = plan.heading.units;
    let (unit, degrees): (&str, fn(f64) -> f64) = match units {
        System::Metric => ("°C", |c| c),
        System::Us => ("°F", |c| c * 1.8 + 32.0),
    };
    let panels = driven.curves.iter().enumerate().map(|(i, (name, curve))| {
        let last_s = curve.last().map_or(0.0, |p| p.0);
        let (across, per) =
            if last_s < MINUTES_FROM_S { ("seconds", 1.0) } else { ("minutes", 60.0) };
        Panel {
            name: name.clone(),
            across: across.to_owned(),
            points: curve.iter().map(|p| (p.0 / per, degrees(p.1))).collect(),
            // The first is the drive, where there is one, and the longest of all.
            share: if i == 0 { 2.0 } else { 1.0 },
            dashed: i % 2 == 1,
        }
    });
    let limit = show(heat.limit_c, Dimension::Temperature, units);
    crate::chart::chart(&Chart {
        upright: format!("hottest conductor, {unit}"),
        panels: panels.collect(),
        levels: vec![(signs(&format!("limit {limit}")), degrees(heat.limit_c))],
    })
}

/// Stretches from here on are told in minutes.
const MINUTES_FROM_S: f64 = 240.0;

/// Temperature along one run with its band and its sections; none where it was not computed.
pub fn along(plan: &Plan, run: &str) -> Option<Drawing> {
    let heat = plan.sizes.iter().find(|s| s.run == run)?.heat.as_ref()?;
    let profile = heat.profile.as_ref()?;
    let facts = plan.runs.iter().find(|r| r.id == run)?;
    let units = plan.heading.units;
    let degrees = |c: f64| match units {
        System::Metric => c,
        System::Us => c * 1.8 + 32.0,
    };
    let (unit, length, per_m) = match units {
        System::Metric => ("°C", "m", 1.0),
        System::Us => ("°F", "ft", 1.0 / 0.3048),
    };
    let spots = &profile.spots;
    crate::profile::along(&crate::profile::Along {
        upright: format!("conductor of {}, {unit}", heat.cable),
        across: format!("{length} from {}", facts.ports[0]),
        steady: spots.iter().map(|s| (s.at_m * per_m, degrees(s.steady_c))).collect(),
        hottest: spots
            .iter()
            .filter_map(|s| Some((s.at_m * per_m, degrees(s.hottest_c?))))
            .collect(),
        band: spots
            .iter()
            .filter_map(|s| Some((s.at_m * per_m, degrees(s.low_c?), degrees(s.high_c?))))
            .collect(),
        sections: profile
            .sections
            .iter()
            .map(|s| (s.from_m * per_m, s.to_m * per_m, s.name.clone()))
            .collect(),
        limit: (
            signs(&format!("limit {}", show(heat.limit_c, Dimension::Temperature, units))),
            degrees(heat.limit_c),
        ),
    })
}

/// What one run carries for how long; none where it was not computed.
pub fn ratings(plan: &Plan, run: &str) -> Option<Drawing> {
    let heat = plan.sizes.iter().find(|s| s.run == run)?.heat.as_ref()?;
    let rated = &heat.profile.as_ref()?.ratings;
    let timed = |of: fn(&plan::design::profile::RatingFor) -> Option<f64>| {
        rated.iter().filter_map(|r| Some((r.seconds?, of(r)?))).collect::<Vec<_>>()
    };
    let for_ever = rated.iter().find(|r| r.seconds.is_none()).and_then(|r| r.cold_a);
    crate::profile::ratings(&crate::profile::Ratings {
        upright: "current, A rms".to_owned(),
        cold: timed(|r| r.cold_a),
        warm: timed(|r| r.warm_a),
        for_ever: for_ever.map(|a| {
            (format!("{} for ever", show(a, Dimension::Current, plan.heading.units)), a)
        }),
    })
}

/// Fuse, cable, faults and load of a run or a branch over each other; none where there is no fuse.
pub fn coordination(plan: &Plan, name: &str) -> Option<Drawing> {
    let protection = plan.protection.as_ref()?;
    let branches = protection.branches.iter().filter_map(|b| b.coordination.as_ref());
    let of = protection.coordination.iter().chain(branches).find(|c| c.name == name)?;
    let guards = of.guard.as_ref().and_then(|g| {
        let from_a = g.from_a?;
        let words = format!(
            "fuse protects from {}",
            show(from_a, Dimension::Current, plan.heading.units)
        );
        Some(((from_a, g.from_bears_s?), words))
    });
    crate::coordination::coordination(&crate::coordination::Coordination {
        fuse: of.fuse.clone(),
        melts: of.melts.clone(),
        clears: of.clears.clone(),
        bears: of.bears.clone(),
        faults: of.faults.iter().map(|f| f.points.clone()).collect(),
        loads: of.loads.iter().map(|l| ((l.rms_a, l.seconds), l.may_a)).collect(),
        trip: of.trip_line(),
        guards,
    })
}

/// Voltage of the link as it is charged through the resistor; none where that is not known.
pub fn precharge(plan: &Plan, run: &str) -> Option<Drawing> {
    let protection = plan.protection.as_ref().filter(|p| p.run == run)?;
    let precharge = protection.precharge.as_ref()?;
    let volts = plan.heading.voltage_v[1].or(plan.heading.voltage_v[0]);
    let closes = show(precharge.close_s, Dimension::Time, plan.heading.units);
    crate::chart::chart(&Chart {
        upright: "link, V".to_owned(),
        panels: vec![Panel {
            name: format!("the contactor closes after {closes}"),
            across: "seconds".to_owned(),
            points: precharge.curve.clone(),
            share: 1.0,
            dashed: false,
        }],
        levels: volts.map(|v| (format!("pack {v:.0} V"), v)).into_iter().collect(),
    })
}

/// Voltage of the link as it is discharged; none where nothing discharges it.
pub fn discharge(plan: &Plan, run: &str) -> Option<Drawing> {
    let protection = plan.protection.as_ref().filter(|p| p.run == run)?;
    let discharge = protection.discharge.as_ref()?;
    let ohm = signs(&show(discharge.resistance_ohm, Dimension::Resistance, plan.heading.units));
    crate::chart::chart(&Chart {
        upright: "link, V".to_owned(),
        panels: vec![Panel {
            name: format!("through {ohm}"),
            across: "seconds after the contactors open".to_owned(),
            points: discharge.curve.clone(),
            share: 1.0,
            dashed: false,
        }],
        levels: vec![("60 V".to_owned(), plan::design::protect::TOUCH_V)],
    })
}
