//! Clearance and creepage between live parts.
//!
//! Clearance is the gap in air that the impulse voltage must not cross; creepage is the way along
//! the surface that dirt and damp must not bridge. A creepage shorter than the clearance is
//! impossible, so the clearance then rules.
//!
//! Range   Working voltage 40 to 1000 V (DC: its value in the rms column), up to 10 000 m,
//!         pollution degree 1 to 3.
//! Source  IEC 60664-1:2020 tables F.1 (impulse), F.2 (clearance), F.5 (creepage), A.2 (altitude),
//!         read in an open data set; two rows were read again elsewhere. The notes on
//!         interpolation, on material groups and on reinforced insulation are from memory.
//! Caveat  Impulses rule the clearance; the clearances for steady and temporary peaks (table F.8) are
//!         below them up to 1000 V and are not held here. A traction battery is off the grid: its overvoltage category is a choice of the designer
//!         (I or II is usual). Coated boards, potting and high frequency have rules of their own.

/// Pollution degree 1 (sealed, clean), 2 (inside an enclosure, condensation at times), 3 (damp,
/// conductive dust).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pollution {
    /// None, or only dry dust.
    One,
    /// Dry dust, condensation at times.
    Two,
    /// Conductive dust, or dust made conductive by condensation.
    Three,
}

/// Material group by comparative tracking index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MaterialGroup {
    /// CTI 600 and above.
    I,
    /// CTI 400 to 599.
    Ii,
    /// CTI 175 to 399.
    IiiA,
    /// CTI 100 to 174.
    IiiB,
}

/// Overvoltage category.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Overvoltage {
    /// Transients limited on purpose.
    I,
    /// Appliances.
    Ii,
    /// Fixed wiring.
    Iii,
    /// Origin of the installation.
    Iv,
}

/// What the insulation has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Insulation {
    /// One barrier.
    Basic,
    /// As good as two.
    Reinforced,
}

/// Why there is no value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SpacingError {
    /// The voltage is above what the table holds.
    VoltageTooHigh {
        /// Highest voltage of the table.
        most_v: f64,
    },
    /// The impulse voltage is above the table.
    ImpulseTooHigh {
        /// Highest impulse of the table.
        most_kv: f64,
    },
    /// Above 10 000 m.
    TooHigh,
    /// Group IIIb is not allowed at pollution degree 3 above 630 V.
    GroupNotAllowed,
}

impl SpacingError {
    /// The message: what is wrong.
    pub fn message(&self) -> String {
        match self {
            SpacingError::VoltageTooHigh { most_v } => {
                format!("the voltage is above the {most_v} V where the table of IEC 60664-1 held here ends")
            }
            SpacingError::ImpulseTooHigh { most_kv } => {
                format!("the impulse voltage is above the {most_kv} kV where the clearance table ends")
            }
            SpacingError::TooHigh => "the altitude is above the 10000 m where the table ends".to_owned(),
            SpacingError::GroupNotAllowed => {
                "material group IIIb is not allowed at pollution degree 3 above 630 V: take a material of group IIIa or better".to_owned()
            }
        }
    }
}

/// Table F.1: (line to neutral up to V, rated impulse kV for category I, II, III, IV).
const IMPULSE_KV: [(f64, [f64; 4]); 6] = [
    (50.0, [0.33, 0.5, 0.8, 1.5]),
    (100.0, [0.5, 0.8, 1.5, 2.5]),
    (150.0, [0.8, 1.5, 2.5, 4.0]),
    (300.0, [1.5, 2.5, 4.0, 6.0]),
    (600.0, [2.5, 4.0, 6.0, 8.0]),
    (1000.0, [4.0, 6.0, 8.0, 12.0]),
];

/// Table F.2, case A (inhomogeneous field): (impulse kV, clearance mm at pollution degree 1, 2, 3).
const CLEARANCE_MM: [(f64, [f64; 3]); 19] = [
    (0.33, [0.01, 0.2, 0.8]),
    (0.4, [0.02, 0.2, 0.8]),
    (0.5, [0.04, 0.2, 0.8]),
    (0.6, [0.06, 0.2, 0.8]),
    (0.8, [0.1, 0.2, 0.8]),
    (1.0, [0.15, 0.2, 0.8]),
    (1.2, [0.25, 0.25, 0.8]),
    (1.5, [0.5, 0.5, 0.8]),
    (2.0, [1.0, 1.0, 1.0]),
    (2.5, [1.5, 1.5, 1.5]),
    (3.0, [2.0, 2.0, 2.0]),
    (4.0, [3.0, 3.0, 3.0]),
    (5.0, [4.0, 4.0, 4.0]),
    (6.0, [5.5, 5.5, 5.5]),
    (8.0, [8.0, 8.0, 8.0]),
    (10.0, [11.0, 11.0, 11.0]),
    (12.0, [14.0, 14.0, 14.0]),
    (15.0, [18.0, 18.0, 18.0]),
    (20.0, [25.0, 25.0, 25.0]),
];

