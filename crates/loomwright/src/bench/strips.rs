//! Every run of a plan laid out straight and to scale.

use draw::sheets::stack_of;
use physics::units::{Dimension, show, show_both};
use plan::Plan;
use plan::design::ends::Side;
use plan::finding::About;
use plan::given::build::{Build, Run};

use super::outcome::Outcome;
use super::shapes::{self, EndOutlines, Outline};
use crate::wire::{
    self, MeasureWire, NoticeWire, ShapeKindWire, ShapeWire, StripHeatWire, StripSectionWire,
    StripSpotWire, StripWire, StripsWire,
};

/// Drawn where the length is not known; said to be so.
const INVENTED_MM: f64 = 1000.0;
/// Drawn for an inside length that is not known.
const INSIDE_MM: f64 = 60.0;
/// Along the cable.
const CLIP_MM: f64 = 16.0;

/// All strips of a version.
pub(crate) fn strips(outcome: &Outcome) -> StripsWire {
    let strips = match &outcome.planned {
        Some(p) => (0..p.plan.runs.len())
            .map(|run| strip(&p.build, &p.plan, &p.file, &outcome.notices, run))
            .collect(),
        None => Vec::new(),
    };
    StripsWire { version: outcome.version, of: outcome.of, strips }
}

/// Where the run lies: its length, its faces, and what is not known of them.
struct Length {
    whole_mm: f64,
    faces_mm: [f64; 2],
    path_mm: Option<f64>,
    inside_mm: [Option<f64>; 2],
    unknown: Option<String>,
}

fn length(plan: &Plan, run: &str) -> Length {
    let found = plan.lengths.iter().find(|l| l.run == run);
    let (path_mm, inside_mm) = found.map_or((None, [None, None]), |l| (l.path_mm, l.inside_mm));
    let inside = inside_mm.map(|i| i.unwrap_or(INSIDE_MM));
    let whole_mm = inside[0] + path_mm.unwrap_or(INVENTED_MM) + inside[1];
    let mut unknown = Vec::new();
    if path_mm.is_none() {
        unknown.push("its path is not stated");
    }
    if inside_mm.contains(&None) {
        unknown.push("a length inside a box is not stated");
    }
    Length {
        whole_mm,
        faces_mm: [inside[0], whole_mm - inside[1]],
        path_mm,
        inside_mm,
        unknown: (!unknown.is_empty()).then(|| unknown.join("; ")),
    }
}

/// The outlines of both ends of one cable.
struct Lane {
    cable: String,
    y_mm: f64,
    ends: [Option<EndOutlines>; 2],
    outside_mm: f64,
}

fn strip(
    build: &Build,
    plan: &Plan,
    file: &str,
    notices: &[NoticeWire],
    run: usize,
) -> StripWire {
    let facts = &plan.runs[run];
    let given = build.runs.iter().find(|r| r.id.value == facts.id);
    let length = length(plan, &facts.id);
    let lanes = lanes(plan, run, &length);
    let mut shapes = Shapes { run: &facts.id, ports: &facts.ports, notices, all: Vec::new() };
    let half = reach(&lanes);
    boxes_and_plates(plan, &length, half, &mut shapes);
    for lane in &lanes {
        cable(lane, &length, &mut shapes);
        for (side, end) in lane.ends.iter().enumerate() {
            if let Some(end) = end {
                ends(lane, side, end, &length, &mut shapes);
            }
        }
    }
    if let Some(given) = given {
        clips(plan, given, &lanes, &length, &mut shapes);
    }
    let sized = plan.sizes.iter().find(|s| s.run == facts.id);
    let cable = sized.and_then(|s| s.cable.as_ref());
    let name = |port: &str| {
        let id = port.split('.').next().unwrap_or_default();
        let device = plan.devices.iter().find(|d| d.id == id);
        device.map_or_else(|| port.to_owned(), |d| d.name.clone())
    };
    StripWire {
        run: facts.id.clone(),
        carries: wire::carries(facts.carries),
        from: facts.ports[0].clone(),
        to: facts.ports[1].clone(),
        from_name: name(&facts.ports[0]),
        to_name: name(&facts.ports[1]),
        length_mm: length.whole_mm,
        faces_mm: length.faces_mm,
        y_mm: shapes.reach(),
        cut_mm: plan.cuts.iter().find(|c| c.run == facts.id).and_then(|c| c.cut_mm),
        cable: cable.map(|c| format!("{} x {}", facts.cables.len(), c.row.name)),
        shapes: shapes.all,
        heat: sized.and_then(|s| s.heat.as_ref()).map(|h| heat(plan, h)),
        sections: sections(plan, &facts.id, given),
        measures: measures(plan, &facts.id, given, &length),
        at: given.and_then(|g| wire::at(g.id.at, file)),
        unknown: length.unknown,
    }
}

