//! Closed outlines of lines and arcs, in a plane, in millimetres.
//!
//! A vertex carries the bulge of the segment that leaves it: the tangent of a quarter of the arc's angle,
//! positive when the arc turns left, zero for a line (the convention of DXF polylines). An outline that
//! runs counter-clockwise has a positive area.

/// A corner of an outline and the segment that leaves it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Position.
    pub x_mm: f64,
    /// Position.
    pub y_mm: f64,
    /// Tangent of a quarter of the leaving arc's angle; zero for a line.
    pub bulge: f64,
}

/// A closed outline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// Corners in order; the last one leads back to the first.
    pub vertices: Vec<Vertex>,
}
