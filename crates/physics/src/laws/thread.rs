//! Metric screw threads: the basic profile and its 6g/6H limits.
//!
//! H = (√3/2) P · d2 = d − ¾ H · d3 = d − 17/12 H · D1 = d − 5/4 H · As = π/4 ((d2 + d3)/2)²
//!
//! Range   M1.6 to M90; coarse pitches by ISO 261, any pitch when written out.
//! Source  ISO 68-1 and ISO 724 (profile), ISO 898-1 (stress area), ISO 965-1 (limits). The stress
//!         areas were read in a table of ISO 8839; profile and limits are from memory.
//! Caveat  The limits are those of tolerance class 6g/6H before coating.

use std::f64::consts::PI;

/// Coarse pitches of ISO 261, (nominal diameter, pitch) in mm.
pub const COARSE_MM: [(f64, f64); 30] = [
    (1.6, 0.35),
    (2.0, 0.4),
    (2.5, 0.45),
    (3.0, 0.5),
    (3.5, 0.6),
    (4.0, 0.7),
    (5.0, 0.8),
    (6.0, 1.0),
    (7.0, 1.0),
    (8.0, 1.25),
    (10.0, 1.5),
    (12.0, 1.75),
    (14.0, 2.0),
    (16.0, 2.0),
    (18.0, 2.5),
    (20.0, 2.5),
    (22.0, 2.5),
    (24.0, 3.0),
    (27.0, 3.0),
    (30.0, 3.5),
    (33.0, 3.5),
    (36.0, 4.0),
    (39.0, 4.0),
    (42.0, 4.5),
    (45.0, 4.5),
    (48.0, 5.0),
    (52.0, 5.0),
    (56.0, 5.5),
    (60.0, 5.5),
    (64.0, 6.0),
];

/// A metric thread: "M8", "M10x1.25".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Nominal diameter d.
    pub diameter_mm: f64,
    /// Pitch P.
    pub pitch_mm: f64,
}

/// Why a text is not a metric thread.
#[derive(Clone, Debug, PartialEq)]
pub enum ThreadError {
    /// The text does not read as M, a diameter and perhaps a pitch.
    NotAThread(String),
    /// There is no coarse pitch for this diameter, so the pitch must be written.
    NoCoarsePitch(f64),
    /// The pitch is not smaller than a third of the diameter, or not positive.
    PitchTooLarge {
        /// Nominal diameter as written.
        diameter_mm: f64,
        /// Pitch as written.
        pitch_mm: f64,
    },
    /// The diameter lies outside M1.6 to M90.
    OutOfRange(f64),
}

impl ThreadError {
    /// The message: what is wrong, then what to write.
    pub fn message(&self) -> String {
        match self {
            ThreadError::NotAThread(text) => {
                format!("`{text}` is not a metric thread: write it like M8 or M10x1.25")
            }
            ThreadError::NoCoarsePitch(d) => {
                format!("M{d} has no coarse pitch: write the pitch, like M{d}x1.5")
            }
            ThreadError::PitchTooLarge { diameter_mm, pitch_mm } => {
                format!(
                    "a pitch of {pitch_mm} mm is too large for a diameter of {diameter_mm} mm"
                )
            }
            ThreadError::OutOfRange(d) => {
                format!("M{d} is outside the threads known here: M1.6 to M90")
            }
        }
    }
}

impl Thread {
    /// Reads "M8", "M8x1.25", "M6x0,75", "M10 × 1.25".
    pub fn parse(text: &str) -> Result<Thread, ThreadError> {
        let wrong = || ThreadError::NotAThread(text.trim().to_owned());
        let plain: String = text
            .chars()
            .filter(|c| !c.is_whitespace())
            .map(|c| match c {
                ',' => '.',
                '×' | 'X' | '*' => 'x',
                'm' => 'M',
                other => other,
            })
            .collect();
        let rest = plain.strip_prefix('M').ok_or_else(wrong)?;
        let (diameter, pitch) = match rest.split_once('x') {
            Some((d, p)) => (d, Some(p)),
            None => (rest, None),
        };
        let diameter_mm = decimal(diameter).ok_or_else(wrong)?;
        if !(1.6..=90.0).contains(&diameter_mm) {
            return Err(ThreadError::OutOfRange(diameter_mm));
        }
        let pitch_mm = match pitch {
            Some(p) => decimal(p).ok_or_else(wrong)?,
            None => {
                coarse_pitch_mm(diameter_mm).ok_or(ThreadError::NoCoarsePitch(diameter_mm))?
            }
        };
        if pitch_mm <= 0.0 || diameter_mm <= 3.0 * pitch_mm {
            return Err(ThreadError::PitchTooLarge { diameter_mm, pitch_mm });
        }
        Ok(Thread { diameter_mm, pitch_mm })
    }

