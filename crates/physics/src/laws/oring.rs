//! An O-ring in a face groove: squeeze, fill and stretch, at nominal sizes and at the worst of the
//! tolerances.
//!
//! squeeze = (d − t)/d · fill = (π d²/4)/(t b) · stretch = (groove inside − ring inside)/ring inside
//! section when stretched by e: d/√(1 + e)      (constant volume)
//!
//! Range   Stretch −3 % to 6 %. The groove is rectangular; its corner radii are left out of the area.
//! Source  Definitions; face groove depths of a seal maker's design table (read) reproduce its
//!         squeeze with tolerances; rules of thumb for squeeze, fill and stretch (read).
//! Caveat  Swell and heat add to the fill: leave a tenth of the groove free at least. Constant
//!         volume keeps the section round; a stretched ring flattens, so its height falls more, see
//!         [`section_loss_measured`].

use std::f64::consts::PI;

/// Squeeze of a static face seal: least, usual, most (read).
pub const SQUEEZE_LIMITS: (f64, f64, f64) = (0.10, 0.25, 0.35);
/// Share of the groove filled: least, usual, most (read).
pub const FILL_LIMITS: (f64, f64, f64) = (0.65, 0.75, 0.85);
/// Stretch of the inside diameter, most (read).
pub const STRETCH_MAX: f64 = 0.05;

/// A size with what it may deviate by, plus or minus.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sized {
    /// Nominal size.
    pub mm: f64,
    /// Deviation either way.
    pub tol_mm: f64,
}

impl Sized {
    /// A size between two limits.
    pub fn between(least_mm: f64, most_mm: f64) -> Sized {
        assert!(least_mm <= most_mm);
        Sized { mm: (least_mm + most_mm) / 2.0, tol_mm: (most_mm - least_mm) / 2.0 }
    }

    /// A size without a stated tolerance.
    pub fn exact(mm: f64) -> Sized {
        Sized { mm, tol_mm: 0.0 }
    }

    fn least(self) -> f64 {
        self.mm - self.tol_mm
    }

    fn most(self) -> f64 {
        self.mm + self.tol_mm
    }
}

/// The ring as made, before it is stretched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// Inside diameter.
    pub inside: Sized,
    /// Section diameter.
    pub section: Sized,
}

/// The groove.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Groove {
    /// Depth, equal to the gap the squeezed ring stands in.
    pub depth: Sized,
    /// Width.
    pub width: Sized,
    /// Inside diameter, where the ring sits on the inner wall.
    pub inside: Option<Sized>,
}

/// A result at nominal sizes, and at the two worst combinations of the tolerances. All are ratios.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Smallest.
    pub least: f64,
    /// At nominal sizes.
    pub nominal: f64,
    /// Largest.
    pub most: f64,
}

/// How a ring sits in a groove.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Squeeze of the section.
    pub squeeze: Spread,
    /// Share of the groove's section that is rubber.
    pub fill: Spread,
    /// Stretch of the inside diameter, where the groove's is known; negative when the ring is loose.
    pub stretch: Option<Spread>,
}

/// Share of the section lost when a ring is stretched at constant volume; none when it is loose.
pub fn section_loss(stretch: f64) -> f64 {
    assert!(stretch > -1.0);
    if stretch <= 0.0 {
        return 0.0;
    }
    1.0 - 1.0 / (1.0 + stretch).sqrt() // 1 − 1/√(1 + e)
}

/// Loss of section height measured on stretched rings, a seal handbook's fit (memory), for 0.5 % to
/// 25 % of stretch.
pub fn section_loss_measured(stretch: f64) -> Option<f64> {
    let x = 100.0 * stretch;
    let y = if (0.5..=3.0).contains(&x) {
        -0.005 + x * (1.19 + x * (-0.19 + x * (-0.001 + x * 0.008)))
    } else if x > 3.0 && x <= 25.0 {
        0.56 + 0.59 * x - 0.0046 * x * x
    } else {
        return None;
    };
    Some(y / 100.0)
}

/// Squeeze, fill and stretch. Where the groove's inside diameter is known, the section is first
/// thinned by the stretch.
pub fn fit(ring: &Ring, groove: &Groove) -> Fit {
    assert!(ring.section.least() > 0.0 && ring.inside.least() > 0.0);
    assert!(groove.depth.least() > 0.0 && groove.width.least() > 0.0);
    let stretch = groove.inside.map(|inside| Spread {
        least: inside.least() / ring.inside.most() - 1.0,
        nominal: inside.mm / ring.inside.mm - 1.0,
        most: inside.most() / ring.inside.least() - 1.0,
    });
    let thinned = |section: f64, e: f64| section * (1.0 - section_loss(e));
    let at = stretch.unwrap_or(Spread { least: 0.0, nominal: 0.0, most: 0.0 });
    let thin = thinned(ring.section.least(), at.most);
    let nominal = thinned(ring.section.mm, at.nominal);
    let thick = thinned(ring.section.most(), at.least);
    Fit {
        squeeze: Spread {
            least: squeeze(thin, groove.depth.most()),
            nominal: squeeze(nominal, groove.depth.mm),
            most: squeeze(thick, groove.depth.least()),
        },
        fill: Spread {
            least: fill(thin, groove.depth.most(), groove.width.most()),
            nominal: fill(nominal, groove.depth.mm, groove.width.mm),
            most: fill(thick, groove.depth.least(), groove.width.least()),
        },
        stretch,
    }
}