/// Table F.5: (V rms, creepage mm: PD1, then PD2 group I, II, III, then PD3 group I, II, III).
const CREEPAGE_MM: [(f64, [f64; 7]); 15] = [
    (40.0, [0.16, 0.56, 0.8, 1.1, 1.4, 1.6, 1.8]),
    (50.0, [0.18, 0.6, 0.85, 1.2, 1.5, 1.7, 1.9]),
    (63.0, [0.2, 0.63, 0.9, 1.25, 1.6, 1.8, 2.0]),
    (80.0, [0.22, 0.67, 0.95, 1.3, 1.7, 1.9, 2.1]),
    (100.0, [0.25, 0.71, 1.0, 1.4, 1.8, 2.0, 2.2]),
    (125.0, [0.28, 0.75, 1.05, 1.5, 1.9, 2.1, 2.4]),
    (160.0, [0.32, 0.8, 1.1, 1.6, 2.0, 2.2, 2.5]),
    (200.0, [0.42, 1.0, 1.4, 2.0, 2.5, 2.8, 3.2]),
    (250.0, [0.56, 1.25, 1.8, 2.5, 3.2, 3.6, 4.0]),
    (320.0, [0.75, 1.6, 2.2, 3.2, 4.0, 4.5, 5.0]),
    (400.0, [1.0, 2.0, 2.8, 4.0, 5.0, 5.6, 6.3]),
    (500.0, [1.3, 2.5, 3.6, 5.0, 6.3, 7.1, 8.0]),
    (630.0, [1.8, 3.2, 4.5, 6.3, 8.0, 9.0, 10.0]),
    (800.0, [2.4, 4.0, 5.6, 8.0, 10.0, 11.0, 12.5]),
    (1000.0, [3.2, 5.0, 7.1, 10.0, 12.5, 14.0, 16.0]),
];

/// Table A.2: (altitude m, factor on the clearance).
const ALTITUDE: [(f64, f64); 9] = [
    (2000.0, 1.0),
    (3000.0, 1.14),
    (4000.0, 1.29),
    (5000.0, 1.48),
    (6000.0, 1.7),
    (7000.0, 1.95),
    (8000.0, 2.25),
    (9000.0, 2.62),
    (10_000.0, 3.02),
];

/// Rated impulse voltage of a circuit by its voltage to earth and overvoltage category. The next
/// higher row is taken: this table may not be interpolated.
pub fn impulse_kv(voltage_v: f64, category: Overvoltage) -> Result<f64, SpacingError> {
    assert!(voltage_v > 0.0);
    let row = IMPULSE_KV
        .iter()
        .find(|row| voltage_v <= row.0)
        .ok_or(SpacingError::VoltageTooHigh { most_v: IMPULSE_KV[5].0 })?;
    Ok(row.1[category as usize])
}

/// Impulse that reinforced insulation must bear: one step of the preferred series 0.33, 0.5, 0.8,
/// 1.5, 2.5, 4, 6, 8, 12 kV higher, else 160 % (memory).
pub fn reinforced_impulse_kv(impulse_kv: f64) -> f64 {
    const SERIES: [f64; 9] = [0.33, 0.5, 0.8, 1.5, 2.5, 4.0, 6.0, 8.0, 12.0];
    match SERIES.iter().position(|s| *s == impulse_kv) {
        Some(i) if i + 1 < SERIES.len() => SERIES[i + 1],
        _ => 1.6 * impulse_kv,
    }
}

/// Factor on a clearance at altitude, linear between the rows of the table; 1 up to 2000 m.
pub fn altitude_factor(altitude_m: f64) -> Result<f64, SpacingError> {
    if altitude_m <= ALTITUDE[0].0 {
        return Ok(1.0);
    }
    ALTITUDE
        .windows(2)
        .find(|pair| altitude_m <= pair[1].0)
        .map(|pair| interpolate(altitude_m, pair[0], pair[1]))
        .ok_or(SpacingError::TooHigh)
}

/// Clearance in an inhomogeneous field for an impulse voltage, the next higher row.
pub fn clearance_mm(
    impulse_kv: f64,
    pollution: Pollution,
    altitude_m: f64,
) -> Result<f64, SpacingError> {
    let row = CLEARANCE_MM
        .iter()
        .find(|row| impulse_kv <= row.0)
        .ok_or(SpacingError::ImpulseTooHigh { most_kv: CLEARANCE_MM[18].0 })?;
    Ok(row.1[pollution as usize] * altitude_factor(altitude_m)?)
}

