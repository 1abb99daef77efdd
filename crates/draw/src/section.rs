//! The end of a cable, in section and to scale: from the terminal it is bolted to, to where it leaves the box.
//!
//! Everything is given in millimetres by the plan. The one thing not to scale is the free cable between the
//! sleeve and the wall: where it is longer than the page it is shown broken, and the dimension gives its true
//! length. Hole circles and plate edges beyond the ring are cut off at wavy lines.

use physics::units::{Dimension, show};

use crate::hatch::{
    COPPER, Face, GRIP, HOUSING, INSULATION, LANDING, PLATE, RUBBER, SLEEVE, STEEL, STRANDS,
    fill,
};
use crate::marks::{Label, Shelf, across_lines, across_words, scale_bar, upright};
use crate::stack::{Landing, LandingForm, Ring, Stack};
use crate::svg::{CENTRE, Drawing, FINE, OUTLINE, PAPER, Place, SMALL, Sheet, at};

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = 174.0;
/// Room at the left for the upright dimensions.
const LEFT: f64 = 17.0;
/// Room at the left where those lie across.
const LEFT_BENT: f64 = 9.0;
/// Free cable shown on paper where it is broken.
const BROKEN: f64 = 15.0;
/// Between dimensions that stand under each other.
const DIMS: f64 = 4.6;
/// Cable shown beyond the grip.
const TAIL: f64 = 12.0;
const SCALES: [f64; 9] = [2.0, 1.5, 1.25, 1.0, 0.8, 1.0 / 1.5, 0.5, 0.25, 0.1];
/// Most that the section may be high on paper, so that its page has room for the tables.
const SECTION_MM: f64 = 66.0;

/// Draws the end.
pub fn section(of: &Stack) -> Drawing {
    let view = View::new(of);
    let (tops, bottoms) = view.labels();
    let room = WIDTH_MM - 2.0;
    let (tops, bottoms) = (Shelf::new(tops, room), Shelf::new(bottoms, room));
    let (up, down) = view.reach();
    let above = tops.height_mm() + 6.0;
    let dims = 4.0 + DIMS * view.widths().len() as f64;
    let below = dims + bottoms.height_mm() + 9.0;
    let height = above + (up + down) * view.scale + below;
    let mut sheet = Sheet::new(WIDTH_MM, height);
    let view = view.at_height(above + up * view.scale);
    view.draw_passage(&mut sheet);
    view.draw_landing(&mut sheet);
    view.draw_cable(&mut sheet);
    view.draw_lug(&mut sheet);
    view.draw_bolt(&mut sheet);
    view.draw_sleeve(&mut sheet);
    view.draw_grip(&mut sheet);
    view.draw_break(&mut sheet);
    let floor = above + (up + down) * view.scale;
    view.draw_sizes(&mut sheet, floor);
    let (tops, bottoms) = view.labels();
    Shelf::new(tops, room).above(&mut sheet, 1.0, WIDTH_MM - 1.0, above - 5.0);
    Shelf::new(bottoms, room).below(&mut sheet, 1.0, WIDTH_MM - 1.0, floor + dims + 2.5);
    scale_bar(&mut sheet, at(1.0, height - 1.8), view.scale, of.system);
    sheet.finish()
}

/// Where the parts of an end lie, in life size: x along the cable from the hole's centre, heights from the
/// terminal's face.
pub struct Lie {
    /// Tip of the palm.
    pub tip: f64,
    /// Where the palm ends.
    pub neck: f64,
    /// Bottom and mouth of the barrel.
    pub barrel: (f64, f64),
    /// Height of the cable's axis.
    pub axis: f64,
    /// Where the insulation begins.
    pub stripped_to: f64,
    /// The sleeve.
    pub sleeve: Option<(f64, f64)>,
    /// Inner face of the plate.
    pub seal: Option<f64>,
    /// Height of the bearing face of head or nut.
    pub seat: f64,
    /// Where the cable is cut off in the picture.
    pub right: f64,
}

/// Where the parts of an end lie.
pub fn lie(of: &Stack) -> Lie {
    let view = View { of, scale: 1.0, broken: None, face_y: 0.0, left_x: 0.0 };
    Lie {
        tip: view.tip(),
        neck: view.neck(),
        barrel: (view.barrel_x(), view.mouth()),
        axis: view.axis(),
        stripped_to: view.stripped_to(),
        sleeve: view.sleeve_x(),
        seal: view.seal_x(),
        seat: view.seat(),
        right: view.right(),
    }
}

/// The end with its scale chosen. World: x along the cable from the hole's centre, y up from the
/// terminal's face.
#[derive(Clone, Copy)]
struct View<'a> {
    of: &'a Stack,
    scale: f64,
    /// World x where the break starts, and how much cable is left out.
    broken: Option<(f64, f64)>,
    /// Paper y of the terminal's face.
    face_y: f64,
    /// Paper x of the leftmost point.
    left_x: f64,
}

