use super::*;

fn point() -> Point {
    Point::default()
}

fn near(x: f64, y: f64) -> Point {
    Point { near: Some([x, y]), held: None }
}

fn held(x: f64, y: f64) -> Point {
    Point { held: Some([x, y]), near: None }
}

fn read(kind: Kind, value_mm: f64, sigma_mm: f64) -> Reading {
    Reading { kind, value_mm, sigma_mm }
}

fn close(ours: f64, theirs: f64, within: f64) {
    assert!((ours - theirs).abs() <= within, "{ours} is not {theirs} within {within}");
}

/// Krumm, Geodetic Network Adjustment Examples, Rev. 3.5 (2020), example 3.1.1, after Benning,
/// Statistik in Geodaesie, Geoinformation und Bauwesen (2011), example 8-2: two held points, two new ones,
/// five distances of 10 mm deviation. Read in a worked copy of the example. The printed deviations are
/// scaled by the estimated factor 0.6882; ours are not, so the factor is put on here.
#[test]
fn a_printed_trilateration_comes_out() {
    let figure = Figure {
        points: vec![
            held(0.0, 1000.0),
            held(1000.0, 1000.0),
            near(0.0, 0.0),
            near(1000.0, 0.0),
        ],
        edges: Vec::new(),
        axes: None,
        readings: [
            (0, 2, 1000.02),
            (0, 3, 1414.20),
            (1, 2, 1414.24),
            (1, 3, 999.98),
            (2, 3, 1000.00),
        ]
        .map(|(a, b, value)| read(Kind::Centres(a, b), value, 0.010))
        .to_vec(),
    };
    let solved = adjust(&figure).expect("a sound figure");
    assert_eq!(solved.freedom, 1);
    let factor = (solved.chi_square / solved.freedom as f64).sqrt();
    close(factor * 10.0, 6.882, 5e-4);
    let [three, four] = [solved.points[2], solved.points[3]];
    close(three.x_mm, -0.0096, 6e-5);
    close(three.y_mm, -0.0226, 6e-5);
    close(four.x_mm, 999.9930, 6e-5);
    close(four.y_mm, 0.0174, 6e-5);
    for p in [three, four] {
        close(factor * p.covariance_mm2[0].sqrt() * 100.0, 0.901, 6e-4);
        close(factor * p.covariance_mm2[2].sqrt() * 100.0, 0.637, 6e-4);
    }
    for (fit, printed) in solved.fits.iter().zip([-0.260, 0.368, 0.368, -0.260, -0.260]) {
        close(fit.residual_mm * 100.0, printed, 6e-4);
    }
    assert!(solved.consistent() && solved.missing.is_empty() && solved.mirrored.is_empty());
}

/// Chance with a fixed beginning: the test's own, so that a fault in the solver's cannot hide here.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let (u, v) = (self.next(), self.next());
        (-2.0 * libm::log(u)).sqrt() * libm::cos(std::f64::consts::TAU * v)
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.next()
    }
}

/// A face invented with its truth: positions, diameters, edges.
struct Truth {
    points: Vec<[f64; 2]>,
    diameters: Vec<f64>,
    edges: Vec<[f64; 3]>,
}

fn truth(chance: &mut Chance, number: usize) -> Truth {
    let holes = 5 + number % 5;
    let mut points = Vec::new();
    for i in 0..holes {
        let turn =
            (i as f64 + chance.between(-0.3, 0.3)) / holes as f64 * std::f64::consts::TAU;
        let radius = chance.between(0.75, 1.0);
        points.push([110.0 * radius * libm::cos(turn), 45.0 * radius * libm::sin(turn)]);
    }
    let diameters = (0..holes).map(|_| chance.between(5.2, 8.8)).collect();
    let mut edges = Vec::new();
    if number.is_multiple_of(2) {
        for (x, y, offset) in [(0.0, 1.0, 60.0), (1.0, 0.0, 125.0)] {
            let lean = chance.between(-0.05, 0.05);
            let (c, s) = (libm::cos(lean), libm::sin(lean));
            edges.push([c * x - s * y, s * x + c * y, offset]);
        }
    }
    Truth { points, diameters, edges }
}