fn lanes(plan: &Plan, run: usize, length: &Length) -> Vec<Lane> {
    let facts = &plan.runs[run];
    let faces = [length.faces_mm[0], length.whole_mm - length.faces_mm[1]];
    let mut lanes: Vec<Lane> = facts
        .cables
        .iter()
        .map(|pair| {
            let stack = |side| {
                let end = plan
                    .ends
                    .iter()
                    .find(|e| e.run == facts.id && e.cable == pair.from && e.side == side)?;
                stack_of(plan, end).filter(draw::stack::Stack::is_drawable)
            };
            let stacks = [stack(Side::From), stack(Side::To)];
            let outside = stacks.iter().flatten().map(|s| s.cable.outside_mm).next();
            let [from, to] = stacks;
            Lane {
                cable: pair.from.clone(),
                y_mm: 0.0,
                ends: [
                    from.map(|s| shapes::end(&s, Some(faces[0]))),
                    to.map(|s| shapes::end(&s, Some(faces[1]))),
                ],
                outside_mm: outside.unwrap_or(12.0),
            }
        })
        .collect();
    let widest = lanes.iter().map(half_of).fold(0.0, f64::max);
    let stated = plan.plates.iter().filter(|p| facts.ports.contains(&p.port));
    let stated = stated.filter_map(|p| p.grip_pitch_mm).fold(0.0, f64::max);
    let pitch = stated.max(2.0 * widest + 4.0);
    let middle = (lanes.len().max(1) - 1) as f64 / 2.0;
    for (i, lane) in lanes.iter_mut().enumerate() {
        lane.y_mm = (middle - i as f64) * pitch;
    }
    lanes
}

fn half_of(lane: &Lane) -> f64 {
    let ends = lane.ends.iter().flatten().map(|e| e.half_mm);
    ends.fold(lane.outside_mm / 2.0, f64::max)
}

fn reach(lanes: &[Lane]) -> f64 {
    lanes.iter().map(|l| l.y_mm.abs() + half_of(l)).fold(10.0, f64::max) + 6.0
}

/// Shapes as they are gathered, each with the findings that mean it.
struct Shapes<'a> {
    run: &'a str,
    ports: &'a [String; 2],
    notices: &'a [NoticeWire],
    all: Vec<ShapeWire>,
}

impl Shapes<'_> {
    fn push(
        &mut self,
        id: String,
        kind: ShapeKindWire,
        text: String,
        outline: Vec<[f64; 2]>,
        about: &About,
    ) {
        let means = |n: &&NoticeWire| meant(kind, n.finding.code) && near(about, n);
        let findings = self.notices.iter().filter(means).map(|n| n.id.clone()).collect();
        let about = wire::about(about);
        self.all.push(ShapeWire { id, kind, text, outline, about, findings });
    }

    fn reach(&self) -> [f64; 2] {
        let heights = || self.all.iter().flat_map(|s| s.outline.iter().map(|c| c[1]));
        [heights().fold(-10.0, f64::min), heights().fold(10.0, f64::max)]
    }
}

