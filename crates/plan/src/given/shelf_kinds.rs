//! The kinds of rows: what each may say, what it is called, how it reads in one line, and what cannot be.

use physics::units::{Dimension as D, System, show_both};

use super::shelf::*;
use super::shelf_draft::{
    Counted, Draft, Number, length_item, melting_item, number, plain, text_item,
};

/// A kind of row on the shelf.
pub trait Part: Clone + Sized {
    /// Its word in files and messages: "lug".
    const KIND: &'static str;
    /// All of this kind.
    fn of(shelf: &Shelf) -> &[Self];
    /// What every row has.
    fn row(&self) -> &Row;
    /// Its values in one line, for a person.
    fn line(&self, system: System) -> String;
}

/// What reading needs to know of a kind beyond what others may.
pub(super) trait Kept: Part {
    const COUNTED: Counted = Counted::Piece;
    fn of_mut(shelf: &mut Shelf) -> &mut Vec<Self>;
    fn row_mut(&mut self) -> &mut Row;
    /// Reads a row; what it does not say is taken from `was`.
    fn read(draft: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self;
    /// What people call it, where the file does not say.
    fn title(&self) -> String;
    /// What cannot be: the field and why. References lead to kinds read before.
    fn faults(&self, shelf: &Shelf) -> Vec<(&'static str, String)>;
}

/// A word, a list of the shelf, and the rest by hand below.
macro_rules! part {
    ($type:ident, $kind:literal, $list:ident) => {
        impl Part for $type {
            const KIND: &'static str = $kind;
            fn of(shelf: &Shelf) -> &[Self] {
                &shelf.$list
            }
            fn row(&self) -> &Row {
                &self.row
            }
            fn line(&self, system: System) -> String {
                self.in_words(&Words(system))
            }
        }
    };
}

macro_rules! kept {
    ($list:ident) => {
        fn of_mut(shelf: &mut Shelf) -> &mut Vec<Self> {
            &mut shelf.$list
        }
        fn row_mut(&mut self) -> &mut Row {
            &mut self.row
        }
    };
}

part!(Conductor, "conductor", conductors);
part!(Cable, "cable", cables);
part!(Insulation, "insulation", insulations);
part!(Lug, "lug", lugs);
part!(Crimp, "crimp", crimps);
part!(Sleeve, "sleeve", sleeves);
part!(Grip, "grip", grips);
part!(Oring, "oring", orings);
part!(Bolt, "bolt", bolts);
part!(Nut, "nut", nuts);
part!(Washer, "washer", washers);
part!(ThreadHoles, "holes", holes);
part!(Material, "material", materials);
part!(BoltClass, "class", classes);
part!(Fuse, "fuse", fuses);
part!(Contactor, "contactor", contactors);

/// Numbers as words of one line.
struct Words(System);

impl Words {
    fn say(&self, value: f64, dimension: D) -> String {
        show_both(value, dimension, self.0)
    }
    fn mm(&self, value: f64) -> String {
        self.say(value, D::Length)
    }
    fn c(&self, value: f64) -> String {
        self.say(value, D::Temperature)
    }
    fn mpa(&self, value: f64) -> String {
        self.say(value, D::Stress)
    }
}

const fn mm(name: &'static str, key: &'static str) -> Number {
    number(name, key, D::Length)
}

const fn mpa(name: &'static str, key: &'static str) -> Number {
    number(name, key, D::Stress)
}

const RESISTANCE: Number = number("resistance", "resistance_ohm_per_km", D::LineResistance);
const MASS_PER_KM: Number = number("mass", "mass_kg_per_km", D::MassPerLength);
const LIMIT: Number = number("limit", "limit_c", D::Temperature);
const FLATS: Number = mm("flats", "flats_mm");

/// A fault if `small` is not below `large`.
fn below(
    faults: &mut Vec<(&'static str, String)>,
    (small, small_mm): (&'static str, f64),
    (large, large_mm): (&str, f64),
) {
    if !(small_mm < large_mm) {
        let message = format!("`{small}` of {small_mm} is not below `{large}` of {large_mm}");
        faults.push((small, message));
    }
}

/// A fault if there is no row of kind `P` with this id.
fn refers<P: Part>(
    faults: &mut Vec<(&'static str, String)>,
    field: &'static str,
    id: &str,
    shelf: &Shelf,
) {
    if !P::of(shelf).iter().any(|p| p.row().id == id) {
        faults.push((field, format!("there is no {} `{id}` on the shelf", P::KIND)));
    }
}

impl Conductor {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{}, class {}, at most {} at 20 degC, {} over the strands, {}",
            self.size,
            self.class,
            w.say(self.resistance_ohm_per_km, D::LineResistance),
            w.mm(self.diameter_mm),
            w.say(self.mass_kg_per_km, D::MassPerLength),
        )
    }
}

impl Kept for Conductor {
    const COUNTED: Counted = Counted::Length;
    kept!(conductors);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Conductor {
            row,
            size: d.size(was.map(|w| w.size)),
            class: d.text("class", was.map(|w| &w.class)),
            resistance_ohm_per_km: d.number(RESISTANCE, was.map(|w| w.resistance_ohm_per_km)),
            diameter_mm: d.number(mm("diameter", "diameter_mm"), was.map(|w| w.diameter_mm)),
            mass_kg_per_km: d.number(MASS_PER_KM, was.map(|w| w.mass_kg_per_km)),
        }
    }
    fn title(&self) -> String {
        match self.class.as_str() {
            "AWG" => format!("flexible conductor {}", self.size),
            "solid" => format!("solid conductor {}", self.size),
            class => format!("conductor {}, class {class}", self.size),
        }
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        Vec::new()
    }
}

impl Cable {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{} to {} outside, conductor {}, {} at 20 degC, to {}, {} DC, {}, {}, {}",
            w.mm(self.diameter_mm_min),
            w.mm(self.diameter_mm_max),
            w.mm(self.conductor_diameter_mm),
            w.say(self.resistance_ohm_per_km, D::LineResistance),
            w.c(self.limit_c),
            w.say(self.voltage_v_dc, D::Voltage),
            if self.screened { "screened" } else { "no screen" },
            self.insulation,
            self.colour,
        )
    }
}