impl<'a> View<'a> {
    fn new(of: &'a Stack) -> View<'a> {
        let trial = View { of, scale: 1.0, broken: None, face_y: 0.0, left_x: 0.0 };
        let whole = trial.right() - trial.left();
        let from = trial.covered_to();
        let free = (trial.wall_x() - from).max(0.0);
        let room = WIDTH_MM - trial.margin() - 1.0;
        let (up, down) = trial.reach();
        let centred = |width: f64| trial.margin() + ((room - width) / 2.0).max(0.0);
        for scale in SCALES.into_iter().filter(|s| (up + down) * s <= SECTION_MM) {
            if whole * scale <= room {
                return View { scale, left_x: centred(whole * scale), ..trial };
            }
            let shown = BROKEN / scale;
            if free > shown && (whole - free + shown) * scale <= room {
                let start = from + shown / 2.0;
                let left_x = centred((whole - free + shown) * scale);
                return View { scale, broken: Some((start, free - shown)), left_x, ..trial };
            }
        }
        // Nothing round fits: as large as both ways allow.
        let scale = (room / whole.max(1.0)).min(2.0 * SECTION_MM / (up + down).max(1.0));
        View { scale, left_x: centred(whole * scale), ..trial }
    }

    fn at_height(self, face_y: f64) -> View<'a> {
        View { face_y, ..self }
    }

    /// World to paper.
    fn p(&self, x: f64, y: f64) -> Place {
        let x = match self.broken {
            Some((start, cut)) if x > start + cut => x - cut,
            Some((start, _)) => x.min(start),
            None => x,
        };
        at(self.left_x + (x - self.left()) * self.scale, self.face_y - y * self.scale)
    }

    fn margin(&self) -> f64 {
        if self.of.lug.bent { LEFT_BENT } else { LEFT }
    }

    /// A place about the terminal: `along` its face towards the cable, `out` from the face.
    fn t(&self, along: f64, out: f64) -> Place {
        if self.of.lug.bent { self.p(out, along) } else { self.p(along, out) }
    }

    fn plank(&self, along: (f64, f64), out: (f64, f64)) -> [Place; 4] {
        [
            self.t(along.0, out.0),
            self.t(along.1, out.0),
            self.t(along.1, out.1),
            self.t(along.0, out.1),
        ]
    }

    fn block(&self, x: (f64, f64), y: (f64, f64)) -> [Place; 4] {
        [self.p(x.0, y.0), self.p(x.1, y.0), self.p(x.1, y.1), self.p(x.0, y.1)]
    }

    fn face(&self, sheet: &mut Sheet, x: (f64, f64), y: (f64, f64), face: Face) {
        fill(sheet, &self.block(x, y), face, Some(OUTLINE));
    }

    fn tip(&self) -> f64 {
        -self.of.lug.hole_to_tip_mm
    }

    /// From the hole to where the palm ends and the barrel begins.
    fn neck(&self) -> f64 {
        let lug = &self.of.lug;
        (lug.length_mm - lug.hole_to_tip_mm - lug.barrel_depth_mm).max(lug.hole_mm / 2.0 + 1.0)
    }

    /// Bottom of the barrel's bore.
    fn barrel_x(&self) -> f64 {
        let lug = &self.of.lug;
        // A bent lug is shown bent at its neck, as close as the metal allows.
        if lug.bent { 2.0 * lug.palm_mm + 0.3 * lug.barrel_outside_mm } else { self.neck() }
    }

    fn mouth(&self) -> f64 {
        self.barrel_x() + self.of.lug.barrel_depth_mm
    }

    /// Height of the cable's axis: the barrel lies flush with the palm's underside.
    fn axis(&self) -> f64 {
        let lug = &self.of.lug;
        let half = lug.barrel_outside_mm / 2.0;
        if lug.bent { self.neck() + 2.0 * lug.palm_mm - half } else { half }
    }

    /// The end of the conductor's bare part.
    fn stripped_to(&self) -> f64 {
        let bare = self.of.strip_mm.unwrap_or(self.of.lug.barrel_depth_mm);
        (self.barrel_x() + bare).max(self.mouth())
    }

    fn sleeve_x(&self) -> Option<(f64, f64)> {
        let sleeve = self.of.sleeve.as_ref()?;
        let from = self.barrel_x();
        Some((from, from + sleeve.length_mm))
    }

    /// Where the dressed part of the cable ends.
    fn covered_to(&self) -> f64 {
        self.sleeve_x().map_or(self.stripped_to(), |(_, to)| to.max(self.stripped_to()))
    }

