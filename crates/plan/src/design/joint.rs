//! A bolt or nut that clamps something: how far it reaches, what may be put on it, what that gives.
//!
//! engagement = min(L - clamped, start + depth) - start · left = start + depth - (L - clamped)
//! T = F (0.16 P + 0.58 d2 mu + D_Km/2 mu)
//!
//! The torque is the least of what bears it: the bolt at 90 % of its yield stress (VDI 2230), the thread it
//! is turned into (strip load), the engagement rule of that material, the pressure under the head and
//! under the palm, and what maker and build state.
//!
//! Friction scatters. The shop's friction gives the middle preload; one wrench setting leaves a preload
//! between F_min and F_max with alpha_A = F_max / F_min = 1.6 (VDI 2230, memory), so the most is
//! 2 alpha_A / (1 + alpha_A) = 1.23 times the middle. A thread must bear that most with a share of 0.8 of its
//! strip load: threads strip at once and for good, where a bolt merely stretches.
//!
//! The corrections C1 to C3 of VDI 2230 are left out: the wall around a terminal's thread is not known, and
//! for a soft thread under a steel bolt C3 is 1 within a twentieth. For steel in steel it is 0.9, inside that share.

use physics::laws::thread::Thread;
use physics::laws::{bearing, bolt, strip};

use physics::units::{Dimension, System, show_both};

use crate::finding::{About, Notes, Quantity, Worked};
use crate::given::build::Maybe;
use crate::given::shelf::{Bolt, BoltClass, Material, Nut, Shelf, Washer};

/// What lies under a bolt's head and what the bolt reaches.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Head form and thread; none on a stud.
    pub bolt: Option<Bolt>,
    /// Nut; only on a stud.
    pub nut: Option<Nut>,
    /// Class of the bolt, or of the nut's stud.
    pub class: BoltClass,
    /// Length of the bolt under its head, or of the stud above the landing face.
    pub length_mm: f64,
    /// Washer under the head.
    pub washer: Option<Washer>,
    /// Washer and palm (or plate) together.
    pub clamped_mm: f64,
    /// From the landing face to where full thread begins.
    pub thread_start_mm: f64,
    /// Depth of full thread.
    pub thread_depth_mm: f64,
    /// Thread in thread.
    pub engagement_mm: f64,
    /// Engagement that is needed.
    pub engagement_mm_min: f64,
    /// Thread left under the bolt's tip, negative when it bottoms; on a stud, thread standing out of the nut.
    pub left_mm: f64,
}

/// A torque and why it is that one.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueChoice {
    /// To be used.
    pub torque_nm: f64,
    /// Preload it gives.
    pub preload_n: f64,
    /// Everything that limits it, as judged.
    pub limits: Vec<TorqueLimit>,
    /// The one that governs: "thread in brass", "bolt 8.8", "pad", "stated by the terminal's maker", "stated by the build".
    pub governed_by: String,
}

/// One thing that limits a torque.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueLimit {
    /// What: "bolt 8.8", "thread in pa66-gf30", "pad of copper-tinned", "stated by the build".
    pub what: String,
    /// At most.
    pub torque_nm: f64,
    /// Source key.
    pub source: &'static str,
}

/// Share of its strip load a thread may bear (common practice).
pub const STRIP_SHARE: f64 = 0.8;
/// Least engagement over the diameter, whatever the torque: the least of the published rules, the one for heat-treated
/// steel. Below it the first turns carry alone.
pub const ENGAGEMENT_D_MIN: f64 = 0.8;
/// Engagement over the diameter beyond which a longer bolt adds nothing: the longest of the published rules.
const ENGAGEMENT_D_MAX: f64 = 2.5;
/// Yield stress of class 8.8, for which engagement rules are stated.
const RULE_YIELD_MPA: f64 = 640.0;
/// Shear strength over tensile strength of steel (memory: 0.6 to 0.65).
const STEEL_SHEAR: f64 = 0.6;
/// Share of the tensile strength a stud of unknown class may be pulled with: 60 % of a yield that is two thirds of it.
const STUD_SHARE: f64 = 0.4;
/// Tangent of the half-angle at which pressure spreads through a plate: 30 degrees (frustum method, memory).
const SPREAD: f64 = 0.577_350_269_189_625_8;

/// Most preload over middle preload: 2 alpha_A / (1 + alpha_A) at the larger measured factor.
pub fn scatter() -> f64 {
    let alpha = bolt::TIGHTENING_FACTOR_MEASURED.1;
    2.0 * alpha / (1.0 + alpha)
}

/// Least preload over middle preload: 2 / (1 + alpha_A).
pub fn scatter_least() -> f64 {
    2.0 / (1.0 + bolt::TIGHTENING_FACTOR_MEASURED.1)
}

