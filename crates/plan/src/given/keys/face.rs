//! Keys of a survey of a sealing face.

use physics::units::Dimension;

use super::{Kind, M, SIDES, TOOLS, Table, key, length, words};

/// `[device.ID.port.ID.face]`, and the top of a face file.
pub const FACE: Table = Table {
    path: "device.ID.port.ID.face",
    what: "What was measured on the sealing face, seen from outside with x to the right and y up; a face file has the same keys at its top",
    inner: &["hole", "terminal", "corner", "edge", "reading", "opening", "outline", "photo"],
    keys: &[
        key("title", Kind::Text, r#""phases port of the motor""#, "what the face is called"),
        key(
            "file",
            Kind::Text,
            r#""motor-face.toml""#,
            "a face file beside the build, instead of the tables here",
        ),
        key("dxf", Kind::Text, r#""motor-face.dxf""#, "a drawing of the face beside the build"),
        key("svg", Kind::Text, r#""motor-face.svg""#, "the same as SVG"),
        key("origin", Kind::Text, r#""V""#, "the point at 0, 0; the first where absent"),
        key("x-axis", Kind::Text, r#""W""#, "the point on +x from it; the second where absent"),
    ],
};

const PLACE: Kind = Kind::Quantities(Dimension::Length, -5.0 * M, 5.0 * M);
const READ: Kind = length(0.0, 5.0 * M);

/// `[....face.hole.ID]`.
pub const FACE_POINT: Table = Table {
    path: "device.ID.port.ID.face.hole.ID",
    what: "A bolt hole; `terminal` and `corner` (any other point) are alike",
    inner: &[],
    keys: &[
        key("diameter", length(0.5, 500.0), r#""6.62 mm""#, "its diameter as read"),
        key(
            "tool",
            Kind::Choice(|| words(TOOLS)),
            r#""calliper""#,
            "what the diameter was read with",
        ),
        key(
            "at",
            PLACE,
            r#"["12 mm", "30 mm"]"#,
            "x and y where a drawing states them; held as they are",
        ),
        key(
            "near",
            PLACE,
            r#"["12 mm", "30 mm"]"#,
            "x and y roughly: chooses between two places that fit alike",
        ),
    ],
};

/// `[....face.edge.ID]`.
pub const FACE_EDGE: Table = Table {
    path: "device.ID.port.ID.face.edge.ID",
    what: "A straight edge with all points of the face on one side of it",
    inner: &[],
    keys: &[key(
        "side",
        Kind::Choice(|| words(SIDES)),
        r#""above""#,
        "on which side of the points it lies",
    )],
};

/// `[[....face.reading]]`.
pub const FACE_READING: Table = Table {
    path: "device.ID.port.ID.face.reading",
    what: "One reading, each under its own [[reading]]: between two points, from a point to an edge or a line, or across a hole",
    inner: &[],
    keys: &[
        key("between", Kind::Texts(100), r#"["B1", "B2"]"#, "the two points"),
        key("centres", READ, r#""77.70 mm""#, "from centre to centre of the two"),
        key("outside", READ, r#""84.32 mm""#, "over the far sides of the two holes"),
        key("inside", READ, r#""71.08 mm""#, "between the near sides of the two holes"),
        key("from", Kind::Text, r#""B1""#, "the point, for a reading to an edge or a line"),
        key("edge", Kind::Text, r#""top""#, "the edge it was read to"),
        key(
            "line",
            Kind::Texts(100),
            r#"["B2", "B3"]"#,
            "two points: it was read square to the line through them",
        ),
        key("centre", READ, r#""12.4 mm""#, "from the centre of that point"),
        key("near-side", READ, r#""9.1 mm""#, "from the hole's side nearest to the edge"),
        key("far-side", READ, r#""15.7 mm""#, "from the hole's side farthest from the edge"),
        key("across", Kind::Text, r#""B1""#, "the hole, for a further reading of its diameter"),
        key("diameter", length(0.5, 500.0), r#""6.60 mm""#, "that diameter"),
        key("tool", Kind::Choice(|| words(TOOLS)), r#""calliper""#, "what it was read with"),
        key(
            "deviation",
            length(0.001, 100.0),
            r#""0.05 mm""#,
            "standard deviation of the reading; by the tool where absent",
        ),
    ],
};

/// `[....face.opening]` and `[....face.outline]`.
pub const FACE_OUTLINE: Table = Table {
    path: "device.ID.port.ID.face.opening",
    what: "The opening in the housing; `outline`, the outer edge of the land, is alike",
    inner: &[],
    keys: &[
        key(
            "points",
            Kind::Texts(100),
            r#"["0 mm, 0 mm", "80 mm, 0 mm", "through 90 mm, 20 mm", "80 mm, 40 mm", "0 mm, 40 mm"]"#,
            "corners in order, each a point's name or x and y; with \"through\", a point of the arc between its neighbours",
        ),
        key("radius", length(0.0, 500.0), r#""8 mm""#, "by which its corners are rounded"),
        key("centre", Kind::Text, r#""60 mm, 20 mm""#, "middle of a circle, instead of points"),
        key("diameter", length(1.0, 2.0 * M), r#""80 mm""#, "of that circle"),
    ],
};

/// `[....face.photo]`.
pub const FACE_PHOTO: Table = Table {
    path: "device.ID.port.ID.face.photo",
    what: "A photograph of the face with points clicked in it",
    inner: &["point"],
    keys: &[
        key(
            "size",
            Kind::Numbers(1.0, 100_000.0),
            "[4000, 3000]",
            "width and height of the picture in pixels",
        ),
        key(
            "distortion",
            Kind::Count(0, 2),
            "1",
            "how many terms of lens distortion are fitted; none where absent",
        ),
        key(
            "click",
            Kind::Number(0.01, 100.0),
            "0.5",
            "standard deviation of a click, in pixels",
        ),
    ],
};

/// `[....face.photo.point.ID]`.
pub const FACE_PHOTO_POINT: Table = Table {
    path: "device.ID.port.ID.face.photo.point.ID",
    what: "A point in the picture: known where it has a place, otherwise a point of the face by its name",
    inner: &[],
    keys: &[
        key(
            "pixel",
            Kind::Numbers(-100_000.0, 200_000.0),
            "[812.5, 440.0]",
            "where it was clicked: pixels from the left and from the top",
        ),
        key("at", PLACE, r#"["0 mm", "85.6 mm"]"#, "where it lies on the face, x and y"),
    ],
};
