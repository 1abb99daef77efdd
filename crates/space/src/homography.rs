//! From pixels of a photograph to millimetres on a plane face.
//!
//! A pinhole camera maps a plane to its picture by a homography. Here it is taken the other way, after the
//! lens is taken out: for a pixel (u, v), in units of half the picture's diagonal about its centre,
//!
//! q = p (1 + k1 |p|^2 + k2 |p|^4)            the lens, none, one or two terms
//! (X, Y, W) = H (qx, qy, 1),  x = X / W, y = Y / W
//!
//! H comes from the known points by the normalised direct linear transformation, and H, k1 and k2 are then
//! refined so that the clicks move least: each residual on the face is weighed by what one pixel is there.
//! The uncertainty of a measured point is that of its own click and of the fit.
//!
//! Range    4 to 100 known points, at least (8 + terms) / 2; not three of the only four on a line.
//! Source   Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, algorithm 4.2;
//!          radial terms after Brown (1971), here from picture to face (memory).
//! Caveat   the face is taken as plane and the points as in that plane: a bolt head stands nearer to the
//!          camera and is seen displaced. Terms of distortion need known points near the corners too.

use crate::dense::Symmetric;

/// The most known points.
pub const KNOWN_MAX: usize = 100;
/// Standard deviation of a click where none is stated: common practice, no source.
pub const CLICK_PX: f64 = 0.5;

/// A point whose place on the face is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// On the face.
    pub at_mm: [f64; 2],
    /// In the picture.
    pub pixel: [f64; 2],
}

/// Why a picture cannot be used.
#[derive(Clone, Debug, PartialEq)]
pub enum Unusable {
    /// How many points are needed.
    TooFew(usize),
    /// More than [`KNOWN_MAX`] points.
    TooMany,
    /// Three of these points lie on a line and no other four stand free: their indices.
    OnALine([usize; 3]),
    /// All points fall on one spot or line, or the fit finds no camera that could have seen them so.
    NoCamera,
}

/// A picture turned into a plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Rectified {
    lens: Lens,
    /// Homography, row by row, then the lens terms.
    terms: Vec<f64>,
    covariance: Symmetric,
    click_px: f64,
    /// Residuals of the known points on the face: fitted less known.
    pub residuals_mm: Vec<[f64; 2]>,
    /// The same in the picture.
    pub residuals_px: Vec<[f64; 2]>,
    /// Known coordinates more than needed.
    pub freedom: usize,
    /// Root mean square of the residuals in the picture, over both coordinates; zero without freedom.
    pub rms_px: f64,
    /// The same on the face.
    pub rms_mm: f64,
}

/// A point measured in the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Position on the face.
    pub x_mm: f64,
    /// Position on the face.
    pub y_mm: f64,
    /// Covariance: xx, xy, yy.
    pub covariance_mm2: [f64; 3],
}

/// Pixels to the lens's own measure.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Lens {
    centre: [f64; 2],
    half: f64,
    /// Millimetres to the fit's own measure: middle and size of the known points.
    middle_mm: [f64; 2],
    size_mm: f64,
}

/// Fits a picture of `size_px` to its known points, with 0 to 2 lens terms.
pub fn rectify(
    known: &[Known],
    size_px: Option<[f64; 2]>,
    lens_terms: usize,
    click_px: f64,
) -> Result<Rectified, Unusable> {
    let lens_terms = lens_terms.min(2);
    let needed = (8 + lens_terms).div_ceil(2);
    if known.len() < needed {
        return Err(Unusable::TooFew(needed));
    }
    if known.len() > KNOWN_MAX {
        return Err(Unusable::TooMany);
    }
    let finite = |k: &Known| k.at_mm.iter().chain(&k.pixel).all(|v| v.abs() < 1e7);
    if !(known.iter().all(finite) && click_px > 0.0 && click_px < 1e4) {
        return Err(Unusable::NoCamera);
    }
    general(known)?;
    let lens = Lens::of(known, size_px);
    let mut terms = linear(known, &lens).ok_or(Unusable::NoCamera)?;
    terms.extend(std::iter::repeat_n(0.0, lens_terms));
    let covariance = refine(known, &lens, &mut terms, click_px).ok_or(Unusable::NoCamera)?;
    finish(known, lens, terms, covariance, click_px)
}

