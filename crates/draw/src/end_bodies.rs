//! A made-up end as bodies in space: terminal, lug, bolt, washers, sleeve, cable, plate and grip.
//!
//! x runs along the cable, z up from the terminal's face, the hole's centre is the origin; a bent palm stands
//! upright at x = 0. Shapes are what the plan knows of them: heads and flats are as wide as the part, threads
//! are their nominal diameter. What is not known is left away.

use space::part::{FlatPart, Hole};
use space::path::Path;
use space::solid::{Solid, solid};

use crate::glb::{Body, SAGITTA_MM};
use crate::mesh::{Mesh, Pose, of_solid, revolved};
use crate::section::{Lie, lie};
use crate::stack::{LandingForm, Stack};

const COPPER: [f64; 3] = [0.72, 0.38, 0.22];
const STEEL: [f64; 3] = [0.56, 0.57, 0.58];
const BRASS: [f64; 3] = [0.70, 0.58, 0.28];
const ALUMINIUM: [f64; 3] = [0.66, 0.68, 0.70];
const ORANGE: [f64; 3] = [0.85, 0.23, 0.02];
const DARK: [f64; 3] = [0.04, 0.04, 0.05];

/// The bodies of an end. `palm_mm` is the palm's width; `plate` a machined plate and the place of this
/// cable's hole in it, else the plate is shown as a square around the grip.
pub fn end_bodies(of: &Stack, palm_mm: f64, plate: Option<(&Solid, [f64; 2])>) -> Vec<Body> {
    let lie = lie(of);
    let mut all = Vec::new();
    terminal(of, palm_mm, &lie, &mut all);
    lug(of, palm_mm, &lie, &mut all);
    bolt(of, &lie, &mut all);
    cable(of, &lie, &mut all);
    passage(of, &lie, plate, &mut all);
    all
}

fn body(name: &str, colour: [f64; 3], metal: f64, mesh: Mesh) -> Body {
    Body { name: name.to_owned(), colour, metal, mesh }
}

/// From a flat part, or a body turned about x, that lies on the terminal's face with z outwards.
fn about_terminal(of: &Stack) -> Pose {
    let axes = if of.lug.bent {
        // Along the face is up, out of it is along the cable.
        [[0.0, 0.0, 1.0], [0.0, -1.0, 0.0], [1.0, 0.0, 0.0]]
    } else {
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
    };
    Pose { axes, origin: [0.0; 3] }
}

/// A body turned about x, stood up on the terminal's face.
fn stood(of: &Stack, profile: &[(f64, f64)]) -> Mesh {
    let up =
        Pose { axes: [[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]], origin: [0.0; 3] };
    revolved(profile).placed(&up).placed(&about_terminal(of))
}

/// A body turned about the cable's axis.
fn along(lie: &Lie, profile: &[(f64, f64)]) -> Mesh {
    let axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    revolved(profile).placed(&Pose { axes, origin: [0.0, 0.0, lie.axis] })
}

/// A tube between two places, with these radii; a rod where the inner one is nothing.
fn tube((from, to): (f64, f64), inner: f64, outer: f64) -> [(f64, f64); 4] {
    [(from, inner), (to, inner), (to, outer), (from, outer)]
}

/// A slab of the terminal's plane: from where to where along it, how wide, how high, its hole.
fn slab(along: (f64, f64), width: f64, height: (f64, f64), hole_mm: f64) -> Option<Mesh> {
    let length = along.1 - along.0;
    let outline = Path::rounded_rectangle(
        [(along.0 + along.1) / 2.0, 0.0],
        length,
        width,
        0.2 * length.min(width),
    );
    let hole = Hole {
        name: "hole".to_owned(),
        purpose: String::new(),
        x_mm: 0.0,
        y_mm: 0.0,
        diameter_mm: hole_mm,
        thread: None,
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore: None,
    };
    let part = FlatPart {
        outline,
        thickness_mm: height.1 - height.0,
        holes: if hole_mm > 0.0 { vec![hole] } else { Vec::new() },
        ..FlatPart::default()
    };
    // A part whose sizes contradict each other is told of by the checks; here it is only not shown.
    let mut mesh = of_solid(&solid(&part).ok()?, SAGITTA_MM);
    for position in &mut mesh.positions {
        position[2] += height.0;
    }
    Some(mesh)
}

fn terminal(of: &Stack, palm_mm: f64, lie: &Lie, all: &mut Vec<Body>) {
    let Some(landing) = &of.landing else { return };
    let half = landing.pad_mm.max(palm_mm).max(2.0 * landing.thread_mm) / 2.0;
    let (depth, bore) = match landing.form {
        LandingForm::Tapped { start_mm, depth_mm } => (start_mm + depth_mm, landing.thread_mm),
        LandingForm::Stud { .. } => (landing.thread_mm, 0.0),
    };
    if let Some(mesh) = slab((-half, half), 2.0 * half, (-depth, 0.0), bore) {
        all.push(body("terminal", BRASS, 0.9, mesh.placed(&about_terminal(of))));
    }
    if let LandingForm::Stud { height_mm } = landing.form {
        let rod = tube((0.0, height_mm.max(lie.seat)), 0.0, landing.thread_mm / 2.0);
        all.push(body("stud", STEEL, 0.9, stood(of, &rod)));
    }
}

