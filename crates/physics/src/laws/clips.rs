//! How far apart a cable is clipped.
//!
//! Range   Overall diameter up to 40 mm.
//! Source  Spacing table of an electrical trade guide (read); first clip not more than 150 mm from
//!         a termination and from both sides of a bend (read, a code of practice for fixed wiring);
//!         in a vehicle 200 to 300 mm (memory).
//! Caveat  The tables are for cables that hang still in buildings. Vibration asks for less: look at
//!         the natural frequency of the span too (law `elastica`).

/// How the cable lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// Level.
    Horizontal,
    /// Upright.
    Vertical,
}

/// (overall diameter up to, spacing horizontal, spacing vertical), mm.
const SPACING_MM: [(f64, f64, f64); 4] =
    [(9.0, 250.0, 400.0), (15.0, 300.0, 400.0), (20.0, 350.0, 450.0), (40.0, 400.0, 550.0)];

/// First clip from a lug, a grip or either side of a bend, at most (read).
pub const FIRST_CLIP_MM_MAX: f64 = 150.0;
/// Spacing in a vehicle, usual range (memory).
pub const VEHICLE_MM: (f64, f64) = (200.0, 300.0);

/// Largest spacing of clips for a building; the table is in whole millimetres, so a diameter
/// between two rows counts as the smaller row's neighbour above.
pub fn spacing_mm_max(outer_diameter_mm: f64, lie: Lie) -> Option<f64> {
    assert!(outer_diameter_mm > 0.0);
    let row = SPACING_MM.iter().find(|row| outer_diameter_mm <= row.0)?;
    Some(match lie {
        Lie::Horizontal => row.1,
        Lie::Vertical => row.2,
    })
}

/// Largest spacing of clips in a vehicle: the building's value, but at most the usual vehicle range.
pub fn vehicle_spacing_mm_max(outer_diameter_mm: f64) -> f64 {
    spacing_mm_max(outer_diameter_mm, Lie::Horizontal).unwrap_or(VEHICLE_MM.1).min(VEHICLE_MM.1)
}

/// Least number of clips on a run between two ends: none farther from an end than the first-clip
/// distance, none farther apart than the spacing. A run shorter than twice the first-clip distance
/// still gets one.
pub fn clips_needed(run_mm: f64, spacing_mm: f64, first_mm: f64) -> usize {
    assert!(run_mm >= 0.0 && spacing_mm > 0.0 && first_mm > 0.0);
    let between = run_mm - 2.0 * first_mm;
    if between <= 0.0 { 1 } else { 1 + (between / spacing_mm).ceil() as usize }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_trade_table() {
        // Read: 16 to 20 mm, 350 horizontal and 450 vertical.
        assert_eq!(spacing_mm_max(16.0, Lie::Horizontal), Some(350.0));
        assert_eq!(spacing_mm_max(20.0, Lie::Vertical), Some(450.0));
        assert_eq!(spacing_mm_max(12.0, Lie::Horizontal), Some(300.0));
        assert_eq!(spacing_mm_max(60.0, Lie::Vertical), None);
    }

    #[test]
    fn clips_keep_every_gap() {
        for run in [100.0, 300.0, 301.0, 900.0, 1420.0] {
            let n = clips_needed(run, 300.0, 150.0);
            let gap = if n > 1 { (run - 300.0) / (n - 1) as f64 } else { 0.0 };
            assert!(gap <= 300.0 + 1e-9 && n >= 1, "{run}: {n}");
        }
        assert_eq!(clips_needed(900.0, 300.0, 150.0), 3);
    }
}
