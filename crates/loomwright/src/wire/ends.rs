//! The ends of cables as JSON, and what plates share with them: bolts and torques.

use plan::design::ends::{End, ScreenEnd, Tongue};
use plan::design::joint::{Stack, TorqueChoice};
use plan::design::preload::Kept;
use plan::given::build::{Palm, Screen};
use plan::given::keys;
use schemars::JsonSchema;
use serde::Serialize;

#[derive(Serialize, JsonSchema)]
pub(crate) struct EndWire {
    port: String,
    terminal: String,
    lug: Option<String>,
    /// "straight" or "bent".
    palm: &'static str,
    die: Option<String>,
    presses: Option<u32>,
    strip_mm: Option<f64>,
    sleeve: Option<String>,
    sleeve_length_mm: Option<f64>,
    grip: Option<String>,
    grip_torque_nm: Option<f64>,
    bolt: Option<StackWire>,
    torque_nm: Option<f64>,
    torque: Option<TorqueWire>,
    /// What is left of the bolt's preload.
    kept: Option<KeptWire>,
    /// How the palm is bent, where it is.
    bend: Option<BendWire>,
    /// How warm the lug becomes.
    warm: Option<WarmWire>,
    /// How the screen ends, on a screened cable.
    screen: Option<ScreenWire>,
    /// What goes on the cable before the lug is crimped, in this order.
    before_lug: Vec<String>,
}

#[derive(Serialize, JsonSchema)]
struct KeptWire {
    /// At the torque and the shop's friction.
    assembled_n: f64,
    /// The least that one setting of the wrench leaves.
    scatter_n: f64,
    /// That, after settling.
    settled_n: f64,
    /// That, at the coldest.
    cold_n: f64,
    /// That, at the hottest.
    hot_n: Option<f64>,
    /// The most that one setting leaves, unsettled, at the hottest.
    most_n: f64,
    /// Contact force wanted.
    wanted_n: f64,
    cold_c: Option<f64>,
    hot_c: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct BendWire {
    /// To the inside of the bend.
    radius_mm: f64,
    radius_mm_min: f64,
    /// Stretch of the outside, as a part of one.
    strain: f64,
    /// From the hole's centre to where the bend begins.
    from_hole_mm: f64,
    /// What must stay flat about the hole, from its centre.
    flat_mm: f64,
    /// Height of the barrel's mouth above the landing face.
    rise_mm: f64,
}

#[derive(Serialize, JsonSchema)]
struct WarmWire {
    lug_c: f64,
    /// How much warmer than the cable's middle.
    rise_k: f64,
    /// What the joint has over the cable it takes the place of.
    joint_ohm: f64,
    loss_w: f64,
}

#[derive(Serialize, JsonSchema)]
struct ScreenWire {
    /// "grip-contact", "pigtail" or "none".
    how: Option<&'static str>,
    /// Sheath to take off.
    sheath_mm: Option<f64>,
    /// Screen that stays beyond the sheath.
    screen_mm: f64,
    /// Core that stays between screen and bare conductor.
    core_mm: Option<f64>,
    core_mm_min: f64,
    /// Sleeve over the screen's cut edge.
    cover: Option<String>,
    cover_length_mm: Option<f64>,
    /// Thread the pigtail's lug lands on.
    bolt: Option<String>,
}

#[derive(Serialize, JsonSchema)]
pub(crate) struct StackWire {
    /// "hex M8x16", or "nut M8" on a stud.
    name: String,
    /// "bolt", or "stud" with its nut.
    kind: &'static str,
    class: String,
    /// Of the bolt under its head, or of the stud above the landing face.
    length_mm: f64,
    flats_mm: Option<f64>,
    washer: Option<String>,
    clamped_mm: f64,
    engagement_mm: f64,
    engagement_mm_min: f64,
    /// Thread left under the bolt's tip, negative when it bottoms; on a stud, thread standing out of the nut.
    left_mm: f64,
}

#[derive(Serialize, JsonSchema)]
pub(crate) struct TorqueWire {
    torque_nm: f64,
    preload_n: f64,
    governed_by: String,
    limits: Vec<TorqueLimitWire>,
}

#[derive(Serialize, JsonSchema)]
struct TorqueLimitWire {
    what: String,
    torque_nm: f64,
    source: &'static str,
}

/// A word of the document for a choice.
pub(crate) fn word<T: PartialEq>(choice: keys::Words<T>, value: T) -> &'static str {
    choice.iter().find(|(_, v)| *v == value).expect("every choice has a word").0
}