/// Whether a finding of that code is about a part of this kind.
fn meant(kind: ShapeKindWire, code: &str) -> bool {
    let begins: &[&str] = match kind {
        ShapeKindWire::Box => &["wall", "room-above", "tool-access", "survey"],
        ShapeKindWire::Terminal => &["terminal", "pad", "insulation-voltage"],
        ShapeKindWire::Cable => &[
            "conductor",
            "duty",
            "peak",
            "voltage-drop",
            "bend",
            "length",
            "reel",
            "section",
            "ageing",
            "air",
            "band",
            "limit",
            "cover",
            "screen",
            "straight",
            "insulation",
            "phase",
            "current",
            "fuse-cable",
        ],
        ShapeKindWire::Conductor => &["strip-length", "lug-conductor"],
        ShapeKindWire::Lug => {
            &["lug", "palm", "crimp", "joint", "straight-after-lug", "marked"]
        }
        ShapeKindWire::Bolt => &["bolt", "torque", "preload", "tool-access"],
        ShapeKindWire::Washer => &["washer", "pad-pressure"],
        ShapeKindWire::Sleeve => &["sleeve"],
        ShapeKindWire::Plate => &["plate", "seal", "groove", "ring", "block"],
        ShapeKindWire::Groove => &["seal", "groove", "ring"],
        ShapeKindWire::Grip => &["grip", "straight-after-grip"],
        ShapeKindWire::Clip => &["clip", "first-clip"],
    };
    begins.iter().any(|start| code.starts_with(start))
}

/// Whether a finding speaks of the same place, as far as both say.
fn near(about: &About, notice: &NoticeWire) -> bool {
    let of = &notice.finding.about;
    let meets = |a: &Option<String>, b: &Option<String>| a.is_none() || b.is_none() || a == b;
    let speaks = of.run.is_some() || of.port.is_some();
    speaks
        && meets(&about.run, &of.run)
        && meets(&about.cable, &of.cable)
        && meets(&about.port, &of.port)
}

fn boxes_and_plates(plan: &Plan, length: &Length, half: f64, shapes: &mut Shapes<'_>) {
    let ports = shapes.ports;
    for (side, port) in ports.iter().enumerate() {
        let word = ["from", "to"][side];
        let mirror = |x: f64| if side == 0 { x } else { length.whole_mm - x };
        let face =
            if side == 0 { length.faces_mm[0] } else { length.whole_mm - length.faces_mm[1] };
        let slab = |from: f64, to: f64, half: f64| {
            vec![
                [mirror(from), -half],
                [mirror(to), -half],
                [mirror(to), half],
                [mirror(from), half],
            ]
        };
        let about = About::end(shapes.run, None, port);
        let back = -(22.0_f64.max(0.3 * face));
        shapes.push(
            format!("{word}/box"),
            ShapeKindWire::Box,
            port.clone(),
            slab(back, face, half + 8.0),
            &about,
        );
        let Some(plate) = plan.plates.iter().find(|p| p.port == *port) else { continue };
        let Some(thickness) = plate.thickness_mm else { continue };
        let material = plate.material.as_ref().map_or("", |m| m.row.name.as_str());
        let words = show(thickness, Dimension::Length, plan.heading.units);
        shapes.push(
            format!("{word}/plate"),
            ShapeKindWire::Plate,
            format!("entry plate, {words} {material}"),
            slab(face, face + thickness, half + 3.0),
            &about,
        );
        let Some(seal) = &plate.seal else { continue };
        let at = half - 1.0;
        let (near, far) = (at - seal.groove_width_mm / 2.0, at + seal.groove_width_mm / 2.0);
        for (name, sign) in [("upper", 1.0), ("lower", -1.0)] {
            let outline = [(face, near), (face + seal.groove_depth_mm, near)]
                .into_iter()
                .chain([(face + seal.groove_depth_mm, far), (face, far)])
                .map(|(x, y)| [mirror(x), sign * y])
                .collect();
            let text = format!("O-ring {} in its groove", seal.oring.row.id);
            let id = format!("{word}/groove-{name}");
            shapes.push(id, ShapeKindWire::Groove, text, outline, &about);
        }
    }
}

