//! Conductors: sizes, resistance, metal.
//!
//! AWG      d = 0.127 mm x 92^((36-n)/39), n = 0, -1, -2, -3 for 1/0 .. 4/0
//! R(T)     R = R20 (K + T) / (K + 20), K = 234.5 degC copper, 228 degC aluminium
//! Area     A_eff = rho20 / R20: the copper that is there if the resistance is at its limit
//!
//! Range    AWG 36 to 4/0; IEC 60228 sizes 0.5 to 240 mm2; R(T) -50 to 300 degC.
//! Source   ASTM B258 (gauge); IEC 60228 tables 1 to 4 (maximum resistance at 20 degC): class 2 and
//!          class 5 from 10 to 185 mm2 were read in two reprints, the other rows and class 1 are from
//!          memory, class 6 has the resistances of class 5 (memory). R(T): FAA AC 43.13-1B p. 11-22
//!          (254.5 and 234.5), General Cable SPEC F125 (228). Resistivities: IEC 60028 and a handbook
//!          table of it. Aluminium class 2 is from memory.
//! Caveat   IEC 60228 states maximum resistances: a good cable is a little better. Overall diameters
//!          of stranded conductors are typical, not standard: measure the cable.

use std::fmt;

/// A conductor size as the trade names it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ConductorSize {
    /// American wire gauge; 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0.
    Awg(i32),
    /// Nominal area in mm2.
    Metric(f64),
    /// Area in kcmil, thousands of circular mils.
    Area(f64),
}

/// Area of one thousand circular mils in mm2: a circle one thousandth of an inch across, 1000 times.
pub const KCMIL_MM2: f64 = 1000.0 * std::f64::consts::PI / 4.0 * 0.0254 * 0.0254;

impl ConductorSize {
    /// Reads "2/0 AWG", "AWG 2/0", "4 AWG", "70 mm2" or "250 kcmil".
    ///
    /// The error says what is wrong and what is accepted.
    pub fn parse(text: &str) -> Result<ConductorSize, String> {
        let squeezed: String = text.chars().filter(|c| !c.is_whitespace()).collect();
        let lower = squeezed.to_lowercase();
        let ways = "write \"2/0 AWG\", \"70 mm2\" or \"250 kcmil\"";
        if let Some(gauge) = lower.strip_suffix("awg").or_else(|| lower.strip_prefix("awg")) {
            return parse_gauge(gauge).ok_or_else(|| {
                format!("`{}` is no wire gauge from 36 to 4/0: {ways}", text.trim())
            });
        }
        for (unit, make) in [
            ("mm2", ConductorSize::Metric as fn(f64) -> ConductorSize),
            ("mm²", ConductorSize::Metric),
            ("kcmil", ConductorSize::Area),
            ("mcm", ConductorSize::Area),
        ] {
            if let Some(number) = lower.strip_suffix(unit) {
                return match number.parse::<f64>() {
                    Ok(area) if (0.01..=5000.0).contains(&area) => Ok(make(area)),
                    _ => Err(format!(
                        "`{}` is no conductor area from 0.01 to 5000: {ways}",
                        text.trim()
                    )),
                };
            }
        }
        Err(format!("`{}` is no conductor size: {ways}", text.trim()))
    }

    /// Nominal area in mm2: of the solid wire for a gauge, of the name for the others.
    pub fn area_mm2(self) -> f64 {
        match self {
            ConductorSize::Awg(n) => {
                let d = awg_diameter_mm(n);
                std::f64::consts::FRAC_PI_4 * d * d
            }
            ConductorSize::Metric(mm2) => mm2,
            ConductorSize::Area(kcmil) => kcmil * KCMIL_MM2,
        }
    }

    /// Diameter in mm of the solid round wire of this area.
    pub fn solid_diameter_mm(self) -> f64 {
        match self {
            ConductorSize::Awg(n) => awg_diameter_mm(n),
            other => (other.area_mm2() / std::f64::consts::FRAC_PI_4).sqrt(),
        }
    }
}