pub(crate) fn end(e: &End) -> EndWire {
    EndWire {
        port: e.port.clone(),
        terminal: e.terminal.clone(),
        lug: e.lug.as_ref().map(|l| l.row.id.clone()),
        palm: word::<Palm>(keys::PALMS, e.palm),
        die: e.crimp.as_ref().map(|c| c.die.clone()),
        presses: e.crimp.as_ref().map(|c| c.presses),
        strip_mm: e.strip_mm,
        sleeve: e.sleeve.as_ref().map(|s| s.sleeve.row.id.clone()),
        sleeve_length_mm: e.sleeve.as_ref().map(|s| s.length_mm),
        grip: e.grip.as_ref().map(|g| g.row.id.clone()),
        grip_torque_nm: e.grip.as_ref().map(|g| g.torque_nm),
        bolt: e.stack.as_ref().map(stack),
        torque_nm: e.torque.as_ref().map(|t| t.torque_nm),
        torque: e.torque.as_ref().map(torque),
        kept: e.kept.as_ref().map(kept),
        bend: e.bend.as_ref().map(bend),
        warm: e.warm.as_ref().map(|w| WarmWire {
            lug_c: w.lug_c,
            rise_k: w.rise_k,
            joint_ohm: w.joint_ohm,
            loss_w: w.loss_w,
        }),
        screen: e.screen.as_ref().map(screen),
        before_lug: e.before_lug.iter().map(|b| b.what.clone()).collect(),
    }
}

fn kept(k: &Kept) -> KeptWire {
    KeptWire {
        assembled_n: k.middle_n,
        scatter_n: k.least_n,
        settled_n: k.settled_n,
        cold_n: k.cold_n,
        hot_n: k.hot_n,
        most_n: k.most_n,
        wanted_n: k.wanted_n,
        cold_c: k.between_c[0],
        hot_c: k.between_c[1],
    }
}

fn bend(b: &Tongue) -> BendWire {
    BendWire {
        radius_mm: b.radius_mm,
        radius_mm_min: b.radius_mm_min,
        strain: b.strain,
        from_hole_mm: b.from_hole_mm,
        flat_mm: b.flat_mm,
        rise_mm: b.rise_mm,
    }
}

fn screen(s: &ScreenEnd) -> ScreenWire {
    ScreenWire {
        how: s.how.map(|how| word::<Screen>(keys::SCREENS, how)),
        sheath_mm: s.sheath_mm,
        screen_mm: s.screen_mm,
        core_mm: s.core_mm,
        core_mm_min: s.core_mm_min,
        cover: s.cover.as_ref().map(|c| c.sleeve.row.id.clone()),
        cover_length_mm: s.cover.as_ref().map(|c| c.length_mm),
        bolt: s.bolt.clone(),
    }
}

/// What holds a lug or a plate, as a person asks for it.
pub(crate) fn stack_name(s: &Stack) -> String {
    match (&s.bolt, &s.nut) {
        (Some(bolt), _) => format!("{} {}x{}", bolt.form, bolt.thread, s.length_mm),
        (None, Some(nut)) => nut.row.id.clone(),
        (None, None) => "unknown".to_owned(),
    }
}

fn flats_mm(s: &Stack) -> Option<f64> {
    s.bolt.as_ref().map(|b| b.flats_mm).or(s.nut.as_ref().map(|n| n.flats_mm))
}

pub(crate) fn stack(s: &Stack) -> StackWire {
    StackWire {
        name: stack_name(s),
        class: s.class.row.id.clone(),
        kind: if s.nut.is_some() { "stud" } else { "bolt" },
        length_mm: s.length_mm,
        flats_mm: flats_mm(s),
        washer: s.washer.as_ref().map(|w| w.row.id.clone()),
        clamped_mm: s.clamped_mm,
        engagement_mm: s.engagement_mm,
        engagement_mm_min: s.engagement_mm_min,
        left_mm: s.left_mm,
    }
}

pub(crate) fn torque(t: &TorqueChoice) -> TorqueWire {
    TorqueWire {
        torque_nm: t.torque_nm,
        preload_n: t.preload_n,
        governed_by: t.governed_by.clone(),
        limits: t
            .limits
            .iter()
            .map(|l| TorqueLimitWire {
                what: l.what.clone(),
                torque_nm: l.torque_nm,
                source: l.source,
            })
            .collect(),
    }
}