/// What turns.
#[derive(Clone, Copy, Debug)]
pub enum Turned<'a> {
    /// A bolt, by its head.
    Bolt(&'a Bolt),
    /// A nut on a stud.
    Nut(&'a Nut),
}

impl Turned<'_> {
    /// Bearing diameter.
    pub fn bearing_mm(&self) -> f64 {
        match self {
            Turned::Bolt(b) => b.bearing_mm,
            Turned::Nut(n) => n.bearing_mm,
        }
    }
}

/// A joint before its bolt has a length or a torque. All lengths are positive.
#[derive(Clone, Copy, Debug)]
pub struct Joint<'a> {
    /// Thread of the landing.
    pub thread: Thread,
    /// What turns.
    pub turned: Turned<'a>,
    /// Class of the bolt or stud.
    pub class: &'a BoltClass,
    /// Whether that class was stated, or assumed.
    pub class_stated: bool,
    /// Washer.
    pub washer: Option<&'a Washer>,
    /// Thickness of the palm or plate.
    pub ply_mm: f64,
    /// Hole in it.
    pub hole_mm: f64,
    /// Width of it, where it has an end: pressure does not spread beyond.
    pub width_mm: Option<f64>,
    /// What it is made of.
    pub ply: Option<&'a Material>,
    /// What it lies on.
    pub pad: Option<&'a Material>,
    /// What the thread is cut in, or what the stud is made of.
    pub threaded: Option<&'a Material>,
    /// From the landing face to where full thread begins.
    pub start_mm: f64,
    /// Depth of full thread, or length of the stud.
    pub depth_mm: f64,
    /// Friction of thread and head.
    pub friction: f64,
}

/// Torques stated elsewhere.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stated {
    /// By the build, for these bolts.
    pub by_build_nm: Option<f64>,
    /// By the maker of what they land on.
    pub by_maker_nm: Option<f64>,
    /// Who that maker is: "terminal's maker", "housing's maker".
    pub maker: &'static str,
}

