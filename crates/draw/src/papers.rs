//! The parts of a plan that a machinist makes, each with all its files.

use physics::units::{Dimension, System, show_both};
use plan::Plan;
use plan::design::layout::{Proof, Rule, SLACK_MM};
use plan::design::plates::Plate;
use space::part::FlatPart;
use space::solid::{Fault, Solid, solid};

use crate::end_bodies::end_bodies;
use crate::frame::Making;
use crate::glb::{glb, part_body};
use crate::letters::typeset;
use crate::plate_check::plate_check;
use crate::plate_drawing::plate_drawing;
use crate::plate_template::plate_template;
use crate::sheets::stack_of;
use crate::svg::Drawing;

/// A part to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece<'a> {
    /// Name of its files, without ending: "plate-motor-phases".
    pub stem: String,
    /// The part.
    pub part: &'a FlatPart,
    /// What its papers say beside its geometry.
    pub making: Making,
    /// Why it is not for cutting, with the numbers and what would cure each: none where every proof holds.
    pub refused: Vec<String>,
}

/// All files of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Papers {
    /// Loops on layers by operation.
    pub dxf: Vec<u8>,
    /// The body.
    pub step: String,
    /// The body as triangles.
    pub glb: Vec<u8>,
    /// Views, sizes, tables: one drawing a sheet.
    pub drawing: Vec<Drawing>,
    /// The part at full size.
    pub template: Drawing,
    /// What to measure.
    pub check: Vec<Drawing>,
}

/// The parts of a plan that are laid out, and in a sentence each why another is not.
pub fn pieces(plan: &Plan) -> (Vec<Piece<'_>>, Vec<String>) {
    let (mut found, mut absent) = (Vec::new(), Vec::new());
    for plate in &plan.plates {
        match &plate.laid {
            Some(laid) => found.push(Piece {
                stem: stem("plate", &plate.port),
                part: &laid.part,
                making: of_plate(plan, plate),
                refused: refused(&laid.proofs, plan.heading.units, |rule| laid.cure(rule)),
            }),
            None => absent.push(why(plate)),
        }
        let Some(block) = &plate.block else { continue };
        match &block.part {
            Some(part) => found.push(Piece {
                stem: stem("block", &plate.port),
                part,
                making: Making {
                    material: block.material.as_ref().map(|m| m.row.name.clone()),
                    ring: None,
                    groove_depth_tolerance_mm: None,
                    ..of_plate(plan, plate)
                },
                refused: refused(&block.proofs, plan.heading.units, |_| None),
            }),
            None => absent.push(format!(
                "the block of {} is not drawn: its face, its thickness or the places of its bolts are not stated",
                plate.port
            )),
        }
    }
    (found, absent)
}

/// The broken proof of each rule, its number, and its cure.
fn refused<'c>(
    proofs: &[Proof],
    units: System,
    cure: impl Fn(Rule) -> Option<&'c str>,
) -> Vec<String> {
    let mut worst: Vec<&Proof> = Vec::new();
    for proof in proofs.iter().filter(|p| !(p.spare_mm() >= -SLACK_MM)) {
        match worst.iter_mut().find(|w| w.rule == proof.rule) {
            Some(other) if proof.spare_mm() < other.spare_mm() => *other = proof,
            Some(_) => {}
            None => worst.push(proof),
        }
    }
    let mm = |v: f64| show_both(v, Dimension::Length, units);
    let say = |p: &&Proof| {
        let (value, least) = (mm(p.value_mm), mm(p.least_mm));
        let cure = cure(p.rule).map_or(String::new(), |c| format!("; {c}"));
        format!("{}: {value}, at least {least}{cure}", p.what)
    };
    worst.iter().map(say).collect()
}