    /// Sealing face of the housing: inner face of the plate.
    fn seal_x(&self) -> Option<f64> {
        let passage = &self.of.passage;
        // The inside length follows the cable to the hole; a bent palm's part of it is not along the axis.
        let across = if self.of.lug.bent { self.axis() } else { 0.0 };
        let least = self.covered_to() + 6.0 + self.wall_mm();
        (passage.plate.is_some() || passage.grip.is_some()).then(|| {
            passage.inside_mm.map_or(least + 24.0, |inside| (inside - across).max(least))
        })
    }

    fn wall_mm(&self) -> f64 {
        5.0
    }

    /// The first thing the free cable meets.
    fn wall_x(&self) -> f64 {
        let Some(seal) = self.seal_x() else { return self.covered_to() + TAIL };
        let thread = self.of.passage.grip.as_ref().map_or(0.0, |g| g.thread_length_mm);
        let plate = self.plate_mm();
        (seal - self.wall_mm()).min(seal + plate - thread) - 2.0
    }

    fn plate_mm(&self) -> f64 {
        self.of.passage.plate.as_ref().map_or(0.0, |p| p.thickness_mm)
    }

    fn left(&self) -> f64 {
        if self.of.lug.bent {
            return -self.block_mm() - 2.0;
        }
        let pad = self.of.landing.as_ref().map_or(0.0, |l| l.pad_mm / 2.0);
        let head = self.of.bolt.as_ref().map_or(0.0, |b| b.head_diameter_mm / 2.0);
        self.tip().min(-pad).min(-head)
    }

    fn right(&self) -> f64 {
        let Some(seal) = self.seal_x() else { return self.covered_to() + TAIL };
        let grip = self.of.passage.grip.as_ref().map_or(0.0, |g| g.protrusion_mm);
        seal + self.plate_mm() + grip + TAIL
    }

    fn washers_mm(&self) -> f64 {
        self.of.washers.iter().map(|w| w.thickness_mm).sum()
    }

    /// Height of the bearing face of head or nut.
    fn seat(&self) -> f64 {
        self.of.lug.palm_mm + self.washers_mm()
    }

    /// Half heights of grip hole, opening, ring and plate about the cable's axis.
    fn passage_half(&self) -> Option<[f64; 4]> {
        self.seal_x()?;
        let grip =
            self.of.passage.grip.as_ref().map_or(self.of.cable.outside_mm, |g| g.flats_mm);
        let ring = self.of.passage.plate.as_ref().and_then(|p| p.ring.as_ref());
        let groove = ring.map_or(0.0, |r| r.width_mm);
        let opening = grip / 2.0 + 2.0;
        let ring_at = opening + 3.0 + groove / 2.0;
        Some([grip / 2.0, opening, ring_at, ring_at + groove / 2.0 + 4.0])
    }

    /// How far the drawing reaches above and below the hole's centre (bent) or the face, mm.
    fn reach(&self) -> (f64, f64) {
        let head = self.of.bolt.as_ref();
        let cable = self.of.cable.outside_mm.max(self.of.lug.barrel_outside_mm) / 2.0 + 4.0;
        let mut up = self.axis() + cable;
        let mut down = cable - self.axis();
        if self.of.lug.bent {
            let pad = self.of.landing.as_ref().map_or(0.0, |l| l.pad_mm / 2.0);
            let head = head.map_or(0.0, |b| b.head_diameter_mm / 2.0);
            down = down.max(pad).max(head).max(self.of.lug.hole_to_tip_mm) + 1.0;
            // The depths stand above the block.
            up = up.max(pad + 13.0);
        } else {
            up = up.max(self.seat() + head.map_or(0.0, |b| b.head_height_mm) + 2.0);
            down = down.max(self.block_mm() + 1.0);
            if let Some(Landing { form: LandingForm::Stud { height_mm }, .. }) =
                &self.of.landing
            {
                up = up.max(height_mm + 2.0);
            }
        }
        if let Some([.., plate]) = self.passage_half() {
            up = up.max(self.axis() + plate + 1.0);
            down = down.max(plate - self.axis() + 1.0);
        }
        (up, down)
    }

    /// Depth of terminal shown below its face.
    fn block_mm(&self) -> f64 {
        match &self.of.landing {
            None => 4.0,
            Some(landing) => match landing.form {
                LandingForm::Tapped { start_mm, depth_mm } => {
                    start_mm + depth_mm + 0.8 * landing.thread_mm
                }
                LandingForm::Stud { .. } => 1.2 * landing.thread_mm,
            },
        }
    }
}

