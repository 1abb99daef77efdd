//! The names by which kit, steps and packing mean the same part.

use crate::design::ends::{SleeveFit, Stack};
use crate::given::shelf::{Cable, Fuse, Grip, Lug, Nut, Oring, Washer};
use physics::units::{Dimension, System, number, show};

/// Cable by the metre.
pub fn cable(cable: &Cable) -> String {
    format!("cable {}", cable.row.id)
}

/// Lug.
pub fn lug(lug: &Lug) -> String {
    format!("lug {}", lug.row.id)
}

/// Sleeve, cut to its length.
pub fn sleeve(fit: &SleeveFit) -> String {
    format!("sleeve {}, {} mm", fit.sleeve.row.id, number(fit.length_mm, 0))
}

/// Small lug of a screen's pigtail.
pub fn pigtail(thread: &str) -> String {
    format!("pigtail lug {thread}")
}

/// Grip.
pub fn grip(grip: &Grip) -> String {
    format!("grip {}", grip.row.id)
}

/// Locknut of a grip in a clear hole.
pub fn locknut(grip: &Grip) -> String {
    format!("locknut {}", grip.thread)
}

/// Bolt of a stack, if it has one: "bolt hex M8x16 8.8".
pub fn bolt(stack: &Stack) -> Option<String> {
    stack.bolt.as_ref().map(|b| {
        format!(
            "bolt {} {}x{} {}",
            b.form,
            b.thread,
            number(stack.length_mm, 0),
            stack.class.row.id
        )
    })
}

/// Nut.
pub fn nut(nut: &Nut) -> String {
    nut.row.id.clone()
}

/// Washer.
pub fn washer(washer: &Washer) -> String {
    format!("washer {}", washer.row.id)
}

/// O-ring.
pub fn oring(oring: &Oring) -> String {
    format!("O-ring {}", oring.row.id)
}

/// Entry plate of a port.
pub fn plate(port: &str) -> String {
    format!("plate {port}")
}

/// Spacer block of a port.
pub fn block(port: &str) -> String {
    format!("block {port}")
}

/// Fuse.
pub fn fuse(fuse: &Fuse) -> String {
    format!("fuse {}", fuse.row.id)
}

/// Resistor of the protection: "resistor pre-charge 47.0 ohm".
pub fn resistor(what: &str, ohm: f64) -> String {
    format!("resistor {what} {}", show(ohm, Dimension::Resistance, System::Metric))
}

/// Label of one cable, one for each end.
pub fn label(run: &str, cable: &str) -> String {
    format!("label {run} {cable}")
}

/// Warning label of a port.
pub const WARNING_LABEL: &str = "label high voltage";

/// The tool that turns a fastener's head: its form decides between socket and key.
pub fn driver(form: &str, flats_mm: f64) -> String {
    let size = number(flats_mm, if flats_mm.fract() == 0.0 { 0 } else { 1 });
    if form == "socket" {
        format!("hexagon key {size} mm")
    } else {
        format!("socket {size} mm across flats")
    }
}

/// Words joined to an id: lower case, `+` and `-` by name.
pub fn slug(words: &[&str]) -> String {
    let word = |w: &&str| match *w {
        "+" => "plus".to_owned(),
        "-" => "minus".to_owned(),
        w => w.to_lowercase().replace(['.', ' ', '_'], "-").replace('+', "plus"),
    };
    words.iter().map(word).collect::<Vec<_>>().join("-")
}
