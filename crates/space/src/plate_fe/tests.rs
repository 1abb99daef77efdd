//! The closed forms are those of `physics::laws::plate`, written out again because the two crates do not know
//! each other. They are of thin plates: the thickness is chosen so that shear adds less than a thousandth.

use super::*;
use crate::path::Path;
use crate::segment::dot;
use std::f64::consts::PI;

const ALUMINIUM: Elastic = Elastic { modulus_mpa: 70_000.0, poisson: 0.33 };

fn bending(elastic: &Elastic, t: f64) -> f64 {
    elastic.modulus_mpa * t * t * t / (12.0 * (1.0 - elastic.poisson * elastic.poisson))
}

fn near(ours: f64, theirs: f64, within: f64) {
    assert!((ours / theirs - 1.0).abs() < within, "{ours} against {theirs}");
}

/// Corners at a radius, to within a little.
fn at_radius(mesh: &Mesh, radius_mm: f64, slack_mm: f64) -> Vec<usize> {
    let off = |p: &Point| (dot(*p, *p).sqrt() - radius_mm).abs() < slack_mm;
    (0..mesh.nodes.len()).filter(|n| off(&mesh.nodes[*n])).collect()
}

fn held(nodes: &[usize], hold: Hold) -> Vec<(usize, Hold)> {
    nodes.iter().map(|n| (*n, hold)).collect()
}

fn disc(radius_mm: f64, size_mm: f64) -> Mesh {
    let middle = vec![vec![[0.0, 0.0]]];
    Mesh::new(&Path::circle([0.0, 0.0], radius_mm), &[], &middle, size_mm).unwrap()
}

/// Centre of a disc of 40 mm under 0.1 MPa.
fn disc_mm(size_mm: f64, t: f64, hold: Hold) -> f64 {
    let mesh = disc(40.0, size_mm);
    let holds = held(&mesh.rim(), hold);
    let thickness = vec![t; mesh.triangles.len()];
    let w =
        deflections_mm(&mesh, &ALUMINIUM, &thickness, &holds, &pressed_n(&mesh, 0.1)).unwrap();
    w[mesh.marked[0][0]]
}

#[test]
fn val_clamped_and_supported_circle() {
    // Thin plate: q a⁴/(64 D), times (5 + ν)/(1 + ν) where supported (handbook, read; Roark).
    let t = 0.8;
    let clamped = 0.1 * 40.0_f64 * 40.0 * 40.0 * 40.0 / (64.0 * bending(&ALUMINIUM, t));
    near(disc_mm(3.0, t, Hold::Clamped), clamped, 0.005);
    near(disc_mm(3.0, t, Hold::Supported), clamped * 5.33 / 1.33, 0.005);
}

#[test]
fn val_a_thick_clamped_circle_shears() {
    // Reissner and Mindlin: q a⁴/(64 D) + q a²/(4 κ G t) (Timoshenko, memory; follows from the plate equations).
    let t = 12.0;
    let (e, nu) = (ALUMINIUM.modulus_mpa, ALUMINIUM.poisson);
    let bends = 0.1 * 40.0_f64 * 40.0 * 40.0 * 40.0 / (64.0 * bending(&ALUMINIUM, t));
    let shears = 0.1 * 1600.0 / (4.0 * KAPPA * e / (2.0 * (1.0 + nu)) * t);
    assert!(shears / bends > 0.3);
    near(disc_mm(2.5, t, Hold::Clamped), bends + shears, 0.01);
}

#[test]
fn val_annulus_with_a_ring_load() {
    // Roark table 11.2 case 1a, and an independent solution of the plate equation: 0.012 576 6 mm at t = 6.
    // The closed form knows no shear; at a tenth of the thickness it is a thousand times that, and shear is lost.
    let ring: Vec<Point> = (0..96)
        .map(|i| {
            let angle = 2.0 * PI * f64::from(i) / 96.0;
            [30.0 * libm::cos(angle), 30.0 * libm::sin(angle)]
        })
        .collect();
    let (outline, hole) = (Path::circle([0.0, 0.0], 40.0), Path::circle([0.0, 0.0], 16.0));
    let mesh = Mesh::new(&outline, &[hole], &[ring], 2.0).unwrap();
    let holds = held(&at_radius(&mesh, 40.0, 0.2), Hold::Supported);
    let mut forces = vec![0.0; mesh.nodes.len()];
    add_line_n(&mesh, &mesh.marked[0], 2.24, &mut forces);
    near(forces.iter().sum(), 2.24 * 2.0 * PI * 30.0, 0.001);
    let thickness = vec![0.6; mesh.triangles.len()];
    let w = deflections_mm(&mesh, &ALUMINIUM, &thickness, &holds, &forces).unwrap();
    let inner = at_radius(&mesh, 16.0, 0.2);
    let mean = inner.iter().map(|n| w[*n]).sum::<f64>() / inner.len() as f64;
    near(mean, 12.576_6, 0.01);
}