fn cable(lane: &Lane, length: &Length, shapes: &mut Shapes<'_>) {
    let from = lane.ends[0].as_ref().map_or(0.0, |e| e.insulation_mm);
    let to = length.whole_mm - lane.ends[1].as_ref().map_or(0.0, |e| e.insulation_mm);
    let (y, half) = (lane.y_mm, lane.outside_mm / 2.0);
    let outline = vec![[from, y - half], [to, y - half], [to, y + half], [from, y + half]];
    let about = About::cable(shapes.run, &lane.cable);
    let text = format!("cable {}", lane.cable);
    shapes.push(format!("cable/{}", lane.cable), ShapeKindWire::Cable, text, outline, &about);
}

fn ends(lane: &Lane, side: usize, end: &EndOutlines, length: &Length, shapes: &mut Shapes<'_>) {
    let about = About::end(shapes.run, Some(&lane.cable), &shapes.ports[side]);
    let word = ["from", "to"][side];
    for Outline { kind, name, text, corners } in &end.parts {
        let outline = corners
            .iter()
            .map(|[x, y]| {
                let x = if side == 0 { *x } else { length.whole_mm - x };
                [x, y + lane.y_mm]
            })
            .collect();
        let id = format!("{word}/{}/{name}", lane.cable);
        shapes.push(id, *kind, text.clone(), outline, &about);
    }
}

/// Clips between the first ones, no farther apart than stated.
fn clips(plan: &Plan, given: &Run, lanes: &[Lane], length: &Length, shapes: &mut Shapes<'_>) {
    let (Some(first), Some(apart)) = (&given.first_clip_mm, &given.clip_spacing_mm) else {
        return;
    };
    if length.path_mm.is_none() || !(apart.value > 0.0) || !(first.value >= 0.0) {
        return;
    }
    let grip = |lane: &Lane, side: usize| {
        let parts = lane.ends[side].as_ref().map(|e| e.parts.as_slice()).unwrap_or_default();
        let xs =
            parts.iter().filter(|p| p.kind == ShapeKindWire::Grip).flat_map(|p| &p.corners);
        xs.map(|c| c[0]).fold(length.faces_mm[0].min(length.whole_mm), f64::max)
    };
    let out = |side: usize| lanes.iter().map(|l| grip(l, side)).fold(0.0, f64::max);
    let begin = out(0) + first.value;
    let end = length.whole_mm - out(1) - first.value;
    if !(begin < end) {
        return;
    }
    let spans = ((end - begin) / apart.value).ceil().clamp(1.0, 200.0);
    let half =
        lanes.iter().map(|l| l.y_mm.abs() + l.outside_mm / 2.0).fold(0.0, f64::max) + 4.0;
    let about = About::run(shapes.run);
    let system = plan.heading.units;
    for i in 0..=(spans as usize) {
        let x = begin + (end - begin) * i as f64 / spans;
        let outline = vec![
            [x - CLIP_MM / 2.0, -half],
            [x + CLIP_MM / 2.0, -half],
            [x + CLIP_MM / 2.0, half],
            [x - CLIP_MM / 2.0, half],
        ];
        let text = format!("clip at {}", show(x, Dimension::Length, system));
        shapes.push(format!("clip/{i}"), ShapeKindWire::Clip, text, outline, &about);
    }
}

