//! Outlines of the parts of an end, in millimetres: x along the cable from the terminal's hole towards the run,
//! y up from the cable's axis. The same sizes as the section in the book.

use draw::section::{Lie, lie};
use draw::stack::{LandingForm, Stack};

use crate::wire::ShapeKindWire;

/// An outline and what it is.
pub(crate) struct Outline {
    /// What it is.
    pub(crate) kind: ShapeKindWire,
    /// Tells it from others of the same end.
    pub(crate) name: &'static str,
    /// For a pointer that rests on it.
    pub(crate) text: String,
    /// Its corners.
    pub(crate) corners: Vec<[f64; 2]>,
}

/// An end as outlines, back to front.
pub(crate) struct EndOutlines {
    /// The parts.
    pub(crate) parts: Vec<Outline>,
    /// Where the insulation begins.
    pub(crate) insulation_mm: f64,
    /// Greatest height above and below the axis.
    pub(crate) half_mm: f64,
}

/// Turns places about the terminal, along its face and out of it, into places about the axis.
struct About<'a> {
    of: &'a Stack,
    lie: Lie,
    /// What the bent palm takes of the inside length.
    across_mm: f64,
}

impl About<'_> {
    fn terminal(&self, along: f64, out: f64) -> [f64; 2] {
        if self.of.lug.bent {
            [out + self.across_mm, along - self.lie.axis]
        } else {
            [along, out - self.lie.axis]
        }
    }

    fn plank(&self, along: (f64, f64), out: (f64, f64)) -> Vec<[f64; 2]> {
        vec![
            self.terminal(along.0, out.0),
            self.terminal(along.1, out.0),
            self.terminal(along.1, out.1),
            self.terminal(along.0, out.1),
        ]
    }

    fn x(&self, x: f64) -> f64 {
        x + self.across_mm
    }

    fn rod(&self, x: (f64, f64), half: f64) -> Vec<[f64; 2]> {
        let (from, to) = (self.x(x.0), self.x(x.1));
        vec![[from, -half], [to, -half], [to, half], [from, half]]
    }
}

/// The outlines of an end whose sealing face is `face_mm` from the hole.
pub(crate) fn end(of: &Stack, face_mm: Option<f64>) -> EndOutlines {
    let lie = lie(of);
    let across_mm = if of.lug.bent { lie.axis } else { 0.0 };
    let about = About { of, lie, across_mm };
    let mut parts = Vec::new();
    landing(&about, &mut parts);
    conductor(&about, &mut parts);
    lug(&about, &mut parts);
    bolt(&about, &mut parts);
    sleeve(&about, &mut parts);
    if let Some(face) = face_mm {
        grip(&about, face, &mut parts);
    }
    let highest = |o: &Outline| o.corners.iter().map(|c| c[1].abs()).fold(0.0, f64::max);
    EndOutlines {
        half_mm: parts.iter().map(highest).fold(of.cable.outside_mm / 2.0, f64::max),
        insulation_mm: about.x(about.lie.stripped_to),
        parts,
    }
}

fn landing(about: &About<'_>, parts: &mut Vec<Outline>) {
    let Some(landing) = &about.of.landing else { return };
    let half = landing.pad_mm / 2.0;
    let (depth, words) = match landing.form {
        LandingForm::Tapped { start_mm, depth_mm } => (start_mm + depth_mm + 2.0, "tapped"),
        LandingForm::Stud { .. } => (1.2 * landing.thread_mm, "stud"),
    };
    parts.push(Outline {
        kind: ShapeKindWire::Terminal,
        name: "terminal",
        text: format!("terminal, {} {words}", landing.thread),
        corners: about.plank((-half, half), (-depth, 0.0)),
    });
    if let LandingForm::Stud { height_mm } = landing.form {
        let r = landing.thread_mm / 2.0;
        parts.push(Outline {
            kind: ShapeKindWire::Bolt,
            name: "stud",
            text: format!("stud {}", landing.thread),
            corners: about.plank((-r, r), (0.0, height_mm)),
        });
    }
}

fn conductor(about: &About<'_>, parts: &mut Vec<Outline>) {
    let core = about.of.cable.conductor_mm.min(about.of.lug.barrel_inside_mm) / 2.0;
    parts.push(Outline {
        kind: ShapeKindWire::Conductor,
        name: "conductor",
        text: format!("conductor of {}", about.of.cable.name),
        corners: about.rod((about.lie.barrel.0, about.lie.stripped_to), core),
    });
}