impl Joint<'_> {
    /// Washer and ply together.
    pub fn clamped_mm(&self) -> f64 {
        self.washer.map_or(0.0, |w| w.thickness_mm) + self.ply_mm
    }

    /// Room that must stay under a bolt's tip: one pitch, for the thread's run-out and the stack's tolerances
    /// (common practice).
    pub fn margin_mm(&self) -> f64 {
        self.thread.pitch_mm
    }

    /// The longest preferred length that does not bottom; the shortest there is when all of them bottom. A stud has its own.
    pub fn length_mm(&self) -> Option<f64> {
        let bolt = match self.turned {
            Turned::Nut(_) => return Some(self.depth_mm),
            Turned::Bolt(bolt) => bolt,
        };
        let mut lengths: Vec<f64> = bolt.lengths_mm.clone();
        lengths.sort_by(f64::total_cmp);
        let reaches: Vec<f64> = lengths
            .iter()
            .copied()
            .filter(|l| self.left_mm(*l) >= self.margin_mm() && self.engagement_mm(*l) > 0.0)
            .collect();
        let useful = ENGAGEMENT_D_MAX * self.thread.diameter_mm;
        let longest = reaches.iter().copied().rfind(|l| self.engagement_mm(*l) <= useful);
        longest.or(reaches.first().copied()).or(lengths.first().copied())
    }

    /// Thread in thread for a bolt of this length.
    pub fn engagement_mm(&self, length_mm: f64) -> f64 {
        let reach = length_mm - self.clamped_mm();
        match self.turned {
            Turned::Bolt(_) => {
                (reach.min(self.start_mm + self.depth_mm) - self.start_mm).max(0.0)
            }
            Turned::Nut(nut) => reach.min(nut.height_mm).max(0.0),
        }
    }

    /// Room under the tip of a bolt of this length; on a stud, thread standing out of the nut, or how far the nut
    /// is held off by the plain shank.
    pub fn left_mm(&self, length_mm: f64) -> f64 {
        let reach = length_mm - self.clamped_mm();
        match self.turned {
            Turned::Bolt(_) => self.start_mm + self.depth_mm - reach,
            Turned::Nut(nut) => {
                let out = reach - nut.height_mm;
                let shank = self.clamped_mm() - self.start_mm;
                if shank < 0.0 { out.min(shank) } else { out }
            }
        }
    }

    /// The stack for a bolt of this length. The needed engagement is that of `preload_n`.
    pub fn stack(&self, length_mm: f64, preload_n: Option<f64>) -> Stack {
        let (bolt, nut) = match self.turned {
            Turned::Bolt(bolt) => (Some(bolt.clone()), None),
            Turned::Nut(nut) => (None, Some(nut.clone())),
        };
        Stack {
            bolt,
            nut,
            class: self.class.clone(),
            length_mm,
            washer: self.washer.cloned(),
            clamped_mm: self.clamped_mm(),
            thread_start_mm: self.start_mm,
            thread_depth_mm: self.depth_mm,
            engagement_mm: self.engagement_mm(length_mm),
            engagement_mm_min: self.engagement_mm_min(preload_n),
            left_mm: self.left_mm(length_mm),
        }
    }

    /// Engagement that is needed: all of a nut; in a hole 0.8 d, or what a preload asks of the material.
    pub fn engagement_mm_min(&self, preload_n: Option<f64>) -> f64 {
        if let Turned::Nut(nut) = self.turned {
            return nut.height_mm;
        }
        let least = ENGAGEMENT_D_MIN * self.thread.diameter_mm;
        let (Some(preload_n), Some(material)) = (preload_n, self.threaded) else {
            return least;
        };
        let area = strip::worst_areas_mm2_per_mm(&self.thread).0;
        let by_strip = if area > 0.0 && material.shear_mpa > 0.0 {
            strip::needed_engagement_mm(scatter() * preload_n, area, material.shear_mpa)
        } else {
            0.0
        };
        let by_rule =
            material.engagement_d * self.thread.diameter_mm * preload_n / self.rule_preload_n();
        least.max(by_strip).max(by_rule)
    }

    /// Preload at which a class 8.8 bolt is used to 90 %: what engagement rules are stated for.
    fn rule_preload_n(&self) -> f64 {
        bolt::rated_preload_n(&self.thread, self.friction, RULE_YIELD_MPA, bolt::UTILISATION)
    }

    fn seat(&self) -> bolt::Seat {
        bolt::Seat {
            head_diameter_mm: self.turned.bearing_mm(),
            hole_mm: self.washer.map_or(self.hole_mm, |w| w.inside_mm),
        }
    }

    /// Torque over preload.
    fn arm_mm(&self) -> f64 {
        let friction = bolt::Friction { thread: self.friction, head: self.friction };
        bolt::torque_arm_mm(&self.thread, friction, self.seat())
    }

    /// Preload a torque gives, at the shop's friction.
    pub fn preload_n(&self, torque_nm: f64) -> f64 {
        torque_nm * 1000.0 / self.arm_mm()
    }

    /// Torque that gives a preload, at the shop's friction.
    pub fn torque_nm(&self, preload_n: f64) -> f64 {
        preload_n * self.arm_mm() / 1000.0
    }

    /// Preload at which the bolt is used to 90 % of its yield stress.
    pub fn bolt_preload_n(&self) -> Option<f64> {
        let yield_mpa = self.class.yield_mpa;
        (yield_mpa > 0.0).then(|| {
            bolt::rated_preload_n(&self.thread, self.friction, yield_mpa, bolt::UTILISATION)
        })
    }

    /// Preload the bolt or the stud could give by itself, whatever it lands in.
    pub fn own_preload_n(&self) -> Option<f64> {
        match (self.turned, self.threaded) {
            (Turned::Nut(_), Some(stud)) if !self.class_stated => {
                let preload_n = STUD_SHARE * stud.tensile_mpa * self.thread.stress_area_mm2();
                (preload_n > 0.0).then_some(preload_n)
            }
            _ => self.bolt_preload_n(),
        }
    }

    /// Load that strips the thread at an engagement: of the hole, or of the bolt or stud where that is weaker.
    pub fn strip_load_n(&self, engagement_mm: f64) -> Option<f64> {
        let (inside, outside) = strip::worst_areas_mm2_per_mm(&self.thread);
        let steel = STEEL_SHEAR * self.class.tensile_mpa;
        let (inside_mpa, outside_mpa) = match (self.turned, self.threaded) {
            (Turned::Bolt(_), Some(m)) => (m.shear_mpa, steel),
            (Turned::Nut(_), Some(m)) => (steel, m.shear_mpa),
            (_, None) => return None,
        };
        if !(inside_mpa > 0.0 && outside_mpa > 0.0) {
            return None;
        }
        Some(strip::strip_load_n(inside, engagement_mm, inside_mpa).min(strip::strip_load_n(
            outside,
            engagement_mm,
            outside_mpa,
        )))
    }

    /// Rings that press: on the ply under the washer or head, and on the pad where the pressure has spread through the ply.
    pub fn rings(&self) -> [Ring<'_>; 2] {
        let under = match self.washer {
            Some(washer) => washer.outside_mm,
            None => self.turned.bearing_mm(),
        };
        let within = |mm: f64| self.width_mm.map_or(mm, |width| mm.min(width));
        [
            Ring { outside_mm: within(under), hole_mm: self.hole_mm, material: self.ply },
            Ring {
                outside_mm: within(under + 2.0 * SPREAD * self.ply_mm),
                hole_mm: self.hole_mm,
                material: self.pad,
            },
        ]
    }

    /// The torque: the least of all limits, or none where the thread's material and its maker's torque are both unknown.
    pub fn choose_torque(&self, engagement_mm: f64, stated: &Stated) -> Option<TorqueChoice> {
        if self.threaded.is_none() && stated.by_maker_nm.is_none() {
            return None;
        }
        let mut limits = self.limits(engagement_mm);
        if let Some(torque_nm) = stated.by_maker_nm {
            let what = format!("stated by the {}", stated.maker);
            limits.push(TorqueLimit { what, torque_nm, source: "shop" });
        }
        let computed = limits.len();
        if let Some(torque_nm) = stated.by_build_nm {
            let what = "stated by the build".to_owned();
            limits.push(TorqueLimit { what, torque_nm, source: "shop" });
        }
        let (index, least) = limits
            .iter()
            .enumerate()
            .min_by(|(_, a), (_, b)| a.torque_nm.total_cmp(&b.torque_nm))?;
        let is_stated = index >= computed || least.source == "shop";
        // A computed torque is rounded down to what a wrench's scale shows, never up past its limit.
        let torque_nm =
            if is_stated { least.torque_nm } else { (least.torque_nm * 10.0).floor() / 10.0 };
        if !(torque_nm > 0.0) {
            return None;
        }
        let governed_by = least.what.clone();
        let preload_n = self.preload_n(torque_nm);
        Some(TorqueChoice { torque_nm, preload_n, limits, governed_by })
    }

    /// What the joint itself bears.
    pub fn limits(&self, engagement_mm: f64) -> Vec<TorqueLimit> {
        let mut limits = Vec::new();
        let mut limit = |what: String, preload_n: f64, source| {
            limits.push(TorqueLimit { what, torque_nm: self.torque_nm(preload_n), source });
        };
        let on_stud = matches!(self.turned, Turned::Nut(_));
        if let Some(preload_n) = self.bolt_preload_n()
            && (!on_stud || self.class_stated || self.threaded.is_none())
        {
            limit(format!("bolt {}", self.class.row.id), preload_n, "vdi-2230-1");
        }
        if let Some(material) = self.threaded {
            let id = &material.row.id;
            if on_stud && !self.class_stated && material.tensile_mpa > 0.0 {
                let preload_n =
                    STUD_SHARE * material.tensile_mpa * self.thread.stress_area_mm2();
                limit(format!("stud of {id}"), preload_n, "common-practice");
            }
            if let Some(load_n) = self.strip_load_n(engagement_mm) {
                let preload_n = load_n * STRIP_SHARE / scatter();
                limit(format!("thread in {id}"), preload_n, "fed-std-h28");
            }
            if !on_stud && material.engagement_d > 0.0 {
                let rule_mm = material.engagement_d * self.thread.diameter_mm;
                let preload_n = self.rule_preload_n() * engagement_mm / rule_mm;
                limit(format!("engagement rule for {id}"), preload_n, "vdi-2230-1");
            }
        }
        for (ring, what) in self.rings().iter().zip(["palm", "pad"]) {
            if let Some((material, preload_n)) = ring.bears_n() {
                limit(format!("{what} of {}", material.row.id), preload_n, "vdi-2230-1");
            }
        }
        limits
    }
}