impl Rectified {
    /// Where a pixel lies on the face; none beyond the horizon.
    pub fn measure(&self, pixel: [f64; 2]) -> Option<Measured> {
        let [x_mm, y_mm] = self.lens.place(&self.terms, pixel)?;
        let by_pixel = self.lens.by_pixel(&self.terms, pixel)?;
        let mut slopes = [Vec::new(), Vec::new()];
        for k in 0..self.terms.len() {
            let slope = self.lens.by_term(&self.terms, pixel, k)?;
            for axis in 0..2 {
                slopes[axis].push((k, slope[axis]));
            }
        }
        let form = |a: &[(usize, f64)], b: &[(usize, f64)]| -> f64 {
            let each = |&(i, x): &(usize, f64)| -> f64 {
                b.iter().map(|&(j, y)| x * y * self.covariance.at(i, j)).sum()
            };
            a.iter().map(each).sum()
        };
        let click = self.click_px * self.click_px;
        let cell = |a: usize, b: usize| {
            let own = by_pixel[a][0] * by_pixel[b][0] + by_pixel[a][1] * by_pixel[b][1];
            click * own + form(&slopes[a], &slopes[b])
        };
        Some(Measured { x_mm, y_mm, covariance_mm2: [cell(0, 0), cell(0, 1), cell(1, 1)] })
    }
}

impl Lens {
    fn of(known: &[Known], size_px: Option<[f64; 2]>) -> Lens {
        let spread = |of: &dyn Fn(&Known) -> [f64; 2]| {
            let n = known.len() as f64;
            let middle = [0, 1].map(|a| known.iter().map(|k| of(k)[a]).sum::<f64>() / n);
            let far = known.iter().map(|k| length(less(of(k), middle))).fold(0.0, f64::max);
            (middle, far.max(1e-9))
        };
        let (middle_px, far_px) = spread(&|k| k.pixel);
        let (middle_mm, size_mm) = spread(&|k| k.at_mm);
        match size_px {
            Some(size) => {
                let centre = [size[0] / 2.0, size[1] / 2.0];
                Lens { centre, half: length(centre).max(1e-9), middle_mm, size_mm }
            }
            None => Lens { centre: middle_px, half: far_px, middle_mm, size_mm },
        }
    }

    fn own(&self, pixel: [f64; 2]) -> [f64; 2] {
        let d = less(pixel, self.centre);
        [d[0] / self.half, d[1] / self.half]
    }

    /// A pixel on the face.
    fn place(&self, terms: &[f64], pixel: [f64; 2]) -> Option<[f64; 2]> {
        let p = self.own(pixel);
        let square = p[0] * p[0] + p[1] * p[1];
        let first = terms.get(8).copied().unwrap_or(0.0);
        let second = terms.get(9).copied().unwrap_or(0.0);
        let grow = 1.0 + first * square + second * square * square;
        let q = [p[0] * grow, p[1] * grow];
        let row = |k: usize| terms[k] * q[0] + terms[k + 1] * q[1];
        let w = row(6) + 1.0;
        if !(w > 1e-9) {
            return None;
        }
        let on = [(row(0) + terms[2]) / w, (row(3) + terms[5]) / w];
        Some([
            self.middle_mm[0] + self.size_mm * on[0],
            self.middle_mm[1] + self.size_mm * on[1],
        ])
    }

    /// Change of the place with each pixel coordinate, mm per px: `[axis][pixel axis]`.
    fn by_pixel(&self, terms: &[f64], pixel: [f64; 2]) -> Option<[[f64; 2]; 2]> {
        let step = 1e-4 * self.half;
        let mut by = [[0.0; 2]; 2];
        for a in 0..2 {
            let (mut up, mut down) = (pixel, pixel);
            up[a] += step;
            down[a] -= step;
            let change = less(self.place(terms, up)?, self.place(terms, down)?);
            by[0][a] = change[0] / (2.0 * step);
            by[1][a] = change[1] / (2.0 * step);
        }
        Some(by)
    }