impl Kept for Cable {
    const COUNTED: Counted = Counted::Length;
    kept!(cables);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        let diameter_mm_max =
            d.number(mm("diameter-max", "diameter_mm_max"), was.map(|w| w.diameter_mm_max));
        let screened = d.flag("screened", was.map(|w| w.screened));
        let core = mm("core-diameter", "core_diameter_mm");
        // The outside of a cable with nothing over its insulation is the outside of its core.
        let core_was = was.map(|w| w.core_diameter_mm).filter(|_| screened);
        let core_diameter_mm = match (d.number_or(core, core_was), screened) {
            (Some(core), _) => core,
            (None, false) => diameter_mm_max,
            (None, true) => d.number(core, None),
        };
        Cable {
            row,
            family: d.text("family", was.map(|w| &w.family)),
            size: d.size(was.map(|w| w.size)),
            class: d.text("class", was.map(|w| &w.class)),
            conductor_diameter_mm: d.number(
                mm("conductor-diameter", "conductor_diameter_mm"),
                was.map(|w| w.conductor_diameter_mm),
            ),
            resistance_ohm_per_km: d.number(RESISTANCE, was.map(|w| w.resistance_ohm_per_km)),
            diameter_mm_min: d
                .number(mm("diameter-min", "diameter_mm_min"), was.map(|w| w.diameter_mm_min)),
            diameter_mm_max,
            core_diameter_mm,
            screened,
            temperature_class: d.text("temperature-class", was.map(|w| &w.temperature_class)),
            limit_c: d.number(LIMIT, was.map(|w| w.limit_c)),
            voltage_v_dc: d.number(
                number("voltage", "voltage_v_dc", D::Voltage),
                was.map(|w| w.voltage_v_dc),
            ),
            insulation: d.text("insulation", was.map(|w| &w.insulation)),
            colour: d.text("colour", was.map(|w| &w.colour)),
            mass_kg_per_km: d.number(MASS_PER_KM, was.map(|w| w.mass_kg_per_km)),
        }
    }
    fn title(&self) -> String {
        format!("cable {} {}, {}", self.family, self.size, self.colour)
    }
    fn faults(&self, shelf: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        if !(self.diameter_mm_min <= self.diameter_mm_max) {
            faults.push((
                "diameter-min",
                format!(
                    "`diameter-min` of {} is above `diameter-max` of {}",
                    self.diameter_mm_min, self.diameter_mm_max
                ),
            ));
        }
        below(
            &mut faults,
            ("conductor-diameter", self.conductor_diameter_mm),
            ("core-diameter", self.core_diameter_mm),
        );
        if !(self.core_diameter_mm <= self.diameter_mm_max) {
            faults.push((
                "core-diameter",
                format!(
                    "`core-diameter` of {} is above the outside of {}",
                    self.core_diameter_mm, self.diameter_mm_max
                ),
            ));
        }
        refers::<Insulation>(&mut faults, "insulation", &self.insulation, shelf);
        if !shelf.conductors.iter().any(|c| c.class == self.class) {
            faults.push(("class", format!("there is no conductor class `{}`", self.class)));
        }
        faults
    }
}