/// A ring under pressure.
#[derive(Clone, Copy, Debug)]
pub struct Ring<'a> {
    /// Outside.
    pub outside_mm: f64,
    /// Hole.
    pub hole_mm: f64,
    /// What is pressed, where it is known.
    pub material: Option<&'a Material>,
}

impl<'a> Ring<'a> {
    /// Pressure under a force, where the ring has any area.
    pub fn pressure_mpa(&self, force_n: f64) -> Option<f64> {
        let has_area = self.outside_mm > self.hole_mm && self.hole_mm >= 0.0;
        has_area.then(|| bearing::pressure_mpa(force_n, self.outside_mm, self.hole_mm))
    }

    /// Force it bears, where its material is known.
    pub fn bears_n(&self) -> Option<(&'a Material, f64)> {
        let material = self.material.filter(|m| m.bearing_mpa > 0.0)?;
        let has_area = self.outside_mm > self.hole_mm && self.hole_mm >= 0.0;
        has_area.then(|| {
            (
                material,
                material.bearing_mpa * bearing::ring_area_mm2(self.outside_mm, self.hole_mm),
            )
        })
    }
}

/// What is stated about a place's fasteners, and how to speak of the place when something is assumed.
#[derive(Clone, Debug)]
pub struct Wanted<'a> {
    /// "phases at motor.phases".
    pub place: String,
    /// Where the keys stand: "run.phases.to-end.".
    pub keys: String,
    /// Head form.
    pub head: &'a Maybe<String>,
    /// Washer form, or "none".
    pub washer: &'a Maybe<String>,
    /// Bolt class as written.
    pub class_named: &'a Maybe<String>,
    /// Bolt class as found.
    pub class: Option<&'a BoltClass>,
    /// Which units come first.
    pub units: System,
}

