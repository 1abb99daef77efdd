//! Keys that name the points whose magnetic field is asked for: `[field]`.

use physics::units::Dimension;

use super::{Kind, Table, key};

/// `[field]`.
pub const FIELD: Table = Table {
    path: "field",
    what: "Points whose magnetic field is asked for",
    inner: &["point"],
    keys: &[],
};

/// `[field.point.ID]`.
pub const FIELD_POINT: Table = Table {
    path: "field.point.ID",
    what: "A point where people are, beside the published reference levels",
    inner: &[],
    keys: &[
        key("name", Kind::Text, r#""Driver's seat""#, "what people call it"),
        key(
            "distances",
            Kind::QuantityByName(Dimension::Length, 10.0, 50_000.0),
            r#"{ phases = "0.6 m", dc = "0.4 m" }"#,
            "by run: from the point to the middle of the run's cables where they pass nearest",
        ),
        key(
            "spacings",
            Kind::QuantityByName(Dimension::Length, 1.0, 2000.0),
            r#"{ dc = "40 mm" }"#,
            "by run: between the middles of neighbouring cables there; from how they lie where absent",
        ),
    ],
};