fn parse_gauge(text: &str) -> Option<ConductorSize> {
    let n = match text.split_once('/') {
        Some((zeros, "0")) => match zeros {
            "1" => 0,
            "2" => -1,
            "3" => -2,
            "4" => -3,
            _ => return None,
        },
        Some(_) => return None,
        None => match text {
            "00" => -1,
            "000" => -2,
            "0000" => -3,
            plain => plain.parse::<i32>().ok().filter(|n| (0..=36).contains(n))?,
        },
    };
    Some(ConductorSize::Awg(n))
}

impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            ConductorSize::Awg(n) if n <= 0 => write!(f, "{}/0 AWG", 1 - n),
            ConductorSize::Awg(n) => write!(f, "{n} AWG"),
            ConductorSize::Metric(mm2) => write!(f, "{mm2} mm2"),
            ConductorSize::Area(kcmil) => write!(f, "{kcmil} kcmil"),
        }
    }
}

/// Diameter in mm of the solid wire of gauge `n`, by ASTM B258.
pub fn awg_diameter_mm(n: i32) -> f64 {
    assert!((-3..=50).contains(&n), "a gauge is from 4/0 to 50");
    // d = 0.127 x 92^((36-n)/39)
    0.127 * libm::pow(92.0, f64::from(36 - n) / 39.0)
}

/// What the conductor is drawn from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Annealed copper of 100 % IACS.
    Copper,
    /// Electrical aluminium.
    Aluminium,
}

impl Material {
    /// Resistivity at 20 degC in ohm m.
    pub fn resistivity_20_ohm_m(self) -> f64 {
        match self {
            Material::Copper => 1.0 / 58.0e6,
            Material::Aluminium => 2.8264e-8,
        }
    }

    /// The constant of R(T) in degC: minus the temperature at which the straight line reaches zero.
    pub fn zero_resistance_c(self) -> f64 {
        match self {
            Material::Copper => 234.5,
            Material::Aluminium => 228.0,
        }
    }

    /// Density in kg/m3 (memory: 8890 is the IACS convention).
    pub fn density_kg_m3(self) -> f64 {
        match self {
            Material::Copper => 8890.0,
            Material::Aluminium => 2703.0,
        }
    }

    /// Heat capacity of a volume in J/(m3 K), IEC 60949 table I (memory).
    pub fn volumetric_heat_j_m3k(self) -> f64 {
        match self {
            Material::Copper => 3.45e6,
            Material::Aluminium => 2.5e6,
        }
    }
}

/// How the conductor is made up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// One round wire of exactly the nominal area, at the standard resistivity.
    Solid,
    /// IEC 60228 class 1, solid, at its maximum resistance.
    One,
    /// IEC 60228 class 2, stranded for fixed wiring.
    Two,
    /// IEC 60228 class 5, flexible.
    Five,
    /// IEC 60228 class 6, finest stranding.
    Six,
}

impl Class {
    /// Length of a strand over the length of the cable.
    ///
    /// Concentric lay 1.02 (ASTM B8, memory), rope lay 1.04 to 1.06, here 1.05 (memory).
    pub fn lay_factor(self) -> f64 {
        match self {
            Class::Solid | Class::One => 1.0,
            Class::Two => 1.02,
            Class::Five | Class::Six => 1.05,
        }
    }
}

/// Whether the strands are tinned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// Bare copper.
    Plain,
    /// Metal-coated copper.
    Tinned,
}

/// One row of IEC 60228: maximum resistance at 20 degC in ohm/km.
struct Row {
    mm2: f64,
    one: f64,
    two: [f64; 2],
    five: [f64; 2],
    aluminium: Option<f64>,
}

const fn row(mm2: f64, one: f64, two: [f64; 2], five: [f64; 2], aluminium: Option<f64>) -> Row {
    Row { mm2, one, two, five, aluminium }
}