fn squeeze(section_mm: f64, depth_mm: f64) -> f64 {
    (section_mm - depth_mm) / section_mm // (d − t)/d
}

fn fill(section_mm: f64, depth_mm: f64, width_mm: f64) -> f64 {
    PI / 4.0 * section_mm * section_mm / (depth_mm * width_mm) // (π d²/4)/(t b)
}

/// Face grooves of a seal maker's design table (read): section, depth least and most, width of the two
/// editions seen (they differ), largest corner radius, mm.
pub const FACE_GROOVES: [FaceGroove; 5] = [
    groove(1.78, (1.24, 1.37), (2.41, 2.67), 0.38),
    groove(2.62, (1.91, 2.06), (3.56, 3.71), 0.51),
    groove(3.53, (2.54, 2.74), (4.57, 4.95), 0.76),
    groove(5.33, (3.94, 4.19), (7.11, 7.11), 1.27),
    groove(6.99, (5.21, 5.46), (8.89, 9.40), 1.52),
];

/// A recommended face groove for one section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceGroove {
    /// Section of the ring.
    pub section_mm: f64,
    /// Depth, (least, most).
    pub depth_mm: (f64, f64),
    /// Width, (narrow edition, wide edition).
    pub width_mm: (f64, f64),
    /// Largest radius at the bottom corners.
    pub corner_radius_mm: f64,
}

const fn groove(
    section_mm: f64,
    depth_mm: (f64, f64),
    width_mm: (f64, f64),
    corner_radius_mm: f64,
) -> FaceGroove {
    FaceGroove { section_mm, depth_mm, width_mm, corner_radius_mm }
}

/// The recommended groove for a section, if it is one of the five standard sections.
pub fn face_groove(section_mm: f64) -> Option<&'static FaceGroove> {
    FACE_GROOVES.iter().find(|row| (row.section_mm - section_mm).abs() < 0.02)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn ring(section: f64, tol: f64) -> Ring {
        Ring {
            inside: Sized { mm: 37.69, tol_mm: 0.38 },
            section: Sized { mm: section, tol_mm: tol },
        }
    }

    #[test]
    fn val_face_groove_table() {
        // Read: the design table prints squeeze 19-33, 19-29, 20-30, 20-28 % for these depths. Whole
        // percents are printed, so half a percent and a little.
        for (section, tol, least, most) in [
            (1.78, 0.08, 19.0, 33.0),
            (2.62, 0.08, 19.0, 29.0),
            (3.53, 0.10, 20.0, 30.0),
            (5.33, 0.13, 20.0, 28.0),
        ] {
            let row = face_groove(section).unwrap();
            let groove = Groove {
                depth: Sized::between(row.depth_mm.0, row.depth_mm.1),
                width: Sized::exact(row.width_mm.0),
                inside: None,
            };
            let squeeze = fit(&ring(section, tol), &groove).squeeze;
            assert!((squeeze.least * 100.0 - least).abs() < 0.6, "{section}: {squeeze:?}");
            assert!((squeeze.most * 100.0 - most).abs() < 0.6, "{section}: {squeeze:?}");
        }
    }

    #[test]
    fn section_loss_by_hand() {
        for (e, loss) in [(0.01, 0.0050), (0.02, 0.0099), (0.03, 0.0147), (0.05, 0.0241)] {
            assert!((section_loss(e) - loss).abs() < 6e-5, "{e}");
        }
        assert_eq!(section_loss(-0.02), 0.0);
    }

    #[test]
    fn a_measured_ring_loses_more_height_than_constant_volume() {
        for e in [0.005, 0.01, 0.02, 0.03, 0.05] {
            let measured = section_loss_measured(e).unwrap();
            assert!(section_loss(e) < measured && measured < 2.4 * section_loss(e), "{e}");
        }
        // The two branches of the fit meet within their printed figures.
        let step =
            section_loss_measured(0.03).unwrap() - section_loss_measured(0.030_001).unwrap();
        assert!(step.abs() < 0.002);
        assert_eq!(section_loss_measured(0.0), None);
    }

    proptest! {
        #[test]
        fn prop_worst_cases_enclose_the_nominal(
            depth in 2.4f64..2.9, dtol in 0.0f64..0.1, width in 4.0f64..6.0,
            inside in 37.0f64..39.5, tol in 0.0f64..0.15,
        ) {
            let groove = Groove {
                depth: Sized { mm: depth, tol_mm: dtol },
                width: Sized { mm: width, tol_mm: 0.1 },
                inside: Some(Sized { mm: inside, tol_mm: 0.05 }),
            };
            let fit = fit(&ring(3.53, tol), &groove);
            for s in [fit.squeeze, fit.fill, fit.stretch.unwrap()] {
                prop_assert!(s.least <= s.nominal && s.nominal <= s.most, "{s:?}");
            }
        }

        #[test]
        fn prop_a_deeper_groove_never_squeezes_more(depth in 2.0f64..3.0, more in 0.0f64..0.5) {
            let at = |d| fit(&ring(3.53, 0.1), &Groove {
                depth: Sized::exact(d), width: Sized::exact(4.6), inside: None,
            });
            prop_assert!(at(depth + more).squeeze.nominal <= at(depth).squeeze.nominal);
        }
    }
}