fn why(plate: &Plate) -> String {
    let port = &plate.port;
    if let Some(misfit) = plate.kept.as_ref().and_then(|k| k.misfit.as_ref()) {
        return format!(
            "the plate of {port} is not drawn: the kept one is none for it: {misfit}"
        );
    }
    if plate.missing.is_empty() {
        format!(
            "the plate of {port} is not drawn: its face is not surveyed; state device.{}.port.{}.face",
            port.split('.').next().unwrap_or_default(),
            port.split('.').nth(1).unwrap_or_default()
        )
    } else {
        format!("the plate of {port} is not drawn: missing are {}", plate.missing.join(", "))
    }
}

fn of_plate(plan: &Plan, plate: &Plate) -> Making {
    let heading = &plan.heading;
    let laid = plate.laid.as_ref().and_then(|l| l.seal.as_ref());
    let ring = laid.map(|l| &l.oring).or(plate.seal.as_ref().map(|s| &s.oring));
    Making {
        build: heading.title.clone(),
        material: plate.material.as_ref().map(|m| m.row.name.clone()),
        ring: ring.map(|r| typeset(&r.row.name)),
        groove_depth_tolerance_mm: plate.seal.as_ref().map(|s| s.groove_tolerance_mm),
        groove_width_tolerance_mm: None,
        made_by: heading.made_by.clone(),
        date: heading.date.clone(),
        digest: heading.digest.clone(),
        for_building: plan.for_building(),
        units: heading.units,
    }
}

/// Every end as bodies in space, with its machined plate where that is laid out: file name without ending, and
/// the file.
pub fn ends(plan: &Plan) -> Vec<(String, Vec<u8>)> {
    let plates: Vec<(&Plate, Solid)> = plan
        .plates
        .iter()
        .filter_map(|p| Some((p, solid(&p.laid.as_ref()?.part).ok()?)))
        .collect();
    let mut all = Vec::new();
    for end in &plan.ends {
        let (Some(stack), Some(lug)) = (stack_of(plan, end), &end.lug) else { continue };
        let plate = plates.iter().find(|(p, _)| p.port == end.port).and_then(|(p, body)| {
            let grips = &p.laid.as_ref()?.grips;
            let grip = grips.iter().find(|g| g.terminal == end.terminal)?;
            Some((body, grip.at))
        });
        let cable = match end.cable.as_str() {
            "+" => "plus",
            "-" => "minus",
            label => label,
        };
        let name = stem("end", &format!("{}.{cable}.{}", end.run, end.port));
        all.push((name, glb(&end_bodies(&stack, lug.palm_width_mm, plate))));
    }
    all
}

/// A file name that every system takes.
fn stem(kind: &str, port: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' };
    format!("{kind}-{}", port.chars().map(plain).collect::<String>())
}

/// Draws and writes a part in every form.
///
/// # Errors
/// Why the part is no body: holes that run into each other, a groove over an edge.
pub fn papers(piece: &Piece<'_>) -> Result<Papers, Vec<Fault>> {
    let (part, making) = (piece.part, &piece.making);
    let body = solid(part)?;
    Ok(Papers {
        dxf: crate::dxf::dxf(part),
        step: crate::step::step(&part.name, &body),
        glb: glb(&[part_body(&part.name, &body)]),
        drawing: plate_drawing(part, &body, making),
        template: plate_template(part, making),
        check: plate_check(part, making),
    })
}

/// The drawing of a port's plate as laid out, for the book; none where it is not.
pub fn plate(plan: &Plan, port: &str) -> Vec<Drawing> {
    drawn(plan, &stem("plate", port))
}

/// The drawing of the block behind a port's plate; none where it is not laid out.
pub fn block(plan: &Plan, port: &str) -> Vec<Drawing> {
    drawn(plan, &stem("block", port))
}

fn drawn(plan: &Plan, wanted: &str) -> Vec<Drawing> {
    let (pieces, _) = pieces(plan);
    let Some(piece) = pieces.iter().find(|p| p.stem == wanted) else { return Vec::new() };
    solid(piece.part)
        .map_or_else(|_| Vec::new(), |body| plate_drawing(piece.part, &body, &piece.making))
}