impl Truth {
    fn shown(&self, kind: Kind) -> f64 {
        let apart = |a: usize, b: usize| {
            let (p, q) = (self.points[a], self.points[b]);
            libm::hypot(p[0] - q[0], p[1] - q[1])
        };
        let half = |a: usize| self.diameters[a] / 2.0;
        let edge = |a: usize, e: usize| {
            let ([x, y], [nx, ny, offset]) = (self.points[a], self.edges[e]);
            offset - nx * x - ny * y
        };
        match kind {
            Kind::Centres(a, b) => apart(a, b),
            Kind::Outside(a, b) => apart(a, b) + half(a) + half(b),
            Kind::Inside(a, b) => apart(a, b) - half(a) - half(b),
            Kind::Diameter(a) => self.diameters[a],
            Kind::ToEdge(a, e) => edge(a, e),
            Kind::NearSide(a, e) => edge(a, e) - half(a),
            Kind::FarSide(a, e) => edge(a, e) + half(a),
            Kind::ToLine(a, [b, c]) => {
                let (p, q, r) = (self.points[a], self.points[b], self.points[c]);
                ((r[0] - q[0]) * (p[1] - q[1]) - (r[1] - q[1]) * (p[0] - q[0])).abs()
                    / apart(b, c)
            }
            Kind::X(a) => self.points[a][0],
            Kind::Y(a) => self.points[a][1],
        }
    }

    /// The truth in the frame of the solution: first point origin, second on +x, third above.
    fn framed(&self) -> Vec<[f64; 2]> {
        let (o, x) = (self.points[0], self.points[1]);
        let length = libm::hypot(x[0] - o[0], x[1] - o[1]);
        let (c, s) = ((x[0] - o[0]) / length, (x[1] - o[1]) / length);
        let turned = |p: &[f64; 2]| {
            let d = [p[0] - o[0], p[1] - o[1]];
            [c * d[0] + s * d[1], c * d[1] - s * d[0]]
        };
        let flip = turned(&self.points[2])[1].signum();
        self.points.iter().map(turned).map(|p| [p[0], flip * p[1]]).collect()
    }
}

/// What a person with a calliper would read on the face: each hole across twice, each pair once, edges.
/// Holes read across once only would leave a face of five with a diameter and a pair that cannot always be
/// told apart.
fn readings(truth: &Truth, chance: &mut Chance, sigma_mm: f64) -> Vec<Reading> {
    let n = truth.points.len();
    let mut kinds: Vec<Kind> = (0..n).chain(0..n).map(Kind::Diameter).collect();
    for a in 0..n {
        for b in a + 1..n {
            kinds.push(if (a + b) % 2 == 0 { Kind::Outside(a, b) } else { Kind::Inside(a, b) });
        }
    }
    for e in 0..truth.edges.len() {
        for a in 0..n {
            kinds.push(match a % 3 {
                0 => Kind::NearSide(a, e),
                1 => Kind::FarSide(a, e),
                _ => Kind::ToEdge(a, e),
            });
        }
    }
    kinds.push(Kind::ToLine(2, [0, 1]));
    kinds
        .into_iter()
        .map(|kind| read(kind, truth.shown(kind) + sigma_mm * chance.normal(), sigma_mm))
        .collect()
}

fn face(number: usize, seed: u64) -> (Truth, Figure) {
    let mut chance = Chance(seed.wrapping_mul(977).wrapping_add(number as u64));
    for _ in 0..20 {
        chance.next();
    }
    let truth = truth(&mut chance, number);
    let figure = Figure {
        points: vec![point(); truth.points.len()],
        edges: vec![Edge::default(); truth.edges.len()],
        axes: None,
        readings: readings(&truth, &mut chance, 0.05),
    };
    (truth, figure)
}

/// Errors of all free coordinates over their standard deviations.
fn errors(truth: &Truth, solved: &Adjusted) -> Vec<f64> {
    let mut errors = Vec::new();
    for (p, t) in solved.points.iter().zip(truth.framed()) {
        for (off, variance) in
            [(p.x_mm - t[0], p.covariance_mm2[0]), (p.y_mm - t[1], p.covariance_mm2[2])]
        {
            if variance > 0.0 {
                errors.push(off / variance.sqrt());
            }
        }
    }
    errors
}

/// Twelve faces with 0.05 mm on every reading. Of errors that are normal, 95.45 % lie within two standard
/// deviations; of the 126 coordinates here some six are expected outside by chance alone, and more than
/// 14 would happen once in a thousand. The worst is held against four.
#[test]
fn twelve_faces_come_out_within_their_deviations() {
    let (mut inside, mut all, mut worst) = (0, 0, 0.0_f64);
    for number in 0..12 {
        let (truth, figure) = face(number, 1);
        let solved = adjust(&figure).expect("a sound figure");
        assert!(solved.missing.is_empty() && solved.mirrored.is_empty(), "{number}");
        for error in errors(&truth, &solved) {
            all += 1;
            inside += usize::from(error.abs() <= 2.0);
            worst = worst.max(error.abs());
        }
        for (p, d) in solved.points.iter().zip(&truth.diameters) {
            close(p.diameter_mm.expect("read"), *d, 4.0 * p.diameter_sigma_mm.expect("read"));
        }
    }
    assert!(all - inside <= 14 && worst < 4.0, "{inside} of {all}, worst {worst}");
}

