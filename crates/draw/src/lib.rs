//! Drawings of a plan as SVG: pure text, to scale, readable in grey print.

pub mod svg;
pub mod letters;
pub mod hatch;
pub mod marks;
pub mod stack;
pub mod section;
pub mod groove;
pub mod strip;
pub mod chart;
pub mod profile;
pub mod duty;
pub mod coordination;
pub mod single_line;
pub mod sheets;
pub mod duty_sheets;
pub mod mesh;
pub mod glb;
pub mod end_bodies;
pub mod step;
pub mod frame;
pub mod face;
pub mod dxf;
pub mod plate_views;
pub mod plate_drawing;
pub mod plate_template;
pub mod plate_check;
pub mod papers;

pub use svg::Drawing;
