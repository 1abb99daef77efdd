//! Plates, ends and drawings of a plan as the pages show and fetch them.

use axum::response::Response;
use draw::end_bodies::end_bodies;
use draw::glb::glb;
use draw::papers::{Piece, papers, pieces};
use draw::stack::Stack;
use draw::{Drawing, sheets};
use plan::Plan;
use plan::design::ends::{End, Side};
use plan::design::layout::{Laid, Proof, Rule, SLACK_MM};
use plan::design::plates::Plate;
use plan::given::build::Build;
use space::path::Path;
use space::solid::solid;

use super::answer;
use super::labels;
use super::outcome::Outcome;
use super::refusal::Refusal;
use crate::tables;
use crate::wire::{
    self, CornerWire, FileLinkWire, GripPlaceWire, GrooveWire, HoleWire, PlateSheetWire,
    PlatesWire, ProofWire,
};

/// Plates and blocks.
pub(crate) fn plates(id: &str, outcome: &Outcome) -> PlatesWire {
    let plates = match &outcome.planned {
        Some(p) => {
            p.plan.plates.iter().map(|plate| sheet(id, &p.build, &p.plan, plate)).collect()
        }
        None => Vec::new(),
    };
    PlatesWire { version: outcome.version, plates }
}

fn sheet(id: &str, build: &Build, plan: &Plan, plate: &Plate) -> PlateSheetWire {
    let laid = plate.laid.as_ref();
    let part = laid.map(|l| &l.part);
    let groove = part.and_then(|p| p.grooves.first()).map(|g| GrooveWire {
        middle: corners(&g.middle),
        width_mm: g.width_mm,
        depth_mm: g.depth_mm,
    });
    let holes = part.map_or_else(Vec::new, |p| {
        p.holes
            .iter()
            .map(|h| HoleWire {
                name: h.name.clone(),
                x_mm: h.x_mm,
                y_mm: h.y_mm,
                diameter_mm: h.diameter_mm,
            })
            .collect()
    });
    let (found, absent) = pieces(plan);
    let own = |piece: &&Piece<'_>| piece.stem.ends_with(&plate.port.replace('.', "-"));
    PlateSheetWire {
        port: plate.port.clone(),
        absent: match laid {
            Some(_) => None,
            None => absent.into_iter().find(|why| why.contains(&plate.port)),
        },
        refused: laid.is_some_and(Laid::refused),
        thickness_mm: plate.thickness_mm,
        outline: part.map_or_else(Vec::new, |p| corners(&p.outline)),
        holes,
        groove,
        grips: laid.map_or_else(Vec::new, |l| grips(build, plate, l)),
        proofs: laid.map_or_else(Vec::new, proofs),
        face: plan.faces.iter().find(|f| f.port == plate.port).map(wire::survey),
        files: found.iter().filter(own).flat_map(|piece| links(id, &piece.stem)).collect(),
    }
}

fn corners(path: &Path) -> Vec<CornerWire> {
    let corner =
        |v: &space::path::Vertex| CornerWire { x_mm: v.x_mm, y_mm: v.y_mm, bulge: v.bulge };
    path.vertices.iter().map(corner).collect()
}

fn grips(build: &Build, plate: &Plate, laid: &Laid) -> Vec<GripPlaceWire> {
    let (device, port) = plate.port.split_once('.').unwrap_or_default();
    let given = build
        .devices
        .iter()
        .find(|d| d.id.value == device)
        .and_then(|d| d.ports.iter().find(|p| p.id == port))
        .and_then(|p| p.plate.as_ref());
    laid.grips
        .iter()
        .enumerate()
        .map(|(i, grip)| {
            let of = plate.grips.get(i).map(|g| &g.grip);
            let path = ["device", device, "port", port, "plate", "grip-at", &grip.terminal];
            GripPlaceWire {
                terminal: grip.terminal.clone(),
                x_mm: grip.at[0],
                y_mm: grip.at[1],
                corners_mm: of.map(|g| g.corners_mm),
                thread_mm: laid
                    .part
                    .holes
                    .iter()
                    .find(|h| h.x_mm == grip.at[0] && h.y_mm == grip.at[1])
                    .map(|h| h.diameter_mm),
                stated: given
                    .is_some_and(|g| g.grip_at.iter().any(|(t, _)| t.value == grip.terminal)),
                path: path.iter().map(|p| (*p).to_owned()).collect(),
            }
        })
        .collect()
}

fn proofs(laid: &Laid) -> Vec<ProofWire> {
    let mut all: Vec<&Proof> = laid.proofs.iter().collect();
    all.sort_by(|a, b| a.spare_mm().total_cmp(&b.spare_mm()));
    all.into_iter()
        .map(|p| ProofWire {
            rule: match p.rule {
                Rule::Fit => "fits the housing",
                Rule::GrooveOnLand => "groove on the land",
                Rule::GrooveRadius => "ring follows the groove",
                Rule::RingLength => "ring as long as its groove",
                Rule::SpannerRoom => "room for the spanner",
                Rule::GripWall => "metal around a grip",
                Rule::EdgeDistance => "metal around a bolt",
                Rule::Thickness => "thickness",
                Rule::Creepage => "creepage around the block",
            },
            what: p.what.clone(),
            value_mm: p.value_mm,
            least_mm: p.least_mm,
            holds: p.spare_mm() >= -SLACK_MM,
        })
        .collect()
}

/// What each ending of a part's files is.
const FILES: [(&str, &str); 7] = [
    (".svg", "drawing to look at"),
    (".pdf", "drawing to print"),
    (".dxf", "DXF for cutting"),
    (".step", "STEP, the body"),
    (".glb", "the body as triangles"),
    ("-template.pdf", "paper template, 1:1"),
    ("-check.pdf", "check sheet"),
];