/// Creepage for a working voltage, linear between the rows; below 40 V that of 40 V.
pub fn creepage_mm(
    voltage_v: f64,
    pollution: Pollution,
    group: MaterialGroup,
    insulation: Insulation,
) -> Result<f64, SpacingError> {
    assert!(voltage_v > 0.0);
    if group == MaterialGroup::IiiB && pollution == Pollution::Three && voltage_v > 630.0 {
        return Err(SpacingError::GroupNotAllowed);
    }
    let within = match group {
        MaterialGroup::I => 0,
        MaterialGroup::Ii => 1,
        MaterialGroup::IiiA | MaterialGroup::IiiB => 2,
    };
    let column = match pollution {
        Pollution::One => 0,
        Pollution::Two => 1 + within,
        Pollution::Three => 4 + within,
    };
    let times = match insulation {
        Insulation::Basic => 1.0,
        Insulation::Reinforced => 2.0, // twice the basic creepage
    };
    if voltage_v <= CREEPAGE_MM[0].0 {
        return Ok(times * CREEPAGE_MM[0].1[column]);
    }
    CREEPAGE_MM
        .windows(2)
        .find(|pair| voltage_v <= pair[1].0)
        .map(|pair| {
            let (low, high) = (pair[0], pair[1]);
            times * interpolate(voltage_v, (low.0, low.1[column]), (high.0, high.1[column]))
        })
        .ok_or(SpacingError::VoltageTooHigh { most_v: CREEPAGE_MM[14].0 })
}

/// Where two live parts stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Situation {
    /// Working voltage, DC or rms.
    pub voltage_v: f64,
    /// Pollution degree.
    pub pollution: Pollution,
    /// Material the creepage runs on.
    pub group: MaterialGroup,
    /// Overvoltage category.
    pub category: Overvoltage,
    /// Height above the sea.
    pub altitude_m: f64,
    /// Basic or reinforced.
    pub insulation: Insulation,
}

/// What spacing a situation needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacing {
    /// Impulse voltage the clearance is for.
    pub impulse_kv: f64,
    /// Gap in air.
    pub clearance_mm: f64,
    /// Way along the surface by the creepage table alone.
    pub creepage_table_mm: f64,
    /// Way along the surface, never less than the clearance.
    pub creepage_mm: f64,
}

/// Clearance and creepage for a situation.
pub fn spacing(at: &Situation) -> Result<Spacing, SpacingError> {
    let rated = impulse_kv(at.voltage_v, at.category)?;
    let impulse_kv = match at.insulation {
        Insulation::Basic => rated,
        Insulation::Reinforced => reinforced_impulse_kv(rated),
    };
    let clearance_mm = clearance_mm(impulse_kv, at.pollution, at.altitude_m)?;
    let creepage_table_mm = creepage_mm(at.voltage_v, at.pollution, at.group, at.insulation)?;
    Ok(Spacing {
        impulse_kv,
        clearance_mm,
        creepage_table_mm,
        creepage_mm: creepage_table_mm.max(clearance_mm),
    })
}

fn interpolate(x: f64, low: (f64, f64), high: (f64, f64)) -> f64 {
    low.1 + (high.1 - low.1) * (x - low.0) / (high.0 - low.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn creepage(v: f64, pollution: Pollution, group: MaterialGroup) -> f64 {
        creepage_mm(v, pollution, group, Insulation::Basic).unwrap()
    }

    #[test]
    fn val_creepage_rows() {
        // IEC 60664-1 table F.5 (read).
        assert_eq!(creepage(400.0, Pollution::Two, MaterialGroup::I), 2.0);
        assert_eq!(creepage(400.0, Pollution::Two, MaterialGroup::IiiA), 4.0);
        assert_eq!(creepage(1000.0, Pollution::Three, MaterialGroup::Ii), 14.0);
        // Between 400 and 500 V: 5.0 and 6.3 give 5.65.
        assert!((creepage(450.0, Pollution::Three, MaterialGroup::I) - 5.65).abs() < 1e-12);
    }

    #[test]
    fn val_6_kv_at_3000_m() {
        // 5.5 mm by table F.2 (read) times 1.14 by table A.2 (read).
        let mm = clearance_mm(6.0, Pollution::Two, 3000.0).unwrap();
        assert!((mm - 6.27).abs() < 1e-9, "{mm}");
    }

    #[test]
    fn limits_are_said() {
        assert!(matches!(
            impulse_kv(1200.0, Overvoltage::Ii),
            Err(SpacingError::VoltageTooHigh { .. })
        ));
        assert_eq!(
            creepage_mm(800.0, Pollution::Three, MaterialGroup::IiiB, Insulation::Basic),
            Err(SpacingError::GroupNotAllowed)
        );
        assert_eq!(altitude_factor(12_000.0), Err(SpacingError::TooHigh));
    }

    proptest! {
        #[test]
        fn prop_more_of_anything_bad_never_needs_less(
            v in 10.0f64..900.0, dv in 0.0f64..100.0, h in 0.0f64..9000.0, dh in 0.0f64..1000.0,
        ) {
            let at = |voltage_v, altitude_m, pollution, insulation| spacing(&Situation {
                voltage_v, altitude_m, pollution, insulation,
                group: MaterialGroup::Ii, category: Overvoltage::Ii,
            }).unwrap();
            let base = at(v, h, Pollution::Two, Insulation::Basic);
            for worse in [
                at(v + dv, h, Pollution::Two, Insulation::Basic),
                at(v, h + dh, Pollution::Two, Insulation::Basic),
                at(v, h, Pollution::Three, Insulation::Basic),
                at(v, h, Pollution::Two, Insulation::Reinforced),
            ] {
                prop_assert!(base.clearance_mm <= worse.clearance_mm);
                prop_assert!(base.creepage_mm <= worse.creepage_mm);
            }
        }
    }
}