fn heat(plan: &Plan, heat: &plan::design::settle::Heat) -> StripHeatWire {
    let spots: Vec<StripSpotWire> = heat.profile.as_ref().map_or_else(Vec::new, |p| {
        let spot = |s: &plan::design::profile::Spot| StripSpotWire {
            x_mm: s.at_m * 1000.0,
            steady_c: s.steady_c,
            hottest_c: s.hottest_c,
            low_c: s.low_c,
            high_c: s.high_c,
        };
        p.spots.iter().map(spot).collect()
    });
    let hottest = spots.iter().max_by(|a, b| a.steady_c.total_cmp(&b.steady_c));
    let steady_c = hottest.map(|s| s.steady_c).or(heat.conductor_c);
    let margin_k = steady_c.map(|c| heat.limit_c - c);
    let all = spots
        .iter()
        .flat_map(|s| [Some(s.steady_c), s.hottest_c, s.low_c, s.high_c].into_iter().flatten());
    let all: Vec<f64> = all.chain([heat.air_c, heat.limit_c]).collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    StripHeatWire {
        cable: heat.cable.clone(),
        limit_c: heat.limit_c,
        air_c: heat.air_c,
        range_c: [(least / 10.0).floor() * 10.0, (most / 10.0).ceil() * 10.0],
        hottest_mm: hottest.map(|s| s.x_mm),
        margin_text: margin_k.map(|k| show_both(k, Dimension::Rise, plan.heading.units)),
        margin_k,
        spots,
    }
}

fn sections(plan: &Plan, run: &str, given: Option<&Run>) -> Vec<StripSectionWire> {
    let heat = plan.sizes.iter().find(|s| s.run == run).and_then(|s| s.heat.as_ref());
    let Some(profile) = heat.and_then(|h| h.profile.as_ref()) else { return Vec::new() };
    let system = plan.heading.units;
    profile
        .sections
        .iter()
        .map(|s| {
            let own = s.given.and_then(|i| given?.sections.get(i)?.air_c.as_ref());
            let air = own.or(given.and_then(|g| g.air_c.as_ref())).map(|a| a.value);
            let air =
                air.map(|c| format!("; air {}", show_both(c, Dimension::Temperature, system)));
            let hot = show_both(s.steady_c, Dimension::Temperature, system);
            StripSectionWire {
                name: s.name.clone(),
                from_mm: s.from_m * 1000.0,
                to_mm: s.to_m * 1000.0,
                steady_c: Some(s.steady_c),
                text: format!("{}: conductor {hot}{}", s.name, air.unwrap_or_default()),
            }
        })
        .collect()
}

fn measures(plan: &Plan, run: &str, given: Option<&Run>, length: &Length) -> Vec<MeasureWire> {
    let system = plan.heading.units;
    let text = |mm: f64| show_both(mm, Dimension::Length, system);
    let unknown = || "not stated".to_owned();
    let key = |path: &[&str]| Some(path.iter().map(|p| (*p).to_owned()).collect());
    let inside = |side: usize| {
        let port = plan.runs.iter().find(|r| r.id == run).map(|r| r.ports[side].as_str());
        let (device, port) = port.and_then(|p| p.split_once('.'))?;
        key(&["device", device, "port", port, "inside-length"])
    };
    let mut all = vec![
        MeasureWire {
            from_mm: 0.0,
            to_mm: length.faces_mm[0],
            text: length.inside_mm[0].map_or_else(unknown, text),
            path: inside(0),
        },
        MeasureWire {
            from_mm: length.faces_mm[0],
            to_mm: length.faces_mm[1],
            text: length.path_mm.map_or_else(unknown, text),
            path: match given {
                Some(g) if !g.lengths_mm.is_empty() || g.legs_mm.is_some() => None,
                _ => key(&["run", run, "length"]),
            },
        },
        MeasureWire {
            from_mm: length.faces_mm[1],
            to_mm: length.whole_mm,
            text: length.inside_mm[1].map_or_else(unknown, text),
            path: inside(1),
        },
    ];
    let cut = plan.cuts.iter().find(|c| c.run == run).and_then(|c| Some((c, c.cut_mm?)));
    if let Some((cut, mm)) = cut {
        let ends = cut.lug_mm.map(|l| l.unwrap_or(0.0));
        all.push(MeasureWire {
            from_mm: ends[0],
            to_mm: length.whole_mm - ends[1],
            text: format!("cut {}", text(mm)),
            path: None,
        });
    }
    all
}