/// Middle of a square of 80 mm under 0.1 MPa, as a share of q b⁴/D.
fn square(size_mm: f64, hold: Hold) -> f64 {
    let elastic = Elastic { poisson: 0.3, ..ALUMINIUM };
    let corners = [[-40.0, -40.0], [40.0, -40.0], [40.0, 40.0], [-40.0, 40.0]];
    let mesh = Mesh::new(&Path::polygon(&corners), &[], &[vec![[0.0, 0.0]]], size_mm).unwrap();
    let t = 0.4;
    let thickness = vec![t; mesh.triangles.len()];
    let holds = held(&mesh.rim(), hold);
    let w =
        deflections_mm(&mesh, &elastic, &thickness, &holds, &pressed_n(&mesh, 0.1)).unwrap();
    w[mesh.marked[0][0]] * bending(&elastic, t) / (0.1 * 80.0_f64 * 80.0 * 80.0 * 80.0)
}

#[test]
fn val_squares() {
    // Navier's series 0.004 062 35 (supported), Roark's 0.0138 as 0.001 265 3 q b⁴/D (clamped).
    near(square(3.5, Hold::Supported), 0.004_062_35, 0.01);
    near(square(3.5, Hold::Clamped), 0.001_265_3, 0.01);
}

#[test]
fn val_the_error_falls_with_the_square_of_the_size() {
    let error = |size: f64| (square(size, Hold::Clamped) / 0.001_265_3 - 1.0).abs();
    let (coarse, fine) = (error(16.0), error(4.0));
    // Order p: the size falls to a quarter, the error to (1/4)^p. No mesh is an exact quarter of another.
    let order = libm::log(coarse / fine) / libm::log(4.0);
    assert!(order > 1.5, "{coarse} {fine} {order}");
}

/// A plate bent to a constant curvature by what its rim is made to do keeps it inside: the patch test.
#[test]
fn prop_constant_curvature_is_exact() {
    let mesh = disc(20.0, 6.0);
    for t in [0.01, 1.0, 10.0] {
        // w = ½ κx x² + κxy x y, β = −grad w: no shear, and forces on the inner corners vanish.
        let (kx, kxy) = (1e-3, 5e-4);
        let mut force = vec![[0.0; 3]; mesh.nodes.len()];
        let mut scale = 0.0_f64;
        for triangle in &mesh.triangles {
            let element =
                Element::new(triangle.map(|n| mesh.nodes[n]), mesh.area_mm2(*triangle));
            let k = element.stiffness(&ALUMINIUM, t);
            let mut u = [0.0; 9];
            for (i, [x, y]) in triangle.map(|n| mesh.nodes[n]).into_iter().enumerate() {
                u[3 * i] = kx * x * x / 2.0 + kxy * x * y;
                u[3 * i + 1] = -(kx * x + kxy * y);
                u[3 * i + 2] = -kxy * x;
            }
            for a in 0..9 {
                let f: f64 = (0..9).map(|b| k[a][b] * u[b]).sum();
                force[triangle[a / 3]][a % 3] += f;
                scale = scale.max(f.abs());
            }
        }
        let rim = mesh.rim();
        for (node, f) in force.iter().enumerate().filter(|(n, _)| !rim.contains(n)) {
            assert!(
                f.iter().all(|v| v.abs() < 1e-9 * scale),
                "t {t} node {node}: {f:?} of {scale}"
            );
        }
    }
}

#[test]
fn a_plate_that_nothing_holds_is_not_solved() {
    let mesh = disc(40.0, 10.0);
    let thickness = vec![2.0; mesh.triangles.len()];
    let forces = pressed_n(&mesh, 0.1);
    assert_eq!(deflections_mm(&mesh, &ALUMINIUM, &thickness, &[], &forces), None);
    let holds = held(&mesh.rim()[..1], Hold::Supported);
    assert_eq!(deflections_mm(&mesh, &ALUMINIUM, &thickness, &holds, &forces), None);
}

#[test]
fn prop_what_holds_bears_the_load() {
    // Springs push back by what is pressed on, whatever the plate does between them.
    let mesh = disc(40.0, 8.0);
    let thickness = vec![4.0; mesh.triangles.len()];
    let holds = held(&mesh.rim(), Hold::Spring(50.0));
    let forces = pressed_n(&mesh, 0.01);
    let w = deflections_mm(&mesh, &ALUMINIUM, &thickness, &holds, &forces).unwrap();
    let pushed: f64 = mesh.rim().iter().map(|n| 50.0 * w[*n]).sum();
    near(pushed, forces.iter().sum(), 1e-8);
}

#[test]
fn prop_a_thicker_plate_bends_less() {
    let at = |t: f64| disc_mm(6.0, t, Hold::Supported);
    assert!(at(2.0) > at(3.0) && at(3.0) > at(10.0) && at(10.0) > 0.0);
}