impl Insulation {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{}, {:.2} MJ/m3K, emissivity {}, to {} in a short circuit",
            w.say(self.resistivity_km_per_w, D::ThermalResistivity),
            self.heat_j_per_m3k / 1e6,
            self.emissivity,
            w.c(self.short_circuit_c),
        )
    }
}

impl Kept for Insulation {
    kept!(insulations);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Insulation {
            row,
            resistivity_km_per_w: d.number(
                number("resistivity", "resistivity_km_per_w", D::ThermalResistivity),
                was.map(|w| w.resistivity_km_per_w),
            ),
            heat_j_per_m3k: d.number(
                plain("heat-j-per-m3k", "heat_j_per_m3k"),
                was.map(|w| w.heat_j_per_m3k),
            ),
            emissivity: d.number(
                number("emissivity", "emissivity", D::Ratio),
                was.map(|w| w.emissivity),
            ),
            short_circuit_c: d.number(
                number("short-circuit", "short_circuit_c", D::Temperature),
                was.map(|w| w.short_circuit_c),
            ),
        }
    }
    fn title(&self) -> String {
        self.row.id.clone()
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        if 1.0 < self.emissivity {
            faults.push(("emissivity", "`emissivity` is above 1".to_owned()));
        }
        faults
    }
}

/// How lugs are made and joined.
const LUG_FAMILIES: [&str; 3] = ["tube", "din-46235", "solderless"];

impl Lug {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{}, for {}, stud {}, hole {}, barrel {} inside, {} outside, {} deep, palm {} wide, {} thick, {} long",
            self.family,
            self.size,
            self.stud,
            w.mm(self.hole_mm),
            w.mm(self.barrel_inside_mm),
            w.mm(self.barrel_outside_mm),
            w.mm(self.barrel_depth_mm),
            w.mm(self.palm_width_mm),
            w.mm(self.palm_thickness_mm),
            w.mm(self.length_mm),
        )
    }
}

