//! A flat part as a STEP file (ISO 10303-21, AP214): planes, cylinders, lines and circles, no splines, so that
//! a machine's program sees bores as bores.
//!
//! A circle is one edge with one vertex, and its cylinder is closed by a seam used twice. The same part gives
//! the same bytes; the date in the header is a fixed one. Threads are holes of their tap drill, engraving is
//! left to the drawing.
//!
//! Tried before: sweeping and cutting with a general modeller; bores came out as splines and a groove not at all.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use space::part::Face;
use space::path::Path;
use space::segment::{Point, Segment};
use space::solid::{Metal, Ring, Solid};

type Id = usize;

/// The STEP file of a part.
pub fn step(name: &str, solid: &Solid) -> String {
    let mut writer = Writer::default();
    let mut faces: Vec<Id> = (0..solid.flats.len()).map(|i| writer.flat(solid, i)).collect();
    for i in 0..solid.walls.len() {
        faces.extend(writer.wall(solid, i));
    }
    let shell = writer.put(&format!("CLOSED_SHELL('',{})", refs(&faces)));
    let body = writer.put(&format!("MANIFOLD_SOLID_BREP({},#{shell})", text(name)));
    writer.product(name, body);
    let name = text(&format!("{name}.step"));
    format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('flat part, mm'),'2;1');\n\
         FILE_NAME({name},'2000-01-01T00:00:00',(''),(''),'loomwright','loomwright','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n{}\
         ENDSEC;\nEND-ISO-10303-21;\n",
        writer.body
    )
}

/// One segment of a ring at one height, and the vertices of the ring there.
#[derive(Clone)]
struct Edges {
    vertices: Vec<Id>,
    edges: Vec<Id>,
}

#[derive(Default)]
struct Writer {
    body: String,
    last: Id,
    /// Edges by ring and height; heights by their bits, for they are copied and never computed twice.
    edges: BTreeMap<(usize, u64), Edges>,
}

impl Writer {
    fn put(&mut self, entity: &str) -> Id {
        self.last += 1;
        let _ = writeln!(self.body, "#{}={entity};", self.last);
        self.last
    }

    fn point(&mut self, p: Point, z_mm: f64) -> Id {
        self.put(&format!("CARTESIAN_POINT('',({},{},{}))", real(p[0]), real(p[1]), real(z_mm)))
    }

    fn direction(&mut self, d: [f64; 3]) -> Id {
        self.put(&format!("DIRECTION('',({},{},{}))", real(d[0]), real(d[1]), real(d[2])))
    }

    /// A frame: its origin, axis and first direction.
    fn frame(&mut self, p: Point, z_mm: f64, axis: [f64; 3], first: [f64; 3]) -> Id {
        let origin = self.point(p, z_mm);
        let axis = self.direction(axis);
        let first = self.direction(first);
        self.put(&format!("AXIS2_PLACEMENT_3D('',#{origin},#{axis},#{first})"))
    }

    fn line(&mut self, from: Id, to: Id, start: Point, z_mm: f64, way: [f64; 3]) -> Id {
        let origin = self.point(start, z_mm);
        let way = self.direction(way);
        let vector = self.put(&format!("VECTOR('',#{way},1.)"));
        let line = self.put(&format!("LINE('',#{origin},#{vector})"));
        self.put(&format!("EDGE_CURVE('',#{from},#{to},#{line},.T.)"))
    }

    /// An arc run the way of its sweep; the circle's axis points so that this is its own way.
    fn arc(&mut self, (from, to): (Id, Id), arc: &Arc, z_mm: f64) -> Id {
        let up = if arc.left { 1.0 } else { -1.0 };
        let first = [arc.first[0], arc.first[1], 0.0];
        let frame = self.frame(arc.centre, z_mm, [0.0, 0.0, up], first);
        let circle = self.put(&format!("CIRCLE('',#{frame},{})", real(arc.radius_mm)));
        self.put(&format!("EDGE_CURVE('',#{from},#{to},#{circle},.T.)"))
    }

