use super::*;

fn known(at: [f64; 2], pixel: [f64; 2]) -> Known {
    Known { at_mm: at, pixel }
}

/// A map with whole numbers, (1 4 5), (7 2 6), (8 9 3), printed with four pairs of points in a course on
/// projective geometry (read in a worked copy). The fit takes it the other way; two of the printed pairs
/// hold our rows against the print, and points that were not fitted come back.
#[test]
fn a_printed_map_comes_out() {
    let rows = [[1.0, 4.0, 5.0], [7.0, 2.0, 6.0], [8.0, 9.0, 3.0]];
    let image = |p: [f64; 3]| rows.map(|r: [f64; 3]| r[0] * p[0] + r[1] * p[1] + r[2] * p[2]);
    assert_eq!(image([1.0, 2.0, -3.0]), [-6.0, -7.0, 17.0]);
    assert_eq!(image([3.0, -2.0, 1.0]), [0.0, 23.0, 9.0]);
    let flat = |p: [f64; 3]| [p[0] / p[2], p[1] / p[2]];
    let corners = [[1.0, 1.0, 1.0], [2.0, 1.0, 1.0], [1.0, 3.0, 1.0], [3.0, 4.0, 1.0]];
    let pairs = corners.map(|p| known(flat(image(p)), flat(p)));
    let fit = rectify(&pairs, None, 0, 1.0).expect("four free points");
    for p in [[1.5, 2.0, 1.0], [2.5, 2.5, 1.0], [3.0, -2.0, 1.0]] {
        let ours = fit.measure(flat(p)).expect("this side of the horizon");
        let [x, y] = flat(image(p));
        assert!(
            (ours.x_mm - x).abs() < 1e-9 && (ours.y_mm - y).abs() < 1e-9,
            "{ours:?} {x} {y}"
        );
    }
    assert_eq!((fit.freedom, fit.rms_px), (0, 0.0));
}

/// A pinhole camera of the test's own: it looks at the face from the side and distorts the usual way,
/// from face to picture, which is not the way the fit has its terms.
struct Camera {
    focal_px: f64,
    centre_px: [f64; 2],
    distortion: [f64; 2],
    tilt: [f64; 3],
    away_mm: f64,
}

impl Camera {
    fn click(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let turn = |a: f64, b: f64, angle: f64| {
            let (c, s) = (libm::cos(angle), libm::sin(angle));
            (c * a - s * b, s * a + c * b)
        };
        let (x, y) = turn(x, y, self.tilt[2]);
        let (y, z) = turn(y, 0.0, self.tilt[0]);
        let (x, z) = turn(x, z, self.tilt[1]);
        let depth = self.away_mm + z;
        let (u, v) = (x / depth, y / depth);
        let r2 = u * u + v * v;
        let grow = 1.0 + self.distortion[0] * r2 + self.distortion[1] * r2 * r2;
        // Rows of a picture run down.
        [
            self.centre_px[0] + self.focal_px * u * grow,
            self.centre_px[1] - self.focal_px * v * grow,
        ]
    }
}

fn camera(distortion: [f64; 2]) -> Camera {
    Camera {
        focal_px: 3100.0,
        centre_px: [2000.0, 1500.0],
        distortion,
        tilt: [0.35, -0.28, 0.2],
        away_mm: 420.0,
    }
}

/// A scale card around the face: twelve marks on its rim.
fn card() -> Vec<[f64; 2]> {
    let mut marks = Vec::new();
    for x in [-130.0, -45.0, 45.0, 130.0] {
        for y in [-85.0, 85.0] {
            marks.push([x, y]);
        }
    }
    for x in [-130.0, 130.0] {
        for y in [-28.0, 28.0] {
            marks.push([x, y]);
        }
    }
    marks
}

const HOLES: [[f64; 2]; 7] = [
    [-90.0, 40.0],
    [-30.0, 45.0],
    [35.0, 42.0],
    [88.0, 20.0],
    [60.0, -40.0],
    [0.0, -44.0],
    [-85.0, -30.0],
];

fn picture(camera: &Camera) -> Vec<Known> {
    card().into_iter().map(|at| known(at, camera.click(at))).collect()
}

fn worst(fit: &Rectified, camera: &Camera) -> f64 {
    let off = |at: [f64; 2]| {
        let seen = fit.measure(camera.click(at)).expect("in sight");
        length(less([seen.x_mm, seen.y_mm], at))
    };
    HOLES.into_iter().map(off).fold(0.0, f64::max)
}