impl Kept for Lug {
    kept!(lugs);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Lug {
            row,
            family: d.text("family", was.map(|w| &w.family)),
            size: d.size(was.map(|w| w.size)),
            stud: d.text("stud", was.map(|w| &w.stud)),
            hole_mm: d.number(mm("hole", "hole_mm"), was.map(|w| w.hole_mm)),
            barrel_inside_mm: d.number(
                mm("barrel-inside", "barrel_inside_mm"),
                was.map(|w| w.barrel_inside_mm),
            ),
            barrel_outside_mm: d.number(
                mm("barrel-outside", "barrel_outside_mm"),
                was.map(|w| w.barrel_outside_mm),
            ),
            barrel_depth_mm: d
                .number(mm("barrel-depth", "barrel_depth_mm"), was.map(|w| w.barrel_depth_mm)),
            palm_width_mm: d
                .number(mm("palm-width", "palm_width_mm"), was.map(|w| w.palm_width_mm)),
            palm_thickness_mm: d.number(
                mm("palm-thickness", "palm_thickness_mm"),
                was.map(|w| w.palm_thickness_mm),
            ),
            length_mm: d.number(mm("length", "length_mm"), was.map(|w| w.length_mm)),
            hole_to_tip_mm: d
                .number(mm("hole-to-tip", "hole_to_tip_mm"), was.map(|w| w.hole_to_tip_mm)),
            bendable: d.flag("bendable", was.map(|w| w.bendable)),
            crimps: d.list("crimps", "crimps", was.map(|w| &w.crimps), text_item),
            material: d.text("material", was.map(|w| &w.material)),
        }
    }
    fn title(&self) -> String {
        format!("ring lug {}, stud {}", self.size, self.stud)
    }
    fn faults(&self, shelf: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        if !LUG_FAMILIES.contains(&self.family.as_str()) {
            let message =
                format!("`{}` is no lug family: use {}", self.family, LUG_FAMILIES.join(", "));
            faults.push(("family", message));
        }
        below(
            &mut faults,
            ("barrel-inside", self.barrel_inside_mm),
            ("barrel-outside", self.barrel_outside_mm),
        );
        below(&mut faults, ("hole", self.hole_mm), ("palm-width", self.palm_width_mm));
        let palm_and_barrel_mm = self.barrel_depth_mm + self.hole_to_tip_mm;
        if !(palm_and_barrel_mm < self.length_mm) {
            faults.push((
                "length",
                format!(
                    "`length` of {} leaves no room for barrel and palm of {palm_and_barrel_mm}",
                    self.length_mm
                ),
            ));
        }
        for crimp in &self.crimps {
            refers::<Crimp>(&mut faults, "crimps", crimp, shelf);
        }
        refers::<Material>(&mut faults, "material", &self.material, shelf);
        faults
    }
}

impl Crimp {
    fn in_words(&self, _: &Words) -> String {
        let presses = if self.presses == 1 { "press" } else { "presses" };
        format!(
            "{} for {}, die {}, {} {presses}, pull-out by {}",
            self.form, self.size, self.die, self.presses, self.pull_basis
        )
    }
}

impl Kept for Crimp {
    kept!(crimps);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        let presses = d.number(plain("presses", "presses"), was.map(|w| f64::from(w.presses)));
        Crimp {
            row,
            size: d.size(was.map(|w| w.size)),
            die: d.text("die", was.map(|w| &w.die)),
            form: d.text("form", was.map(|w| &w.form)),
            // A count that is no whole number is caught by `faults`: it is zero here.
            presses: if presses.fract() == 0.0 && (1.0..=99.0).contains(&presses) {
                presses as u32
            } else {
                0
            },
            pull_basis: d.text("pull-basis", was.map(|w| &w.pull_basis)),
        }
    }
    fn title(&self) -> String {
        format!("crimp {}, {}", self.size, self.form)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        if self.presses == 0 {
            faults
                .push(("presses", "`presses` must be a whole number from 1 to 99".to_owned()));
        }
        if !["iec-61238-1", "ul-486a"].contains(&self.pull_basis.as_str()) {
            let message = format!(
                "`{}` is no pull-out basis: use iec-61238-1 or ul-486a",
                self.pull_basis
            );
            faults.push(("pull-basis", message));
        }
        faults
    }
}

impl Sleeve {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{} as supplied, {} recovered, wall {}, {}, {}, to {}",
            w.mm(self.supplied_mm),
            w.mm(self.recovered_mm),
            w.mm(self.wall_mm),
            if self.adhesive { "adhesive-lined" } else { "no adhesive" },
            self.colour,
            w.c(self.limit_c),
        )
    }
}

