//! Shapes in the vehicle: the ways cables take.
//!
//! Lengths in millimetres, angles in degrees at the border. Knows no build.

mod dense;
pub mod curve;
pub mod segment;
pub mod path;
pub mod part;
pub mod solid;
pub mod mesh;
pub mod fronts;
pub mod section_fe;
pub mod skyline;
pub mod plate_fe;
pub mod survey;
pub mod homography;
pub mod drawing;
pub mod read_dxf;
pub mod read_svg;