/// The deviations are neither too small nor too wide: over many faces the share within two of them is
/// what the normal law says, and so is the mean square.
#[test]
fn deviations_are_honest() {
    let mut all = Vec::new();
    let mut rejected = 0;
    for seed in 0..40 {
        for number in 0..12 {
            let (truth, figure) = face(number, 100 + seed);
            let solved = adjust(&figure).expect("a sound figure");
            rejected += usize::from(!solved.consistent());
            all.extend(errors(&truth, &solved));
        }
    }
    let n = all.len() as f64;
    let inside = all.iter().filter(|e| e.abs() <= 2.0).count() as f64 / n;
    let square = all.iter().map(|e| e * e).sum::<f64>() / n;
    // Errors within one face go together; the bounds are wider than for independent ones.
    close(inside, 0.9545, 0.01);
    close(square, 1.0, 0.05);
    // Each face has some thirty tests at one in a thousand.
    assert!(rejected <= 30, "{rejected} of 480");
}

/// A calliper misread by one millimetre, in each reading of each face in turn. Where a second reading is nearly as
/// good a guess it is named beside.
#[test]
fn a_planted_bad_reading_is_found_in_every_face() {
    let (mut planted, mut doubtful, mut uncured) = (0, 0, 0);
    for number in 0..12 {
        let (truth, mut figure) = face(number, 1);
        for bad in 0..figure.readings.len() {
            let good = figure.readings[bad];
            figure.readings[bad].value_mm += if bad % 2 == 0 { 1.0 } else { -1.0 };
            let solved = adjust(&figure).expect("a sound figure");
            let suspect =
                solved.suspect.unwrap_or_else(|| panic!("face {number}, reading {bad}"));
            assert_eq!(suspect.reading, bad, "face {number} {:?} {suspect:?}", good.kind);
            let mut rest = figure.clone();
            rest.readings.remove(bad);
            let rest = adjust(&rest).expect("a sound figure");
            // One good survey in thirty has a reading that chance alone makes suspect.
            assert_eq!(suspect.cures, rest.consistent(), "face {number} {suspect:?}");
            uncured += usize::from(!suspect.cures);
            planted += 1;
            doubtful += usize::from(!suspect.alike.is_empty());
            close(suspect.should_mm, truth.shown(good.kind), 4.0 * suspect.should_sigma_mm);
            figure.readings[bad] = good;
        }
    }
    assert!(planted > 400 && doubtful * 20 < planted, "{doubtful} of {planted}");
    assert!(uncured * 20 < planted, "{uncured} of {planted}");
}

/// Two digits changed places: 84.3 read as 48.3. The start values must not follow the bad one.
#[test]
fn a_gross_slip_is_found_too() {
    for number in 0..12 {
        let (truth, mut figure) = face(number, 3);
        let bad = 2 * truth.points.len() + number % 4;
        let good = figure.readings[bad];
        figure.readings[bad].value_mm = (good.value_mm - 36.0).abs().max(1.0);
        let solved = adjust(&figure).expect("a sound figure");
        let suspect = solved.suspect.expect("found");
        assert_eq!(suspect.reading, bad, "face {number} {suspect:?}");
        close(suspect.should_mm, truth.shown(good.kind), 4.0 * suspect.should_sigma_mm);
    }
}

/// Readings are taken away until a point hangs loose; those proposed, once taken, hold it again.
#[test]
fn what_is_missing_is_named_and_cures() {
    for number in 0..12 {
        let (truth, mut figure) = face(number, 1);
        let last = truth.points.len() - 1;
        let first = figure.readings.iter().position(|r| involves(r.kind, last)).expect("there");
        let mut at = 0;
        figure.readings.retain(|r| {
            at += 1;
            at - 1 == first || !involves(r.kind, last)
        });
        let mut solved = adjust(&figure).expect("a sound figure");
        assert!(solved.points[last].loose, "face {number}");
        assert!(!solved.points[..last].iter().any(|p| p.loose), "face {number}");
        let mut rounds = 0;
        while !solved.missing.is_empty() {
            rounds += 1;
            assert!(rounds <= 3, "face {number}: {:?}", solved.missing);
            for kind in &solved.missing {
                figure.readings.push(read(*kind, truth.shown(*kind), 0.05));
            }
            solved = adjust(&figure).expect("a sound figure");
        }
        assert!(!solved.points[last].loose && solved.mirrored.is_empty(), "face {number}");
        let t = truth.framed()[last];
        let p = solved.points[last];
        close(p.x_mm, t[0], 4.0 * p.sigma_mm());
        close(p.y_mm, t[1], 4.0 * p.sigma_mm());
    }
}