/// Parts in the order they are drawn.
impl View<'_> {
    fn draw_landing(&self, sheet: &mut Sheet) {
        let Some(landing) = &self.of.landing else { return };
        let (half, depth) = (landing.pad_mm / 2.0, self.block_mm());
        let free = if self.of.lug.bent { half } else { half.min(self.barrel_x() - 0.5) };
        let far = free.max(landing.thread_mm);
        // The block goes on below: a wavy far edge.
        let edge = wave(self.t(far, -depth), self.t(-half, -depth));
        let mut shape = vec![self.t(-half, 0.0), self.t(far, 0.0)];
        shape.extend(&edge);
        fill(sheet, &shape, LANDING, None);
        let sides =
            [self.t(-half, -depth), self.t(-half, 0.0), self.t(far, 0.0), self.t(far, -depth)];
        sheet.polyline(&sides, OUTLINE);
        sheet.polyline(&edge, FINE);
        let r = landing.thread_mm / 2.0;
        match landing.form {
            LandingForm::Tapped { start_mm, depth_mm } => {
                self.draw_hole(sheet, r, start_mm, depth_mm);
            }
            LandingForm::Stud { height_mm } => {
                let stud = self.plank((-r, r), (-0.8 * landing.thread_mm, height_mm));
                fill(sheet, &stud, STEEL, Some(OUTLINE));
            }
        }
    }

    /// A clear bore down to the thread, the thread, and the drill's point below it.
    fn draw_hole(&self, sheet: &mut Sheet, r: f64, start_mm: f64, depth_mm: f64) {
        let end = start_mm + depth_mm;
        if start_mm > 0.0 {
            let bore = self.plank((-r - 0.4, r + 0.4), (0.0, -start_mm));
            sheet.polygon(&bore, Some(PAPER), Some(OUTLINE));
        }
        let drill = 0.84 * r;
        let hole = [
            self.t(-drill, -start_mm),
            self.t(drill, -start_mm),
            self.t(drill, -end - 0.25 * r),
            self.t(0.0, -end - 0.75 * r),
            self.t(-drill, -end - 0.25 * r),
        ];
        sheet.polygon(&hole, Some(PAPER), Some(OUTLINE));
        for side in [-r, r] {
            sheet.line(self.t(side, -start_mm), self.t(side, -end), FINE);
        }
        sheet.line(self.t(-r, -end), self.t(r, -end), OUTLINE);
    }

    fn draw_cable(&self, sheet: &mut Sheet) {
        let (axis, cable) = (self.axis(), &self.of.cable);
        let (core, outside) = (cable.conductor_mm / 2.0, cable.outside_mm / 2.0);
        let end = self.right();
        self.face(
            sheet,
            (self.stripped_to(), end),
            (axis - outside, axis + outside),
            INSULATION,
        );
        let from = self.barrel_x();
        let core = core.min(self.of.lug.barrel_inside_mm / 2.0);
        self.face(sheet, (from, end), (axis - core, axis + core), STRANDS);
        // The cable goes on: cover the straight cut with a wavy one.
        let (top, bottom) = (self.p(end, axis + outside), self.p(end, axis - outside));
        let mut cover = wave(top, bottom);
        sheet.polyline(&cover, OUTLINE);
        cover.push(at(bottom.x + 1.2, bottom.y + 0.4));
        cover.push(at(top.x + 1.2, top.y - 0.4));
        sheet.polygon(&cover, Some(PAPER), None);
        sheet.polyline(&wave(top, bottom), FINE);
        sheet.line(self.p(from - 2.0, axis), self.p(end + 3.0, axis), CENTRE);
    }

    fn draw_lug(&self, sheet: &mut Sheet) {
        let lug = &self.of.lug;
        let (axis, t, neck) = (self.axis(), lug.palm_mm, self.neck());
        let (inner, outer) = (lug.barrel_inside_mm / 2.0, lug.barrel_outside_mm / 2.0);
        let (bottom, mouth) = (self.barrel_x(), self.mouth());
        let hole = lug.hole_mm / 2.0;
        // Palm on both sides of the hole; the hole's far wall shows between them.
        sheet.polygon(&self.plank((-hole, hole), (0.0, t)), Some(PAPER), Some(FINE));
        fill(sheet, &self.plank((self.tip(), -hole), (0.0, t)), COPPER, Some(OUTLINE));
        let mut shape = vec![self.t(hole, 0.0), self.t(hole, t)];
        if lug.bent {
            // Round the bend inside, then out to the barrel's nearer wall.
            shape.extend([self.t(neck - 0.6 * t, t), self.t(neck, 1.6 * t)]);
            shape.push(self.p(bottom - 0.3 * outer, (axis - outer).max(neck)));
            shape.push(self.p(bottom, axis - outer));
            shape.extend(self.bore(axis, inner, -outer, (bottom, mouth)));
            shape.push(self.p(2.0 * t, axis + outer));
            shape.extend([self.t(neck + 1.4 * t, 0.6 * t), self.t(neck + 0.8 * t, 0.0)]);
        } else {
            // From the palm the metal widens to the barrel; below it runs on flush.
            let wide = (bottom - 0.5 * outer).max(hole + 1.0).min(bottom);
            shape.extend([self.p(wide, t), self.p(bottom, axis + outer)]);
            shape.extend(self.bore(axis, inner, outer, (bottom, mouth)));
        }
        fill(sheet, &shape, COPPER, Some(OUTLINE));
    }

    /// Around the barrel's open bore, from one outside wall to the other.
    fn bore(
        &self,
        axis: f64,
        inner: f64,
        outer: f64,
        (bottom, mouth): (f64, f64),
    ) -> [Place; 6] {
        let inner = inner * outer.signum();
        [
            self.p(mouth, axis + outer),
            self.p(mouth, axis + inner),
            self.p(bottom, axis + inner),
            self.p(bottom, axis - inner),
            self.p(mouth, axis - inner),
            self.p(mouth, axis - outer),
        ]
    }

    fn draw_bolt(&self, sheet: &mut Sheet) {
        let mut y = self.seat();
        for washer in &self.of.washers {
            let half = washer.outside_mm / 2.0;
            let face = self.plank((-half, half), (y - washer.thickness_mm, y));
            fill(sheet, &face, STEEL, Some(OUTLINE));
            y -= washer.thickness_mm;
        }
        let (Some(bolt), Some(landing)) = (&self.of.bolt, &self.of.landing) else { return };
        let (seat, r) = (self.seat(), landing.thread_mm / 2.0);
        let half = bolt.head_diameter_mm / 2.0;
        let top = seat + bolt.head_height_mm;
        if let LandingForm::Tapped { .. } = landing.form {
            let tip = seat - bolt.length_mm;
            let shank = [
                self.t(-r, seat),
                self.t(r, seat),
                self.t(r, tip + 0.2 * r),
                self.t(0.8 * r, tip),
                self.t(-0.8 * r, tip),
                self.t(-r, tip + 0.2 * r),
            ];
            fill(sheet, &shank, STEEL, Some(OUTLINE));
            for side in [-0.84 * r, 0.84 * r] {
                sheet.line(self.t(side, 0.0), self.t(side, tip), FINE);
            }
        }
        let head = [
            self.t(-half, seat),
            self.t(half, seat),
            self.t(half, top - 0.12 * half),
            self.t(0.86 * half, top),
            self.t(-0.86 * half, top),
            self.t(-half, top - 0.12 * half),
        ];
        fill(sheet, &head, STEEL, Some(OUTLINE));
        for side in [-half / 2.0, half / 2.0] {
            sheet.line(self.t(side, seat), self.t(side, top), FINE);
        }
        if let LandingForm::Stud { height_mm } = landing.form {
            let stud = self.plank((-r, r), (top, height_mm.max(top)));
            fill(sheet, &stud, STEEL, Some(OUTLINE));
        }
        sheet.line(self.t(0.0, top + 2.0), self.t(0.0, 1.0 - self.block_mm()), CENTRE);
    }

    fn draw_sleeve(&self, sheet: &mut Sheet) {
        let (Some(sleeve), Some((from, to))) = (&self.of.sleeve, self.sleeve_x()) else {
            return;
        };
        let (axis, wall) = (self.axis(), sleeve.wall_mm.max(0.4));
        let barrel = self.of.lug.barrel_outside_mm / 2.0;
        let cable = self.of.cable.outside_mm / 2.0;
        let step = self.mouth().min(to);
        let end = self.stripped_to().min(to).max(step);
        for side in [1.0, -1.0] {
            let y = |r: f64| axis + side * r;
            let shape = [
                self.p(from, y(barrel)),
                self.p(step, y(barrel)),
                self.p(end, y(cable)),
                self.p(to, y(cable)),
                self.p(to, y(cable + wall)),
                self.p(end, y(cable + wall)),
                self.p(step, y(barrel + wall)),
                self.p(from, y(barrel + wall)),
            ];
            fill(sheet, &shape, SLEEVE, Some(OUTLINE));
        }
    }

    fn draw_passage(&self, sheet: &mut Sheet) {
        let (Some(seal), Some([_, opening, ring_at, edge])) =
            (self.seal_x(), self.passage_half())
        else {
            return;
        };
        let axis = self.axis();
        let thickness = self.plate_mm();
        let hole = self.of.passage.grip.as_ref().map_or(opening, |g| g.thread_mm / 2.0);
        for side in [1.0, -1.0] {
            let y = |r: f64| axis + side * r;
            // Housing: from the opening outwards, cut off by a wave.
            let far = |x0: f64, x1: f64| wave(self.p(x1, y(edge)), self.p(x0, y(edge)));
            let mut wall =
                vec![self.p(seal - self.wall_mm(), y(opening)), self.p(seal, y(opening))];
            wall.extend(far(seal - self.wall_mm(), seal));
            fill(sheet, &wall, HOUSING, Some(OUTLINE));
            if thickness <= 0.0 {
                continue;
            }
            let mut plate = vec![self.p(seal, y(hole)), self.p(seal + thickness, y(hole))];
            plate.extend(far(seal, seal + thickness));
            let ring = self.of.passage.plate.as_ref().and_then(|p| p.ring.as_ref());
            if let Some(ring) = ring {
                let (low, high) =
                    (ring_at - ring.width_mm / 2.0, ring_at + ring.width_mm / 2.0);
                // Back along the face, around the groove.
                plate.push(self.p(seal, y(high)));
                plate.push(self.p(seal + ring.depth_mm, y(high)));
                plate.push(self.p(seal + ring.depth_mm, y(low)));
                plate.push(self.p(seal, y(low)));
            }
            fill(sheet, &plate, PLATE, Some(OUTLINE));
            if let Some(ring) = ring {
                // Squeezed between groove and housing: as deep as the groove, of the same area.
                let half = ring_half_width(ring);
                let shape = oval(
                    self.p(seal + ring.depth_mm / 2.0, y(ring_at)),
                    ring.depth_mm / 2.0 * self.scale,
                    half * self.scale,
                );
                fill(sheet, &shape, RUBBER, None);
            }
        }
    }

    fn draw_grip(&self, sheet: &mut Sheet) {
        let (Some(grip), Some(seal)) = (&self.of.passage.grip, self.seal_x()) else { return };
        let outer = seal + self.plate_mm();
        let (axis, cable) = (self.axis(), self.of.cable.outside_mm / 2.0);
        let (thread, flat) = (grip.thread_mm / 2.0, grip.flats_mm / 2.0);
        let (hex, tip) = (outer + 0.4 * grip.protrusion_mm, outer + grip.protrusion_mm);
        let bore = (cable + 0.6).min(thread - 1.0);
        for side in [1.0, -1.0] {
            let y = |r: f64| axis + side * r;
            let body = [
                self.p(outer - grip.thread_length_mm, y(bore)),
                self.p(outer - grip.thread_length_mm, y(thread)),
                self.p(outer, y(thread)),
                self.p(outer, y(flat)),
                self.p(hex, y(flat)),
                self.p(hex, y(bore)),
            ];
            fill(sheet, &body, GRIP, Some(OUTLINE));
            let nut = [
                self.p(hex, y(bore)),
                self.p(hex, y(0.95 * flat)),
                self.p(tip - 0.2 * grip.protrusion_mm, y(0.95 * flat)),
                self.p(tip, y((0.75 * flat).max(bore + 0.5))),
                self.p(tip, y(bore)),
            ];
            fill(sheet, &nut, GRIP, Some(OUTLINE));
            // The seal that the nut presses on the cable.
            let seal_from = outer + 0.25 * grip.protrusion_mm;
            let seal_to = tip - 0.22 * grip.protrusion_mm;
            let thick = (0.45 * (flat - cable)).clamp(0.8, 4.0);
            let rubber = self.block((seal_from, seal_to), (y(cable), y(cable + thick)));
            fill(sheet, &rubber, RUBBER, None);
        }
    }

    fn draw_break(&self, sheet: &mut Sheet) {
        let Some((start, _)) = self.broken else { return };
        let half = self.of.cable.outside_mm / 2.0 + 1.0;
        let (top, bottom) =
            (self.p(start, self.axis() + half), self.p(start, self.axis() - half));
        let left = wave(at(top.x - 1.0, top.y), at(bottom.x - 1.0, bottom.y));
        let right = wave(at(top.x + 1.0, top.y), at(bottom.x + 1.0, bottom.y));
        let mut gap = left.clone();
        gap.extend(right.iter().rev());
        sheet.polygon(&gap, Some(PAPER), None);
        sheet.polyline(&left, FINE);
        sheet.polyline(&right, FINE);
    }
}