    /// The designation as a mechanic writes it: coarse pitch left out.
    pub fn designation(&self) -> String {
        if coarse_pitch_mm(self.diameter_mm) == Some(self.pitch_mm) {
            format!("M{}", self.diameter_mm)
        } else {
            format!("M{}x{}", self.diameter_mm, self.pitch_mm)
        }
    }

    /// Height of the sharp triangle, H.
    pub fn triangle_height_mm(&self) -> f64 {
        3.0_f64.sqrt() / 2.0 * self.pitch_mm // H = (√3/2) P
    }

    /// Pitch diameter d2 = D2.
    pub fn pitch_diameter_mm(&self) -> f64 {
        self.diameter_mm - 0.75 * self.triangle_height_mm() // d2 = d − ¾ H
    }

    /// Root diameter of the bolt thread, d3.
    pub fn root_diameter_mm(&self) -> f64 {
        self.diameter_mm - 17.0 / 12.0 * self.triangle_height_mm() // d3 = d − 17/12 H
    }

    /// Minor diameter of the nut thread, D1.
    pub fn minor_diameter_mm(&self) -> f64 {
        self.diameter_mm - 1.25 * self.triangle_height_mm() // D1 = d − 5/4 H
    }

    /// Diameter of the stress area, (d2 + d3)/2.
    pub fn stress_diameter_mm(&self) -> f64 {
        (self.pitch_diameter_mm() + self.root_diameter_mm()) / 2.0
    }

    /// Stress area As.
    pub fn stress_area_mm2(&self) -> f64 {
        let d = self.stress_diameter_mm();
        PI / 4.0 * d * d // As = π/4 ((d2 + d3)/2)²
    }

    /// The 6g/6H limits, from the table of ISO 965-1 where we hold the row, else by its formulas.
    pub fn limits(&self) -> Limits {
        let tolerances = self.tabled().unwrap_or_else(|| self.by_formula());
        let um = 1e-3;
        let (d, d2) = (self.diameter_mm, self.pitch_diameter_mm());
        let d1 = self.minor_diameter_mm();
        let es = tolerances.es_um * um;
        Limits {
            external_major_mm: (d - es - tolerances.td_um * um, d - es),
            external_pitch_mm: (d2 - es - tolerances.td2_um * um, d2 - es),
            internal_minor_mm: (d1, d1 + tolerances.td1_internal_um * um),
            internal_pitch_mm: (d2, d2 + tolerances.td2_internal_um * um),
            from: tolerances.from,
        }
    }

    fn tabled(&self) -> Option<Tolerances> {
        let by_pitch = BY_PITCH.iter().find(|row| row.0 == self.pitch_mm)?;
        let by_size = BY_SIZE.iter().find(|row| {
            row.0 < self.diameter_mm && self.diameter_mm <= row.1 && row.2 == self.pitch_mm
        })?;
        Some(Tolerances {
            es_um: by_pitch.1,
            td_um: by_pitch.2,
            td1_internal_um: by_pitch.3,
            td2_um: by_size.3,
            td2_internal_um: by_size.4,
            from: LimitSource::Table,
        })
    }