    /// Change of the place with one term.
    fn by_term(&self, terms: &[f64], pixel: [f64; 2], k: usize) -> Option<[f64; 2]> {
        let step = 1e-6;
        let (mut up, mut down) = (terms.to_vec(), terms.to_vec());
        up[k] += step;
        down[k] -= step;
        let change = less(self.place(&up, pixel)?, self.place(&down, pixel)?);
        Some([change[0] / (2.0 * step), change[1] / (2.0 * step)])
    }

    /// Residual of a known point in the picture: the click that would have been right less the click.
    fn off_px(&self, terms: &[f64], known: &Known) -> Option<[f64; 2]> {
        let off = less(known.at_mm, self.place(terms, known.pixel)?);
        let [[a, b], [c, d]] = self.by_pixel(terms, known.pixel)?;
        let whole = a * d - b * c;
        // A picture that folds over is no picture.
        if !(whole.abs() > 1e-15) {
            return None;
        }
        Some([(d * off[0] - b * off[1]) / whole, (a * off[1] - c * off[0]) / whole])
    }

    fn misfit(&self, terms: &[f64], known: &[Known]) -> Option<f64> {
        let mut sum = 0.0;
        for k in known {
            let off = self.off_px(terms, k)?;
            sum += off[0] * off[0] + off[1] * off[1];
        }
        Some(sum)
    }
}

/// The direct linear transformation: the smallest eigenvector of the normal matrix of 9.
fn linear(known: &[Known], lens: &Lens) -> Option<Vec<f64>> {
    let mut normal = Symmetric::zero(9);
    for k in known {
        let [u, v] = lens.own(k.pixel);
        let on = less(k.at_mm, lens.middle_mm);
        for (axis, first) in [(0, 0), (1, 3)] {
            let value = on[axis] / lens.size_mm;
            let row = [
                (first, u),
                (first + 1, v),
                (first + 2, 1.0),
                (6, -value * u),
                (7, -value * v),
                (8, -value),
            ];
            normal.add_outer(&row, 1.0);
        }
    }
    let eigen = normal.eigen();
    let (second, largest) = (eigen[1].0, eigen[8].0);
    if !(second > 1e-12 * largest) {
        return None;
    }
    let h = &eigen[0].1;
    // The middle of the picture must be on this side of the horizon: its W is made one.
    (h[8].abs() > 1e-9).then(|| h[..8].iter().map(|t| t / h[8]).collect())
}

/// Damped steps to the least misfit in the picture; the covariance of the terms for the stated click.
fn refine(
    known: &[Known],
    lens: &Lens,
    terms: &mut Vec<f64>,
    click_px: f64,
) -> Option<Symmetric> {
    let n = terms.len();
    let mut least = lens.misfit(terms, known)?;
    let mut damping = 1e-3;
    let mut normal = Symmetric::zero(n);
    for _ in 0..100 {
        normal = Symmetric::zero(n);
        let mut right = vec![0.0; n];
        for k in known {
            let off = lens.off_px(terms, k)?;
            let mut rows = [Vec::new(), Vec::new()];
            for t in 0..n {
                let step = 1e-6;
                let (mut up, mut down) = (terms.clone(), terms.clone());
                up[t] += step;
                down[t] -= step;
                let change = less(lens.off_px(&up, k)?, lens.off_px(&down, k)?);
                rows[0].push((t, change[0] / (2.0 * step)));
                rows[1].push((t, change[1] / (2.0 * step)));
            }
            for axis in 0..2 {
                normal.add_outer(&rows[axis], 1.0);
                for &(t, a) in &rows[axis] {
                    right[t] -= a * off[axis];
                }
            }
        }
        let mut damped = normal.clone();
        for t in 0..n {
            damped.add(t, t, damping * normal.at(t, t).max(1e-12));
        }
        let step = damped.solve(&right)?;
        let tried: Vec<f64> = terms.iter().zip(&step).map(|(t, s)| t + s).collect();
        let small = step.iter().all(|s| s.abs() < 1e-12);
        match lens.misfit(&tried, known) {
            Some(reached) if reached <= least => {
                *terms = tried;
                least = reached;
                damping = (damping * 0.1).max(1e-12);
            }
            _ => damping *= 10.0,
        }
        if small || damping > 1e9 {
            break;
        }
    }
    let mut covariance = Symmetric::zero(n);
    for k in 0..n {
        let unit: Vec<f64> = (0..n).map(|i| if i == k { 1.0 } else { 0.0 }).collect();
        for (i, value) in normal.solve(&unit)?.into_iter().enumerate() {
            covariance.add(i, k, click_px * click_px * value);
        }
    }
    Some(covariance)
}