impl Kept for Sleeve {
    kept!(sleeves);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Sleeve {
            row,
            supplied_mm: d.number(mm("supplied", "supplied_mm"), was.map(|w| w.supplied_mm)),
            recovered_mm: d
                .number(mm("recovered", "recovered_mm"), was.map(|w| w.recovered_mm)),
            wall_mm: d.number(mm("wall", "wall_mm"), was.map(|w| w.wall_mm)),
            length_loss: d.number(
                number("length-loss", "length_loss", D::Ratio).may_be_zero(),
                was.map(|w| w.length_loss),
            ),
            limit_c: d.number(LIMIT, was.map(|w| w.limit_c)),
            adhesive: d.flag("adhesive", was.map(|w| w.adhesive)),
            colour: d.text("colour", was.map(|w| &w.colour)),
        }
    }
    fn title(&self) -> String {
        let kind = if self.adhesive { "adhesive-lined sleeve" } else { "thin sleeve" };
        format!("{kind} {} mm, {}", self.row.id, self.colour)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("recovered", self.recovered_mm), ("supplied", self.supplied_mm));
        if !(self.length_loss < 1.0) {
            faults.push(("length-loss", "`length-loss` is the whole length".to_owned()));
        }
        faults
    }
}

impl Grip {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "thread {}, clamps {} to {}, {} across flats, {} torque, {}{}, to {}",
            self.thread,
            w.mm(self.clamp_mm_min),
            w.mm(self.clamp_mm_max),
            w.mm(self.flats_mm),
            w.say(self.torque_nm, D::Torque),
            self.material,
            if self.screen_contact { ", screen contact" } else { "" },
            w.c(self.limit_c),
        )
    }
}

impl Kept for Grip {
    kept!(grips);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Grip {
            row,
            thread: d.text("thread", was.map(|w| &w.thread)),
            clamp_mm_min: d
                .number(mm("clamp-min", "clamp_mm_min"), was.map(|w| w.clamp_mm_min)),
            clamp_mm_max: d
                .number(mm("clamp-max", "clamp_mm_max"), was.map(|w| w.clamp_mm_max)),
            flats_mm: d.number(FLATS, was.map(|w| w.flats_mm)),
            corners_mm: d.number(mm("corners", "corners_mm"), was.map(|w| w.corners_mm)),
            thread_length_mm: d.number(
                mm("thread-length", "thread_length_mm"),
                was.map(|w| w.thread_length_mm),
            ),
            protrusion_mm: d
                .number(mm("protrusion", "protrusion_mm"), was.map(|w| w.protrusion_mm)),
            torque_nm: d
                .number(number("torque", "torque_nm", D::Torque), was.map(|w| w.torque_nm)),
            screen_contact: d.flag("screen-contact", was.map(|w| w.screen_contact)),
            material: d.text("material", was.map(|w| &w.material)),
            limit_c: d.number(LIMIT, was.map(|w| w.limit_c)),
        }
    }
    fn title(&self) -> String {
        format!(
            "cord grip {}, {}{}, for {} to {} mm",
            self.thread,
            self.material,
            if self.screen_contact { ", screen contact" } else { "" },
            self.clamp_mm_min,
            self.clamp_mm_max
        )
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("clamp-min", self.clamp_mm_min), ("clamp-max", self.clamp_mm_max));
        below(&mut faults, ("flats", self.flats_mm), ("corners", self.corners_mm));
        faults
    }
}

impl Oring {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{} inside (+/- {}), section {} (+/- {})",
            w.mm(self.inside_mm),
            w.mm(self.inside_tol_mm),
            w.mm(self.section_mm),
            w.mm(self.section_tol_mm),
        )
    }
}

impl Kept for Oring {
    kept!(orings);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Oring {
            row,
            inside_mm: d.number(mm("inside", "inside_mm"), was.map(|w| w.inside_mm)),
            inside_tol_mm: d.number(
                mm("inside-tol", "inside_tol_mm").may_be_zero(),
                was.map(|w| w.inside_tol_mm),
            ),
            section_mm: d.number(mm("section", "section_mm"), was.map(|w| w.section_mm)),
            section_tol_mm: d.number(
                mm("section-tol", "section_tol_mm").may_be_zero(),
                was.map(|w| w.section_tol_mm),
            ),
        }
    }
    fn title(&self) -> String {
        format!("O-ring {}, {} x {} mm", self.row.id, self.inside_mm, self.section_mm)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("inside-tol", self.inside_tol_mm), ("inside", self.inside_mm));
        below(&mut faults, ("section-tol", self.section_tol_mm), ("section", self.section_mm));
        faults
    }
}