/// Half the width of a ring squeezed to the groove's depth: an oval of the ring's area, kept inside the groove.
pub(crate) fn ring_half_width(ring: &Ring) -> f64 {
    let half = ring.section_mm * ring.section_mm / (2.0 * ring.depth_mm.max(0.1));
    half.min(ring.width_mm / 2.0)
}

/// A wavy line where something is cut off: two half waves, by Hermite interpolation.
fn wave(from: Place, to: Place) -> Vec<Place> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length = (dx * dx + dy * dy).sqrt().max(1e-9);
    let amplitude = (length / 12.0).min(0.8);
    let (nx, ny) = (-dy / length * amplitude, dx / length * amplitude);
    (0..=24)
        .map(|i| {
            let t = f64::from(i) / 24.0;
            // A polynomial with zeros at 0, 1/2 and 1 and peaks of about one: no sine needed.
            let w = 20.784_6 * t * (t - 0.5) * (t - 1.0);
            at(from.x + dx * t + nx * w, from.y + dy * t + ny * w)
        })
        .collect()
}

/// A closed oval as a polygon.
pub(crate) fn oval(centre: Place, rx: f64, ry: f64) -> Vec<Place> {
    (0..48)
        .map(|i| {
            let angle = f64::from(i) / 48.0 * std::f64::consts::TAU;
            at(centre.x + rx * libm::cos(angle), centre.y + ry * libm::sin(angle))
        })
        .collect()
}