fn lug(of: &Stack, palm_mm: f64, lie: &Lie, all: &mut Vec<Body>) {
    let lug = &of.lug;
    let palm = slab((lie.tip, lie.neck), palm_mm, (0.0, lug.palm_mm), lug.hole_mm);
    if let Some(mesh) = palm {
        all.push(body("lug palm", COPPER, 0.9, mesh.placed(&about_terminal(of))));
    }
    let (from, to) = lie.barrel;
    let (inner, outer) = (lug.barrel_inside_mm / 2.0, lug.barrel_outside_mm / 2.0);
    // The bottom of the bore is as thick as the wall, on the palm's side.
    let bottom = from - (outer - inner);
    if lug.bent {
        // What is bent: from the palm's upper end to the barrel.
        let up = (lie.neck, lie.neck + 2.0 * lug.palm_mm);
        if let Some(mesh) = slab(up, lug.barrel_outside_mm, (0.0, bottom + 0.5), 0.0) {
            all.push(body("lug neck", COPPER, 0.9, mesh.placed(&about_terminal(of))));
        }
    }
    let barrel =
        [(bottom, 0.0), (from, 0.0), (from, inner), (to, inner), (to, outer), (bottom, outer)];
    all.push(body("lug barrel", COPPER, 0.9, along(lie, &barrel)));
}

fn bolt(of: &Stack, lie: &Lie, all: &mut Vec<Body>) {
    let mut height = of.lug.palm_mm;
    // Washers are listed from the head downwards.
    for washer in of.washers.iter().rev() {
        let hole = of.landing.as_ref().map_or(of.lug.hole_mm, |l| l.thread_mm);
        let ring =
            tube((height, height + washer.thickness_mm), hole / 2.0, washer.outside_mm / 2.0);
        all.push(body("washer", STEEL, 0.9, stood(of, &ring)));
        height += washer.thickness_mm;
    }
    let (Some(bolt), Some(landing)) = (&of.bolt, &of.landing) else { return };
    let (head, top) = (bolt.head_diameter_mm / 2.0, lie.seat + bolt.head_height_mm);
    let shank = landing.thread_mm / 2.0;
    let profile = match landing.form {
        LandingForm::Tapped { .. } => vec![
            (lie.seat - bolt.length_mm, 0.0),
            (top, 0.0),
            (top, head),
            (lie.seat, head),
            (lie.seat, shank),
            (lie.seat - bolt.length_mm, shank),
        ],
        LandingForm::Stud { .. } => tube((lie.seat, top), shank, head).to_vec(),
    };
    all.push(body("bolt", STEEL, 0.9, stood(of, &profile)));
}

fn cable(of: &Stack, lie: &Lie, all: &mut Vec<Body>) {
    let cable = &of.cable;
    let (core, skin) = (cable.conductor_mm / 2.0, cable.outside_mm / 2.0);
    all.push(body(
        "conductor",
        COPPER,
        0.9,
        along(lie, &tube((lie.barrel.0, lie.right + 3.0), 0.0, core)),
    ));
    all.push(body(
        "insulation",
        ORANGE,
        0.0,
        along(lie, &tube((lie.stripped_to, lie.right), core, skin)),
    ));
    let (Some(sleeve), Some((from, to))) = (&of.sleeve, lie.sleeve) else { return };
    let barrel = of.lug.barrel_outside_mm.max(cable.outside_mm) / 2.0;
    let (wide, wall) = (barrel.max(skin), sleeve.wall_mm);
    let step = lie.barrel.1.clamp(from, to);
    // Shrunk on: over the barrel and then over the cable.
    let profile = [
        (from, wide),
        (step, wide),
        (step, skin),
        (to, skin),
        (to, skin + wall),
        (step + wall, skin + wall),
        (step + wall, wide + wall),
        (from, wide + wall),
    ];
    all.push(body("sleeve", DARK, 0.0, along(lie, &profile)));
}

fn passage(of: &Stack, lie: &Lie, plate: Option<(&Solid, [f64; 2])>, all: &mut Vec<Body>) {
    let Some(seal) = lie.seal else { return };
    let thick = of.passage.plate.as_ref().map_or(0.0, |p| p.thickness_mm);
    let grip = of.passage.grip.as_ref();
    // The plate's z is the cable's way out; its x lies across, its y up.
    let axes = [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]];
    match plate {
        Some((part, [x, y])) => {
            let pose = Pose { axes, origin: [seal, -x, lie.axis - y] };
            let mesh = of_solid(part, SAGITTA_MM).placed(&pose);
            all.push(body("plate", ALUMINIUM, 0.8, mesh));
        }
        None if thick > 0.0 => {
            let bore = grip.map_or(of.cable.outside_mm, |g| g.thread_mm);
            let half = 0.9 * grip.map_or(bore, |g| g.flats_mm);
            if let Some(mesh) = slab((-half, half), 2.0 * half, (0.0, thick), bore) {
                let pose = Pose { axes, origin: [seal, 0.0, lie.axis] };
                all.push(body("plate", ALUMINIUM, 0.8, mesh.placed(&pose)));
            }
        }
        None => {}
    }
    let Some(grip) = grip else { return };
    let (face, inner) = (seal + thick, of.cable.outside_mm / 2.0);
    let (thread, flats) = (grip.thread_mm / 2.0, grip.flats_mm / 2.0);
    let out = face + grip.protrusion_mm;
    let profile = [
        (face - grip.thread_length_mm, inner),
        (out, inner),
        (out, 0.5 * (inner + flats)),
        (face + 0.8 * grip.protrusion_mm, flats),
        (face, flats),
        (face, thread),
        (face - grip.thread_length_mm, thread),
    ];
    all.push(body("grip", BRASS, 0.9, along(lie, &profile)));
}