fn involves(kind: Kind, point: usize) -> bool {
    match kind {
        Kind::Centres(a, b) | Kind::Outside(a, b) | Kind::Inside(a, b) => {
            a == point || b == point
        }
        Kind::Diameter(a) | Kind::X(a) | Kind::Y(a) => a == point,
        Kind::ToEdge(a, _) | Kind::NearSide(a, _) | Kind::FarSide(a, _) => a == point,
        Kind::ToLine(a, [b, c]) => [a, b, c].contains(&point),
    }
}

/// A point that hangs on two others fits on both sides of their line; a hint settles it.
#[test]
fn a_mirrored_point_is_said_and_a_hint_settles_it() {
    let triangle = |hint: Point| Figure {
        points: vec![point(), point(), near(50.0, 60.0), hint],
        edges: Vec::new(),
        axes: None,
        readings: vec![
            read(Kind::Centres(0, 1), 100.0, 0.05),
            read(Kind::Centres(0, 2), 78.10, 0.05),
            read(Kind::Centres(1, 2), 78.10, 0.05),
            read(Kind::Centres(0, 3), 50.0, 0.05),
            read(Kind::Centres(1, 3), 80.0, 0.05),
        ],
    };
    let solved = adjust(&triangle(point())).expect("sound");
    assert_eq!(solved.mirrored, [3]);
    assert_eq!(solved.missing, [Kind::Centres(2, 3)]);
    for side in [-1.0, 1.0] {
        let solved = adjust(&triangle(near(30.0, 35.0 * side))).expect("sound");
        assert!(solved.mirrored.is_empty() && solved.missing.is_empty());
        assert!(solved.points[3].y_mm * side > 0.0);
    }
}

/// With one reading more than needed a bad one can be seen but not told from the others.
#[test]
fn readings_in_one_loop_are_alike() {
    let mut figure = Figure {
        points: vec![point(); 3],
        edges: Vec::new(),
        axes: None,
        readings: vec![
            read(Kind::Centres(0, 1), 100.0, 0.05),
            read(Kind::Centres(0, 2), 80.0, 0.05),
            read(Kind::Centres(1, 2), 70.0, 0.05),
            read(Kind::Centres(1, 2), 71.0, 0.05),
        ],
    };
    let suspect = adjust(&figure).expect("sound").suspect.expect("found");
    assert_eq!((suspect.alike.len(), suspect.cures), (1, true));
    figure.readings.pop();
    let solved = adjust(&figure).expect("sound");
    assert_eq!((solved.freedom, solved.chi_square_limit, solved.suspect), (0, None, None));
    assert!(solved.fits.iter().all(|f| f.normalised.is_none()));
}

#[test]
fn what_cannot_be_solved_is_refused() {
    let figure = |points: usize, reading: Reading| Figure {
        points: vec![point(); points],
        edges: Vec::new(),
        axes: None,
        readings: vec![reading],
    };
    let good = read(Kind::Centres(0, 1), 10.0, 0.05);
    assert_eq!(adjust(&figure(1, good)), Err(Refused::TooFew));
    assert_eq!(adjust(&figure(61, good)), Err(Refused::TooMany));
    assert_eq!(
        adjust(&figure(2, read(Kind::Centres(0, 1), f64::NAN, 0.05))),
        Err(Refused::Number(0))
    );
    assert_eq!(
        adjust(&figure(2, read(Kind::Centres(0, 1), 1.0, 0.0))),
        Err(Refused::Number(0))
    );
    assert_eq!(
        adjust(&figure(2, read(Kind::Centres(0, 2), 1.0, 0.05))),
        Err(Refused::Target(0))
    );
    assert_eq!(
        adjust(&figure(2, read(Kind::ToEdge(0, 0), 1.0, 0.05))),
        Err(Refused::Target(0))
    );
}

/// The frame is a matter of choice: distances between points do not depend on it.
#[test]
fn other_axes_turn_the_figure_and_nothing_else() {
    let (_, mut figure) = face(4, 1);
    let one = adjust(&figure).expect("sound");
    figure.axes = Some([3, 0]);
    let two = adjust(&figure).expect("sound");
    close(one.chi_square, two.chi_square, 1e-6);
    close(
        two.points[3].x_mm.abs() + two.points[3].y_mm.abs() + two.points[0].y_mm.abs(),
        0.0,
        1e-9,
    );
    assert!(two.points[0].x_mm > 0.0);
    for a in 0..figure.points.len() {
        for b in 0..a {
            close(shown(&one, Kind::Centres(a, b)), shown(&two, Kind::Centres(a, b)), 1e-6);
        }
    }
    figure.axes = Some([3, 3]);
    assert_eq!(adjust(&figure), Err(Refused::Axes));
}