/// What the drawing says.
impl View<'_> {
    fn labels(&self) -> (Vec<Label>, Vec<Label>) {
        let (mut tops, mut bottoms) = (Vec::new(), Vec::new());
        let label = |point: Place, name: &str, detail: &str| Label {
            point,
            name: name.to_owned(),
            detail: detail.to_owned(),
        };
        let (of, axis) = (self.of, self.axis());
        let cable = of.cable.outside_mm / 2.0;
        if let Some(bolt) = &of.bolt {
            let y = self.seat() + 0.7 * bolt.head_height_mm;
            let name = if self.is_stud() { "Nut" } else { "Bolt" };
            let detail = if bolt.torque.is_empty() {
                bolt.name.clone()
            } else {
                format!("{}, {}", bolt.name, bolt.torque)
            };
            self.sort(
                label(self.t(-0.2 * bolt.head_diameter_mm, y), name, &detail),
                &mut tops,
                &mut bottoms,
            );
        }
        let mut y = self.seat();
        for washer in &of.washers {
            let x = 0.42 * washer.outside_mm;
            let along = if of.lug.bent { -x } else { x };
            let point = self.t(along, y - washer.thickness_mm / 2.0);
            self.sort(label(point, "Washer", &washer.name), &mut tops, &mut bottoms);
            y -= washer.thickness_mm;
        }
        let lug_at = if of.lug.bent {
            self.p(
                (self.barrel_x() + self.mouth()) / 2.0,
                axis + of.lug.barrel_outside_mm * 0.46,
            )
        } else {
            self.t((self.neck() + of.lug.hole_mm / 2.0) / 2.0, of.lug.palm_mm * 0.6)
        };
        tops.push(label(lug_at, "Lug", &of.lug.name));
        if let (Some(sleeve), Some((from, to))) = (&of.sleeve, self.sleeve_x()) {
            let x = from + 0.75 * (to - from);
            let y = axis + cable + sleeve.wall_mm / 2.0;
            tops.push(label(self.p(x, y), "Sleeve, shrunk", &sleeve.name));
        }
        let end = self.right() - TAIL / 3.0;
        tops.push(label(self.p(end, axis + 0.8 * cable), "Cable", &of.cable.name));
        if let Some(landing) = &of.landing {
            let point = self.t(-0.36 * landing.pad_mm, -0.6 * self.block_mm());
            let name = if self.is_stud() { "Stud" } else { "Tapped landing" };
            bottoms.push(label(point, name, &landing.thread));
        }
        self.passage_labels(&label, &mut tops, &mut bottoms);
        (tops, bottoms)
    }

    /// The bolt stands above a level terminal, and beside an upright one below the cable.
    fn sort(&self, label: Label, tops: &mut Vec<Label>, bottoms: &mut Vec<Label>) {
        if self.of.lug.bent { bottoms.push(label) } else { tops.push(label) }
    }

    fn passage_labels(
        &self,
        label: &dyn Fn(Place, &str, &str) -> Label,
        tops: &mut Vec<Label>,
        bottoms: &mut Vec<Label>,
    ) {
        let (Some(seal), Some([_, opening, ring_at, edge])) =
            (self.seal_x(), self.passage_half())
        else {
            return;
        };
        let axis = self.axis();
        let outer = seal + self.plate_mm();
        if let Some(grip) = &self.of.passage.grip {
            let point = self.p(outer + 0.5 * grip.protrusion_mm, axis + 0.4 * grip.flats_mm);
            let detail = if grip.torque.is_empty() {
                grip.name.clone()
            } else {
                format!("{}, {}", grip.name, grip.torque)
            };
            tops.push(label(point, "Cord grip", &detail));
        }
        let wall = self.p(seal - self.wall_mm() / 2.0, axis - (opening + edge) / 2.0);
        bottoms.push(label(wall, "Housing", "thickness not to scale"));
        if let Some(plate) = &self.of.passage.plate {
            if let Some(ring) = &plate.ring {
                let point = self.p(seal + ring.depth_mm / 2.0, axis - ring_at);
                bottoms.push(label(point, "O-ring", &ring.name));
            }
            let thick = show(plate.thickness_mm, Dimension::Length, self.of.system);
            let detail = format!("{}, {thick}", plate.material);
            let point = self.p(seal + 0.75 * plate.thickness_mm, axis - edge + 1.5);
            bottoms.push(label(point, "Entry plate", &detail));
        }
    }

    fn is_stud(&self) -> bool {
        matches!(&self.of.landing, Some(Landing { form: LandingForm::Stud { .. }, .. }))
    }

    /// Horizontal dimensions, the shortest nearest the part: from, to (world), words.
    fn widths(&self) -> Vec<(f64, f64, String)> {
        let size = |mm: f64| show(mm, Dimension::Length, self.of.system);
        let mut out = Vec::new();
        if let Some(strip) = self.of.strip_mm {
            let from = self.barrel_x();
            out.push((from, from + strip, format!("strip {}", size(strip))));
        }
        if let (Some(sleeve), Some((from, to))) = (&self.of.sleeve, self.sleeve_x()) {
            out.push((from, to, format!("sleeve {}", size(sleeve.length_mm))));
        }
        if let (Some(seal), Some(inside)) = (self.seal_x(), self.of.passage.inside_mm) {
            let way = if self.of.lug.bent { ", along the cable to the hole" } else { "" };
            out.push((0.0, seal, format!("inside {}{way}", size(inside))));
        }
        out
    }

    /// Depths about the terminal's face: full thread and what of it the bolt fills.
    fn depths(&self) -> Vec<(f64, f64, String)> {
        let size = |mm: f64| show(mm, Dimension::Length, self.of.system);
        let mut out = Vec::new();
        let Some(landing) = &self.of.landing else { return out };
        let LandingForm::Tapped { start_mm, depth_mm } = landing.form else { return out };
        if let Some(bolt) = &self.of.bolt {
            let reached = (bolt.length_mm - self.seat() - start_mm).min(depth_mm);
            if reached > 0.0 {
                out.push((
                    -start_mm - reached,
                    -start_mm,
                    format!("engaged {}", size(reached)),
                ));
            }
        }
        let thread = format!("thread {}", size(depth_mm));
        out.push((-start_mm - depth_mm, -start_mm, thread));
        out
    }

    fn draw_sizes(&self, sheet: &mut Sheet, floor: f64) {
        let mut y = floor + 4.0;
        let below = self.axis() - self.of.cable.outside_mm / 2.0 - 2.0;
        let mut said = Vec::new();
        for (from, to, words) in self.widths() {
            let ends = (self.p(from, 0.0).x, self.p(to, 0.0).x);
            across_lines(sheet, ends, self.p(0.0, below).y, y);
            said.push((ends, y, words));
            y += DIMS;
        }
        for (ends, y, words) in said {
            across_words(sheet, ends, y, &words);
        }
        let Some(landing) = &self.of.landing else { return };
        if self.of.lug.bent {
            let top = self.t(landing.pad_mm / 2.0, 0.0).y - 1.0;
            let depths = self.depths();
            // Beside the deepest, where neither the lug nor another dimension's line stands.
            let deepest = depths.iter().map(|d| d.0).fold(f64::INFINITY, f64::min);
            let beside = self.p(deepest, 0.0).x - 1.5;
            for ((from, to, words), y) in depths.into_iter().zip([top - 4.0, top - 9.0]) {
                let ends = (self.p(from, 0.0).x, self.p(to, 0.0).x);
                across_lines(sheet, ends, top, y);
                sheet.line(at(ends.0, y), at(beside, y), FINE);
                sheet.text(at(beside - 0.5, y + 0.9), &words, SMALL.end());
            }
            return;
        }
        let edge = self.p(-landing.pad_mm / 2.0, 0.0).x - 0.5;
        for ((from, to, words), x) in self.depths().into_iter().zip([edge - 4.0, edge - 9.5]) {
            upright(sheet, (self.p(0.0, to).y, self.p(0.0, from).y), edge, x, &words);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stack::{Cable, Lug, Passage};
    use physics::units::System;

    fn of(bent: bool, long: f64) -> Stack {
        Stack {
            system: System::Metric,
            landing: Some(Landing {
                thread: "M8".to_owned(),
                thread_mm: 8.0,
                form: LandingForm::Tapped { start_mm: 0.0, depth_mm: long },
                pad_mm: long,
            }),
            bolt: None,
            washers: Vec::new(),
            lug: Lug {
                name: String::new(),
                palm_mm: 2.0,
                length_mm: long,
                hole_to_tip_mm: 9.0,
                hole_mm: 8.4,
                barrel_depth_mm: 18.0,
                barrel_inside_mm: 12.0,
                barrel_outside_mm: 15.0,
                bent,
            },
            cable: Cable { name: String::new(), conductor_mm: 11.0, outside_mm: 16.0 },
            strip_mm: None,
            sleeve: None,
            passage: Passage::default(),
        }
    }

    #[test]
    fn any_length_fits_a_page() {
        for bent in [false, true] {
            for long in [0.0, 0.001, 1.0, 50.0, 5000.0] {
                let stack = of(bent, long);
                assert!(stack.is_drawable());
                let drawing = section(&stack);
                assert!(drawing.height_mm < 235.0, "{bent} {long}: {}", drawing.height_mm);
            }
        }
    }

    #[test]
    fn what_has_no_length_is_not_drawn() {
        for senseless in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
            assert!(!of(false, senseless).is_drawable(), "{senseless}");
        }
    }
}