/// Plain and tinned in each pair. Class 2 and class 5 from 10 to 185 mm2: read. The rest: memory.
const IEC_60228: [Row; 18] = [
    row(0.5, 36.0, [36.0, 36.7], [39.0, 40.1], None),
    row(0.75, 24.5, [24.5, 24.8], [26.0, 26.7], None),
    row(1.0, 18.1, [18.1, 18.2], [19.5, 20.0], None),
    row(1.5, 12.1, [12.1, 12.2], [13.3, 13.7], None),
    row(2.5, 7.41, [7.41, 7.56], [7.98, 8.21], None),
    row(4.0, 4.61, [4.61, 4.70], [4.95, 5.09], None),
    row(6.0, 3.08, [3.08, 3.11], [3.30, 3.39], None),
    row(10.0, 1.83, [1.83, 1.84], [1.91, 1.95], Some(3.08)),
    row(16.0, 1.15, [1.15, 1.16], [1.21, 1.24], Some(1.91)),
    row(25.0, 0.727, [0.727, 0.734], [0.780, 0.795], Some(1.20)),
    row(35.0, 0.524, [0.524, 0.529], [0.554, 0.565], Some(0.868)),
    // The one size whose class 5 limit is below its class 2 limit: so it stands in the standard.
    row(50.0, 0.387, [0.387, 0.391], [0.386, 0.393], Some(0.641)),
    row(70.0, 0.268, [0.268, 0.270], [0.272, 0.277], Some(0.443)),
    row(95.0, 0.193, [0.193, 0.195], [0.206, 0.210], Some(0.320)),
    row(120.0, 0.153, [0.153, 0.154], [0.161, 0.164], Some(0.253)),
    row(150.0, 0.124, [0.124, 0.126], [0.129, 0.132], Some(0.206)),
    row(185.0, 0.101, [0.0991, 0.100], [0.106, 0.108], Some(0.164)),
    row(240.0, 0.0775, [0.0754, 0.0762], [0.0801, 0.0817], Some(0.125)),
];

/// The sizes of IEC 60228 known here, in mm2.
pub fn iec_sizes_mm2() -> impl Iterator<Item = f64> {
    IEC_60228.iter().map(|row| row.mm2)
}

/// Maximum resistance at 20 degC in ohm/km by IEC 60228, or nothing where the standard has no such
/// conductor (size not in the table, class 5 in aluminium).
pub fn iec_resistance_20_ohm_km(
    mm2: f64,
    class: Class,
    material: Material,
    finish: Finish,
) -> Option<f64> {
    let row = IEC_60228.iter().find(|row| (row.mm2 - mm2).abs() < 1e-9)?;
    let at = usize::from(finish == Finish::Tinned);
    match (material, class) {
        (_, Class::Solid) => None,
        (Material::Copper, Class::One) if finish == Finish::Tinned => None,
        (Material::Copper, Class::One) => Some(row.one),
        (Material::Copper, Class::Two) => Some(row.two[at]),
        (Material::Copper, Class::Five | Class::Six) => Some(row.five[at]),
        (Material::Aluminium, Class::One | Class::Two) => row.aluminium,
        (Material::Aluminium, Class::Five | Class::Six) => None,
    }
}

/// Where a resistance comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Resistivity over area (times the lay of the strands).
    Computed,
    /// The limit of IEC 60228.
    Iec60228,
    /// Between two limits of IEC 60228: the size is not one of the standard.
    Between,
}

/// A conductor made up: what follows from size, class and material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductor {
    /// Nominal area in mm2.
    pub area_mm2: f64,
    /// Metal in mm2 that would have this resistance without lay: for heat and for axial conduction.
    pub effective_area_mm2: f64,
    /// Overall diameter in mm; typical for stranded ones.
    pub diameter_mm: f64,
    /// Resistance at 20 degC in ohm/km.
    pub resistance_20_ohm_km: f64,
    /// Mass of the metal in kg/km.
    pub mass_kg_km: f64,
    /// What it is drawn from.
    pub material: Material,
    /// Where the resistance comes from.
    pub basis: Basis,
}

impl Conductor {
    /// Resistance in ohm/km at a conductor temperature in degC.
    pub fn resistance_ohm_km(&self, temperature_c: f64) -> f64 {
        self.resistance_20_ohm_km * resistance_factor(temperature_c, self.material)
    }
}