    fn by_formula(&self) -> Tolerances {
        let p = self.pitch_mm;
        let td2_um = 90.0 * libm::pow(p, 0.4) * libm::pow(self.diameter_mm, 0.1); // Td2 = 90 P^0.4 d^0.1
        let td1_internal_um = if p >= 1.0 {
            230.0 * libm::pow(p, 0.7) // TD1 = 230 P^0.7
        } else {
            433.0 * p - 190.0 * libm::pow(p, 1.22) // TD1 = 433 P − 190 P^1.22
        };
        Tolerances {
            es_um: 15.0 + 11.0 * p, // es(g) = 15 + 11 P
            td_um: 180.0 * libm::pow(p, 2.0 / 3.0) - 3.15 / p.sqrt(), // Td = 180 P^⅔ − 3.15/√P
            td1_internal_um,
            td2_um,
            td2_internal_um: 1.32 * td2_um, // TD2 = 1.32 Td2
            from: LimitSource::Formula,
        }
    }
}

/// Limits of size in mm, each (least, most).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Outer diameter of the bolt thread, d.
    pub external_major_mm: (f64, f64),
    /// Pitch diameter of the bolt thread, d2.
    pub external_pitch_mm: (f64, f64),
    /// Bore of the nut thread, D1.
    pub internal_minor_mm: (f64, f64),
    /// Pitch diameter of the nut thread, D2.
    pub internal_pitch_mm: (f64, f64),
    /// Where the tolerances come from.
    pub from: LimitSource,
}

/// Where a thread's tolerances come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimitSource {
    /// The rounded values of the ISO 965-1 table.
    Table,
    /// The formulas behind the table, not rounded.
    Formula,
}

struct Tolerances {
    es_um: f64,
    td_um: f64,
    td1_internal_um: f64,
    td2_um: f64,
    td2_internal_um: f64,
    from: LimitSource,
}

/// ISO 965-1, by pitch: P (mm), es for g, Td grade 6, TD1 grade 6 (µm). From memory.
const BY_PITCH: [(f64, f64, f64, f64); 13] = [
    (0.5, 20.0, 106.0, 140.0),
    (0.6, 21.0, 125.0, 160.0),
    (0.7, 22.0, 140.0, 180.0),
    (0.75, 22.0, 140.0, 190.0),
    (0.8, 24.0, 150.0, 200.0),
    (1.0, 26.0, 180.0, 236.0),
    (1.25, 28.0, 212.0, 265.0),
    (1.5, 32.0, 236.0, 300.0),
    (1.75, 34.0, 265.0, 335.0),
    (2.0, 38.0, 280.0, 375.0),
    (2.5, 42.0, 335.0, 450.0),
    (3.0, 48.0, 375.0, 500.0),
    (3.5, 53.0, 425.0, 560.0),
];

/// ISO 965-1, by size and pitch: over, to, P (mm), Td2 and TD2 grade 6 (µm). From memory.
const BY_SIZE: [(f64, f64, f64, f64, f64); 24] = [
    (2.8, 5.6, 0.5, 75.0, 100.0),
    (2.8, 5.6, 0.6, 85.0, 112.0),
    (2.8, 5.6, 0.7, 90.0, 118.0),
    (2.8, 5.6, 0.75, 90.0, 118.0),
    (2.8, 5.6, 0.8, 95.0, 125.0),
    (5.6, 11.2, 0.75, 100.0, 132.0),
    (5.6, 11.2, 1.0, 112.0, 150.0),
    (5.6, 11.2, 1.25, 118.0, 160.0),
    (5.6, 11.2, 1.5, 132.0, 180.0),
    (11.2, 22.4, 1.0, 118.0, 160.0),
    (11.2, 22.4, 1.25, 132.0, 180.0),
    (11.2, 22.4, 1.5, 140.0, 190.0),
    (11.2, 22.4, 1.75, 150.0, 200.0),
    (11.2, 22.4, 2.0, 160.0, 212.0),
    (11.2, 22.4, 2.5, 170.0, 224.0),
    (22.4, 45.0, 1.0, 125.0, 170.0),
    (22.4, 45.0, 1.5, 150.0, 200.0),
    (22.4, 45.0, 2.0, 170.0, 224.0),
    (22.4, 45.0, 3.0, 200.0, 265.0),
    (22.4, 45.0, 3.5, 212.0, 280.0),
    (45.0, 90.0, 1.5, 160.0, 212.0),
    (45.0, 90.0, 2.0, 180.0, 236.0),
    (45.0, 90.0, 3.0, 212.0, 280.0),
    (45.0, 90.0, 4.0, 236.0, 315.0),
];