/// The build as a small picture: its devices and the runs between them.
pub(crate) fn picture(plan: &Plan) -> String {
    draw::sheets::single_line(plan).svg
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;
    use std::path::Path;

    use super::*;
    use crate::bench::outcome::outcome;
    use crate::builds;

    fn example(name: &str) -> StripsWire {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../builds").join(name);
        let document = path.join("build.toml");
        strips(&outcome(builds::read, &document, &BTreeMap::new(), 1, &[], None))
    }

    #[test]
    fn parts_lie_in_the_order_in_which_a_hand_meets_them() {
        for strip in example("orchard-truck").strips {
            let at = |id: &str| -> Option<f64> {
                let shape = strip.shapes.iter().find(|s| s.id == id)?;
                let xs = shape.outline.iter().map(|c| c[0]);
                Some(
                    xs.clone().fold(f64::INFINITY, f64::min) / 2.0
                        + xs.fold(f64::NEG_INFINITY, f64::max) / 2.0,
                )
            };
            let cable = strip.shapes.iter().find(|s| s.kind == ShapeKindWire::Cable).unwrap();
            let label = cable.id.trim_start_matches("cable/");
            let parts =
                ["bolt", "lug", "sleeve", "grip"].map(|p| at(&format!("from/{label}/{p}")));
            let found: Vec<f64> = parts.into_iter().flatten().collect();
            assert!(found.len() >= 3 && found.is_sorted(), "{}: {found:?}", strip.run);
            let far = ["grip", "sleeve", "lug", "bolt"].map(|p| at(&format!("to/{label}/{p}")));
            let far: Vec<f64> = far.into_iter().flatten().collect();
            assert!(far.len() >= 3 && far.is_sorted(), "{}: {far:?}", strip.run);
        }
    }

    #[test]
    fn the_strip_is_as_long_as_the_run() {
        let strips = example("orchard-truck").strips;
        let phases = &strips[0];
        assert_eq!(phases.length_mm, 72.0 + 2360.0 + 88.0);
        assert_eq!(phases.faces_mm, [72.0, 72.0 + 2360.0]);
        let heat = phases.heat.as_ref().unwrap();
        let last = heat.spots.last().unwrap();
        assert!((last.x_mm - phases.length_mm).abs() < 1.0, "{}", last.x_mm);
        assert!(heat.range_c[0] <= heat.air_c && heat.limit_c <= heat.range_c[1]);
        let clips = phases.shapes.iter().filter(|s| s.kind == ShapeKindWire::Clip).count();
        assert!(clips >= 8, "{clips}");
    }

    #[test]
    fn a_build_of_measured_lengths_has_strips_too() {
        let strips = example("first").strips;
        assert_eq!(strips.len(), 1);
        assert_eq!(strips[0].length_mm, 850.0);
        assert!(strips[0].unknown.is_none());
        assert!(strips[0].shapes.iter().any(|s| s.kind == ShapeKindWire::Lug));
    }

    #[test]
    fn findings_stand_at_the_part_they_are_about() {
        let strips = example("orchard-truck").strips;
        let all = || strips.iter().flat_map(|s| &s.shapes);
        let bolt = all().find(|s| s.id == "from/U/bolt").unwrap();
        assert!(
            bolt.findings.iter().any(|f| f.starts_with("bolt-bottoms/")),
            "{:?}",
            bolt.findings
        );
        let grip = all().find(|s| s.id == "from/U/grip").unwrap();
        assert!(grip.findings.iter().all(|f| !f.starts_with("bolt-")), "{:?}", grip.findings);
    }
}