/// The conductor of a size, class, material and finish.
pub fn conductor(
    size: ConductorSize,
    class: Class,
    material: Material,
    finish: Finish,
) -> Conductor {
    let area_mm2 = size.area_mm2();
    let (resistance_20_ohm_km, basis) = match size {
        ConductorSize::Metric(mm2) if class != Class::Solid => {
            metric_resistance(mm2, class, material, finish)
        }
        _ => (computed_resistance(area_mm2, class, material), Basis::Computed),
    };
    let mass_lay = if basis == Basis::Computed { class.lay_factor() } else { 1.0 };
    Conductor {
        area_mm2,
        effective_area_mm2: effective_area_mm2(resistance_20_ohm_km, material),
        diameter_mm: overall_diameter_mm(size, class),
        resistance_20_ohm_km,
        mass_kg_km: area_mm2 * 1e-3 * material.density_kg_m3() * mass_lay,
        material,
        basis,
    }
}

/// R = rho / A x lay, ohm/km.
fn computed_resistance(area_mm2: f64, class: Class, material: Material) -> f64 {
    material.resistivity_20_ohm_m() / (area_mm2 * 1e-6) * 1000.0 * class.lay_factor()
}

/// The limit of the standard, or between the limits of its neighbours by their effective share of metal.
fn metric_resistance(
    mm2: f64,
    class: Class,
    material: Material,
    finish: Finish,
) -> (f64, Basis) {
    if let Some(limit) = iec_resistance_20_ohm_km(mm2, class, material, finish) {
        return (limit, Basis::Iec60228);
    }
    let solid = |area: f64| computed_resistance(area, Class::Solid, material);
    let known: Vec<(f64, f64)> = iec_sizes_mm2()
        .filter_map(|size| {
            iec_resistance_20_ohm_km(size, class, material, finish)
                .map(|limit| (size, limit / solid(size)))
        })
        .collect();
    let above = known.iter().position(|(size, _)| mm2 < *size);
    match above {
        Some(i) if i > 0 => {
            let ((a0, f0), (a1, f1)) = (known[i - 1], known[i]);
            let share = libm::log(mm2 / a0) / libm::log(a1 / a0);
            (solid(mm2) * (f0 + (f1 - f0) * share), Basis::Between)
        }
        _ => (computed_resistance(mm2, class, material), Basis::Computed),
    }
}

/// R(T)/R20 = (K + T)/(K + 20).
pub fn resistance_factor(temperature_c: f64, material: Material) -> f64 {
    let k = material.zero_resistance_c();
    (k + temperature_c) / (k + 20.0)
}

/// A_eff = rho20 / R20, mm2.
pub fn effective_area_mm2(resistance_20_ohm_km: f64, material: Material) -> f64 {
    material.resistivity_20_ohm_m() * 1e9 / resistance_20_ohm_km
}

/// How much of the circle over the strands of a flexible conductor is metal.
///
/// Chosen so that every lug barrel read from a data sheet takes its conductor (the lugs of the shelf);
/// bought cables are looser before they are pushed in, up to 1.3 of the solid diameter (memory).
pub const FLEXIBLE_FILL: f64 = 0.67;