fn finish(
    known: &[Known],
    lens: Lens,
    terms: Vec<f64>,
    mut covariance: Symmetric,
    click_px: f64,
) -> Result<Rectified, Unusable> {
    let mut residuals_mm = Vec::new();
    let mut residuals_px = Vec::new();
    for k in known {
        let place = lens.place(&terms, k.pixel).ok_or(Unusable::NoCamera)?;
        residuals_mm.push(less(place, k.at_mm));
        residuals_px.push(lens.off_px(&terms, k).ok_or(Unusable::NoCamera)?);
    }
    let freedom = 2 * known.len() - terms.len();
    let rms = |all: &[[f64; 2]]| {
        let sum: f64 = all.iter().map(|r| r[0] * r[0] + r[1] * r[1]).sum();
        if freedom == 0 { 0.0 } else { (sum / (2 * known.len()) as f64).sqrt() }
    };
    let (rms_px, rms_mm) = (rms(&residuals_px), rms(&residuals_mm));
    // Clicks that fit worse than stated make everything less sure, never better.
    let mut worse = 1.0;
    if freedom > 0 {
        let sum: f64 = residuals_px.iter().map(|r| r[0] * r[0] + r[1] * r[1]).sum();
        worse = f64::max(1.0, (sum / freedom as f64).sqrt() / click_px);
    }
    covariance.scale(worse * worse);
    let click_px = click_px * worse;
    Ok(Rectified {
        lens,
        terms,
        covariance,
        click_px,
        residuals_mm,
        residuals_px,
        freedom,
        rms_px,
        rms_mm,
    })
}

/// Refuses points of which no four stand free, on the face or in the picture.
fn general(known: &[Known]) -> Result<(), Unusable> {
    for of in [(|k: &Known| k.at_mm) as fn(&Known) -> [f64; 2], |k| k.pixel] {
        let points: Vec<[f64; 2]> = known.iter().map(of).collect();
        if let Some(line) = no_four(&points) {
            return Err(line.map_or(Unusable::NoCamera, Unusable::OnALine));
        }
    }
    Ok(())
}

/// None if four points are such that no three are on a line; otherwise three that are, if any differ.
fn no_four(points: &[[f64; 2]]) -> Option<Option<[usize; 3]>> {
    let n = points.len();
    // A tenth of the points' spread off the line, at least a fiftieth of it, is what a fit can stand on.
    let flat = |a: usize, b: usize, c: usize| {
        let (p, q, r) = (points[a], points[b], points[c]);
        let across = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        let long = length(less(q, p)).max(length(less(r, p))).max(length(less(r, q)));
        !(across.abs() > 0.02 * long * long)
    };
    let mut line = None;
    for a in 0..n {
        for b in a + 1..n {
            for c in b + 1..n {
                if flat(a, b, c) {
                    line.get_or_insert([a, b, c]);
                    continue;
                }
                for d in c + 1..n {
                    if !(flat(a, b, d) || flat(a, c, d) || flat(b, c, d)) {
                        return None;
                    }
                }
            }
        }
    }
    Some(line)
}

fn less(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn length(a: [f64; 2]) -> f64 {
    (a[0] * a[0] + a[1] * a[1]).sqrt()
}

#[cfg(test)]
mod tests;