fn links(id: &str, stem: &str) -> Vec<FileLinkWire> {
    FILES
        .iter()
        .map(|(ending, what)| FileLinkWire {
            name: format!("{stem}{ending}"),
            url: format!("/api/builds/{id}/files/{stem}{ending}"),
            what: format!("{}: {what}", stem.split('-').next().unwrap_or_default()),
        })
        .collect()
}

/// A file for the machinist, or a table or labels of the kit.
///
/// # Errors
/// When there is no such file, or it cannot be made.
pub(crate) fn file(plan: &Plan, name: &str) -> Result<Response, Refusal> {
    let broken = |error: anyhow::Error| Refusal::fault(format!("{error:#}"));
    let bytes = match name {
        "kit.csv" => tables::csv(plan).map_err(broken)?,
        "kit.xlsx" => tables::workbook(plan).map_err(broken)?,
        "labels.svg" => labels::labels(plan).into_bytes(),
        _ => of_a_piece(plan, name)?,
    };
    Ok(answer::file(name, bytes))
}

fn of_a_piece(plan: &Plan, name: &str) -> Result<Vec<u8>, Refusal> {
    let absent =
        || Refusal::absent("there is no such file").hint("/plates lists those there are");
    let (found, _) = pieces(plan);
    let piece = found
        .iter()
        .find(|piece| FILES.iter().any(|(ending, _)| name == format!("{}{ending}", piece.stem)))
        .ok_or_else(absent)?;
    let papers = papers(piece).map_err(|faults| {
        let words: Vec<String> = faults.into_iter().map(|f| f.message).collect();
        Refusal::absent(format!("{} cannot be made: {}", piece.part.name, words.join("; ")))
    })?;
    let pdf = |drawings: &[Drawing]| {
        book::sheets(drawings, &piece.making.digest).map_err(|e| Refusal::fault(e.to_string()))
    };
    match &name[piece.stem.len()..] {
        ".svg" => Ok(papers.drawing.first().ok_or_else(absent)?.svg.clone().into_bytes()),
        ".pdf" => pdf(&papers.drawing),
        ".dxf" => Ok(papers.dxf),
        ".step" => Ok(papers.step.into_bytes()),
        ".glb" => Ok(papers.glb),
        "-template.pdf" => pdf(std::slice::from_ref(&papers.template)),
        "-check.pdf" => pdf(&papers.check),
        _ => Err(absent()),
    }
}

fn end_of<'p>(plan: &'p Plan, run: &str, cable: &str, side: &str) -> Option<&'p End> {
    let side = match side {
        "from" => Side::From,
        "to" => Side::To,
        _ => return None,
    };
    plan.ends.iter().find(|e| e.run == run && e.cable == cable && e.side == side)
}

/// An end as bodies or as a section.
///
/// # Errors
/// When there is no such end, or it is not settled.
pub(crate) fn end(
    plan: &Plan,
    run: &str,
    cable: &str,
    file: &str,
) -> Result<Response, Refusal> {
    let (side, ending) = file.split_once('.').unwrap_or((file, ""));
    let end = end_of(plan, run, cable, side)
        .ok_or_else(|| Refusal::absent("there is no such end").hint("side is from or to"))?;
    let unsettled = || Refusal::absent("this end is not settled yet; its findings say why");
    let stack = sheets::stack_of(plan, end).filter(Stack::is_drawable).ok_or_else(unsettled)?;
    match ending {
        "svg" => Ok(answer::file("end.svg", draw::section::section(&stack).svg.into_bytes())),
        "glb" => {
            let width = end.lug.as_ref().map_or(20.0, |lug| lug.palm_width_mm);
            let plate = plan.plates.iter().find(|p| p.port == end.port);
            let laid = plate.and_then(|p| p.laid.as_ref());
            let body = laid.and_then(|l| {
                let at = l.grips.iter().find(|g| g.terminal == end.terminal)?.at;
                Some((solid(&l.part).ok()?, at))
            });
            let plate = body.as_ref().map(|(solid, at)| (solid, *at));
            Ok(answer::file("end.glb", glb(&end_bodies(&stack, width, plate))))
        }
        _ => Err(Refusal::absent("an end is an .svg or a .glb")),
    }
}

/// A drawing of the book by its name.
///
/// # Errors
/// When there is no such drawing.
pub(crate) fn drawing(plan: &Plan, name: &str) -> Result<Response, Refusal> {
    let absent =
        || Refusal::absent("there is no such drawing, or what it shows is not settled");
    let stem = name.strip_suffix(".svg").ok_or_else(absent)?;
    let drawing = match stem.split_once('-') {
        _ if stem == "single-line" => Some(sheets::single_line(plan)),
        Some(("strip", run)) => sheets::strip(plan, run),
        _ if stem == "operating" => draw::duty_sheets::operating(plan),
        Some(("duty", stretch)) => draw::duty_sheets::over_time(plan, stretch),
        Some(("heat", run)) => sheets::heat(plan, run),
        Some(("along", run)) => sheets::along(plan, run),
        Some(("ratings", run)) => sheets::ratings(plan, run),
        Some(("coordination", name)) => sheets::coordination(plan, name),
        Some(("precharge", run)) => sheets::precharge(plan, run),
        Some(("discharge", run)) => sheets::discharge(plan, run),
        Some(("ring", port)) => plan
            .plates
            .iter()
            .find(|p| p.port == port)
            .and_then(|p| sheets::ring(p, plan.heading.units)),
        Some(("face", port)) => plan
            .faces
            .iter()
            .find(|f| f.port == port)
            .and_then(|f| draw::face::face(f, plan.heading.units)),
        _ => None,
    };
    Ok(answer::file("drawing.svg", drawing.ok_or_else(absent)?.svg.into_bytes()))
}