/// Overall diameter in mm; typical, never standard.
///
/// Class 2: round wires in 1 + 6 + 12 + 18 layers by the least wire counts of IEC 60228 (memory), so
/// 3/sqrt 7, 5/sqrt 19, 7/sqrt 37 of the solid diameter. Class 5 and 6: d = sqrt(4 A / (pi fill)), A the
/// copper that has the resistance of the standard, or the gauge's area.
pub fn overall_diameter_mm(size: ConductorSize, class: Class) -> f64 {
    let ratio = match class {
        Class::Solid | Class::One => 1.0,
        Class::Two => match size.area_mm2() {
            a if a < 40.0 => 3.0 / 7f64.sqrt(),
            a if a < 115.0 => 5.0 / 19f64.sqrt(),
            _ => 7.0 / 37f64.sqrt(),
        },
        Class::Five | Class::Six => {
            let listed = match size {
                ConductorSize::Metric(mm2) => {
                    iec_resistance_20_ohm_km(mm2, class, Material::Copper, Finish::Plain)
                }
                ConductorSize::Awg(_) | ConductorSize::Area(_) => None,
            };
            let metal_mm2 = listed
                .map_or(size.area_mm2(), |ohm_km| effective_area_mm2(ohm_km, Material::Copper));
            return (4.0 * metal_mm2 / (std::f64::consts::PI * FLEXIBLE_FILL)).sqrt();
        }
    };
    size.solid_diameter_mm() * ratio
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, relative: f64) {
        assert!(
            (got - expected).abs() <= relative * expected.abs(),
            "{got} against {expected}"
        );
    }

    #[test]
    fn val_gauges_of_astm_b258() {
        // CRC Handbook 15-12-86 prints 8.252, 6.543 and 5.189 mm for 1/0, 2 and 4.
        near(awg_diameter_mm(0), 8.252, 1e-4);
        near(awg_diameter_mm(2), 6.543, 2e-4);
        near(awg_diameter_mm(4), 5.189, 1e-4);
        near(ConductorSize::parse("4/0 AWG").unwrap().area_mm2(), 107.219, 1e-5);
        near(awg_diameter_mm(36), 0.127, 1e-12);
    }

    #[test]
    fn sizes_are_read_as_people_write_them() {
        assert_eq!(ConductorSize::parse("2/0 AWG"), Ok(ConductorSize::Awg(-1)));
        assert_eq!(ConductorSize::parse("AWG 2/0"), Ok(ConductorSize::Awg(-1)));
        assert_eq!(ConductorSize::parse("awg 4"), Ok(ConductorSize::Awg(4)));
        assert_eq!(ConductorSize::parse("0000 AWG"), Ok(ConductorSize::Awg(-3)));
        assert_eq!(ConductorSize::parse("70mm²"), Ok(ConductorSize::Metric(70.0)));
        assert_eq!(ConductorSize::parse("250 kcmil"), Ok(ConductorSize::Area(250.0)));
        for wrong in ["70", "5/0 AWG", "-2 mm2", "37 AWG", "mm2", "", "2/1 AWG", "nan mm2"] {
            assert!(ConductorSize::parse(wrong).is_err(), "{wrong}");
        }
        for size in ["2/0 AWG", "4 AWG", "70 mm2", "250 kcmil"] {
            assert_eq!(ConductorSize::parse(size).unwrap().to_string(), size);
        }
    }

    #[test]
    fn val_stranded_diameters_of_nec_chapter_9_table_8() {
        // Stranded conductors 4, 2, 1, 2/0, 4/0 AWG: 5.89, 7.42, 8.43, 10.62, 13.41 mm (memory).
        for (size, d) in [(4, 5.89), (2, 7.42), (1, 8.43), (-1, 10.62), (-3, 13.41)] {
            near(overall_diameter_mm(ConductorSize::Awg(size), Class::Two), d, 0.003);
        }
    }

    #[test]
    fn effective_area_of_70_mm2_class_5() {
        let c = conductor(
            ConductorSize::Metric(70.0),
            Class::Five,
            Material::Copper,
            Finish::Plain,
        );
        near(c.effective_area_mm2, 63.39, 1e-4);
        near(c.resistance_ohm_km(90.0), 0.272 * 1.275_049, 1e-6);
        assert_eq!(c.basis, Basis::Iec60228);
    }

    #[test]
    fn finer_stranding_never_conducts_better_but_for_one_size() {
        for mm2 in iec_sizes_mm2() {
            let limit = |class| {
                iec_resistance_20_ohm_km(mm2, class, Material::Copper, Finish::Plain).unwrap()
            };
            if mm2 == 50.0 {
                assert!(limit(Class::Five) < limit(Class::Two));
            } else {
                assert!(limit(Class::Two) < limit(Class::Five), "{mm2}");
            }
        }
    }
}