fn coarse_pitch_mm(diameter_mm: f64) -> Option<f64> {
    COARSE_MM.iter().find(|(d, _)| *d == diameter_mm).map(|(_, p)| *p)
}

/// A plain decimal: digits and at most one point, nothing else ("inf" and "1e3" are not sizes).
fn decimal(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
    if plain { text.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thread(text: &str) -> Thread {
        Thread::parse(text).unwrap()
    }

    #[test]
    fn val_stress_areas_of_iso_8839() {
        // As printed to three figures in a table of ISO 8839 (read), so half a unit of the last figure.
        for (name, area, half_step) in [
            ("M5", 14.2, 0.05),
            ("M6", 20.1, 0.05),
            ("M8", 36.6, 0.05),
            ("M10", 58.0, 0.05),
            ("M12", 84.3, 0.05),
        ] {
            let ours = thread(name).stress_area_mm2();
            assert!((ours - area).abs() <= half_step, "{name}: {ours} against {area}");
        }
    }

    #[test]
    fn val_m8_limits_of_iso_965() {
        // ISO 965-2, M8 6g/6H (memory).
        let limits = thread("M8").limits();
        let near = |pair: (f64, f64), least: f64, most: f64| {
            assert!((pair.0 - least).abs() < 6e-4 && (pair.1 - most).abs() < 6e-4, "{pair:?}");
        };
        near(limits.external_major_mm, 7.760, 7.972);
        near(limits.external_pitch_mm, 7.042, 7.160);
        near(limits.internal_minor_mm, 6.647, 6.912);
        near(limits.internal_pitch_mm, 7.188, 7.348);
        assert_eq!(limits.from, LimitSource::Table);
    }

    #[test]
    fn table_and_formula_agree_within_a_preferred_number() {
        // ISO 965-1 rounds its formulas to the R 40 series, whose steps are 6 %; es is rounded to
        // whole micrometres with a few steps of up to 1.3 µm.
        for (d, _, p, ..) in BY_SIZE.iter().map(|r| (r.0 * 1.5, r.1, r.2)) {
            let t = Thread { diameter_mm: d, pitch_mm: p };
            let Some(table) = t.tabled() else { continue };
            let formula = t.by_formula();
            for (a, b) in [
                (table.td_um, formula.td_um),
                (table.td1_internal_um, formula.td1_internal_um),
                (table.td2_um, formula.td2_um),
                (table.td2_internal_um, formula.td2_internal_um),
            ] {
                assert!((a / b - 1.0).abs() < 0.062, "M{d}x{p}: table {a}, formula {b}");
            }
            assert!((table.es_um - formula.es_um).abs() < 1.5, "M{d}x{p}");
        }
    }

    #[test]
    fn threads_as_people_write_them() {
        assert_eq!(thread("M8"), thread("m8 x 1.25"));
        assert_eq!(thread("M6x0,75").pitch_mm, 0.75);
        assert_eq!(thread("M10 × 1.25").designation(), "M10x1.25");
        assert_eq!(thread("M8x1.25").designation(), "M8");
    }

    #[test]
    fn what_is_no_thread_is_said() {
        assert!(matches!(Thread::parse("3/8-16"), Err(ThreadError::NotAThread(_))));
        assert!(matches!(Thread::parse("M"), Err(ThreadError::NotAThread(_))));
        assert!(matches!(Thread::parse("Minf"), Err(ThreadError::NotAThread(_))));
        assert_eq!(Thread::parse("M25"), Err(ThreadError::NoCoarsePitch(25.0)));
        assert_eq!(Thread::parse("M800"), Err(ThreadError::OutOfRange(800.0)));
        assert!(matches!(Thread::parse("M8x4"), Err(ThreadError::PitchTooLarge { .. })));
    }
}