fn lug(about: &About<'_>, parts: &mut Vec<Outline>) {
    let (lug, lie) = (&about.of.lug, &about.lie);
    let outer = lug.barrel_outside_mm / 2.0;
    let (bottom, mouth) = lie.barrel;
    let (bottom, mouth) = (about.x(bottom), about.x(mouth));
    let mut corners = if lug.bent {
        vec![
            about.terminal(lie.tip, 0.0),
            about.terminal(lie.tip, lug.palm_mm),
            about.terminal(lie.neck, lug.palm_mm),
            [bottom, -outer],
        ]
    } else {
        vec![about.terminal(lie.tip, 0.0), [bottom, -outer]]
    };
    corners.extend([[mouth, -outer], [mouth, outer], [bottom, outer]]);
    if lug.bent {
        corners.push([about.terminal(lie.neck, 0.0)[0], outer]);
    } else {
        corners.push(about.terminal(lie.neck.min(lie.barrel.0), lug.palm_mm));
        corners.push(about.terminal(lie.tip, lug.palm_mm));
    }
    parts.push(Outline {
        kind: ShapeKindWire::Lug,
        name: "lug",
        text: format!("{}{}", lug.name, if lug.bent { ", palm bent" } else { "" }),
        corners,
    });
}

fn bolt(about: &About<'_>, parts: &mut Vec<Outline>) {
    let mut height = about.of.lug.palm_mm;
    for washer in about.of.washers.iter().rev() {
        let half = washer.outside_mm / 2.0;
        parts.push(Outline {
            kind: ShapeKindWire::Washer,
            name: "washer",
            text: washer.name.clone(),
            corners: about.plank((-half, half), (height, height + washer.thickness_mm)),
        });
        height += washer.thickness_mm;
    }
    let (Some(bolt), Some(landing)) = (&about.of.bolt, &about.of.landing) else { return };
    let (head, shank, seat) =
        (bolt.head_diameter_mm / 2.0, landing.thread_mm / 2.0, about.lie.seat);
    let top = seat + bolt.head_height_mm;
    let corners = match landing.form {
        LandingForm::Stud { .. } => about.plank((-head, head), (seat, top)),
        LandingForm::Tapped { .. } => {
            let foot = seat - bolt.length_mm;
            [(-shank, foot), (shank, foot), (shank, seat), (head, seat), (head, top)]
                .into_iter()
                .chain([(-head, top), (-head, seat), (-shank, seat)])
                .map(|(along, out)| about.terminal(along, out))
                .collect()
        }
    };
    let torque =
        if bolt.torque.is_empty() { String::new() } else { format!(", {}", bolt.torque) };
    parts.push(Outline {
        kind: ShapeKindWire::Bolt,
        name: "bolt",
        text: format!("{}{torque}", bolt.name),
        corners,
    });
}

fn sleeve(about: &About<'_>, parts: &mut Vec<Outline>) {
    let (Some(sleeve), Some((from, to))) = (&about.of.sleeve, about.lie.sleeve) else { return };
    let skin = about.of.cable.outside_mm / 2.0;
    let wide = skin.max(about.of.lug.barrel_outside_mm / 2.0) + sleeve.wall_mm;
    let narrow = skin + sleeve.wall_mm;
    let step = (about.lie.barrel.1 + sleeve.wall_mm).clamp(from, to);
    let upper = [(from, wide), (step, wide), (step, narrow), (to, narrow)];
    let corners = upper
        .iter()
        .map(|(x, y)| [about.x(*x), *y])
        .chain(upper.iter().rev().map(|(x, y)| [about.x(*x), -*y]))
        .collect();
    parts.push(Outline {
        kind: ShapeKindWire::Sleeve,
        name: "sleeve",
        text: sleeve.name.clone(),
        corners,
    });
}

fn grip(about: &About<'_>, face_mm: f64, parts: &mut Vec<Outline>) {
    let Some(grip) = &about.of.passage.grip else { return };
    let plate = about.of.passage.plate.as_ref().map_or(0.0, |p| p.thickness_mm);
    let out = face_mm + plate;
    let (thread, flats) = (grip.thread_mm / 2.0, grip.flats_mm / 2.0);
    let mouth = (about.of.cable.outside_mm / 2.0 + flats) / 2.0;
    let end = out + grip.protrusion_mm;
    let upper = [
        [out - grip.thread_length_mm, thread],
        [out, thread],
        [out, flats],
        [out + 0.8 * grip.protrusion_mm, flats],
        [end, mouth],
    ];
    let corners =
        upper.iter().copied().chain(upper.iter().rev().map(|[x, y]| [*x, -*y])).collect();
    parts.push(Outline {
        kind: ShapeKindWire::Grip,
        name: "grip",
        text: format!("cord grip {}, {}", grip.name, grip.torque),
        corners,
    });
}