    /// The edges of a ring at a height, made when first asked for.
    fn ring(&mut self, solid: &Solid, ring: usize, z_mm: f64) -> Edges {
        let key = (ring, z_mm.to_bits());
        if let Some(known) = self.edges.get(&key) {
            return known.clone();
        }
        let pieces = pieces(&solid.rings[ring]);
        let vertices: Vec<Id> = pieces
            .iter()
            .map(|piece| {
                let point = self.point(piece.from(), z_mm);
                self.put(&format!("VERTEX_POINT('',#{point})"))
            })
            .collect();
        let edges = pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| {
                let ends = (vertices[i], vertices[(i + 1) % vertices.len()]);
                match piece {
                    Piece::Line { from, way } => {
                        self.line(ends.0, ends.1, *from, z_mm, [way[0], way[1], 0.0])
                    }
                    Piece::Arc(arc) => self.arc(ends, arc, z_mm),
                }
            })
            .collect();
        let made = Edges { vertices, edges };
        self.edges.insert(key, made.clone());
        made
    }

    /// A loop of edges, each run its own way or back.
    fn bound(&mut self, run: &[(Id, bool)], is_outer: bool) -> Id {
        let oriented: Vec<Id> = run
            .iter()
            .map(|(edge, forward)| {
                self.put(&format!("ORIENTED_EDGE('',*,*,#{edge},{})", flag(*forward)))
            })
            .collect();
        let closed = self.put(&format!("EDGE_LOOP('',{})", refs(&oriented)));
        let kind = if is_outer { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
        self.put(&format!("{kind}('',#{closed},.T.)"))
    }

    fn flat(&mut self, solid: &Solid, index: usize) -> Id {
        let flat = &solid.flats[index];
        let faces_up = flat.face == Face::Outer;
        let mut bounds = Vec::new();
        for (i, ring) in
            std::iter::once(flat.outer).chain(flat.inner.iter().copied()).enumerate()
        {
            let edges = self.ring(solid, ring, flat.z_mm).edges;
            // Seen from outside the metal, outer edges run to the left and inner ones to the right.
            let forward = (i == 0) == faces_up;
            let mut run: Vec<(Id, bool)> = edges.iter().map(|e| (*e, forward)).collect();
            if !forward {
                run.reverse();
            }
            bounds.push(self.bound(&run, i == 0));
        }
        let up = if faces_up { 1.0 } else { -1.0 };
        let frame = self.frame([0.0, 0.0], flat.z_mm, [0.0, 0.0, up], [1.0, 0.0, 0.0]);
        let plane = self.put(&format!("PLANE('',#{frame})"));
        self.face(&flat.name, &bounds, plane, true)
    }

    fn face(&mut self, name: &str, bounds: &[Id], surface: Id, same: bool) -> Id {
        let (name, bounds) = (text(name), refs(bounds));
        self.put(&format!("ADVANCED_FACE({name},{bounds},#{surface},{})", flag(same)))
    }

    /// The faces of a wall, one for each line or arc.
    fn wall(&mut self, solid: &Solid, index: usize) -> Vec<Id> {
        let wall = &solid.walls[index];
        let low = self.ring(solid, wall.ring, wall.low_mm);
        let high = self.ring(solid, wall.ring, wall.high_mm);
        let pieces = pieces(&solid.rings[wall.ring]);
        let uprights: Vec<Id> = pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| {
                let up = [0.0, 0.0, 1.0];
                self.line(low.vertices[i], high.vertices[i], piece.from(), wall.low_mm, up)
            })
            .collect();
        let mut faces = Vec::new();
        for (i, piece) in pieces.iter().enumerate() {
            let next = uprights[(i + 1) % uprights.len()];
            let mut run = vec![
                (low.edges[i], true),
                (next, true),
                (high.edges[i], false),
                (uprights[i], false),
            ];
            if wall.metal == Metal::Around {
                run.reverse();
                for (_, forward) in &mut run {
                    *forward = !*forward;
                }
            }
            let bound = self.bound(&run, true);
            let (surface, same) = self.upright(piece, wall.low_mm, wall.metal);
            faces.push(self.face(&wall.name, &[bound], surface, same));
        }
        faces
    }

    /// The surface of one piece of a wall, and whether its normal points out of the metal.
    fn upright(&mut self, piece: &Piece, low_mm: f64, metal: Metal) -> (Id, bool) {
        let within = metal == Metal::Within;
        match piece {
            Piece::Line { from, way } => {
                let out = if within { [way[1], -way[0]] } else { [-way[1], way[0]] };
                let (axis, first) = ([out[0], out[1], 0.0], [way[0], way[1], 0.0]);
                let frame = self.frame(*from, low_mm, axis, first);
                (self.put(&format!("PLANE('',#{frame})")), true)
            }
            Piece::Arc(arc) => {
                let first = [arc.first[0], arc.first[1], 0.0];
                let frame = self.frame(arc.centre, low_mm, [0.0, 0.0, 1.0], first);
                let radius = real(arc.radius_mm);
                let surface = self.put(&format!("CYLINDRICAL_SURFACE('',#{frame},{radius})"));
                // The cylinder's own normal points away from its axis.
                (surface, arc.left == within)
            }
        }
    }

    fn product(&mut self, name: &str, body: Id) {
        let name = text(name);
        let base = self.frame([0.0, 0.0], 0.0, [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
        let mm = self.put("(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.))");
        let rad = self.put("(NAMED_UNIT(*) PLANE_ANGLE_UNIT() SI_UNIT($,.RADIAN.))");
        let sr = self.put("(NAMED_UNIT(*) SI_UNIT($,.STERADIAN.) SOLID_ANGLE_UNIT())");
        let fine = self.put(&format!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-5),#{mm},\
             'distance_accuracy_value','confusion accuracy')"
        ));
        let context = self.put(&format!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3) GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{fine})) \
             GLOBAL_UNIT_ASSIGNED_CONTEXT((#{mm},#{rad},#{sr})) REPRESENTATION_CONTEXT('','3D'))"
        ));
        let shape = self.put(&format!(
            "ADVANCED_BREP_SHAPE_REPRESENTATION({name},(#{base},#{body}),#{context})"
        ));
        let application = self
            .put("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
        self.put(&format!(
            "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,\
             #{application})"
        ));
        let mechanical = self.put(&format!("PRODUCT_CONTEXT('',#{application},'mechanical')"));
        let product = self.put(&format!("PRODUCT({name},{name},'',(#{mechanical}))"));
        self.put(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#{product}))"));
        let formation = self.put(&format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
        let design = self.put(&format!(
            "PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')"
        ));
        let definition =
            self.put(&format!("PRODUCT_DEFINITION('design','',#{formation},#{design})"));
        let defined = self.put(&format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
        self.put(&format!("SHAPE_DEFINITION_REPRESENTATION(#{defined},#{shape})"));
    }
}

struct Arc {
    from: Point,
    centre: Point,
    radius_mm: f64,
    /// From the centre to the start, as a unit vector.
    first: Point,
    left: bool,
}

enum Piece {
    Line { from: Point, way: Point },
    Arc(Arc),
}

impl Piece {
    fn from(&self) -> Point {
        match self {
            Piece::Line { from, .. } => *from,
            Piece::Arc(arc) => arc.from,
        }
    }
}

fn pieces(ring: &Ring) -> Vec<Piece> {
    match ring {
        Ring::Circle { centre, radius_mm } => vec![Piece::Arc(Arc {
            from: [centre[0] + radius_mm, centre[1]],
            centre: *centre,
            radius_mm: *radius_mm,
            first: [1.0, 0.0],
            left: true,
        })],
        Ring::Path(path) => of_path(path),
    }
}

fn of_path(path: &Path) -> Vec<Piece> {
    path.segments()
        .iter()
        .filter_map(|segment| {
            let (start, _) = segment.directions()?;
            Some(match *segment {
                Segment::Line { from, .. } => Piece::Line { from, way: start },
                Segment::Arc { from, centre, radius_mm, sweep, .. } => {
                    let left = sweep > 0.0;
                    // The start lies to the right of an arc that turns left.
                    let first =
                        if left { [start[1], -start[0]] } else { [-start[1], start[0]] };
                    Piece::Arc(Arc { from, centre, radius_mm, first, left })
                }
            })
        })
        .collect()
}

fn flag(yes: bool) -> &'static str {
    if yes { ".T." } else { ".F." }
}

fn refs(ids: &[Id]) -> String {
    let each: Vec<String> = ids.iter().map(|id| format!("#{id}")).collect();
    format!("({})", each.join(","))
}

/// A real as STEP wants it: always with a point.
fn real(value: f64) -> String {
    assert!(value.is_finite(), "a body has finite lengths");
    let text = format!("{value:.9}");
    let text = text.trim_end_matches('0');
    if text == "-0." { "0.".to_owned() } else { text.to_owned() }
}

/// A string as STEP wants it: quotes doubled, what is not ASCII by its number.
fn text(words: &str) -> String {
    let mut out = String::from("'");
    for c in words.chars() {
        match c {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            ' '..='~' => out.push(c),
            c if c.is_control() => out.push(' '),
            c => {
                let _ = write!(out, "\\X4\\{:08X}\\X0\\", c as u32);
            }
        }
    }
    out.push('\'');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_and_reals_are_as_the_standard_wants() {
        assert_eq!(text("plate 'a'\\ä"), "'plate ''a''\\\\\\X4\\000000E4\\X0\\'");
        assert_eq!(real(12.0), "12.");
        assert_eq!(real(-0.0), "0.");
        assert_eq!(real(1.25), "1.25");
    }
}