impl<'a> Wanted<'a> {
    /// The head form, as stated, or a plain hexagon, said aloud with its spanner.
    pub fn head(&self, shelf: &'a Shelf, thread: &str, notes: &mut Notes) -> Option<&'a Bolt> {
        let find =
            |form: &str| shelf.bolts.iter().find(|b| b.form == form && b.thread == thread);
        if let Some(stated) = self.head {
            return find(&stated.value);
        }
        let hex = find("hex")?;
        notes.assume(
            &format!("head of the bolts of {}", self.place),
            &format!("hex, spanner {}", show_both(hex.flats_mm, Dimension::Length, self.units)),
            "the commonest head; the thread does not tell the spanner: M8 occurs with 10, 12 and 13 mm",
            &format!("{}head", self.keys),
        );
        Some(hex)
    }

    /// The nut, as stated, or a plain hexagon, said aloud with its spanner.
    pub fn nut(&self, shelf: &'a Shelf, thread: &str, notes: &mut Notes) -> Option<&'a Nut> {
        let find =
            |form: &str| shelf.nuts.iter().find(|n| n.form == form && n.thread == thread);
        if let Some(stated) = self.head {
            return find(&stated.value);
        }
        let hex = find("hex")?;
        notes.assume(
            &format!("nuts of {}", self.place),
            &format!("hex, spanner {}", show_both(hex.flats_mm, Dimension::Length, self.units)),
            "the commonest nut; the thread does not tell the spanner",
            &format!("{}head", self.keys),
        );
        Some(hex)
    }

    /// The class, as stated, or 8.8, said aloud.
    pub fn class(
        &self,
        shelf: &'a Shelf,
        turned: &Turned<'_>,
        notes: &mut Notes,
    ) -> Option<&'a BoltClass> {
        if self.class_named.is_some() {
            return self.class;
        }
        let usual = shelf.classes.iter().find(|c| c.row.id == "8.8")?;
        let (what, value, why) = match turned {
            Turned::Bolt(_) => (
                "bolt class",
                "8.8",
                "the usual class of plated steel bolts; read it off the head",
            ),
            Turned::Nut(_) => (
                "class of the nuts",
                "8",
                "the usual class of steel nuts; the stud is judged by its material",
            ),
        };
        let key = format!("{}bolt-class", self.keys);
        notes.assume(&format!("{what} of {}", self.place), value, why, &key);
        Some(usual)
    }

    /// The washer: as stated, none under a flange or where a plain one would overhang the `room_mm` it
    /// lies on, else a plain one, said aloud.
    pub fn washer(
        &self,
        shelf: &'a Shelf,
        turned: &Turned<'_>,
        thread: &str,
        room_mm: f64,
        notes: &mut Notes,
    ) -> Option<&'a Washer> {
        let flanged = match turned {
            Turned::Bolt(bolt) => bolt.form.contains("flange"),
            Turned::Nut(nut) => nut.form.contains("flange"),
        };
        let form = match self.washer {
            Some(stated) if stated.value == "none" => return None,
            Some(stated) => stated.value.as_str(),
            None if flanged => return None,
            None => "plain",
        };
        let found = shelf.washers.iter().find(|w| w.form == form && w.thread == thread);
        let Some(washer) = found.filter(|_| self.washer.is_none()) else { return found };
        let fits = washer.outside_mm <= room_mm;
        let (what, why) = if fits {
            ("plain", "a head without a flange needs one to spread its load")
        } else {
            ("none", "a plain washer is wider than what it would lie on")
        };
        let key = format!("{}washer", self.keys);
        notes.assume(&format!("washer of {}", self.place), what, why, &key);
        found.filter(|_| fits)
    }
}