#[test]
fn a_picture_of_a_pinhole_camera_is_rectified() {
    let camera = camera([0.0, 0.0]);
    let fit = rectify(&picture(&camera), Some([4000.0, 3000.0]), 0, 0.5).expect("twelve marks");
    assert!(worst(&fit, &camera) < 1e-6, "{}", worst(&fit, &camera));
    assert!(fit.rms_px < 1e-6);
}

/// A telephone's lens bends a straight rim by some ten pixels; with two terms the holes come out within
/// 0.1 mm, with none they do not, and the residuals say so.
#[test]
fn a_distorted_picture_is_rectified_within_a_tenth_of_a_millimetre() {
    for distortion in [[-0.12, 0.05], [0.08, 0.0], [-0.25, 0.1]] {
        let camera = camera(distortion);
        let size = Some([4000.0, 3000.0]);
        let plain = rectify(&picture(&camera), size, 0, 0.5).expect("twelve marks");
        let bent = rectify(&picture(&camera), size, 2, 0.5).expect("twelve marks");
        assert!(worst(&plain, &camera) > 0.1 && plain.rms_px > 1.0, "{distortion:?}");
        assert!(worst(&bent, &camera) < 0.1, "{distortion:?} {}", worst(&bent, &camera));
        assert!(bent.rms_px < 0.3, "{distortion:?} {}", bent.rms_px);
    }
}

/// Clicks half a pixel off: the stated deviations of the holes hold what comes out, over many pictures.
#[test]
fn the_stated_uncertainty_of_a_click_is_honest() {
    let camera = camera([0.0, 0.0]);
    let mut state = 12_345_u64;
    let mut chance = || {
        let mut sum = -6.0;
        for _ in 0..12 {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            sum += (state >> 11) as f64 / (1_u64 << 53) as f64;
        }
        sum
    };
    let (mut square, mut count) = (0.0, 0.0);
    for _ in 0..200 {
        let mut marks = picture(&camera);
        for mark in &mut marks {
            mark.pixel = [mark.pixel[0] + 0.5 * chance(), mark.pixel[1] + 0.5 * chance()];
        }
        // Fitted with the deviation the clicks have, and not widened by their own scatter.
        let fit = rectify(&marks, None, 0, 0.5).expect("twelve marks");
        for at in HOLES {
            let click = camera.click(at);
            let click = [click[0] + 0.5 * chance(), click[1] + 0.5 * chance()];
            let seen = fit.measure(click).expect("in sight");
            square += (seen.x_mm - at[0]) * (seen.x_mm - at[0]) / seen.covariance_mm2[0];
            square += (seen.y_mm - at[1]) * (seen.y_mm - at[1]) / seen.covariance_mm2[2];
            count += 2.0;
        }
    }
    // Deviations are widened where clicks scatter more than stated and never narrowed: a little below one.
    assert!((0.8..=1.05).contains(&(square / count)), "{}", square / count);
}

#[test]
fn points_on_a_line_and_too_few_are_refused() {
    let square = [[0.0, 0.0], [85.6, 0.0], [85.6, 54.0], [0.0, 54.0]];
    let seen = |points: &[[f64; 2]]| -> Vec<Known> {
        let camera = camera([0.0, 0.0]);
        points.iter().map(|p| known(*p, camera.click(*p))).collect()
    };
    assert!(rectify(&seen(&square), None, 0, 0.5).is_ok());
    assert_eq!(rectify(&seen(&square[..3]), None, 0, 0.5), Err(Unusable::TooFew(4)));
    assert_eq!(rectify(&seen(&square), None, 1, 0.5), Err(Unusable::TooFew(5)));
    let line = [[0.0, 0.0], [40.0, 0.0], [80.0, 0.0], [40.0, 50.0], [120.0, 0.0]];
    assert_eq!(rectify(&seen(&line), None, 0, 0.5), Err(Unusable::OnALine([0, 1, 2])));
    let spot = [[5.0, 5.0]; 4];
    assert!(rectify(&seen(&spot), None, 0, 0.5).is_err());
    let mut odd = seen(&square);
    odd[0].pixel[0] = f64::NAN;
    assert_eq!(rectify(&odd, None, 0, 0.5), Err(Unusable::NoCamera));
}
