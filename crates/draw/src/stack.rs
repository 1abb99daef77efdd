//! What stands at the end of a cable, in millimetres: from the terminal it is bolted to, to where it leaves the
//! box. [`section`](crate::section) draws it.

use physics::units::System;

/// What the lug is bolted to.
#[derive(Clone, Debug, PartialEq)]
pub struct Landing {
    /// "M8".
    pub thread: String,
    /// Its nominal diameter.
    pub thread_mm: f64,
    /// How deep the thread goes; a stud stands up instead.
    pub form: LandingForm,
    /// Along the cable.
    pub pad_mm: f64,
}

/// Tapped hole or stud.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LandingForm {
    /// Depth of full thread.
    Tapped {
        /// From the face to where full thread begins: a plate or bush in between.
        start_mm: f64,
        /// Full thread from there.
        depth_mm: f64,
    },
    /// A stud that stands up and takes a nut.
    Stud {
        /// mm above the face.
        height_mm: f64,
    },
}

/// The bolt, or the nut on a stud.
#[derive(Clone, Debug, PartialEq)]
pub struct Bolt {
    /// For the label: "M8 x 20, class 8.8".
    pub name: String,
    /// Under the head.
    pub length_mm: f64,
    /// Height of the head or nut.
    pub head_height_mm: f64,
    /// Width of head or flange.
    pub head_diameter_mm: f64,
    /// Torque in both systems.
    pub torque: String,
}

/// A washer under the head.
#[derive(Clone, Debug, PartialEq)]
pub struct Washer {
    /// For the label.
    pub name: String,
    /// Outside.
    pub outside_mm: f64,
    /// Thickness.
    pub thickness_mm: f64,
}

/// The lug.
#[derive(Clone, Debug, PartialEq)]
pub struct Lug {
    /// For the label.
    pub name: String,
    /// Palm thickness.
    pub palm_mm: f64,
    /// From tip to the barrel's mouth.
    pub length_mm: f64,
    /// From the hole's centre to the tip.
    pub hole_to_tip_mm: f64,
    /// Hole.
    pub hole_mm: f64,
    /// Barrel depth.
    pub barrel_depth_mm: f64,
    /// Barrel inside.
    pub barrel_inside_mm: f64,
    /// Barrel outside.
    pub barrel_outside_mm: f64,
    /// The palm is bent, so that the cable leaves square to the terminal's face.
    pub bent: bool,
}

/// The cable.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// For the label: "70 mm2".
    pub name: String,
    /// Over the strands.
    pub conductor_mm: f64,
    /// Over everything.
    pub outside_mm: f64,
}

/// The shrunk sleeve.
#[derive(Clone, Debug, PartialEq)]
pub struct Sleeve {
    /// For the label.
    pub name: String,
    /// Length in place.
    pub length_mm: f64,
    /// Wall in place.
    pub wall_mm: f64,
}

/// Where the cable leaves the box.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Passage {
    /// From the terminal's hole to the sealing face.
    pub inside_mm: Option<f64>,
    /// The machined plate.
    pub plate: Option<Plate>,
    /// The cord grip.
    pub grip: Option<Grip>,
}

/// The plate and its ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Thickness.
    pub thickness_mm: f64,
    /// For the label.
    pub material: String,
    /// Groove width, depth, and the ring's section and name.
    pub ring: Option<Ring>,
}

/// The O-ring in its groove.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// For the label.
    pub name: String,
    /// Groove width.
    pub width_mm: f64,
    /// Groove depth.
    pub depth_mm: f64,
    /// Section of the ring.
    pub section_mm: f64,
}

/// The cord grip.
#[derive(Clone, Debug, PartialEq)]
pub struct Grip {
    /// For the label: "M32x1.5".
    pub name: String,
    /// Diameter of its entry thread.
    pub thread_mm: f64,
    /// Length of its entry thread.
    pub thread_length_mm: f64,
    /// Across flats.
    pub flats_mm: f64,
    /// How far it stands out.
    pub protrusion_mm: f64,
    /// Torque in both systems.
    pub torque: String,
}

/// Everything of one end. What is not known is not drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Which system the dimensions are in.
    pub system: System,
    /// What it is bolted to.
    pub landing: Option<Landing>,
    /// What holds it.
    pub bolt: Option<Bolt>,
    /// Under the head, from the head downwards.
    pub washers: Vec<Washer>,
    /// The lug.
    pub lug: Lug,
    /// The cable.
    pub cable: Cable,
    /// Insulation taken off.
    pub strip_mm: Option<f64>,
    /// The sleeve.
    pub sleeve: Option<Sleeve>,
    /// The way out.
    pub passage: Passage,
}

impl Stack {
    /// Whether every length can be drawn: a shop's own part may state anything.
    pub fn is_drawable(&self) -> bool {
        let mut lengths = vec![
            self.lug.palm_mm,
            self.lug.length_mm,
            self.lug.hole_to_tip_mm,
            self.lug.hole_mm,
            self.lug.barrel_depth_mm,
            self.lug.barrel_inside_mm,
            self.lug.barrel_outside_mm,
            self.cable.conductor_mm,
            self.cable.outside_mm,
        ];
        lengths.extend(self.strip_mm);
        lengths.extend(self.passage.inside_mm);
        for washer in &self.washers {
            lengths.extend([washer.outside_mm, washer.thickness_mm]);
        }
        if let Some(landing) = &self.landing {
            lengths.extend([landing.thread_mm, landing.pad_mm]);
            lengths.extend(match landing.form {
                LandingForm::Tapped { start_mm, depth_mm } => [start_mm, depth_mm],
                LandingForm::Stud { height_mm } => [height_mm, height_mm],
            });
        }
        if let Some(bolt) = &self.bolt {
            lengths.extend([bolt.length_mm, bolt.head_height_mm, bolt.head_diameter_mm]);
        }
        if let Some(sleeve) = &self.sleeve {
            lengths.extend([sleeve.length_mm, sleeve.wall_mm]);
        }
        if let Some(plate) = &self.passage.plate {
            lengths.push(plate.thickness_mm);
            if let Some(ring) = &plate.ring {
                lengths.extend([ring.width_mm, ring.depth_mm, ring.section_mm]);
            }
        }
        if let Some(grip) = &self.passage.grip {
            lengths.extend([grip.thread_mm, grip.thread_length_mm]);
            lengths.extend([grip.flats_mm, grip.protrusion_mm]);
        }
        lengths.iter().all(|mm| (0.0..=LONGEST_MM).contains(mm))
    }
}

/// Nothing at an end is longer than this.
pub(crate) const LONGEST_MM: f64 = 5000.0;