/// Notes how the numbers of a joint came about.
pub fn note_work(
    of: &str,
    about: &About,
    joint: &Joint<'_>,
    stack: &Stack,
    torque: Option<&TorqueChoice>,
    notes: &mut Notes,
) {
    let mm = |v: f64| Quantity::new(v, Dimension::Length);
    let nm = |v: f64| Quantity::new(v, Dimension::Torque);
    let mut work = |what: String, value, law, inputs, source| {
        notes.work(Worked { what, about: about.clone(), value, law, inputs, source });
    };
    let inputs = vec![
        ("L", mm(stack.length_mm)),
        ("clamped", mm(stack.clamped_mm)),
        ("start", mm(stack.thread_start_mm)),
        ("depth", mm(stack.thread_depth_mm)),
    ];
    let (reach, left) = match stack.nut {
        None => (
            "engagement = min(L - clamped, start + depth) - start",
            "left = start + depth - (L - clamped)",
        ),
        Some(_) => ("engagement = min(stud - clamped, nut)", "out = stud - clamped - nut"),
    };
    let own = "common-practice";
    work(
        format!("thread engagement of {of}"),
        mm(stack.engagement_mm),
        reach,
        inputs.clone(),
        own,
    );
    work(format!("thread left of {of}"), mm(stack.left_mm), left, inputs, own);
    let Some(torque) = torque else { return };
    for limit in &torque.limits {
        let force = Quantity::new(joint.preload_n(limit.torque_nm), Dimension::Force);
        work(
            format!("torque limit of {of}: {}", limit.what),
            nm(limit.torque_nm),
            "T = F (0.16 P + 0.58 d2 mu + D_Km/2 mu), F the preload that is borne",
            vec![("F", force)],
            limit.source,
        );
    }
    work(
        format!("preload of {of}"),
        Quantity::new(torque.preload_n, Dimension::Force),
        "F = T / (0.16 P + 0.58 d2 mu + D_Km/2 mu)",
        vec![
            ("T", nm(torque.torque_nm)),
            ("mu", Quantity::new(joint.friction, Dimension::Ratio)),
            ("P", mm(joint.thread.pitch_mm)),
            ("d2", mm(joint.thread.pitch_diameter_mm())),
        ],
        "vdi-2230-1",
    );
}

/// A bolt as written, "M8x16": its diameter and its length. The pitch is that of the hole it goes into.
pub fn written_mm(bolt: &str) -> Option<(f64, f64)> {
    let (diameter, length) = bolt.trim().strip_prefix('M')?.split_once('x')?;
    let (diameter, length): (f64, f64) = (diameter.parse().ok()?, length.parse().ok()?);
    let sensible = |mm: f64| mm > 0.0 && mm.is_finite();
    (sensible(diameter) && sensible(length)).then_some((diameter, length))
}