impl Bolt {
    fn in_words(&self, w: &Words) -> String {
        let lengths: Vec<String> = self.lengths_mm.iter().map(f64::to_string).collect();
        format!(
            "{} {}, head {} high, {} across, lengths {} mm",
            w.mm(self.flats_mm),
            if self.form == "socket" { "key" } else { "across flats" },
            w.mm(self.head_height_mm),
            w.mm(self.head_diameter_mm),
            lengths.join(" "),
        )
    }
}

impl Kept for Bolt {
    kept!(bolts);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Bolt {
            row,
            form: d.text("form", was.map(|w| &w.form)),
            thread: d.text("thread", was.map(|w| &w.thread)),
            flats_mm: d.number(FLATS, was.map(|w| w.flats_mm)),
            head_height_mm: d
                .number(mm("head-height", "head_height_mm"), was.map(|w| w.head_height_mm)),
            head_diameter_mm: d.number(
                mm("head-diameter", "head_diameter_mm"),
                was.map(|w| w.head_diameter_mm),
            ),
            bearing_mm: d.number(mm("bearing", "bearing_mm"), was.map(|w| w.bearing_mm)),
            lengths_mm: d.list(
                "lengths",
                "lengths_mm",
                was.map(|w| &w.lengths_mm),
                length_item,
            ),
        }
    }
    fn title(&self) -> String {
        match self.form.as_str() {
            "socket" => format!("socket head bolt {}, key {} mm", self.thread, self.flats_mm),
            form if form.starts_with("hex-flange") => {
                format!("flange bolt {}, {} mm across flats", self.thread, self.flats_mm)
            }
            _ => format!("hexagon bolt {}, {} mm across flats", self.thread, self.flats_mm),
        }
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("flats", self.flats_mm), ("head-diameter", self.head_diameter_mm));
        if !self.lengths_mm.is_sorted_by(|a, b| a < b) {
            faults.push(("lengths", "`lengths` must rise".to_owned()));
        }
        faults
    }
}

impl Nut {
    fn in_words(&self, w: &Words) -> String {
        format!("{} across flats, {} high", w.mm(self.flats_mm), w.mm(self.height_mm))
    }
}

impl Kept for Nut {
    kept!(nuts);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Nut {
            row,
            form: d.text("form", was.map(|w| &w.form)),
            thread: d.text("thread", was.map(|w| &w.thread)),
            flats_mm: d.number(FLATS, was.map(|w| w.flats_mm)),
            height_mm: d.number(mm("height", "height_mm"), was.map(|w| w.height_mm)),
            bearing_mm: d.number(mm("bearing", "bearing_mm"), was.map(|w| w.bearing_mm)),
        }
    }
    fn title(&self) -> String {
        let kind = if self.form == "hex-flange" { "flange nut" } else { "hexagon nut" };
        format!("{kind} {}, {} mm across flats", self.thread, self.flats_mm)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        // A flange bears wider than its hexagon; a plain nut cannot.
        if self.form == "hex" {
            below(&mut faults, ("bearing", self.bearing_mm), ("flats", self.flats_mm));
        }
        faults
    }
}

impl Washer {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{} inside, {} outside, {} thick",
            w.mm(self.inside_mm),
            w.mm(self.outside_mm),
            w.mm(self.thickness_mm),
        )
    }
}

impl Kept for Washer {
    kept!(washers);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Washer {
            row,
            form: d.text("form", was.map(|w| &w.form)),
            thread: d.text("thread", was.map(|w| &w.thread)),
            inside_mm: d.number(mm("inside", "inside_mm"), was.map(|w| w.inside_mm)),
            outside_mm: d.number(mm("outside", "outside_mm"), was.map(|w| w.outside_mm)),
            thickness_mm: d
                .number(mm("thickness", "thickness_mm"), was.map(|w| w.thickness_mm)),
            height_mm: d.number_or(mm("height", "height_mm"), was.and_then(|w| w.height_mm)),
        }
    }
    fn title(&self) -> String {
        format!("{} washer {}", self.form, self.thread)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("inside", self.inside_mm), ("outside", self.outside_mm));
        if let Some(height_mm) = self.height_mm {
            below(&mut faults, ("thickness", self.thickness_mm), ("height", height_mm));
        }
        faults
    }
}