/// Whether two written threads are one thread: "M8" and "M8x1.25".
pub fn same_thread(a: &str, b: &str) -> bool {
    match (Thread::parse(a), Thread::parse(b)) {
        (Ok(a), Ok(b)) => a == b,
        _ => a == b,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::given::shelf_read::standard;
    use proptest::prelude::*;

    fn row<T>(rows: &[T], is: impl Fn(&T) -> bool) -> &T {
        rows.iter().find(|r| is(r)).expect("the standard shelf has it")
    }

    fn material(id: &str) -> &'static Material {
        row(&standard().materials, |m| m.row.id == id)
    }

    /// A bolt through a tinned copper palm of 2.6 mm with a plain washer, into a hole.
    fn landed(thread: &str, into: &str, depth_mm: f64) -> Joint<'static> {
        let shelf = standard();
        let hole = row(&shelf.washers, |w| w.form == "plain" && w.thread == thread).inside_mm;
        Joint {
            thread: Thread::parse(thread).expect("a thread"),
            turned: Turned::Bolt(row(&shelf.bolts, |b| b.form == "hex" && b.thread == thread)),
            class: row(&shelf.classes, |c| c.row.id == "8.8"),
            class_stated: true,
            washer: Some(row(&shelf.washers, |w| w.form == "plain" && w.thread == thread)),
            ply_mm: 2.6,
            hole_mm: hole,
            width_mm: None,
            ply: Some(material("copper-tinned")),
            pad: Some(material("copper-tinned")),
            threaded: Some(material(into)),
            start_mm: 0.0,
            depth_mm,
            friction: 0.12,
        }
    }

    fn torque_of(joint: &Joint<'_>, what: &str, engagement_mm: f64) -> f64 {
        let limits = joint.limits(engagement_mm);
        limits.iter().find(|l| l.what == what).expect(what).torque_nm
    }

    #[test]
    fn the_bolt_alone_bears_what_vdi_2230_prints() {
        // VDI 2230-1 table for class 8.8 at friction 0.12, head on a medium hole (memory): M6 10.2 kN and 10.1 N m,
        // M8 18.6 and 24.6, M10 29.6 and 48, M12 43.0 and 84.
        for (thread, hole_mm, kn, nm) in [
            ("M6", 6.6, 10.2, 10.1),
            ("M8", 9.0, 18.6, 24.6),
            ("M10", 11.0, 29.6, 48.0),
            ("M12", 13.5, 43.0, 84.0),
        ] {
            let joint = Joint { washer: None, hole_mm, ..landed(thread, "steel-s235", 50.0) };
            let torque = torque_of(&joint, "bolt 8.8", 20.0);
            let preload = joint.bolt_preload_n().expect("a class with a yield stress");
            assert!((torque / nm - 1.0).abs() < 0.01, "{thread}: {torque} N m");
            assert!((preload / 1000.0 / kn - 1.0).abs() < 0.01, "{thread}: {preload} N");
        }
    }

    #[test]
    fn eighty_pound_inches_is_about_what_m8_bears_in_glass_filled_polyamide() {
        // Common practice, no source: M8 bolts that land phase lugs on a threaded insulating block get 80 lbf in, and
        // more strips the block's threads. With 10 mm of thread ours must allow that and not much more.
        let joint = landed("M8", "pa66-gf30", 14.0);
        let usual_nm = 9.038_786;
        let limit = torque_of(&joint, "thread in pa66-gf30", 10.0);
        assert!((usual_nm..1.25 * usual_nm).contains(&limit), "{limit} N m");
        // Twice the usual torque strips it at the friction of plated steel, half as much again where the bolt is oiled.
        let strip_n = joint.strip_load_n(10.0).expect("a known material");
        for (friction, times) in [(0.12, 2.0), (0.10, 1.5)] {
            let at = Joint { friction, ..joint };
            assert!(at.preload_n(times * usual_nm) > strip_n, "friction {friction}");
        }
        // The bolt itself is far from its limit: the block rules.
        assert!(torque_of(&joint, "bolt 8.8", 10.0) > 2.0 * usual_nm);
    }

    #[test]
    fn published_torques_of_copper_joints_lie_between_our_least_and_most() {
        // Service torques of copper current joints with class 8.8 (read): DIN 43673 as quoted, and the manuals of two makers
        // of switchgear. Ours: at least a quarter of the bolt's preload, at most 90 % of its yield.
        for (thread, printed) in [
            ("M6", vec![8.0, 6.5]),
            ("M8", vec![20.0, 21.0, 17.0]),
            ("M10", vec![40.0, 40.0, 35.0, 37.5]),
            ("M12", vec![70.0, 68.0]),
        ] {
            let joint = landed(thread, "steel-s235", 50.0);
            let engagement = 1.5 * joint.thread.diameter_mm;
            let least = joint.torque_nm(0.25 * joint.own_preload_n().expect("class 8.8"));
            let most = joint
                .limits(engagement)
                .iter()
                .map(|l| l.torque_nm)
                .fold(f64::INFINITY, f64::min);
            for nm in printed {
                assert!(least < nm && nm < most, "{thread}: {least} < {nm} < {most}");
            }
        }
    }

    #[test]
    fn aluminium_asks_for_its_published_engagement() {
        // Published rule (read): class 8.8 coarse in aluminium, 2.0 d. At the bolt's full torque that is what we ask.
        let joint = landed("M8", "aluminium-cast", 40.0);
        let full = joint.bolt_preload_n();
        assert!((joint.engagement_mm_min(full) - 16.0).abs() < 1e-9);
        // At the usual torque of a small terminal much less will do.
        let little = joint.engagement_mm_min(Some(joint.preload_n(9.0)));
        assert!((6.4..8.0).contains(&little), "{little}");
    }

    #[test]
    fn a_torque_is_the_least_of_its_limits_and_never_rounded_up() {
        let joint = landed("M8", "pa66-gf30", 14.0);
        let none = Stated { maker: "terminal's maker", ..Stated::default() };
        let computed = joint.choose_torque(10.0, &none).expect("a torque");
        let least = computed.limits.iter().map(|l| l.torque_nm).fold(f64::INFINITY, f64::min);
        assert!(computed.torque_nm <= least && least - computed.torque_nm < 0.1);
        assert_eq!(computed.governed_by, "thread in pa66-gf30");

        let by_maker = Stated { by_maker_nm: Some(8.0), ..none };
        let kept = joint.choose_torque(10.0, &by_maker).expect("a torque");
        assert_eq!(kept.torque_nm, 8.0);
        assert_eq!(kept.governed_by, "stated by the terminal's maker");

        let by_build = Stated { by_build_nm: Some(7.0), ..by_maker };
        assert_eq!(joint.choose_torque(10.0, &by_build).expect("a torque").torque_nm, 7.0);
        let too_much = Stated { by_build_nm: Some(20.0), ..by_maker };
        assert_eq!(joint.choose_torque(10.0, &too_much).expect("a torque").torque_nm, 8.0);
    }

    #[test]
    fn nothing_is_turned_into_an_unknown_material_without_its_makers_word() {
        let joint = Joint { threaded: None, ..landed("M8", "brass", 14.0) };
        let none = Stated { by_build_nm: Some(9.0), ..Stated::default() };
        assert_eq!(joint.choose_torque(10.0, &none), None);
        let by_maker = Stated { by_maker_nm: Some(9.0), maker: "terminal's maker", ..none };
        assert!(joint.choose_torque(10.0, &by_maker).is_some());
    }

    #[test]
    fn a_brass_stud_is_pulled_no_harder_than_brass_bears() {
        // ISO 8839 CU2 (read): an M8 brass stud breaks at 13 540 N. Torque guide computed from it: 8.8 N m at a nut factor of
        // 0.2 and 60 % of its yield.
        let shelf = standard();
        let stud = Material { tensile_mpa: 370.0, ..material("brass").clone() };
        let joint = Joint {
            turned: Turned::Nut(row(&shelf.nuts, |n| n.form == "hex" && n.thread == "M8")),
            class_stated: false,
            threaded: Some(&stud),
            depth_mm: 25.0,
            ..landed("M8", "brass", 25.0)
        };
        let preload = joint.own_preload_n().expect("a stud of known material");
        assert!((0.35..0.45).contains(&(preload / 13_540.0)), "{preload}");
        let stack = joint.stack(25.0, Some(preload));
        assert_eq!((stack.engagement_mm, stack.bolt.is_none()), (6.8, true));
        assert!((stack.left_mm - (25.0 - 4.2 - 6.8)).abs() < 1e-9);
    }

    #[test]
    fn a_bolt_reads_as_diameter_and_length() {
        assert_eq!(written_mm("M8x16"), Some((8.0, 16.0)));
        assert_eq!(written_mm(" M10x30 "), Some((10.0, 30.0)));
        for wrong in ["M8", "8x16", "M8x", "Mxx", "M8x-3", "M8xinf"] {
            assert_eq!(written_mm(wrong), None, "{wrong}");
        }
        assert!(same_thread("M8", "M8x1.25") && !same_thread("M10", "M10x1.25"));
    }

    proptest! {
        #[test]
        fn prop_a_longer_bolt_never_engages_less_nor_leaves_more(
            depth in 1.0..60.0_f64,
            start in 0.0..20.0_f64,
            short in 1.0..100.0_f64,
            more in 0.01..50.0_f64,
        ) {
            let joint = Joint { start_mm: start, depth_mm: depth, ..landed("M8", "brass", 10.0) };
            prop_assert!(joint.engagement_mm(short + more) >= joint.engagement_mm(short));
            prop_assert!(joint.left_mm(short + more) < joint.left_mm(short));
            prop_assert!(joint.engagement_mm(short + more) <= depth + 1e-9);
        }

        #[test]
        fn prop_more_torque_never_gives_less_preload(
            torque in 0.1..100.0_f64,
            more in 0.001..50.0_f64,
            friction in 0.0..0.4_f64,
        ) {
            let joint = Joint { friction, ..landed("M10", "brass", 20.0) };
            prop_assert!(joint.preload_n(torque + more) > joint.preload_n(torque));
            let there_and_back = joint.torque_nm(joint.preload_n(torque));
            prop_assert!((there_and_back - torque).abs() < 1e-9 * torque);
        }

        #[test]
        fn prop_more_thread_never_bears_less(
            engagement in 0.1..30.0_f64,
            more in 0.0..10.0_f64,
            into in prop::sample::select(vec!["brass", "pa66-gf30", "aluminium-cast", "copper"]),
        ) {
            let joint = landed("M8", into, 60.0);
            let least = |e: f64| {
                joint.limits(e).iter().map(|l| l.torque_nm).fold(f64::INFINITY, f64::min)
            };
            prop_assert!(least(engagement + more) >= least(engagement) - 1e-12);
        }

        #[test]
        fn prop_a_chosen_bolt_bottoms_only_if_all_do(
            depth in 0.5..60.0_f64,
            start in 0.0..30.0_f64,
            ply in 0.5..20.0_f64,
        ) {
            let joint =
                Joint { start_mm: start, depth_mm: depth, ply_mm: ply, ..landed("M8", "brass", 10.0) };
            let Turned::Bolt(bolt) = joint.turned else { unreachable!("landed with a bolt") };
            let chosen = joint.length_mm().expect("the shelf has lengths");
            let fits = |l: &f64| {
                joint.left_mm(*l) >= joint.margin_mm() && joint.engagement_mm(*l) > 0.0
            };
            prop_assert!(bolt.lengths_mm.contains(&chosen));
            prop_assert_eq!(bolt.lengths_mm.iter().any(fits), fits(&chosen));
        }
    }
}