impl ThreadHoles {
    fn in_words(&self, w: &Words) -> String {
        format!("clearance hole {}, tap drill {}", w.mm(self.clearance_mm), w.mm(self.tap_mm))
    }
}

impl Kept for ThreadHoles {
    kept!(holes);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        ThreadHoles {
            row,
            clearance_mm: d
                .number(mm("clearance", "clearance_mm"), was.map(|w| w.clearance_mm)),
            tap_mm: d.number(mm("tap", "tap_mm"), was.map(|w| w.tap_mm)),
        }
    }
    fn title(&self) -> String {
        format!("holes for {}", self.row.id)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("tap", self.tap_mm), ("clearance", self.clearance_mm));
        faults
    }
}

impl Material {
    fn in_words(&self, w: &Words) -> String {
        let mut line = format!(
            "tensile {}, shear {}, under a head {}, modulus {}, expansion {} um/mK, thread at least {} d",
            w.mpa(self.tensile_mpa),
            w.mpa(self.shear_mpa),
            w.mpa(self.bearing_mpa),
            w.mpa(self.modulus_mpa),
            self.expansion_um_per_mk,
            self.engagement_d,
        );
        if let Some(index) = self.tracking_index {
            line += &format!(", tracking index {index}");
        }
        if let Some(limit_c) = self.limit_c {
            line += &format!(", to {}", w.c(limit_c));
        }
        line
    }
}

impl Kept for Material {
    kept!(materials);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        Material {
            row,
            tensile_mpa: d.number(mpa("tensile", "tensile_mpa"), was.map(|w| w.tensile_mpa)),
            shear_mpa: d.number(mpa("shear", "shear_mpa"), was.map(|w| w.shear_mpa)),
            bearing_mpa: d.number(mpa("bearing", "bearing_mpa"), was.map(|w| w.bearing_mpa)),
            modulus_mpa: d.number(mpa("modulus", "modulus_mpa"), was.map(|w| w.modulus_mpa)),
            expansion_um_per_mk: d.number(
                plain("expansion-um-per-mk", "expansion_um_per_mk"),
                was.map(|w| w.expansion_um_per_mk),
            ),
            engagement_d: d
                .number(plain("engagement-d", "engagement_d"), was.map(|w| w.engagement_d)),
            tracking_index: d.number_or(
                plain("tracking-index", "tracking_index"),
                was.and_then(|w| w.tracking_index),
            ),
            limit_c: d.number_or(LIMIT, was.and_then(|w| w.limit_c)),
        }
    }
    fn title(&self) -> String {
        self.row.id.clone()
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        if !(self.shear_mpa <= self.tensile_mpa) {
            faults.push(("shear", "`shear` is above `tensile`".to_owned()));
        }
        faults
    }
}

impl BoltClass {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "tensile {}, yield {}, proof {}",
            w.mpa(self.tensile_mpa),
            w.mpa(self.yield_mpa),
            w.mpa(self.proof_mpa),
        )
    }
}

impl Kept for BoltClass {
    kept!(classes);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        BoltClass {
            row,
            tensile_mpa: d.number(mpa("tensile", "tensile_mpa"), was.map(|w| w.tensile_mpa)),
            yield_mpa: d.number(mpa("yield", "yield_mpa"), was.map(|w| w.yield_mpa)),
            proof_mpa: d.number(mpa("proof", "proof_mpa"), was.map(|w| w.proof_mpa)),
        }
    }
    fn title(&self) -> String {
        format!("bolt class {}", self.row.id)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("yield", self.yield_mpa), ("tensile", self.tensile_mpa));
        if !(self.proof_mpa <= self.yield_mpa) {
            faults.push(("proof", "`proof` is above `yield`".to_owned()));
        }
        faults
    }
}

impl Fuse {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{} DC, breaks {} to {}, melts at {}, clears within {}{}",
            w.say(self.voltage_v_dc, D::Voltage),
            w.say(self.breaking_a_min, D::Current),
            w.say(self.breaking_a, D::Current),
            w.say(self.melting_a2s, D::Joule),
            w.say(self.clearing_a2s, D::Joule),
            self.stud.as_ref().map_or_else(String::new, |stud| format!(", bolted {stud}")),
        )
    }
}

impl Kept for Fuse {
    kept!(fuses);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        let amperes = |name, key| number(name, key, D::Current);
        let integral = |name, key| number(name, key, D::Joule);
        Fuse {
            row,
            class: d.text("class", was.map(|w| &w.class)),
            rated_a: d.number(amperes("rated", "rated_a"), was.map(|w| w.rated_a)),
            voltage_v_dc: d.number(
                number("voltage", "voltage_v_dc", D::Voltage),
                was.map(|w| w.voltage_v_dc),
            ),
            breaking_a: d.number(amperes("breaking", "breaking_a"), was.map(|w| w.breaking_a)),
            breaking_a_min: d.number(
                amperes("breaking-min", "breaking_a_min"),
                was.map(|w| w.breaking_a_min),
            ),
            melting_a2s: d
                .number(integral("melting", "melting_a2s"), was.map(|w| w.melting_a2s)),
            clearing_a2s: d
                .number(integral("clearing", "clearing_a2s"), was.map(|w| w.clearing_a2s)),
            melting_curve: d.list(
                "melting-curve",
                "melting_curve_s_a",
                was.map(|w| &w.melting_curve),
                melting_item,
            ),
            stud: d.text_or("stud", was.and_then(|w| w.stud.as_ref())),
        }
    }
    fn title(&self) -> String {
        format!("fuse {}, {} A, {} V DC", self.class, self.rated_a, self.voltage_v_dc)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        below(&mut faults, ("melting", self.melting_a2s), ("clearing", self.clearing_a2s));
        below(
            &mut faults,
            ("breaking-min", self.breaking_a_min),
            ("breaking", self.breaking_a),
        );
        falling(&mut faults, "melting-curve", &self.melting_curve);
        faults
    }
}

/// A fault unless there are two points or more, the longest time first, and more current in less time.
fn falling(
    faults: &mut Vec<(&'static str, String)>,
    field: &'static str,
    curve: &[(f64, f64)],
) {
    let falls = |pair: &[(f64, f64)]| pair[1].0 < pair[0].0 && pair[0].1 < pair[1].1;
    if curve.len() < 2 || !curve.windows(2).all(falls) {
        let message = format!(
            "`{field}` needs two points or more, the longest time first, and more current in less time"
        );
        faults.push((field, message));
    }
}

impl Contactor {
    fn in_words(&self, w: &Words) -> String {
        format!(
            "{} DC, opens {}, closes on {}{}",
            w.say(self.voltage_v_dc, D::Voltage),
            w.say(self.breaks_a, D::Current),
            w.say(self.makes_a, D::Current),
            self.stud.as_ref().map_or_else(String::new, |stud| format!(", bolted {stud}")),
        )
    }
}

impl Kept for Contactor {
    kept!(contactors);
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        let amperes = |name, key| number(name, key, D::Current);
        Contactor {
            row,
            rated_a: d.number(amperes("rated", "rated_a"), was.map(|w| w.rated_a)),
            voltage_v_dc: d.number(
                number("voltage", "voltage_v_dc", D::Voltage),
                was.map(|w| w.voltage_v_dc),
            ),
            breaks_a: d.number(amperes("breaks", "breaks_a"), was.map(|w| w.breaks_a)),
            makes_a: d.number(amperes("makes", "makes_a"), was.map(|w| w.makes_a)),
            carry_curve: d.list(
                "carry-curve",
                "carry_curve_s_a",
                was.map(|w| &w.carry_curve),
                melting_item,
            ),
            stud: d.text_or("stud", was.and_then(|w| w.stud.as_ref())),
        }
    }
    fn title(&self) -> String {
        format!("contactor, {} A, {} V DC", self.rated_a, self.voltage_v_dc)
    }
    fn faults(&self, _: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        falling(&mut faults, "carry-curve", &self.carry_curve);
        faults
    }
}
